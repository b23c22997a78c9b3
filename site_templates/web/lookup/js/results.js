// The list of results. Rows are kept and filled anew, so that typing makes no new elements.

const FIRST_ROWS = 12;

class Results {
  constructor(catalogue, list, more, address, open) {
    Object.assign(this, { catalogue, list, more, address, open });
    this.rows = [];
    this.shown = FIRST_ROWS;
    this.entries = [];
    more.addEventListener("click", () => {
      const first = this.shown;
      this.shown = this.entries.length;
      this.fill();
      this.rows[first].link.focus();
    });
  }

  show(entries) {
    this.entries = entries;
    this.shown = FIRST_ROWS;
    this.fill();
  }

  fill() {
    const count = Math.min(this.shown, this.entries.length);
    while (this.rows.length < count) this.rows.push(this.row());
    this.rows.forEach((row, at) => this.fillRow(row, at < count ? this.entries[at] : null));
    const left = this.entries.length - count;
    this.more.hidden = left === 0;
    if (left) this.more.textContent = this.catalogue.word("lookup-more", { number: left });
  }

  row() {
    const row = {
      entry: null,
      mark: make("span", { "aria-hidden": "true" }),
      outcome: make("strong"),
      severity: make("span", { class: "lookup-hit__severity" }),
      when: make("span", { class: "lookup-hit__when" }),
      component: make("b"),
      condition: make("span"),
    };
    row.link = make("a", { class: "lookup-hit", href: "" },
      make("span", { class: "lookup-hit__outcome" }, row.mark, " ", row.outcome),
      " ", row.when, " ",
      make("span", { class: "lookup-hit__what" }, row.component, " ", row.condition, " ", row.severity));
    row.link.addEventListener("click", (event) => {
      if (event.ctrlKey || event.metaKey || event.shiftKey || event.button) return;
      event.preventDefault();
      this.open(row.entry, row.link);
    });
    row.item = make("li", {}, row.link);
    this.list.append(row.item);
    return row;
  }

  fillRow(row, entry) {
    if (row.entry === entry) return;
    row.entry = entry;
    row.item.hidden = entry === null;
    if (entry === null) return;
    const ruling = entry.rulings[0];
    const { severity } = ruling;
    row.link.className = `lookup-hit lookup-hit--${severity.mayDrive}`;
    row.link.setAttribute("href", this.address.ofEntry(entry.id));
    row.mark.className = `mark mark--${severity.mayDrive}`;
    row.outcome.textContent = severity.outcome;
    row.severity.textContent = severity.name;
    row.when.textContent = ruling.appliesWhen ?? "";
    row.when.hidden = !ruling.appliesWhen;
    row.component.textContent = `${entry.component.name}:`;
    row.condition.textContent = entry.condition;
  }
}
