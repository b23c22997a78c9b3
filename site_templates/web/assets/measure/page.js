// The page on which a driver measures: fills the choices from the page's data and shows what the rule says.
document.addEventListener("DOMContentLoaded", () => {
  "use strict";
  const M = window.ChockbookMeasure;
  const place = (id) => document.getElementById(id);
  const holder = place("measure-data");
  if (!holder) return;
  const data = JSON.parse(holder.textContent);
  const word = (key, values = {}) => M.fill(data.words[key], values);
  const limitNamed = (id) => data.limits.find((limit) => limit.id === id);
  const defects = new Map([...place("measure-entries").children].map((one) => [one.dataset.defect, one]));

  function make(tag, text, kind) {
    const made = document.createElement(tag);
    if (text) made.textContent = text;
    if (kind) made.className = kind;
    return made;
  }

  function choices(select, options) {
    select.replaceChildren(...options.map(([value, name]) => Object.assign(make("option", name), { value })));
  }

  // A name and what is said of it, with the colon of the language between.
  const joined = (name, text) => data.words.joined.replace("{name}", () => name).replace("{text}", () => text);
  const rowWords = (limit, row) =>
    joined(row.label, `${limit.compare === "between" ? "" : `${data.words[`compare-${limit.compare}`]} `}${row.printed}`);
  const unitChoices = (limit) =>
    [["", word("measure-as-typed")], ...data.units.filter((unit) => unit.kind === limit.kind).map((unit) => [unit.id, unit.name])];

  // A measure as typed, with the unit that was picked where none was typed.
  function typed(text, unitId) {
    const quantity = M.parse(text, data.units);
    const picked = data.units.find((unit) => unit.id === unitId);
    return quantity.unit || !picked ? quantity : { ...quantity, unit: picked };
  }

  function resultBlock(limit, row, result) {
    const block = make("div", "", result.passes === false ? "said said--fails" : "said");
    const [state, ...more] = M.resultLines(limit, row.printed, result, data);
    block.append(make("p", state, "said__state"), make("p", rowWords(limit, row), "said__figure"));
    block.append(...more.map((line) => make("p", line)));
    block.append(make("p", joined(data.words.source, `${row.source_title}, ${row.locator} (${row.basis_name})`), "said__source"));
    if (row.remark) block.append(make("p", row.remark));
    if (!row.confirmed) block.append(make("p", word("measure-unconfirmed"), "flag"));
    return block;
  }

  function meaning(limit, result) {
    if (result.passes === null) return [];
    if (result.passes && !limit.divides) return [make("p", word("measure-no-defect"))];
    const key = result.passes ? "measure-met-but" : { 0: "measure-decides-nothing", 1: "measure-is-defect" }[limit.entries.length] || "measure-pick-one";
    return [make("p", word(key), "said__lead"), ...limit.entries.map((id) => defects.get(id).cloneNode(true))];
  }

  function others(limit, quantity) {
    if (!limit.others.length) return [];
    const list = make("ul");
    for (const row of limit.others) {
      const words = rowWords(limit, row);
      const state = quantity ? M.resultLines(limit, row.printed, M.measure(limit, row, quantity, data), data)[0] : "";
      list.append(make("li", state ? joined(words, state) : words));
    }
    const block = make("details", "", "finds");
    block.append(make("summary", word("measure-others")), list);
    return [block];
  }

  const [limits, rows, value, units, result] =
    ["measure-limit", "measure-row", "measure-value", "measure-unit", "measure-result"].map(place);

  function showLimit() {
    const limit = limitNamed(limits.value);
    place("measure-method").textContent = joined(word("measure-how"), limit.method);
    // Nothing is taken for granted: with several figures one is picked first.
    const pick = limit.own.length > 1 ? [["", word("measure-pick-row")]] : [];
    choices(rows, [...pick, ...limit.own.map((row, number) => [number, rowWords(limit, row)])]);
    place("measure-row-field").hidden = !limit.own.length;
    choices(units, unitChoices(limit));
    show();
  }

  function show() {
    const limit = limitNamed(limits.value), row = limit.own[rows.value];
    if (!row && limit.own.length) return result.replaceChildren(make("p", word("measure-pick-row"), "said__lead"));
    const none = row ? [] : [make("p", word("measure-no-own"), "said__lead")];
    if (!value.value.trim()) return result.replaceChildren(...none, ...others(limit, null));
    try {
      const quantity = M.withUnit(limit, typed(value.value, units.value), data);
      if (!row) return result.replaceChildren(...none, ...others(limit, quantity));
      const judged = M.measure(limit, row, quantity, data);
      result.replaceChildren(resultBlock(limit, row, judged), ...meaning(limit, judged), ...others(limit, quantity));
    } catch (error) {
      if (!error.kind) throw error;
      result.replaceChildren(make("p", M.errorWords(error, value.value, limit, data), "said__error"));
    }
  }

  choices(limits, data.limits.map((limit) => [limit.id, limit.quantity]));
  limits.addEventListener("change", showLimit);
  for (const field of [rows, units]) field.addEventListener("change", show);
  value.addEventListener("input", show);
  place("measure").addEventListener("submit", (event) => event.preventDefault());
  const asked = location.hash.startsWith("#limit=") && limitNamed(location.hash.slice(7));
  if (asked) limits.value = asked.id;
  showLimit();
  place("measure-without-script").hidden = true;
  place("measure").hidden = false;

  // The set of brakes.
  const set = data.brake_set;
  if (!set || !place("measure-set")) return;
  const stroke = limitNamed(set.limit_id), brakes = place("set-brakes"), answer = place("set-result");
  let named = 0;

  function addBrake() {
    const number = ++named, before = brakes.lastElementChild;
    const block = make("fieldset", "", "brake"), legend = make("legend");
    const field = (name, made) => {
      const line = make("p"), label = make("label", name);
      made.id = `brake-${number}-${line.childElementCount}-${block.childElementCount}`;
      label.htmlFor = made.id;
      line.append(label, made);
      block.append(line);
      return made;
    };
    block.append(legend);
    const chamber = field(word("measure-set-chamber"), make("select"));
    const travel = field(word("measure-value"), Object.assign(make("input"), { type: "text", spellcheck: false }));
    const unit = field(word("measure-unit"), make("select"));
    const said = make("p", "", "brake__said"), remove = make("button", word("measure-set-remove"), "measure__button");
    remove.type = "button";
    choices(chamber, [["", word("measure-pick-row")], ...set.rows.map((row, at) => [at, rowWords(stroke, row)])]);
    choices(unit, unitChoices(stroke));
    if (before) [chamber.value, unit.value] = [before.fields.chamber.value, before.fields.unit.value];
    block.fields = { chamber, travel, unit, said, legend };
    block.append(said, remove);
    remove.addEventListener("click", () => { block.remove(); showSet(); place("set-add").focus(); });
    for (const one of [chamber, unit]) one.addEventListener("change", showSet);
    travel.addEventListener("input", showSet);
    brakes.append(block);
    showSet();
    return travel;
  }

  function showSet() {
    const given = [];
    [...brakes.children].forEach(({ fields }, at) => {
      fields.legend.textContent = word("measure-set-brake", { number: at + 1 });
      fields.said.textContent = "";
      if (!fields.travel.value.trim()) return;
      try {
        const row = set.rows[fields.chamber.value];
        if (!row) {
          fields.said.textContent = word("measure-pick-row");
          return;
        }
        const quantity = M.withUnit(stroke, typed(fields.travel.value, fields.unit.value), data);
        fields.said.textContent = M.resultLines(stroke, row.printed, M.measure(stroke, row, quantity, data), data)[0];
        given.push({ row, quantity });
      } catch (error) {
        if (!error.kind) throw error;
        fields.said.textContent = M.errorWords(error, fields.travel.value, stroke, data);
      }
    });
    if (!given.length) return answer.replaceChildren();
    const judged = M.judgeSet(set, stroke, given, data);
    // A brake not yet measured could be past its limit, so the set is judged whole, unless one brake settles it.
    const settled = given.length === brakes.children.length || (set.rule === "one-is-enough" && judged.defect);
    answer.replaceChildren(...(settled ? setLines(judged, given.length) : []));
  }

  function setLines(judged, total) {
    const lines = [make("p", word("measure-set-count", { over: judged.over, total }), "said__state")];
    const unit = data.units.find((one) => one.id === "fraction");
    if (judged.share) {
      const share = M.inWords(judged.share.measured.value, unit, data);
      lines.push(make("p", word("measure-set-share", { past: set.past_words, number: judged.past, total, share })));
    }
    const key = { "one-is-enough": "one-is-enough", share: "share-rule", "share-borrowed": "share-rule", silent: "silent" };
    const figure = set.share ? `${data.words[`compare-${set.share_compare}`]} ${set.share.printed}` : "";
    lines.push(make("p", word(`measure-set-${key[set.rule] || "no-figures"}`, { figure })));
    if (set.item) {
      const item = make("p", `${set.item.text} (${set.item.locator})`);
      if (!set.item.confirmed) item.append(" ", make("span", data.words["not-confirmed"], "flag"));
      lines.push(item);
    }
    if (set.rule === "share-borrowed") lines.push(make("p", word("measure-set-borrowed"), "said__lead"));
    if (judged.defect && set.entry) lines.push(defects.get(set.entry).cloneNode(true));
    else if (judged.over) lines.push(make("p", word("measure-set-single"), "said__lead"));
    return lines;
  }

  place("set-add").addEventListener("click", () => addBrake().focus());
  addBrake();
  place("measure-set").hidden = false;
});
