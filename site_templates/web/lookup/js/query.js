// What a driver typed, read as words with everything each of them may stand for.
// generator/chockbook/lookup/query.py does the same, step for step; tests hold the two together.

const MOST_WORDS = 16;
const SAME_QUALITY = 80;
const MISTAKEN_QUALITY = 62;
const BEGUN_QUALITY = 84;
const BEGUN_OTHER_QUALITY = 44;
const UNKNOWN_WEIGHT = 58;
const RUN_TOGETHER_QUALITY = 92;
const SPLIT_QUALITY = 60;
const DOUBT = 8;
const MOST_DOUBT = 32;
const NUMBER = /^[0-9]+([./,][0-9]+)*$/;
const SHORTEST_BEGINNING = 2;
const SHORTEST_PIECE = 3;

class Unit {
  constructor(weight) {
    this.weight = weight;
    this.roots = new Map();
    this.groups = new Map();
  }

  mayBe(root, quality) {
    this.roots.set(root, Math.max(this.roots.get(root) ?? 0, quality));
  }
}

class QueryReader {
  constructor(index) {
    this.weights = index.weights;
    this.reader = new WordReader(index.language);
    this.surfaceList = index.surfaces.split(" ");
    this.rootNumber = new Map();
    this.surfaceRoot = this.surfaceList.map((word) => {
      const root = this.reader.root(word);
      if (!this.rootNumber.has(root)) this.rootNumber.set(root, this.rootNumber.size);
      return this.rootNumber.get(root);
    });
    this.surfaces = new Set(this.surfaceList);
    this.compounds = new Map(pairsOf(index.compounds).map(([first, second]) => [first + second, [first, second]]));
    this.words = [...this.surfaceList, ...this.compounds.keys()];
    this.near = new NearWords(this.words);
    this.mistaken = new Map(index.language.mistaken.map(([word, meant]) => [
      word,
      meant.split(" ").map((one) => this.rootNumber.get(this.reader.root(one))).filter((root) => root !== undefined),
    ]));
    this.members = new Map();
    index.language.same.forEach((phrases, group) => {
      for (const phrase of phrases.split("|")) {
        const sequence = this.reader.toldWords(phrase)
          .flatMap((word) => this.compounds.get(word) ?? [word])
          .map((word) => this.number(word));
        if (!sequence.length) continue;
        if (!this.members.has(sequence[0])) this.members.set(sequence[0], []);
        this.members.get(sequence[0]).push([sequence, group]);
      }
    });
  }

  number(word) {
    return this.rootNumber.get(this.reader.root(word));
  }

  groupsIn(words) {
    const found = [];
    for (let place = 0; place < words.length; place += 1) {
      for (const [sequence, group] of this.members.get(words[place]) ?? []) {
        let step = 1;
        while (step < sequence.length && words[place + step] === sequence[step]) step += 1;
        if (step === sequence.length) found.push([group, place, place + step]);
      }
    }
    return found;
  }

  read(typed) {
    const words = this.pieces(this.reader.toldWords(typed)).slice(0, MOST_WORDS);
    const halfTyped = words.length > 0 && ![" ", "\t", "\n"].includes(typed[typed.length - 1]);
    if (halfTyped && words.length > 1 && words[words.length - 1].length === 1 && !numbered(words)) words.pop();
    const units = [];
    const row = [];
    words.forEach((word, place) => {
      for (const [unit, root] of this.unitsOf(word, halfTyped && place === words.length - 1)) {
        units.push(unit);
        row.push(root);
      }
    });
    for (const [group, start, end] of this.groupsIn(row)) {
      for (const unit of units.slice(start, end)) unit.groups.set(group, SAME_QUALITY);
    }
    return units;
  }

  pieces(words) {
    const joined = [];
    for (const word of words) {
      if (joined.length && this.surfaces.has(joined[joined.length - 1] + word)) joined[joined.length - 1] += word;
      else joined.push(word);
    }
    return joined.flatMap((word) => this.compounds.get(word) ?? [word]);
  }

  unitsOf(word, halfTyped) {
    const number = this.number(word);
    if (number !== undefined) {
      const unit = new Unit(this.weights[number]);
      unit.mayBe(number, 100);
      this.addMistaken(unit, word);
      if (halfTyped) this.addBegun(unit, word, BEGUN_OTHER_QUALITY);
      return [[unit, number]];
    }
    // A number that the catalogue does not have, such as a chamber's type or what was measured, tells nothing apart.
    const unit = new Unit(NUMBER.test(word) ? 0 : UNKNOWN_WEIGHT);
    this.addMistaken(unit, word);
    if (halfTyped) this.addBegun(unit, word, BEGUN_QUALITY);
    if (unit.roots.size) return [[this.weighed(unit), -1]];
    const near = this.near.nearest(word);
    const pieces = !near.length || near[0][1] < SPLIT_QUALITY ? this.split(word) : null;
    if (pieces) return pieces.map((piece) => this.known(piece, RUN_TOGETHER_QUALITY));
    if (near.length === 1 && near[0][0] >= this.surfaceRoot.length) {
      return this.compounds.get(this.words[near[0][0]]).map((piece) => this.known(piece, near[0][1]));
    }
    for (const [place, quality] of near) {
      if (place < this.surfaceRoot.length) unit.mayBe(this.surfaceRoot[place], quality);
    }
    const doubt = Math.min(DOUBT * (unit.roots.size - 1), MOST_DOUBT);
    for (const [root, quality] of unit.roots) unit.roots.set(root, quality - doubt);
    const sole = unit.roots.size === 1 ? unit.roots.keys().next().value : -1;
    return [[this.weighed(unit), sole]];
  }

  known(word, quality) {
    const number = this.number(word);
    const unit = new Unit(this.weights[number]);
    unit.mayBe(number, quality);
    return [unit, number];
  }

  weighed(unit) {
    let best = 0;
    for (const quality of unit.roots.values()) best = Math.max(best, quality);
    let weight = 0;
    for (const [root, quality] of unit.roots) {
      if (quality === best) weight = Math.max(weight, this.weights[root]);
    }
    if (unit.roots.size) unit.weight = weight;
    return unit;
  }

  addMistaken(unit, word) {
    for (const root of this.mistaken.get(word) ?? []) unit.mayBe(root, MISTAKEN_QUALITY);
  }

  addBegun(unit, word, quality) {
    if (word.length < SHORTEST_BEGINNING) return;
    let low = 0;
    let high = this.surfaceList.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (this.surfaceList[middle] < word) low = middle + 1;
      else high = middle;
    }
    for (let place = low; place < this.surfaceList.length && this.surfaceList[place].startsWith(word); place += 1) {
      unit.mayBe(this.surfaceRoot[place], quality);
    }
  }

  split(word) {
    for (let cut = SHORTEST_PIECE; cut <= word.length - SHORTEST_PIECE; cut += 1) {
      const pieces = [word.slice(0, cut), word.slice(cut)];
      if (pieces.every((piece) => this.surfaces.has(piece))) return pieces;
    }
    return null;
  }
}
