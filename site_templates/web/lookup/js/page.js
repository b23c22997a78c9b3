// The page: keeps its state, shows it, and writes it to the address.

const ADDRESS_PAUSE_MS = 300;
const COUNT_PAUSE_MS = 120;
const GAP_ABOVE_BOX = 6;

class LookupPage {
  constructor(root, data) {
    this.root = root;
    this.catalogue = new Catalogue(data);
    this.index = data.index;
    this.choices = new Choices(this.catalogue);
    this.address = new Address(this.catalogue, window);
    this.state = this.address.read();
    this.all = [];
    const part = (name) => root.querySelector(`[data-part="${name}"]`);
    this.part = Object.fromEntries(["ask", "words", "narrow", "panel", "status", "results", "more", "browse", "entry",
      "findings", "bar", "old"].map((name) => [name, part(name)]));
    this.results = new Results(this.catalogue, this.part.results, this.part.more, this.address,
      (entry) => this.go({ d: entry.id }));
    this.catalogueOrder = [...this.catalogue.entries].sort((a, b) => (
      b.rulings[0].severity.rank - a.rulings[0].severity.rank || a.place - b.place
    ));
    this.listen();
    this.part.ask.hidden = false;
    this.part.old.hidden = new Date().toISOString().slice(0, 10) <= this.catalogue.edition.checkBy;
    this.part.words.value = this.state.q;
    if (this.choices.any(this.state)) this.openPanel(true);
    this.show();
    root.dataset.ready = "yes";
    performance.mark("lookup-ready");
    // The box takes words before the finder is made; making it waits until the page is on the screen.
    setTimeout(() => this.makeFinder(), 0);
  }

  makeFinder() {
    if (!this.finder) {
      this.finder = new Finder(this.index);
      this.root.dataset.finder = "made";
      performance.mark("lookup-finder");
    }
    return this.finder;
  }

  listen() {
    const { part } = this;
    part.words.addEventListener("input", () => this.typed());
    part.words.addEventListener("focus", () => this.makeRoom());
    part.ask.addEventListener("submit", (event) => {
      event.preventDefault();
      part.words.blur();
    });
    part.narrow.addEventListener("click", () => this.openPanel(part.panel.hidden));
    part.browse.addEventListener("click", (event) => {
      const link = event.target.closest("a[data-key]");
      if (!link || event.ctrlKey || event.metaKey || event.shiftKey) return;
      event.preventDefault();
      this.openPanel(true);
      this.go({ [link.dataset.key]: link.dataset.id });
      part.status.focus();
    });
    part.bar.addEventListener("click", (event) => {
      event.preventDefault();
      this.go({ list: true, d: "" });
    });
    window.addEventListener("popstate", () => {
      clearTimeout(this.addressTimer);
      this.state = this.address.read();
      part.words.value = this.state.q;
      this.show();
      this.focusShown();
    });
  }

  typed() {
    this.state.q = this.part.words.value;
    this.state.d = "";
    this.state.list = false;
    const before = this.root.dataset.state;
    this.show();
    if (this.root.dataset.state !== before) this.makeRoom();
    clearTimeout(this.addressTimer);
    this.addressTimer = setTimeout(() => this.keepAddress(), ADDRESS_PAUSE_MS);
  }

  // On a phone the keyboard takes half the screen: the box goes to the top, so that three results fit below.
  makeRoom() {
    if (!matchMedia("(max-width: 45em)").matches || document.activeElement !== this.part.words) return;
    const row = this.part.words.getBoundingClientRect();
    scrollTo(scrollX, Math.max(0, scrollY + row.top - GAP_ABOVE_BOX));
  }

  keepAddress() {
    history.replaceState(null, "", this.address.write(this.state));
  }

  // Goes to another state as a step that the browser's back key undoes.
  go(change) {
    clearTimeout(this.addressTimer);
    this.keepAddress();
    this.state = { ...this.state, ...change };
    history.pushState({ step: true }, "", this.address.write(this.state));
    this.show();
    this.focusShown();
  }

