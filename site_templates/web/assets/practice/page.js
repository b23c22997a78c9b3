// The practice page: asks one question at a time, says right or wrong and why, and remembers on this device.
document.addEventListener("DOMContentLoaded", () => {
  "use strict";
  const place = (id) => document.getElementById(id);
  const bank = window.chockbookPractice;
  if (!place("practice") || !bank) return;
  const boxes = window.ChockbookBoxes;
  const data = JSON.parse(place("practice-data").textContent);
  const root = place("practice").dataset.root;
  const kept = window.chockbookKept(`chockbook.practice.${data.rulebook}`);
  const questions = new Map(bank.questions.map((one) => [one.id, one]));
  const word = (key, values = {}) =>
    Object.entries(values).reduce((text, [name, value]) => text.replace(`{${name}}`, value), data.words[key]);
  let known = boxes.records(kept.read());
  let asked = [];
  let now = null;
  let anyway = false;
  const tally = { right: 0, wrong: 0 };
  const today = () => boxes.dayOf(new Date());

  function make(tag, text, kind) {
    const made = document.createElement(tag);
    if (text) made.textContent = text;
    if (kind) made.className = kind;
    return made;
  }

  function named(name, text) {
    const line = make("p");
    line.append(make("span", name, "label"), text);
    return line;
  }

  // --- what is asked ---------------------------------------------------------------------------------------

  const filters = { system: data.systems, severity: data.severities, kind: data.kinds };
  for (const [key, names] of Object.entries(filters)) {
    const used = new Set(bank.questions.map((one) => one[key]));
    const options = [["", word("practice-all")], ...names.filter(([id]) => used.has(id))];
    place(`practice-${key}`).replaceChildren(...options.map(([value, name]) => Object.assign(make("option", name), { value })));
    place(`practice-${key}`).addEventListener("change", choose);
  }
  place("practice-unconfirmed").addEventListener("change", choose);

  function chosen() {
    const wanted = Object.keys(filters).map((key) => [key, place(`practice-${key}`).value]);
    const unsure = place("practice-unconfirmed").checked;
    return bank.questions
      .filter((one) => (one.confirmed || unsure) && wanted.every(([key, value]) => !value || one[key] === value))
      .map((one) => one.id);
  }

  function choose() {
    anyway = false;
    ask();
  }

  function showCounts() {
    const ids = chosen();
    const { due, fresh } = boxes.count(ids, known, today());
    place("practice-due").textContent = word("practice-due", { due, fresh, total: ids.length });
    place("practice-tally").textContent = word("practice-tally", tally);
    place("practice-tally").hidden = tally.right + tally.wrong === 0;
    place("practice-kept").textContent = word(kept.works ? "practice-kept" : "practice-not-kept");
    place("practice-not-kept").hidden = kept.works;
    place("practice-erase").hidden = !kept.works;
  }

  // --- a question ------------------------------------------------------------------------------------------

  function ask(moveFocus = false) {
    const ids = chosen();
    const id = boxes.next(ids, known, today(), asked, anyway);
    now = id && questions.get(id);
    place("practice-card").hidden = !now;
    place("practice-none").hidden = Boolean(now);
    place("practice-said").replaceChildren();
    place("practice-next").hidden = true;
    showCounts();
    if (!now) {
      place("practice-none-text").textContent = word(ids.length ? "practice-nothing-due" : "practice-nothing");
      place("practice-anyway").hidden = !ids.length;
      if (moveFocus) (ids.length ? place("practice-anyway") : place("practice-none-text")).focus();
      return;
    }
    place("practice-flag").hidden = now.confirmed;
    place("practice-question").textContent = bank.texts[now.text];
    place("practice-choices").replaceChildren(
      ...now.choices.map((text, number) => {
        const item = make("li"), button = make("button", "", "practice__choice");
        button.type = "button";
        button.append(make("span", String(number + 1), "practice__number"), make("span", bank.texts[text], "practice__text"));
        button.addEventListener("click", () => answer(number));
        item.append(button);
        return item;
      }),
    );
    if (moveFocus) place("practice-question").focus();
  }

  function answer(number) {
    if (!now || !place("practice-next").hidden) return;
    const right = number === now.right;
    const record = boxes.answered(known.get(now.id), right, today());
    known.set(now.id, record);
    asked = [...asked, now.id].slice(-boxes.BETWEEN);
    tally[right ? "right" : "wrong"] += 1;
    if (kept.works) kept.write({ records: Object.fromEntries(known) });
    [...place("practice-choices").querySelectorAll("button")].forEach((button, at) => {
      button.disabled = true;
      if (at === now.right) button.classList.add("practice__choice--right");
      const words = at === now.right ? word("practice-answer") : at === number ? word("practice-yours") : "";
      if (words) button.append(make("span", words, "practice__mark"));
    });
    place("practice-said").replaceChildren(...saidOf(right, record));
    place("practice-next").hidden = false;
    showCounts();
    // The button is ready for Enter, and what was said about the answer comes into sight above it.
    place("practice-next").focus({ preventScroll: true });
    place("practice-after").scrollIntoView({ block: "nearest" });
  }

  function saidOf(right, record) {
    const days = record[1] - today();
    const back = days < 1 ? "practice-soon" : days === 1 ? "practice-tomorrow" : "practice-later";
    const block = make("div", "", right ? "said" : "said said--fails");
    block.append(make("p", word(right ? "practice-right" : "practice-wrong"), "said__state"));
    if (!right) block.append(named(word("practice-answer"), bank.texts[now.choices[now.right]]));
    block.append(named(word("practice-why"), bank.texts[now.reason]), named(data.words.source, bank.texts[now.source]));
    if (!now.confirmed) block.append(make("p", word("practice-from-memory"), "practice__unsure"));
    const [component, slug] = now.entries[0].split(".");
    const more = make("p", "", "practice__more"), link = make("a", word("practice-read", { component: bank.texts[now.about] }));
    link.href = `${root}components/${component}.html#${slug}`;
    more.append(link);
    block.append(more, make("p", word(back, { days })));
    return [block];
  }

  // --- keys and what is kept -------------------------------------------------------------------------------

  document.addEventListener("keydown", (event) => {
    const inField = /^(INPUT|SELECT|TEXTAREA)$/.test(event.target.tagName);
    if (inField || event.ctrlKey || event.altKey || event.metaKey || !now) return;
    const number = Number(event.key) - 1;
    if (Number.isInteger(number) && number >= 0 && number < now.choices.length) answer(number);
  });
  place("practice-next").addEventListener("click", () => ask(true));
  place("practice-anyway").addEventListener("click", () => {
    anyway = true;
    ask(true);
  });

  function sure(open) {
    place("practice-erase").hidden = open;
    place("practice-sure").hidden = !open;
  }
  place("practice-erase").addEventListener("click", () => {
    sure(true);
    place("practice-erase-keep").focus();
  });
  place("practice-erase-keep").addEventListener("click", () => {
    sure(false);
    place("practice-erase").focus();
  });
  place("practice-erase-sure").addEventListener("click", () => {
    kept.erase();
    known = new Map();
    asked = [];
    anyway = false;
    Object.assign(tally, { right: 0, wrong: 0 });
    sure(false);
    ask();
    place("practice-erased").textContent = word("practice-erased");
    place("practice-erase").focus();
  });

  const unsure = bank.questions.filter((one) => !one.confirmed).length;
  place("practice-size").textContent = word("practice-size", { questions: bank.questions.length, unconfirmed: unsure });
  place("practice-unconfirmed-line").hidden = !unsure;
  // A book of which nothing is confirmed would ask nothing at all: it asks, and says so each time.
  place("practice-unconfirmed").checked = unsure > 0 && unsure === bank.questions.length;
  place("practice-without-script").hidden = true;
  place("practice").hidden = false;
  ask();
});
