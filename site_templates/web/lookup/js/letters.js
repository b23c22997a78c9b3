// From typed text to words that can be compared: lower case, no accents, no endings.
// generator/chockbook/lookup/letters.py does the same, step for step; tests hold the two together.

const APOSTROPHES = /['\u2019\u2018\u02bc\u0060\u00b4]/g;
const MARKS = /[\u0300-\u036f]/g;
const WORD = /[a-z0-9]+/g;
const VOWEL = /[aeiouy]/;
const LETTERS_APART = [["\u0153", "oe"], ["\u00e6", "ae"], ["\u00df", "ss"], ["\u00f8", "o"]];

function numbered(words) {
  return words.some((word) => word[0] >= "0" && word[0] <= "9");
}

function pairsOf(text) {
  const words = text ? text.split(" ") : [];
  const pairs = [];
  for (let at = 0; at < words.length; at += 2) pairs.push([words[at], words[at + 1]]);
  return pairs;
}

class WordReader {
  constructor(language) {
    this.gap = language.apostrophe === "joins" ? "" : " ";
    this.drop = new Set(language.drop.split(" "));
    this.passes = language.endings;
    this.undoubled = language.undoubled;
    this.spellings = new Map(pairsOf(language.spellings));
  }

  rawWords(text) {
    let plain = text.normalize("NFKD").toLowerCase().replace(MARKS, "");
    for (const [letter, apart] of LETTERS_APART) plain = plain.replaceAll(letter, apart);
    return plain.replace(APOSTROPHES, this.gap).match(WORD) || [];
  }

  toldWords(text) {
    const words = this.rawWords(text);
    const besideNumber = numbered(words);
    return words.filter((word) => !this.drop.has(word) || (besideNumber && word.length === 1));
  }

  root(typed) {
    let word = this.spellings.get(typed) ?? typed;
    for (const pass of this.passes) {
      for (const [ending, becomes, keep, single] of pass) {
        if (!word.endsWith(ending)) continue;
        let rest = word.slice(0, word.length - ending.length);
        if (rest.length < keep || !VOWEL.test(rest)) continue;
        const last = rest[rest.length - 1];
        if (single && this.undoubled.includes(last) && rest[rest.length - 2] === last) rest = rest.slice(0, -1);
        word = rest + becomes;
        break;
      }
    }
    return word;
  }
}
