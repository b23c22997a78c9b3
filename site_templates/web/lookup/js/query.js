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
const NUMBER = /^[0-9]+$/;
const FIGURE_WITH_MEASURE = /^([0-9]+)([a-z]+)$/;
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
    this.measures = new Set(index.language.measures.split(" ").map((word) => this.reader.root(word)));
    this.measured = new Set([...this.measures].map((root) => this.rootNumber.get(root)));
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
    const places = index.sections.map((phrases) => unpack(phrases, index.width)[0].slice(1));
    this.inPlaces = new Set(places.flat());
    this.beforePlaces = this.andAlike(places.map(([first]) => first));
  }

  // Roots with the single words that mean the same.
  andAlike(roots) {
    const groups = new Set(roots.flatMap((root) => this.groupsIn([root]).map(([group]) => group)));
    const alike = new Set(roots);
    for (const [first, members] of this.members) {
      if (members.some(([sequence, group]) => sequence.length === 1 && groups.has(group))) alike.add(first);
    }
    return alike;
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
    const words = this.pieces(this.withoutFigures(this.reader.toldWords(typed))).slice(0, MOST_WORDS);
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
      for (let place = start; place < end; place += 1) {
        if (!this.measured.has(row[place]) || end - start > 1) units[place].groups.set(group, SAME_QUALITY);
      }
    }
    return units.filter((unit, place) => !this.measured.has(row[place]) || unit.groups.size);
  }

  // Words without what was measured, which tells no defect from another: all numbers but those that count
  // something ("2 lamps out"), and those of a place in a schedule ("part 7 a").
  withoutFigures(told) {
    const words = told.flatMap((word) => this.figureAndMeasure(word));
    if (!numbered(words) || this.tellAPlace(words)) return words;
    const kept = words.filter((word, place) => {
      const after = words[place + 1];
      const beside = [words[place - 1], after].some((one) => one !== undefined && NUMBER.test(one))
        || (after !== undefined && this.isMeasure(after));
      const counts = this.reader.spellings.has(word) && !beside;
      return counts || !(NUMBER.test(word) || this.saysNothing(word));
    });
    return kept.every((word) => NUMBER.test(word)) ? [] : kept;
  }

  // Whether a word such as "part" is among them, or they are the words of a place ("7 major a") and no other.
  tellAPlace(words) {
    const named = words.filter((word) => !NUMBER.test(word));
    const meant = named.map((word) => this.meant(word));
    if (meant.some((roots) => roots.some((root) => this.beforePlaces.has(root)))) return true;
    return named.some((word) => word.length > 1)
      && meant.every((roots) => roots.some((root) => this.inPlaces.has(root)));
  }

  // The root of a word, or the roots of those that it may be a typing error for.
  meant(word) {
    const root = this.number(word);
    if (root !== undefined) return [root];
    return this.near.nearest(word).flatMap(([place]) => this.surfaceRoot[place] ?? []);
  }

  saysNothing(word) {
    return this.reader.drop.has(word) || (this.isMeasure(word) && this.number(word) === undefined);
  }

  isMeasure(word) {
    return this.measures.has(this.reader.root(word));
  }

  // Whether a word of the catalogue is a unit of measure, which no other word is taken for.
  isMeasured(place) {
    return place < this.surfaceRoot.length && this.measured.has(this.surfaceRoot[place]);
  }

  figureAndMeasure(word) {
    const together = FIGURE_WITH_MEASURE.exec(word);
    return together && this.isMeasure(together[2]) ? together.slice(1) : [word];
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
      if (this.measured.has(number)) return [[unit, number]];
      unit.mayBe(number, 100);
      this.addMistaken(unit, word);
      if (halfTyped) this.addBegun(unit, word, BEGUN_OTHER_QUALITY);
      return [[unit, number]];
    }
    const unit = new Unit(UNKNOWN_WEIGHT);
    this.addMistaken(unit, word);
    if (halfTyped) this.addBegun(unit, word, BEGUN_QUALITY);
    if (unit.roots.size) return [[this.weighed(unit), -1]];
    const near = this.near.nearest(word).filter(([place]) => !this.isMeasured(place));
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
      if (!this.isMeasured(place)) unit.mayBe(this.surfaceRoot[place], quality);
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
