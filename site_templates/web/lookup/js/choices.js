// The ways in beside the box: system and component, severity, action. Each says how many defects it leads to.

class Choices {
  constructor(catalogue) {
    this.catalogue = catalogue;
    this.tests = {
      s: (entry, id) => entry.component.system.id === id,
      c: (entry, id) => entry.component.id === id,
      v: (entry, id) => entry.rulings.some((ruling) => ruling.severity.id === id),
      a: (entry, id) => entry.rulings.some((ruling) => ruling.actions.some((action) => action.id === id)),
    };
  }

  any(state) {
    return CHOICES.some((key) => state[key]);
  }

  // Whether an entry is among those chosen, one kind of choice left out of account where named.
  allows(state, entry, except) {
    return CHOICES.every((key) => key === except || !state[key] || this.tests[key](entry, state[key]));
  }

  chosen(state, entries) {
    return this.any(state) ? entries.filter((entry) => this.allows(state, entry)) : entries;
  }

  // How many of the entries each choice would leave, given the other choices.
  counts(state, entries) {
    const counts = { s: new Map(), c: new Map(), v: new Map(), a: new Map() };
    const add = (key, id) => counts[key].set(id, (counts[key].get(id) ?? 0) + 1);
    for (const entry of entries) {
      const fits = {};
      for (const key of CHOICES) fits[key] = !state[key] || this.tests[key](entry, state[key]);
      const others = (key) => CHOICES.every((other) => other === key || fits[other]);
      if (fits.v && fits.a) {
        add("s", entry.component.system.id);
        add("c", entry.component.id);
      }
      if (others("v")) for (const id of new Set(entry.rulings.map((ruling) => ruling.severity.id))) add("v", id);
      if (others("a")) {
        const actions = entry.rulings.flatMap((ruling) => ruling.actions.map((action) => action.id));
        for (const id of new Set(actions)) add("a", id);
      }
    }
    return counts;
  }
}

class ChoicePanel {
  constructor(catalogue, panel, change) {
    this.catalogue = catalogue;
    this.options = [];
    const field = (key, label, groups) => {
      const select = make("select", { id: `lookup-choice-${key}` });
      select.append(this.option(key, "", catalogue.word("lookup-all")));
      for (const [group, options] of groups) {
        const into = group === null ? select : select.appendChild(make("optgroup", { label: group }));
        for (const [value, name] of options) into.append(this.option(value[0], value[1], name));
      }
      select.addEventListener("change", () => change(select.selectedOptions[0].dataset, select.value));
      panel.append(make("p", { class: "lookup-choice" }, make("label", { for: select.id }, label), select));
      return select;
    };
    const places = catalogue.systems.map((system) => [system.name, [
      [["s", system.id], system.name],
      ...catalogue.components.filter((one) => one.system === system).map((one) => [["c", one.id], `\u2013 ${one.name}`]),
    ]]);
    this.selects = {
      where: field("s", catalogue.word("lookup-where"), places),
      v: field("v", catalogue.word("lookup-serious"), [
        [null, [...catalogue.severities].reverse().map((one) => [["v", one.id], `${one.outcome} \u2013 ${one.name}`])],
      ]),
      a: field("a", catalogue.word("lookup-action"), [
        [null, catalogue.actions.map((one) => [["a", one.id], one.text])],
      ]),
    };
    panel.append(make("button", { type: "button", class: "lookup-button", onclick: () => change({ key: "clear" }, "") },
      catalogue.word("lookup-clear")));
  }

  option(key, id, name) {
    const option = make("option", { value: id ? `${key}:${id}` : "", "data-key": key, "data-id": id }, name);
    this.options.push({ option, key, id, name });
    return option;
  }

  show(state, counts) {
    for (const { option, key, id, name } of this.options) {
      if (!id) continue;
      const text = `${name} (${counts[key].get(id) ?? 0})`;
      if (option.textContent !== text) option.textContent = text;
    }
    this.select(state);
  }

  select(state) {
    this.selects.where.value = state.c ? `c:${state.c}` : state.s ? `s:${state.s}` : "";
    this.selects.v.value = state.v ? `v:${state.v}` : "";
    this.selects.a.value = state.a ? `a:${state.a}` : "";
  }
}
