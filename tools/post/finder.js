// Finds the page somebody means: in the words of the pages and in those that people say, whatever their
// endings, forgiving one wrong letter. One hit a page, with the part that holds the words.
"use strict";

/**
 * @typedef {{location: string, title: string, text: string, said?: string[], summary?: string, rank?: number}} Entry
 * @typedef {{parts: Entry[], rank: number, own: Entry}} Page what can be found: a page, whose own entry comes first, or
 *   a part of one that has words of its own which people say; they are one hit
 * @typedef {{stem: string, weight: number}} Meant a stem of the index that a typed word stands for
 */

const HandbookFinder = (() => {
  const WORD = /[\p{L}\p{N}\p{M}]+(?:['’][\p{L}]+)*/gu;
  // What carries no meaning in a question; a question of nothing else is taken as it is.
  const EMPTY = new Set(("a an and are as at be been but by can could did do does for from get gets go got had has have "
    + "he her him his how i if in into is it its just me my of off on or our out she so some somebody someone something "
    + "that the their them there they this to too up us was we were what when where which who why will with you your "
    + "im ive dont doesnt didnt isnt wont cant not no").split(" "));
  const WEIGHT = { said: 9, title: 7, heading: 3, summary: 2, text: 1 };
  // Half of a word's worth is reached at this weight: twenty times the word is not twenty times the page.
  const HALF = 3;
  const PASSING = 0.4;
  // What comes before what: procedures and safety, calculators, pages from data, what one looks up.
  const RANK = [1, 0.9, 0.7, 0.6];
  const MOST = 30;
  // What is found this much less than the best is not what was meant.
  const FAINT = 0.05;
  const EXCERPT = 190, BEFORE = 28;
  const PREFIX = 0.6, SLIP = 0.5;

  /** @param {string} html */
  const plain = (html) => html.replace(/<[^>]+>/g, " ").replace(/&lt;/g, "<").replace(/&gt;/g, ">")
    .replace(/&quot;|&#34;/g, '"').replace(/&#39;/g, "'").replace(/&amp;/g, "&").replace(/\s+/g, " ").trim();
  /** @param {string} text */
  const html = (text) => text.replace(/&/g, "&amp;").replace(/</g, "&lt;").replace(/>/g, "&gt;");
  /** @param {string} word */
  const folded = (word) => word.toLowerCase().normalize("NFKD").replace(/[\u0300-\u036f'’]/g, "");
  /** @type {Map<string, string>} a handbook has far fewer words than places where they stand */
  const known = new Map();
  /** @param {string} word */
  function stem(word) {
    let found = known.get(word);
    if (found === undefined) known.set(word, (found = HandbookStem(folded(word))));
    return found;
  }
  /** @param {string} text */
  const words = (text) => text.match(WORD) ?? [];

  /** @param {string} a @param {string} b whether one letter is wrong, missing, too many, or two are swapped */
  function near(a, b) {
    if (Math.abs(a.length - b.length) > 1 || a[0] !== b[0]) return false;
    let i = 0;
    while (i < a.length && a[i] === b[i]) i += 1;
    const rest = [a.slice(i), b.slice(i)];
    return rest[0].slice(1) === rest[1].slice(1) || rest[0] === rest[1].slice(1) || rest[0].slice(1) === rest[1]
      || (rest[0][0] === rest[1][1] && rest[0][1] === rest[1][0] && rest[0].slice(2) === rest[1].slice(2));
  }

  class Finder {
    /** @param {Entry[]} entries a page's own entry before those of its parts */
    constructor(entries) {
      /** @type {Page[]} */
      this.pages = [];
      /** @type {Page | null} */
      this.last = null;
      /** @type {Map<string, Map<number, number>>} for each stem, how much of it a page holds */
      this.index = new Map();
      for (const entry of entries) this.place(entry);
      this.pages.forEach((page, number) => this.read(page, number));
    }

    /** @param {Entry} entry */
    place(entry) {
      const [path] = entry.location.split("#");
      let page = this.last;
      if (page && page.own.location.split("#")[0] === path) page.parts.push(entry);
      else this.pages.push((this.last = page = { parts: [entry], rank: entry.rank ?? RANK.length - 1, own: entry }));
      if (page.own !== entry && entry.said) this.pages.push({ ...page, parts: [entry] });
    }

    /** @param {Page} page @param {number} number */
    read(page, number) {
      /** @type {Map<string, number>} */
      const found = new Map();
      const add = (/** @type {string} */ text, /** @type {number} */ weight) => {
        for (const word of words(text)) {
          const key = stem(word);
          found.set(key, (found.get(key) ?? 0) + weight);
        }
      };
      const texts = page.parts.map((part) => plain(part.text));
      const length = texts.reduce((sum, text) => sum + text.length, 0);
      for (const text of texts) add(text, WEIGHT.text / (0.5 + length / 8000));
      page.parts.forEach((part, place) => {
        add(plain(part.title), place ? WEIGHT.heading : WEIGHT.title);
        add(plain(part.summary ?? ""), WEIGHT.summary);
        if (place) return;
        for (const each of new Set((part.said ?? []).flatMap(words).map(folded))) add(each, WEIGHT.said);
      });
      for (const [key, weight] of found) this.posting(key).set(number, weight);
    }

    /** @param {string} key */
    posting(key) {
      let found = this.index.get(key);
      if (!found) this.index.set(key, (found = new Map()));
      return found;
    }

    /** @param {string} query @returns {Meant[][]} for each word that counts, what it may stand for */
    meant(query) {
      const typed = words(query).map(folded);
      const full = typed.filter((word) => !EMPTY.has(word));
      const counted = full.length ? full : typed;
      return counted.map((word, place) => this.stems(word, place === counted.length - 1 && /\S$/.test(query)));
    }

    /** @param {string} word @param {boolean} unfinished whether more letters may follow */
    stems(word, unfinished) {
      const own = HandbookStem(word);
      /** @type {Meant[]} */
      const found = this.index.has(own) ? [{ stem: own, weight: 1 }] : [];
      if (unfinished) {
        for (const key of this.index.keys()) {
          if (key !== own && key.startsWith(word)) found.push({ stem: key, weight: PREFIX });
        }
      }
      if (found.length || own.length < 4) return found;
      return [...this.index.keys()].filter((key) => near(own, key)).map((key) => ({ stem: key, weight: SLIP }));
    }

    /** @param {string} key how telling a stem is: 1 for one that few pages hold, near 0 for one of every page */
    telling(key) {
      const holding = this.index.get(key)?.size ?? 0;
      return Math.log(1 + this.pages.length / (1 + holding)) / Math.log(1 + this.pages.length);
    }

    /** @param {Meant[][]} asked @param {Set<string>} wanted all its stems @returns {{number: number, score: number}[]} the best first */
    scores(asked, wanted) {
      /** @type {Map<number, number[]>} */
      const gained = new Map();
      const worth = asked.map((meant) => Math.max(0.35, ...meant.map((each) => this.telling(each.stem))));
      asked.forEach((meant, place) => {
        for (const { stem: key, weight } of meant) {
          for (const [number, held] of this.index.get(key) ?? []) {
            const all = gained.get(number) ?? asked.map(() => 0);
            all[place] = Math.max(all[place], (weight * worth[place] * held) / (held + HALF));
            gained.set(number, all);
          }
        }
      });
      const whole = worth.reduce((sum, each) => sum + each, 0);
      const found = [...gained].map(([number, all]) => ({ number, score: this.score(number, all, worth, whole, wanted) }))
        .sort((a, b) => b.score - a.score || a.number - b.number);
      const seen = new Set();
      return found.filter(({ number, score }) => {
        const { own } = this.pages[number];
        return score >= FAINT * found[0].score && !seen.has(own) && seen.add(own);
      }).slice(0, MOST);
    }

    /** @param {number} number @param {number[]} all @param {number[]} worth @param {number} whole @param {Set<string>} wanted */
    score(number, all, worth, whole, wanted) {
      const page = this.pages[number];
      const sum = all.reduce((total, each) => total + each, 0);
      // A word in passing covers less of the question than one that the page is about.
      const covered = all.reduce((total, each, place) => total + Math.min(worth[place], each / PASSING), 0) / whole;
      const said = phrases(page.parts[0], wanted);
      return (sum * covered ** 2 + 0.4 * said) * RANK[page.rank] * (named(page, wanted, all.length) ? 2 : 1);
    }

    /** @param {string} query @returns {{items: object[][]}} as the theme's list takes them */
    search(query) {
      const asked = this.meant(query);
      const wanted = new Set(asked.flat().map((each) => each.stem));
      return { items: this.scores(asked, wanted).map(({ number, score }) => [this.hit(this.pages[number], wanted, score)]) };
    }

    /** @param {Page} page @param {Set<string>} wanted @param {number} score */
    hit(page, wanted, score) {
      const part = best(page.parts, wanted);
      const { own } = page;
      const title = part === own ? plain(own.title) : `${plain(own.title)} › ${plain(part.title)}`;
      const text = part === own && !hits(own.text, wanted) ? plain(own.summary || firstText(page)) : plain(part.text);
      const shown = excerpt(text, wanted);
      const terms = Object.fromEntries(words(shown).filter((word) => wanted.has(stem(word))).map((word) => [word, true]));
      return { location: part.location, title: marked(title, wanted), text: `<p>${marked(shown, wanted)}</p>`, score, terms };
    }
  }

  /** @param {Page} page */
  const firstText = (page) => page.parts.find((part) => plain(part.text))?.text ?? "";

  /** @type {Map<string, Set<string>>} the stems of texts that were asked about */
  const read = new Map();
  /** @param {string} text @param {Set<string>} wanted how many of the wanted stems stand in it */
  function hits(text, wanted) {
    let keys = read.get(text);
    if (!keys) read.set(text, (keys = new Set(words(plain(text)).map(stem))));
    const [few, many] = wanted.size < keys.size ? [wanted, keys] : [keys, wanted];
    let count = 0;
    for (const key of few) count += Number(many.has(key));
    return count;
  }

  /** @type {WeakMap<Entry, string[][]>} the stems of each thing that people say for a part, once it was asked about */
  const sayings = new WeakMap();
  /** @param {Entry} part */
  function sayingsOf(part) {
    let found = sayings.get(part);
    if (!found) {
      found = (part.said ?? []).map((each) => words(each).map(folded).filter((word) => !EMPTY.has(word)).map(HandbookStem));
      sayings.set(part, (found = found.filter((keys) => keys.length)));
    }
    return found;
  }

  /** @param {Entry} part @param {Set<string>} wanted how long the longest is of its sayings that was typed whole */
  function phrases(part, wanted) {
    const full = sayingsOf(part).filter((keys) => keys.every((key) => wanted.has(key)));
    return Math.max(0, ...full.map((keys) => keys.length));
  }

  /** @type {WeakMap<Entry, Set<string>>} the stems of the titles of pages that were asked about */
  const titles = new WeakMap();
  /** @param {Page} page @param {Set<string>} wanted @param {number} asked whether its title was typed, and nothing else */
  function named(page, wanted, asked) {
    let keys = titles.get(page.own);
    if (!keys) {
      keys = new Set(words(plain(page.own.title)).map(folded).filter((word) => !EMPTY.has(word)).map(HandbookStem));
      titles.set(page.own, keys);
    }
    return keys.size > 0 && asked >= keys.size && [...keys].every((key) => wanted.has(key));
  }

  /** @param {Entry[]} parts @param {Set<string>} wanted the part that holds most of it; the page itself on a tie */
  function best(parts, wanted) {
    const worth = (/** @type {Entry} */ part) =>
      2 * phrases(part, wanted) + 3 * hits((part.said ?? []).join(" "), wanted) + 2 * hits(part.title, wanted)
      + hits(part.text, wanted) + hits(part.summary ?? "", wanted);
    return parts.reduce((found, part) => (worth(part) > worth(found) ? part : found));
  }

  /** @param {string} text @param {Set<string>} wanted two lines of a text, from shortly before its first hit */
  function excerpt(text, wanted) {
    const first = [...text.matchAll(WORD)].find((word) => wanted.has(stem(word[0])))?.index ?? 0;
    let from = Math.max(0, first - BEFORE);
    if (from > 0) from = text.indexOf(" ", from) + 1;
    if (from > first) from = first;
    const cut = text.slice(from, from + EXCERPT);
    const whole = from + EXCERPT >= text.length ? cut : cut.slice(0, Math.max(cut.lastIndexOf(" "), 1));
    return `${from ? "… " : ""}${whole}${whole === cut ? "" : " …"}`;
  }

  /** @param {string} text @param {Set<string>} wanted its HTML, with the words that were looked for marked */
  function marked(text, wanted) {
    let out = "", from = 0;
    for (const word of text.matchAll(WORD)) {
      const kept = html(word[0]);
      out += html(text.slice(from, word.index)) + (wanted.has(stem(word[0])) ? `<mark>${kept}</mark>` : kept);
      from = word.index + word[0].length;
    }
    return out + html(text.slice(from));
  }

  return Finder;
})();
