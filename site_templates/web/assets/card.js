// Tells whether a card is current: takes the code that was typed, or the one in the page's address, to its edition.
document.addEventListener("DOMContentLoaded", () => {
  "use strict";
  const place = (id) => document.getElementById(id);
  const form = place("card-check");
  if (!form) return;
  const field = place("card-code");
  const result = place("card-result");
  const bounds = place("card-bounds");

  // Whether this page came from what the device keeps: a file, or the service worker, which answers from its store.
  const kept = location.protocol === "file:" || Boolean(navigator.serviceWorker?.controller);

  // A code as it is kept: no spaces or dashes, small letters, and the digits for which o, i and l are taken.
  const plain = (text) => text.toLowerCase().replace(/[^a-z0-9]/g, "").replace(/o/g, "0").replace(/[il]/g, "1");

  // The day where the reader is, as editions write theirs: such days compare as texts do.
  function today() {
    const now = new Date();
    return [now.getFullYear(), now.getMonth() + 1, now.getDate()].map((part) => String(part).padStart(2, "0")).join("-");
  }

  function paragraph(text, kind = "") {
    const made = document.createElement("p");
    made.className = kind;
    made.textContent = text;
    return made;
  }

  // Which of the form's answers a code has, with the edition that it names.
  function judged(code) {
    const known = document.querySelector(`[data-edition="${code}"]`);
    if (!known) return { answer: /^[0-9a-f]{8}$/.test(code) ? "unknown" : "short" };
    const past = known.dataset.state !== "stale" && known.dataset.checkBy < today();
    return { answer: known.dataset.state + (past ? "Past" : ""), known };
  }

  // Where a reader finds out whether the cards in the hand are among those that changed.
  function whereToLook(known) {
    const all = document.createElement("a");
    all.href = `#${known.id}`;
    all.textContent = form.dataset.all.replace("{code}", known.dataset.edition);
    const line = paragraph("", "card-check__all");
    line.append(all);
    return [paragraph(form.dataset.look), known.querySelector(".card-parts").cloneNode(true), line];
  }

  function show(typed) {
    const code = plain(typed);
    const { answer, known } = judged(code);
    const parts = [paragraph(form.dataset[answer].replace("{date}", known?.dataset.checkBy), "card-check__verdict")];
    if (answer === "stale") parts.push(...whereToLook(known));
    if (kept || navigator.onLine === false) parts.push(paragraph(form.dataset.kept));
    // What the answer rests on stands on the page from the start; it goes where the answer is, and is read with it.
    result.replaceChildren(...parts, bounds);
    result.dataset.answer = answer;
    result.dataset.code = code;
  }

  form.addEventListener("submit", (event) => {
    event.preventDefault();
    show(field.value);
  });

  // A code in the address: card.html?edition=1a2b3c4d or card.html#1a2b3c4d.
  function fromAddress() {
    const asked = new URLSearchParams(location.search).get("edition") || location.hash.replace(/^#(e-)?/, "");
    if (!asked || place(asked)?.closest("article h2") || result.dataset.code === plain(asked)) return;
    field.value = asked.slice(0, 40);
    show(asked);
  }

  form.hidden = false;
  place("card-without-script").hidden = true;
  window.addEventListener("hashchange", fromAddress);
  fromAddress();
});
