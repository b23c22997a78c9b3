// When a question comes back: five boxes. A record is [box, day from which the question is due].
window.ChockbookBoxes = (() => {
  "use strict";
  // Days until a question comes back, by box; box 1 comes back on the same day, after BETWEEN other questions.
  const DAYS = [0, 0, 1, 3, 7, 21];
  const LAST = DAYS.length - 1;
  const BETWEEN = 5;

  // The number of a local calendar day.
  const dayOf = (date) => Math.floor((date.getTime() - date.getTimezoneOffset() * 60000) / 86400000);

  const isRecord = (one) =>
    Array.isArray(one) && one.length === 2 && one.every(Number.isInteger) && one[0] >= 1 && one[0] <= LAST;

  // What was kept, without anything that is no record.
  function records(kept) {
    const given = kept && typeof kept === "object" && kept.records;
    return new Map(given && typeof given === "object" ? Object.entries(given).filter(([, one]) => isRecord(one)) : []);
  }

  const isDue = (record, day) => !record || record[1] <= day;

  // The record after an answer. Asked before it is due, a right answer changes nothing.
  function answered(record, right, day) {
    if (right && record && !isDue(record, day)) return record;
    const box = right ? Math.min((record ? record[0] : 1) + 1, LAST) : 1;
    return [box, day + DAYS[box]];
  }

  // How many of these questions are due, and how many of those are new.
  function count(ids, known, day) {
    const due = ids.filter((id) => isDue(known.get(id), day));
    return { due: due.length, fresh: due.filter((id) => !known.has(id)).length };
  }

  // The question to ask: what was seen and is due, the longest waiting first, then what is new. The last five
  // questions asked wait, unless nothing else is due. With `anyway` those not yet due follow, the soonest first.
  function next(ids, known, day, asked, anyway = false) {
    const order = new Map(ids.map((id, place) => [id, place]));
    const rank = (id) => (known.has(id) ? known.get(id) : [LAST + 1, day]);
    const soonest = (one, other) =>
      rank(one)[1] - rank(other)[1] || rank(one)[0] - rank(other)[0] || order.get(one) - order.get(other);
    const waits = new Set(asked.slice(-BETWEEN));
    const due = ids.filter((id) => isDue(known.get(id), day));
    const seen = due.filter((id) => known.has(id)).sort(soonest);
    const fresh = due.filter((id) => !known.has(id));
    const later = anyway ? ids.filter((id) => !isDue(known.get(id), day)).sort(soonest) : [];
    const everything = [...seen, ...fresh, ...later];
    const last = asked[asked.length - 1];
    return (
      everything.find((id) => !waits.has(id)) ?? everything.find((id) => id !== last) ?? everything[0] ?? null
    );
  }

  return { DAYS, BETWEEN, answered, count, dayOf, isDue, next, records };
})();