  focusShown() {
    const { d, list } = this.state;
    if (!d && !list) return;
    const shown = d ? this.part.entry : this.part.findings;
    shown.focus({ preventScroll: true });
    this.root.scrollIntoView({ block: "start" });
  }

  openPanel(open) {
    if (open && !this.panel) {
      this.panel = new ChoicePanel(this.catalogue, this.part.panel, (chosen, value) => this.choose(chosen, value));
    }
    this.part.panel.hidden = !open;
    this.part.narrow.setAttribute("aria-expanded", String(open));
    if (open) this.countChoices();
  }

  choose(chosen, value) {
    const change = {};
    if (chosen.key === "clear") Object.assign(change, { s: "", c: "", v: "", a: "" });
    else if (chosen.key === "s" || chosen.key === "c") {
      Object.assign(change, { s: "", c: "" });
      if (value) change[chosen.key] = chosen.id;
    } else change[chosen.key] = chosen.id;
    this.go({ ...change, d: "", list: false });
  }

  found() {
    const { q } = this.state;
    this.looked = { unlisted: null, loose: false };
    if (!q.trim()) return this.choices.any(this.state) ? this.catalogueOrder : [];
    this.looked = this.makeFinder().lookUp(q);
    return this.looked.found.map(([place]) => this.catalogue.entries[place]);
  }

  show() {
    const { state, part } = this;
    const asking = !state.d && !state.list;
    const idle = asking && !state.q.trim() && !this.choices.any(state);
    this.root.dataset.state = state.d ? "entry" : state.list ? "findings" : idle ? "idle" : "results";
    part.entry.hidden = !state.d;
    part.findings.hidden = !state.list || Boolean(state.d);
    this.all = asking ? this.found() : [];
    const entries = this.choices.chosen(state, this.all);
    this.results.show(entries);
    part.browse.hidden = !asking || entries.length > 0;
    this.tell(asking, idle, entries.length);
    if (state.d) this.showEntry();
    if (!part.findings.hidden) this.showFindings();
    this.showBar();
    clearTimeout(this.countTimer);
    if (!part.panel.hidden) this.countTimer = setTimeout(() => this.countChoices(), COUNT_PAUSE_MS);
  }

  tell(asking, idle, count) {
    const { part, catalogue } = this;
    const text = asking && !idle ? this.told(catalogue, count) : "";
    if (part.status.textContent !== text) part.status.textContent = text;
    const sure = !asking || idle || !(this.looked.unlisted || this.looked.loose);
    if (part.status.dataset.sure !== String(sure)) part.status.dataset.sure = String(sure);
  }

  // How much was found, and what to know before the first entry is trusted.
  told(catalogue, count) {
    const { unlisted, loose } = this.looked;
    const nearest = count ? ` ${catalogue.word("lookup-nearest", { number: count })}` : "";
    if (unlisted) return catalogue.word("lookup-unlisted", { name: unlisted }) + nearest;
    if (!count) return catalogue.word("lookup-no-match");
    return catalogue.word(loose ? "lookup-loose" : "lookup-found", { number: count });
  }

  countChoices() {
    const { state } = this;
    const entries = state.q.trim() ? this.all : this.catalogue.entries;
    this.panel.show(state, this.choices.counts(state, entries));
  }

  showEntry() {
    const { catalogue, part, state } = this;
    const entry = catalogue.entry.get(state.d);
    const full = part.entry.dataset.pages;
    part.entry.replaceChildren(
      this.backButton(),
      ...entryParts(catalogue, entry, "lookup-entry-name"),
      this.unitButtons(entry),
      entryFacts(catalogue, entry),
      make("p", { class: "lookup-buttons" },
        make("button", { type: "button", class: "lookup-button", onclick: (event) => this.copyAddress(event.target, entry) },
          catalogue.word("lookup-copy-address")),
        full === undefined ? null : make("a", {
          class: "lookup-button", href: `${full}components/${entry.component.id}.html#${entry.slug}`,
        }, catalogue.word("lookup-full-page"))));
  }

