// The ranking rule: which entries a query means, best first. Whole numbers only, so that it is exact.
// generator/chockbook/lookup/ranking.py does the same, step for step; tests hold the two together.

const WEIGHTS = [100, 96, 92, 94, 52, 100, 44];
const LEAST_COVERED = 54;
const LEAST_SURE = 70;
const LEAST_LIKE = 5500;
const MOST_COMPARED = 400;
const MOST_SCORE = 10000;
const RANKS = 64;
const PLACES = 2 ** 24;
const WORDS_SHARE = 6;
const PHRASE_SHARE = 4;

const SIGNS = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz-_";
const SIGN_VALUE = new Int16Array(128);
[...SIGNS].forEach((sign, value) => {
  SIGN_VALUE[sign.charCodeAt(0)] = value;
});

// Phrases from packed text: the kind, then each word's number, highest sign first.
function unpack(text, width) {
  return text.split(" ").map((phrase) => {
    const numbers = [Number(phrase[0])];
    for (let at = 1; at < phrase.length; at += width) {
      let number = 0;
      for (let sign = at; sign < at + width; sign += 1) {
        number = number * SIGNS.length + SIGN_VALUE[phrase.charCodeAt(sign)];
      }
      numbers.push(number);
    }
    return numbers;
  });
}

// The score by words that an entry needs for its phrases to be compared too.
function leastCompared(found) {
  if (found.length <= MOST_COMPARED) return 0;
  const counts = new Int32Array(MOST_SCORE + 1);
  for (const [, bag] of found) counts[bag] += 1;
  let score = MOST_SCORE;
  for (let left = MOST_COMPARED - counts[score]; left > 0; left -= counts[score]) score -= 1;
  return score;
}

class Posts {
  constructor(size) {
    this.places = Array.from({ length: size }, () => []);
    this.weights = Array.from({ length: size }, () => []);
  }

  add(word, place, weight) {
    const places = this.places[word];
    const weights = this.weights[word];
    if (places.length && places[places.length - 1] === place) {
      weights[weights.length - 1] = Math.max(weights[weights.length - 1], weight);
    } else {
      places.push(place);
      weights.push(weight);
    }
  }
}

class Finder {
  constructor(index) {
    this.reader = new QueryReader(index);
    this.ranks = index.entries.map(([rank]) => rank);
    this.component = index.entries.map((entry) => entry[1]);
    this.sections = index.entries.map((entry) => entry[2]);
    const known = (phrases) => unpack(phrases, index.width).map((phrase) => this.known(phrase, index.weights));
    this.componentPhrases = index.components.map(known);
    this.sectionPhrases = index.sections.map(known);
    this.phrases = index.entries.map((entry) => known(entry[3]));
    this.unlisted = index.unlisted.map(([name, phrases]) => [name, known(phrases)]);
    this.rootPosts = new Posts(this.reader.rootNumber.size);
    this.groupPosts = new Posts(index.language.same.length);
    this.phrases.forEach((phrases, place) => {
      const own = [this.componentPhrases[this.component[place]], phrases];
      for (const section of this.sections[place]) own.push(this.sectionPhrases[section]);
      for (const list of own) {
        for (const phrase of list) {
          for (const word of phrase.roots) this.rootPosts.add(word, place, WEIGHTS[phrase.kind]);
          for (const group of phrase.groups) this.groupPosts.add(group, place, WEIGHTS[phrase.kind]);
        }
      }
    });
    this.words = new Float64Array(this.ranks.length);
    this.covered = new Int32Array(this.ranks.length);
    this.best = new Int32Array(this.ranks.length);
    this.sure = new Int32Array(this.ranks.length);
    this.rootQuality = Array.from({ length: MOST_WORDS * 2 }, () => new Uint8Array(this.reader.rootNumber.size));
    this.groupQuality = Array.from({ length: MOST_WORDS * 2 }, () => new Uint8Array(index.language.same.length));
  }

  known(numbers, weights) {
    const roots = numbers.slice(1);
    const groups = [];
    for (const [group] of this.reader.groupsIn(roots)) if (!groups.includes(group)) groups.push(group);
    let weight = 0;
    for (const word of roots) weight += weights[word];
    return { kind: numbers[0], roots, groups, weight };
  }

  // Places of the entries that the query means, each with its score of 0 to 10,000, best first.
  find(typed) {
    return this.lookUp(typed).found;
  }

