// One defect in full: outcome, what it is, the steps, how to check, figures, source and standing.

function outcomeBlock(catalogue, severity, when, confirmed, otherwise = null) {
  return make("div", { class: `lookup-outcome lookup-outcome--${severity.mayDrive}` },
    make("p", { class: "lookup-outcome__words" }, mark(severity.mayDrive), make("strong", {}, severity.outcome)),
    severity.id ? make("p", {}, severity.name, when ? ` \u2013 ${when}` : "") : null,
    otherwise ? labelled(catalogue.word("lookup-otherwise"), otherwise) : null,
    confirmed ? null : make("p", {}, flag(catalogue.word("not-confirmed"))));
}

function stepList(catalogue, actions) {
  return make("ol", { class: "lookup-steps" }, ...actions.map((action) => make("li", {}, action.text, " ",
    make("span", { class: "lookup-by" }, action.by), " ",
    action.confirmed ? null : flag(catalogue.word("not-confirmed")))));
}

function limitBlock(catalogue, limit) {
  if (!limit.figures.length) return labelled(catalogue.word("web-limit"), `${limit.quantity}. ${limit.method}`);
  const figures = limit.figures.map((figure) => make("li", {}, catalogue.joined(figure.label, ""),
    make("b", {}, figure.printed), ` (${figure.basis})`));
  return make("div", {}, labelled(catalogue.word("web-limit"), `${limit.quantity}, ${limit.compare}:`),
    make("ul", {}, ...figures), make("p", {}, limit.method));
}

function sourceBlock(catalogue, ruling) {
  const { item } = ruling;
  return make("div", {},
    labelled(catalogue.word("source"), `${item.source}, ${item.locator}. `, `${item.basis}. `,
      item.letterConfirmed ? null : flag(catalogue.word("letter-not-confirmed")), " ",
      ruling.general ? `${catalogue.word("fit-general")}.` : ""),
    ruling.remark ? labelled(catalogue.word("web-remark"), ruling.remark) : null,
    ruling.lawText ? make("figure", {}, make("figcaption", {}, catalogue.word("web-law-text")),
      make("blockquote", {}, ruling.lawText)) : null);
}

function entryParts(catalogue, entry, headingId) {
  const [governing, ...others] = entry.rulings;
  const otherwise = onlyQuestion(catalogue, entry.rulings) ? catalogue.unsettled.outcome : null;
  return [
    outcomeBlock(catalogue, governing.severity, governing.appliesWhen, governing.item.confirmed, otherwise),
    make("h2", { id: headingId, tabindex: "-1" }, entry.heading),
    make("h3", {}, catalogue.word("what-to-do")),
    stepList(catalogue, governing.actions),
    ...others.flatMap((ruling) => [
      outcomeBlock(catalogue, ruling.severity, ruling.appliesWhen, ruling.item.confirmed),
      stepList(catalogue, ruling.actions),
    ]),
  ];
}

function entryFacts(catalogue, entry) {
  return make("div", { class: "lookup-facts" },
    make("h3", {}, catalogue.word("how-to-check")), make("p", {}, entry.check),
    ...entry.limits.map((limit) => limitBlock(catalogue, limit)),
    ...entry.rulings.map((ruling) => sourceBlock(catalogue, ruling)));
}
