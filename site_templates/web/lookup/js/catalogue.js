// The entries as the page uses them, made from the data that generator/chockbook/views/lookup.py lays out.

const NOTHING = -1;

class Catalogue {
  constructor(data) {
    this.edition = data.edition;
    this.rulebook = data.rulebook;
    this.words = data.words;
    this.report = data.report;
    this.units = data.units.map(([id, name, kind]) => ({ id, name, kind }));
    this.severities = data.severities.map(([id, name, outcome, mayDrive], rank) => ({ id, name, outcome, mayDrive, rank }));
    // What stands in the place of a severity where nothing is settled: only what forbids driving counts for more.
    this.unsettled = {
      name: this.word("lookup-unsettled-name"), outcome: this.word("lookup-unsettled"), mayDrive: "no",
      rank: this.severities.filter((one) => one.mayDrive !== "no").length - 0.5,
    };
    this.actions = data.actions.map(([id, kind, by, text, confirmed], place) => ({ id, kind, by, text, confirmed, place }));
    this.systems = data.systems.map(([id, name], place) => ({ id, name, place }));
    this.components = data.components.map(([id, system, name], place) => ({
      id, name, place, system: this.systems[system],
    }));
    const text = (place) => (place === NOTHING ? null : data.texts[place]);
    const items = data.items.map(([id, severity, locator, source, basis, confirmed, letterConfirmed]) => ({
      id, locator, confirmed, letterConfirmed, severity: this.severities[severity], source: text(source), basis: text(basis),
    }));
    this.limits = data.limits.map(([quantity, compare, method, figures]) => ({
      quantity, compare, method,
      figures: figures.map(([label, printed, basis, confirmed]) => ({ label, printed, confirmed, basis: text(basis) })),
    }));
    const heading = (component, condition) => this.joined(this.components[component].name, condition);
    this.entries = data.entries.map(([component, slug, condition, check, kinds, limits, rulings], place) => ({
      place, condition, check, kinds, slug,
      component: this.components[component],
      heading: heading(component, condition),
      id: `${this.components[component].id}.${slug}`,
      limits: limits.map((limit) => this.limits[limit]),
      rulings: rulings.map(([item, applies, actions, general, remark, lawText]) => ({
        item: items[item],
        severity: items[item].severity,
        appliesWhen: text(applies),
        actions: actions.map((action) => this.actions[action]),
        general,
        remark: text(remark),
        lawText: text(lawText),
      })),
    }));
    this.entry = new Map(this.entries.map((entry) => [entry.id, entry]));
  }

  severityOf(ruling) {
    return ruling ? ruling.severity : this.unsettled;
  }

  // A name and what is said of it, with the colon of the language between.
  joined(name, text) {
    return this.words.joined.replace("{name}", () => name).replace("{text}", () => text);
  }

  word(key, values = {}) {
    let text = this.words[key];
    for (const [name, value] of Object.entries(values)) text = text.replaceAll(`{${name}}`, String(value));
    return text;
  }
}