  backButton() {
    const back = () => {
      if (history.state && history.state.step) history.back();
      else this.go({ d: "", list: false });
    };
    return make("button", { type: "button", class: "lookup-button lookup-back", onclick: back },
      this.catalogue.word("lookup-back"));
  }

  unitButtons(entry) {
    const { catalogue, state } = this;
    const kept = (unit) => state.findings.some((one) => one.entryId === entry.id && one.unit === unit.id);
    const button = (unit) => {
      const element = make("button", { type: "button", class: "lookup-button lookup-unit-button",
        "aria-pressed": String(kept(unit)) }, unit.name);
      element.addEventListener("click", () => {
        this.toggle(entry, unit);
        element.setAttribute("aria-pressed", String(kept(unit)));
      });
      return element;
    };
    return make("div", { class: "lookup-units", role: "group", "aria-labelledby": "lookup-units-name" },
      make("h3", { id: "lookup-units-name" }, catalogue.word("lookup-found-on")),
      ...catalogue.units.filter((unit) => entry.kinds & unit.kind).map(button));
  }

  toggle(entry, unit) {
    const { findings } = this.state;
    const at = findings.findIndex((one) => one.entryId === entry.id && one.unit === unit.id);
    if (at < 0) findings.push({ unit: unit.id, entryId: entry.id, answer: "unknown" });
    else findings.splice(at, 1);
    this.keepAddress();
    this.showBar();
  }

  showBar() {
    const { catalogue, part, state } = this;
    part.bar.hidden = state.findings.length === 0 || !part.findings.hidden;
    if (part.bar.hidden) return;
    const { severity } = decide(catalogue, state.findings);
    part.bar.setAttribute("href", this.address.write({ ...state, d: "", list: true }));
    part.bar.replaceChildren(make("span", {}, catalogue.word("lookup-findings-of", { number: state.findings.length })),
      " ", make("strong", {}, mark(severity.mayDrive), " ", severity.outcome));
  }

  showFindings() {
    const { catalogue, part, state } = this;
    const same = (one) => (kept) => kept.unit === one.finding.unit && kept.entryId === one.entry.id;
    const change = (findings, focus) => {
      state.findings = findings;
      this.keepAddress();
      this.showFindings();
      const wanted = focus && part.findings.querySelector(focus);
      (wanted || part.findings).focus();
    };
    part.findings.replaceChildren(this.backButton(), ...findingsParts(catalogue, decide(catalogue, state.findings), {
      addressOf: (entry) => this.address.ofEntry(entry.id),
      open: (event, entry) => {
        event.preventDefault();
        this.go({ d: entry.id });
      },
      answer: (one, answer) => change(
        state.findings.map((kept) => (same(one)(kept) ? { ...kept, answer } : kept)),
        `input[name="lookup-answer-${one.finding.unit}-${one.entry.id}"][value="${answer}"]`,
      ),
      remove: (one) => change(state.findings.filter((kept) => !same(one)(kept))),
      removeAll: () => change([]),
      copy: (report, button) => this.copy(report.value, report, button),
    }));
  }

  async copyAddress(button, entry) {
    const text = this.address.whole({ ...emptyState(), d: entry.id });
    await this.copy(text, null, button);
  }

  // Puts text on the clipboard; where that is not allowed, marks it for copying by hand.
  async copy(text, field, button) {
    const { catalogue, part } = this;
    let copied = false;
    try {
      await navigator.clipboard.writeText(text);
      copied = true;
    } catch {
      const shown = field ?? this.root.appendChild(make("textarea", { class: "lookup-unseen", readonly: true }));
      if (!field) shown.value = text;
      shown.select();
      copied = document.execCommand("copy");
      if (!field) shown.remove();
    }
    const told = catalogue.word(copied ? "lookup-copied" : "lookup-copy-by-hand");
    part.status.textContent = told;
    button.textContent = told;
  }
}
