// Tells whether a card is current: takes the code that was typed, or the one in the page's address, to its edition.
document.addEventListener("DOMContentLoaded", () => {
  "use strict";
  const place = (id) => document.getElementById(id);
  const form = place("card-check");
  if (!form) return;
  const field = place("card-code");
  const result = place("card-result");

  // A code as it is kept: no spaces or dashes, small letters, and the digits for which o, i and l are taken.
  const plain = (text) => text.toLowerCase().replace(/[^a-z0-9]/g, "").replace(/o/g, "0").replace(/[il]/g, "1");

  function message(text) {
    const made = document.createElement("p");
    made.className = "card-check__unknown";
    made.textContent = text;
    return [made];
  }

  function answer(typed) {
    const code = plain(typed);
    const known = document.querySelector(`[data-edition="${code}"]`);
    if (known) return [...known.cloneNode(true).childNodes];
    return message(/^[0-9a-f]{8}$/.test(code) ? form.dataset.unknown : form.dataset.short);
  }

  function show(typed) {
    const code = plain(typed);
    const known = document.querySelector(`[data-edition="${code}"]`);
    result.replaceChildren(...answer(typed));
    result.className = `card-check__result card-edition--${known ? known.dataset.state : "unknown"}`;
  }

  form.addEventListener("submit", (event) => {
    event.preventDefault();
    show(field.value);
  });

  // A code in the address: card.html?edition=1a2b3c4d or card.html#1a2b3c4d.
  function fromAddress() {
    const asked = new URLSearchParams(location.search).get("edition") || location.hash.replace(/^#(e-)?/, "");
    if (!asked || place(asked)?.closest("article h2")) return;
    field.value = asked.slice(0, 40);
    show(asked);
  }

  form.hidden = false;
  place("card-without-script").hidden = true;
  window.addEventListener("hashchange", fromAddress);
  fromAddress();
});
