// The page's state and its address. On a site the state is the query of the address, in a file its fragment:
// a file's address cannot change its query in every browser. The typed words are "w": "q" would open the
// theme's own search as well.

const ANSWER_LETTERS = { yes: "y", no: "n", unknown: "u" };
const ANSWER_OF = { y: "yes", n: "no", u: "unknown" };
const MOST_LETTERS = 200;
const CHOICES = ["s", "c", "v", "a"];

function emptyState() {
  return { q: "", s: "", c: "", v: "", a: "", d: "", list: false, findings: [] };
}

class Address {
  constructor(catalogue, view) {
    this.view = view;
    this.inFile = view.location.protocol === "file:";
    this.known = {
      s: new Set(catalogue.systems.map((system) => system.id)),
      c: new Set(catalogue.components.map((component) => component.id)),
      v: new Set(catalogue.severities.map((severity) => severity.id)),
      a: new Set(catalogue.actions.map((action) => action.id)),
    };
    this.entries = catalogue.entry;
    this.units = new Map(catalogue.units.map((unit) => [unit.id, unit]));
  }

  read() {
    const { search, hash } = this.view.location;
    const given = new URLSearchParams(this.inFile ? hash.slice(1) : search);
    const state = emptyState();
    state.q = (given.get("w") ?? "").slice(0, MOST_LETTERS);
    for (const key of CHOICES) {
      const value = given.get(key) ?? "";
      if (this.known[key].has(value)) state[key] = value;
    }
    const entry = given.get("d") ?? "";
    if (this.entries.has(entry)) state.d = entry;
    state.list = given.get("l") === "1";
    for (const text of given.getAll("f")) {
      const [unit, entryId, answer] = text.split("*");
      const fits = this.units.has(unit) && this.entries.has(entryId)
        && (this.entries.get(entryId).kinds & this.units.get(unit).kind) !== 0;
      if (fits) state.findings.push({ unit, entryId, answer: ANSWER_OF[answer] ?? "unknown" });
    }
    return state;
  }

  write(state) {
    const given = new URLSearchParams();
    if (state.q) given.set("w", state.q);
    for (const key of CHOICES) if (state[key]) given.set(key, state[key]);
    if (state.d) given.set("d", state.d);
    if (state.list) given.set("l", "1");
    for (const one of state.findings) given.append("f", `${one.unit}*${one.entryId}*${ANSWER_LETTERS[one.answer]}`);
    const text = given.toString();
    const { pathname, search } = this.view.location;
    if (this.inFile) return `${pathname}${search}${text ? `#${text}` : "#"}`;
    return text ? `${pathname}?${text}` : pathname;
  }

  // The address of one state in full, to share or to print as a code.
  whole(state) {
    return new URL(this.write(state), this.view.location.href).href;
  }

  // Of a defect alone: it stays the same from edition to edition.
  ofEntry(entryId) {
    return this.write({ ...emptyState(), d: entryId });
  }
}
