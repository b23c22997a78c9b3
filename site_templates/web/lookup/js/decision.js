// The decision rule: what several findings on a combination mean together. The worst finding governs.
// generator/chockbook/catalogue/verdict.py and views/decision.py do the same; tests hold them together.

// Kinds of action in the order in which they are done where the rulings leave it open.
const STEP_ORDER = ["stop", "record", "tell", "go-on", "repair"];
const BLANK = "____";

function questionOf(rulings) {
  if (rulings.length < 2) return null;
  const [worse, milder] = rulings;
  if (worse.appliesWhen) return { condition: worse.appliesWhen, yes: worse, no: milder };
  if (milder.appliesWhen) return { condition: milder.appliesWhen, yes: milder, no: worse };
  return null;
}

// Whether a defect's only ruling fits; what holds otherwise is not settled here.
function onlyQuestion(catalogue, rulings) {
  const when = rulings[0].appliesWhen;
  if (rulings.length !== 1 || !when || when === catalogue.word("lookup-always")) return null;
  return { condition: when, yes: rulings[0], no: null };
}

// A finding whose only ruling does not fit has no ruling, and neither has what it governs: nothing is settled.
function decideFinding(catalogue, finding) {
  const entry = catalogue.entry.get(finding.entryId);
  const question = questionOf(entry.rulings) ?? onlyQuestion(catalogue, entry.rulings);
  let ruling = entry.rulings[0];
  if (question && finding.answer === "yes") ruling = question.yes;
  if (question && finding.answer === "no") ruling = question.no;
  let other = null;
  if (question) other = ruling === question.yes ? question.no : question.yes;
  return { finding, entry, ruling, other, question };
}

function decide(catalogue, findings) {
  const unique = new Map(findings.map((finding) => [`${finding.unit} ${finding.entryId}`, finding]));
  const decided = [...unique.values()].map((finding) => decideFinding(catalogue, finding));
  const weight = (one) => catalogue.severityOf(one.ruling).rank;
  const units = [];
  for (const unit of catalogue.units) {
    const here = decided.filter((one) => one.finding.unit === unit.id);
    here.sort((a, b) => weight(b) - weight(a) || a.entry.place - b.entry.place);
    if (here.length) units.push({ unit, findings: here, severity: catalogue.severityOf(here[0].ruling) });
  }
  let severity = null;
  for (const unit of units) {
    if (!severity || unit.severity.rank > severity.rank) severity = unit.severity;
  }
  return { units, severity, steps: stepsOf(units, severity) };
}

function stepsOf(units, severity) {
  const stopped = severity !== null && severity.mayDrive === "no";
  const found = units.flatMap((unit) => unit.findings).filter((one) => one.ruling);
  const actionsOf = (one) => one.ruling.actions.filter((action) => !(stopped && action.kind === "go-on"));
  const wanted = new Map();
  for (const one of found) {
    for (const action of actionsOf(one)) wanted.set(action, [...(wanted.get(action) ?? []), one]);
  }
  const worst = (action) => Math.max(...wanted.get(action).map((one) => one.ruling.severity.rank));
  const weightiestFirst = [...found].sort((a, b) => b.ruling.severity.rank - a.ruling.severity.rank);
  return mergedOrder(weightiestFirst.map(actionsOf), (a, b) => (
    STEP_ORDER.indexOf(a.kind) - STEP_ORDER.indexOf(b.kind) || worst(b) - worst(a) || a.place - b.place
  )).map((action) => ({ action, findings: wanted.get(action) }));
}

function unitOf(catalogue, one) {
  return catalogue.units.find((unit) => unit.id === one.finding.unit);
}

function reportLine(catalogue, one) {
  return [
    `- ${unitOf(catalogue, one).name}`,
    one.entry.heading,
    catalogue.severityOf(one.ruling).name,
    one.ruling ? one.ruling.item.locator : "",
    (one.question && one.ruling && one.ruling.appliesWhen) || "",
    one.ruling && !one.ruling.item.confirmed ? catalogue.word("not-confirmed") : "",
  ].filter((part) => part).join(" | ");
}

function reportText(catalogue, verdict) {
  if (!verdict.severity) return "";
  const lines = [
    `${catalogue.word("title")}, ${catalogue.word("edition")} ${catalogue.edition.code}, ${catalogue.rulebook}`,
  ];
  const found = verdict.units.flatMap((unit) => unit.findings).map((one) => reportLine(catalogue, one));
  let written = false;
  for (const [place, name] of catalogue.report) {
    if (place === "defects" && !written) {
      lines.push(catalogue.joined(name, "").trimEnd(), ...found);
      written = true;
    } else {
      lines.push(catalogue.joined(name, BLANK));
    }
  }
  if (!written) lines.push(...found);
  lines.push(catalogue.joined(catalogue.word("lookup-result"), verdict.severity.outcome), catalogue.word("aid-short"));
  return lines.join("\n");
}
