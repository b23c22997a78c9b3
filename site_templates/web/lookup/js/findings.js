// The driver's list: findings by unit, what they mean together, the steps, and the report's text.

const MOST_ROWS = 30;

function concerns(catalogue, step) {
  return step.findings.map((one) => catalogue.joined(unitOf(catalogue, one).name, one.entry.component.name)).join("; ");
}

function questionBlock(catalogue, one, answer) {
  const group = `lookup-answer-${one.finding.unit}-${one.entry.id}`;
  const choice = (value, word) => {
    const input = make("input", { type: "radio", name: group, value, checked: one.finding.answer === value });
    input.addEventListener("change", () => answer(one, value));
    return make("label", { class: "lookup-answer" }, input, " ", catalogue.word(word));
  };
  const other = catalogue.severityOf(one.other);
  const unknown = one.question.no ? "lookup-not-sure-means" : "lookup-not-sure-only";
  return make("fieldset", { class: "lookup-question" },
    make("legend", {}, `${catalogue.word("lookup-question")} `, make("b", {}, one.question.condition)),
    choice("yes", "lookup-yes"), choice("no", "lookup-no"), choice("unknown", "lookup-not-sure"),
    one.finding.answer === "unknown" ? make("p", {}, catalogue.word(unknown)) : null,
    labelled(catalogue.word("lookup-otherwise"), other.outcome,
      one.other && one.other.appliesWhen ? ` \u2013 ${one.other.appliesWhen}` : ""));
}

function findingItem(catalogue, one, acts) {
  const severity = catalogue.severityOf(one.ruling);
  const item = one.ruling ? one.ruling.item : null;
  return make("li", { class: `lookup-found lookup-found--${severity.mayDrive}` },
    make("p", {}, mark(severity.mayDrive), " ",
      make("a", { href: acts.addressOf(one.entry), onclick: (event) => acts.open(event, one.entry) },
        make("b", {}, catalogue.joined(one.entry.component.name, "")), one.entry.condition)),
    item ? make("p", { class: "lookup-by" }, `${severity.name} \u2013 ${item.locator}`, " ",
      item.confirmed ? null : flag(catalogue.word("not-confirmed"))) : make("p", { class: "lookup-by" }, severity.name),
    one.question ? questionBlock(catalogue, one, acts.answer) : null,
    make("button", { type: "button", class: "lookup-button", onclick: () => acts.remove(one) },
      catalogue.word("lookup-remove"), make("span", { class: "lookup-unseen" },
        ` ${unitOf(catalogue, one).name}, ${one.entry.heading}`)));
}

function unitSection(catalogue, unit, acts) {
  const { severity } = unit;
  return make("section", { class: "lookup-unit" },
    make("h3", {}, unit.unit.name, ": ", make("span", { class: "lookup-unit__outcome" }, mark(severity.mayDrive), " ",
      severity.outcome)),
    make("ul", {}, ...unit.findings.map((one) => findingItem(catalogue, one, acts))));
}

function findingsParts(catalogue, verdict, acts) {
  const heading = make("h2", { id: "lookup-findings-name", tabindex: "-1" }, catalogue.word("lookup-findings"));
  if (!verdict.severity) return [heading, make("p", {}, catalogue.word("lookup-none-yet"))];
  const unsure = verdict.units.some((unit) => unit.findings.some((one) => one.ruling && !one.ruling.item.confirmed));
  const text = reportText(catalogue, verdict);
  const rows = Math.min(2 * text.split("\n").length, MOST_ROWS);
  const report = make("textarea", { id: "lookup-report", readonly: true, rows, spellcheck: "false" });
  report.value = text;
  return [
    heading,
    make("p", { class: "lookup-label" }, catalogue.word("lookup-whole")),
    outcomeBlock(catalogue, verdict.severity, null, !unsure),
    verdict.steps.length ? make("h3", {}, catalogue.word("lookup-steps")) : "",
    make("ol", { class: "lookup-steps" }, ...verdict.steps.map((step) => make("li", {}, step.action.text, " ",
      make("span", { class: "lookup-by" }, step.action.by), " ",
      step.action.confirmed ? null : flag(catalogue.word("not-confirmed")),
      make("span", { class: "lookup-concerns" }, `${catalogue.word("lookup-concerns")} ${concerns(catalogue, step)}`)))),
    ...verdict.units.map((unit) => unitSection(catalogue, unit, acts)),
    make("h3", {}, make("label", { for: "lookup-report" }, catalogue.word("lookup-report"))),
    report,
    make("p", { class: "lookup-buttons" },
      make("button", { type: "button", class: "lookup-button lookup-button--main", onclick: (event) => acts.copy(report, event.target) },
        catalogue.word("lookup-copy")),
      make("button", { type: "button", class: "lookup-button", onclick: acts.removeAll },
        catalogue.word("lookup-remove-all"))),
  ];
}
