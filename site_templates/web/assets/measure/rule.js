// Judging a measure by a figure. Does the same as catalogue/measure.py and catalogue/brake_set.py; tests/measure holds them together.
(() => {
  "use strict";
  const M = window.ChockbookMeasure;
  const OTHER = { mm: "in", cm: "in", m: "ft", in: "mm", "32nds": "mm", ft: "m", kpa: "psi", psi: "kpa", mmhg: "inhg", inhg: "mmhg" };

  class Unfit extends Error {
    constructor(kind) { super(kind); this.kind = kind; }
  }

  const unitNamed = (data, id) => data.units.find((unit) => unit.id === id);
  const inBase = (value, unit) => M.times(value, M.exact(unit.factor));

  // A bare fraction of a length is in inches; a bare number is taken only where the kind has one unit.
  function withUnit(limit, quantity, data) {
    if (quantity.unit) {
      if (quantity.unit.kind !== limit.kind) throw new Unfit("wrong-kind");
      return quantity;
    }
    if (limit.kind === "count" || limit.kind === "angle") return { ...quantity, unit: unitNamed(data, limit.table_unit) };
    if (quantity.isFraction && (limit.kind === "length" || limit.kind === "share"))
      return { ...quantity, unit: unitNamed(data, limit.kind === "length" ? "in" : "fraction") };
    throw new Unfit("unit-needed");
  }

  function measure(limit, row, quantity, data) {
    const measured = withUnit(limit, quantity, data);
    const bounds = row.bounds[measured.unit.system];
    const value = inBase(measured.value, measured.unit);
    const base = (bound) => inBase(M.exact(bound.value), unitNamed(data, bound.unit));
    const result = (state, passes, bound, why = "") =>
      ({ state, passes, measured, bound, bounds, by: M.distance(value, base(bound)), why });
    const low = bounds.low, high = bounds.high, against = M.compare(value, base(low));
    if (high) {
      if (against < 0) return result("under", false, low);
      if (M.compare(value, base(high)) > 0) return result("over", false, high);
      const toLow = M.distance(value, base(low)), toHigh = M.distance(value, base(high));
      const nearer = M.compare(toLow, toHigh) <= 0 ? low : high;
      if (bounds.more) return result("undecided", null, nearer, "figures-apart");
      return result(M.compare(value, base(nearer)) === 0 ? "at-within" : "within", true, nearer);
    }
    if (limit.compare === "about") return result("undecided", null, low, "about");
    if (against === 0) {
      const passes = ["at-most", "at-least", "between"].includes(limit.compare);
      return result(passes ? "at-within" : "at-beyond", passes, low);
    }
    const passes = (against > 0) === ["at-least", "more-than"].includes(limit.compare);
    return result(passes ? "within" : against > 0 ? "over" : "under", passes, low);
  }

  // A result in words: state and distance, what was read, what it was held against.
  function resultLines(limit, printed, result, data) {
    const word = (key, values = {}) => M.fill(data.words[key], values);
    const unit = result.measured.unit, factor = (one) => M.exact(one.factor);
    const own = M.inWords(M.over(result.by, factor(unit)), unit, data);
    let state = word(`measure-state-${result.state}`);
    if (["within", "over", "under"].includes(result.state)) {
      const other = unit.system === "plain" ? null : unitNamed(data, OTHER[unit.id]);
      const told = other && M.inWords(M.over(result.by, factor(other)), other, data);
      state += `, ${other ? word("measure-by-both", { own, other: told }) : word("measure-by", { own })}`;
    }
    const lines = [state];
    if (result.why === "about") lines.push(word("measure-about", { own }));
    if (result.why === "figures-apart") lines.push(word("measure-figures-apart", { printed }));
    lines.push(word("measure-read-as", { value: M.inWords(result.measured.value, unit, data) }));
    const told = (bound) => M.inWords(M.exact(bound.value), unitNamed(data, bound.unit), data);
    const { low, high } = result.bounds;
    const figure = `${data.words[`compare-${limit.compare}`]} ${told(low)}${high ? ` – ${told(high)}` : ""}`;
    lines.push(word(result.bound.converted ? "measure-held-converted" : "measure-held", { figure, printed }));
    return lines;
  }

  function errorWords(error, read, limit, data) {
    const names = (units) => units.map((unit) => unit.name).join(", ");
    const units = error instanceof M.Malformed ? data.units : data.units.filter((unit) => unit.kind === limit.kind);
    return M.fill(data.words[`measure-error-${error.kind}`], { read: read.trim(), part: error.part ?? "", units: names(units) });
  }

  // Each brake as {row, quantity}: what the rulebook makes of the set.
  function judgeSet(set, limit, brakes, data) {
    const results = brakes.map(({ row, quantity }) => measure(limit, row, quantity, data));
    const failing = results.filter((result) => result.passes === false);
    const past = failing.filter((result) => M.compare(result.by, M.exact(set.past)) >= 0).length;
    let share = null, defect = null;
    if (set.share) {
      const quantity = { value: M.ratio(BigInt(past), BigInt(results.length)), unit: unitNamed(data, "fraction"), isFraction: true };
      share = measure({ compare: set.share_compare, kind: "share" }, set.share, quantity, data);
    }
    if (set.rule === "one-is-enough") defect = failing.length > 0;
    else if (set.rule === "share" && share) defect = share.passes === false;
    return { results, over: failing.length, past, share, defect };
  }

  Object.assign(M, { Unfit, withUnit, measure, resultLines, errorWords, judgeSet });
})();
