// How far a mistyped word is from a word of the catalogue, and which of them are nearest.
// generator/chockbook/lookup/typing_errors.py does the same, step for step; tests hold the two together.

const FAR = 3;
const NEAR_QUALITY = [100, 84, 60];
const OTHER_START = 8;
const SHORTEST = 3;
const LONGEST_ROW = 64;
const ROWS = [new Int32Array(LONGEST_ROW), new Int32Array(LONGEST_ROW), new Int32Array(LONGEST_ROW)];

function mostErrors(length) {
  if (length < 4) return 0;
  return length < 8 ? 1 : 2;
}

function distance(typed, word, most) {
  if (Math.abs(typed.length - word.length) > most || word.length >= LONGEST_ROW) return FAR;
  let [before, last, row] = ROWS;
  for (let j = 0; j <= word.length; j += 1) last[j] = j;
  for (let i = 1; i <= typed.length; i += 1) {
    row[0] = i;
    let least = i;
    for (let j = 1; j <= word.length; j += 1) {
      let steps = Math.min(last[j] + 1, row[j - 1] + 1, last[j - 1] + (typed[i - 1] !== word[j - 1] ? 1 : 0));
      if (i > 1 && j > 1 && typed[i - 1] === word[j - 2] && typed[i - 2] === word[j - 1]) {
        steps = Math.min(steps, before[j - 2] + 1);
      }
      row[j] = steps;
      if (steps < least) least = steps;
    }
    if (least > most) return FAR;
    [before, last, row] = [last, row, before];
  }
  return last[word.length] <= most ? last[word.length] : FAR;
}

function skeleton(word) {
  let kept = "";
  for (const letter of word) {
    if (!"aeiouy".includes(letter) && !kept.endsWith(letter)) kept += letter;
  }
  return kept;
}

function letterSet(word) {
  let bits = 0;
  for (let at = 0; at < word.length; at += 1) {
    const code = word.charCodeAt(at);
    bits |= 1 << (code >= 97 ? code - 97 : 26 + ((code - 48) % 4));
  }
  return bits;
}

function bitCount(number) {
  let bits = number - ((number >>> 1) & 0x55555555);
  bits = (bits & 0x33333333) + ((bits >>> 2) & 0x33333333);
  return Math.imul((bits + (bits >>> 4)) & 0x0f0f0f0f, 0x01010101) >>> 24;
}

class NearWords {
  constructor(words) {
    this.words = words;
    this.lengths = Uint8Array.from(words, (word) => Math.min(word.length, 255));
    this.sets = Int32Array.from(words, letterSet);
  }

  nearest(typed) {
    if (typed.length < SHORTEST || typed.length >= LONGEST_ROW) return [];
    const most = mostErrors(typed.length);
    const look = most ? 2 : 1;
    const bones = skeleton(typed);
    const bits = letterSet(typed);
    let best = FAR;
    let found = [];
    for (let place = 0; place < this.words.length; place += 1) {
      const length = this.lengths[place];
      if (Math.abs(length - typed.length) > look || bitCount(bits ^ this.sets[place]) > 2 * look) continue;
      if (length < SHORTEST || (most === 0 && length === typed.length)) continue;
      const word = this.words[place];
      const steps = distance(typed, word, look);
      if (steps > most && (steps === FAR || skeleton(word) !== bones)) continue;
      if (steps < best) {
        best = steps;
        found = [];
      }
      if (steps === best) found.push([place, NEAR_QUALITY[steps] - (word[0] !== typed[0] ? OTHER_START : 0)]);
    }
    return found;
  }
}