  // The same, with what the query names better than any entry where there is no entry for it, and whether the
  // first entry leaves much of the query unaccounted for.
  lookUp(typed) {
    const units = this.reader.read(typed);
    const whole = units.reduce((sum, unit) => sum + unit.weight, 0);
    const touched = this.gather(units);
    this.spreadQualities(units, true);
    const found = this.sorted(this.scored(touched, units, whole));
    let most = 0;
    let unlisted = null;
    for (const [name, phrases] of this.unlisted) {
      const alike = this.likeness(phrases, units, whole);
      if (alike > most) {
        most = alike;
        unlisted = name;
      }
    }
    const first = found.length ? Math.max(found[0][1], this.likenessOf(found[0][0], units, whole)) : 0;
    this.spreadQualities(units, false);
    if (most < Math.max(LEAST_LIKE, first + 1)) unlisted = null;
    const loose = found.length > 0 && Math.floor(this.covered[found[0][0]] / whole) < LEAST_SURE;
    for (const place of touched) {
      this.words[place] = 0;
      this.covered[place] = 0;
    }
    return { found, unlisted, loose };
  }

  // Best score first, then the worse severity, then the catalogue's order: one number says all three.
  sorted(found) {
    const keys = Float64Array.from(found, ([place, score]) => (
      ((MOST_SCORE - score) * RANKS + (RANKS - 1 - this.ranks[place])) * PLACES + place
    ));
    keys.sort();
    return Array.from(keys, (key) => {
      const place = key % PLACES;
      return [place, MOST_SCORE - Math.floor(key / (RANKS * PLACES))];
    });
  }

  gather(units) {
    const touched = [];
    for (const unit of units) {
      const here = [];
      for (const [alternatives, posts] of [[unit.roots, this.rootPosts], [unit.groups, this.groupPosts]]) {
        for (const [word, quality] of alternatives) {
          const places = posts.places[word];
          const weights = posts.weights[word];
          for (let at = 0; at < places.length; at += 1) {
            const place = places[at];
            if (this.sure[place] === 0) here.push(place);
            const value = quality * weights[at];
            if (value > this.best[place]) this.best[place] = value;
            if (quality > this.sure[place]) this.sure[place] = quality;
          }
        }
      }
      for (const place of here) {
        if (this.words[place] === 0) touched.push(place);
        this.words[place] += unit.weight * this.best[place];
        this.covered[place] += unit.weight * this.sure[place];
        this.best[place] = 0;
        this.sure[place] = 0;
      }
    }
    return touched;
  }

  scored(touched, units, whole) {
    const ofComponent = new Map();
    const ofSection = new Map();
    const cached = (cache, key, phrases) => {
      if (!cache.has(key)) cache.set(key, this.likeness(phrases, units, whole));
      return cache.get(key);
    };
    const found = [];
    for (const place of touched) {
      const share = Math.floor(this.covered[place] / whole);
      if (share >= LEAST_COVERED) found.push([place, Math.floor((this.words[place] * share) / (whole * 100))]);
    }
    const least = leastCompared(found);
    for (const one of found) {
      const [place, bag] = one;
      one[1] = Math.floor((WORDS_SHARE * bag) / 10);
      if (bag < least) continue;
      let phrase = this.likeness(this.phrases[place], units, whole);
      phrase = Math.max(phrase, cached(ofComponent, this.component[place], this.componentPhrases[this.component[place]]));
      for (const section of this.sections[place]) {
        phrase = Math.max(phrase, cached(ofSection, section, [this.sectionPhrases[section][0]]));
      }
      one[1] = Math.floor((WORDS_SHARE * bag + PHRASE_SHARE * phrase) / 10);
    }
    return found;
  }

  spreadQualities(units, set) {
    units.forEach((unit, at) => {
      for (const [root, quality] of unit.roots) this.rootQuality[at][root] = set ? quality : 0;
      for (const [group, quality] of unit.groups) this.groupQuality[at][group] = set ? quality : 0;
    });
  }

  likenessOf(place, units, whole) {
    const own = [...this.componentPhrases[this.component[place]], ...this.phrases[place],
      ...this.sections[place].map((section) => this.sectionPhrases[section][0])];
    return this.likeness(own, units, whole);
  }

  likeness(phrases, units, whole) {
    let best = 0;
    for (const phrase of phrases) {
      let shared = 0;
      for (let at = 0; at < units.length; at += 1) {
        const ofRoot = this.rootQuality[at];
        const ofGroup = this.groupQuality[at];
        let quality = 0;
        for (const root of phrase.roots) if (ofRoot[root] > quality) quality = ofRoot[root];
        for (const group of phrase.groups) if (ofGroup[group] > quality) quality = ofGroup[group];
        shared += units[at].weight * quality;
      }
      if (shared === 0) continue;
      best = Math.max(best, Math.min(10000, Math.floor((200 * shared) / (phrase.weight + whole))));
    }
    return best;
  }
}
