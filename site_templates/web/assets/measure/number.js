// Exact numbers and reading a measure as people write it. Does the same as catalogue/quantity.py and views/measure_words.py;
// tests/measure holds them together. Numbers are fractions of whole numbers of any size: nothing is rounded but what is shown.
(() => {
  "use strict";
  const gcd = (a, b) => { while (b) [a, b] = [b, a % b]; return a < 0n ? -a : a; };
  const ratio = (above, below = 1n) => {
    const by = gcd(above, below) || 1n;
    return { n: above / by, d: below / by };
  };
  const exact = (text) => { const [n, d] = text.split("/"); return ratio(BigInt(n), BigInt(d || 1)); };
  const add = (a, b) => ratio(a.n * b.d + b.n * a.d, a.d * b.d);
  const subtract = (a, b) => ratio(a.n * b.d - b.n * a.d, a.d * b.d);
  const times = (a, b) => ratio(a.n * b.n, a.d * b.d);
  const over = (a, b) => ratio(a.n * b.d, a.d * b.n);
  const compare = (a, b) => { const left = a.n * b.d, right = b.n * a.d; return left < right ? -1 : left > right ? 1 : 0; };
  const distance = (a, b) => { const by = subtract(a, b); return by.n < 0n ? ratio(-by.n, by.d) : by; };

  const LONGEST = 40;
  const VULGAR = {
    "¼": "1/4", "½": "1/2", "¾": "3/4", "⅐": "1/7", "⅑": "1/9", "⅒": "1/10", "⅓": "1/3", "⅔": "2/3", "⅕": "1/5", "⅖": "2/5",
    "⅗": "3/5", "⅘": "4/5", "⅙": "1/6", "⅚": "5/6", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
  };
  const SAME = {
    "⁄": "/", "∕": "/", "″": '"', "”": '"', "“": '"', "′": "'", "’": "'", "−": "-", "–": "-", "—": "-", "‑": "-", "²": "2",
    "\u00a0": " ", "\u202f": " ", "\u2009": " ", "\t": " ",
  };

  class Malformed extends Error {
    constructor(kind, read, part = "") { super(kind); this.kind = kind; this.read = read; this.part = part; }
  }

  function plain(text) {
    let read = "";
    for (const sign of text) read += VULGAR[sign] ? ` ${VULGAR[sign]}` : SAME[sign] ?? sign;
    return read.toLowerCase().replaceAll("''", '"').replace(/ +/g, " ").trim();
  }

  function decimal(digits) {
    const [whole, part = ""] = digits.replace(",", ".").split(".");
    return ratio(BigInt((whole || "0") + part), 10n ** BigInt(part.length));
  }

  // Value, whether it is a common fraction, what follows it, and whether it is a part of a whole.
  function number(text, fault) {
    if (!/^[\d.,]/.test(text)) throw fault("no-number", text.split(/\d/)[0].trim());
    let found = /^(\d+) ?(?:out of|of|sur|de) ?(\d+)/.exec(text);
    if (found) {
      const part = BigInt(found[1]), whole = BigInt(found[2]);
      if (whole === 0n) throw fault("zero-below", found[0]);
      if (part > whole) throw fault("part-of-whole", found[0]);
      return [ratio(part, whole), true, text.slice(found[0].length), true];
    }
    found = /^(\d+)(?: ?- ?| and | et | )(\d+) ?\/ ?(\d+)/.exec(text);
    if (found) {
      const [whole, above, below] = found.slice(1).map(BigInt);
      if (below === 0n) throw fault("zero-below", found[0]);
      if (above >= below) throw fault("improper", found[0]);
      return [ratio(whole * below + above, below), true, text.slice(found[0].length), false];
    }
    found = /^(\d+) ?\/ ?(\d+)/.exec(text);
    if (found) {
      if (BigInt(found[2]) === 0n) throw fault("zero-below", found[0]);
      return [ratio(BigInt(found[1]), BigInt(found[2])), true, text.slice(found[0].length), false];
    }
    found = /^(\d{1,3}(?: \d{3})+(?:[.,]\d+)?)(?![\d/])/.exec(text);
    if (found) return [decimal(found[1].replaceAll(" ", "")), false, text.slice(found[0].length), false];
    found = /^(\d+(?:[.,]\d+)?|[.,]\d+)/.exec(text);
    if (!found) throw fault("no-number", text);
    const rest = text.slice(found[0].length);
    if (/^[.,]/.test(rest)) throw fault("two-points", found[0] + rest);
    if (/^[1-9]\d{0,2},\d{3}$/.test(found[1])) throw fault("thousands", found[1]);
    if (/^e ?[-+]?\d/.test(rest)) throw fault("exponent", found[0] + rest);
    if (/^ \d+ ?\/ ?\d/.test(rest)) throw fault("point-and-fraction", found[0] + rest);
    if (/^ ?(?:-|to|à|and|et|or|ou) ?\d/.test(rest)) throw fault("range", found[0] + rest);
    if (/^ ?\d* ?\/[^\d]*$/.test(rest)) throw fault("half-fraction", found[0] + rest);
    return [decimal(found[1]), false, rest, false];
  }

  // The measure that a text writes: {value, unit, isFraction}; unit is null where none was written.
  function parse(text, units) {
    const read = text.trim(), typed = plain(read);
    const fault = (kind, part) => new Malformed(kind, read, part);
    if (!typed) throw fault("empty");
    if ([...read].length > LONGEST) throw fault("too-long");
    if (!/\d/.test(typed)) throw fault("no-number");
    if ("-+±~<>=≤≥".includes(typed[0])) throw fault("sign", typed[0]);
    const [value, isFraction, after, share] = number(typed, fault);
    const rest = after.trim();
    const named = (id) => units.find((unit) => unit.id === id);
    if (isFraction && ["nds", "nd", "es", "e"].includes(rest) && /\/ ?32 ?[a-z]/.test(typed))
      return { value, unit: named("in"), isFraction: true };
    if (share && !rest) return { value, unit: named("fraction"), isFraction: true };
    let unit = null;
    if (rest) {
      const known = (spelled) => units.find((one) => one.spellings.includes(spelled));
      unit = known(rest) || known(rest.replace(/\.+$/, "")) || null;
      if (!unit) throw fault(/\d/.test(rest) ? "two-measures" : "unknown-unit", rest);
    }
    if (isFraction && unit && unit.id === "32nds") throw fault("two-measures", rest);
    return { value, unit, isFraction };
  }

  function rounded(value, places) {
    const scale = 10n ** BigInt(places);
    const text = String((2n * value.n * scale + value.d) / (2n * value.d)).padStart(places + 1, "0");
    return `${text.slice(0, -places)}.${text.slice(-places)}`.replace(/0+$/, "").replace(/\.$/, "");
  }

  // Such as "2 1/4 in", "57 mm", "20 %" or "about 0.504 in".
  function inWords(value, unit, data) {
    if (unit.kind === "share") {
      value = times(times(value, exact(unit.factor)), ratio(100n));
      unit = data.units.find((one) => one.id === "percent");
    }
    if (["in", "ft"].includes(unit.id) && [2n, 4n, 8n, 16n, 32n, 64n].includes(value.d)) {
      const whole = value.n / value.d, fraction = `${value.n % value.d}/${value.d}`;
      return `${whole ? `${whole} ` : ""}${fraction} ${unit.name}`;
    }
    const whole = 1000n % value.d === 0n;
    const places = whole || unit.system === "imperial" ? 3 : 2;
    let digits = rounded(value, whole || compare(value, ratio(1n, 20n)) >= 0 ? places : 6);
    if (data.language === "fr") digits = digits.replace(".", ",");
    return `${whole ? "" : `${data.words["compare-about"]} `}${digits} ${unit.name}`;
  }

  function fill(text, values) {
    return text.replace(/\{(\w+)\}/g, (all, name) => (name in values ? values[name] : all));
  }

  window.ChockbookMeasure = {
    ...window.ChockbookMeasure, Malformed, parse, inWords, fill, ratio, exact, add, subtract, times, over, compare, distance,
  };
})();
