// Says the page in another language than English, from the phrasebook Python says papers by. Loaded only then.
// Words are said where they come to stand: in text and in the names of things for who cannot see them.

import { ask } from "./ask.js";

const NUMBER = "[\u2212+\u00b1-]?\\d[\\d\u2009\u202f]*(?:\\.\\d+)?(?: \\d+/\\d+)?";
const LEAST_OWN = 6;
const MOST_KEPT = 1 << 14;
const HOLE = /\{(#|=|\d+)?\}/g;
const DECIMAL = /(?<![\p{L}\p{N}_.])([\u2212+\u00b1-]?\d[\d\u2009\u202f]*)\.(\d+)(?![\p{L}\p{N}_.])/gu;
const LISTED = /(?<=\d), (?=[\u2212+\u00b1-]?\d)/g;
const BETWEEN = /[\s,;:()/%\u00b0\u00d7=\u00b1\u2013\u2026*\u00b7\u2193]+/;
const RATIO = /\d in \d/;
const SENTENCES = /(?<=[.!?])\s+/;
// What somebody is quoted with is one piece.
const PIECES = /(: |; |, \(|, | \(|\)|\n)(?=(?:[^"]*"[^"]*")*[^"]*$)/;
const PIECE = /^(?:: |; |, \(|, | \(|\)|\n)$/;
// Lines of files and formulas are read by machines, too.
const LEFT_ALONE = "script, style, textarea, pre, code, [translate=no]";
const NAMES = ["aria-label", "title", "placeholder", "alt"];

/** @typedef {{needle: string, find: RegExp, becomes: string, names: boolean[], own: number}} Pattern */
/** @typedef {{said: string, missing: boolean}} Told */

export class Phrasebook {
  /**
   * @param {Object<string, string>} phrases English to this language
   * @param {string} decimal what stands before the tenths
   * @param {string} units what stands after numbers in every language
   */
  constructor(phrases, decimal, units) {
    this.phrases = new Map(Object.entries(phrases));
    this.decimal = decimal;
    this.neutral = new RegExp(`^(?:[\u2212+-]?\\d+(?:\\.\\d+)*|${units}|[A-Z]{0,3}-?\\d+|[A-Za-z]|[a-d]{2}|[.\u2212-]*|[a-z][a-z0-9]*(?:[._][a-z0-9]+)+)$`);
    /** @type {Map<string, Told>} */
    this.known = new Map();
    /** @type {Map<string, Pattern[]>} */
    this.patterns = new Map();
    const own = (/** @type {string} */ english) => english.replace(HOLE, "").length;
    const holed = [...this.phrases.keys()].filter((english) => english.search(HOLE) >= 0).sort((one, other) => own(other) - own(one));
    for (const english of holed) {
      const bucket = bucketOf(english);
      const held = this.patterns.get(bucket) ?? [];
      held.push(patternOf(english, this.phrases.get(english) ?? english));
      this.patterns.set(bucket, held);
    }
  }

  /**
   * Whether words are figures, units, letters and numbers of things alone.
   * @param {string} words
   */
  plain(words) {
    return !RATIO.test(words) && words.split(BETWEEN).every((each) => this.neutral.test(each.replace(/\.+$/, "")));
  }

  /** @param {string} words @returns {string} */
  say(words) {
    const told = this.tell(words.replaceAll("\u202f", "\u2009"));
    return words.includes("\u202f") ? told.said.replaceAll("\u2009", "\u202f") : told.said;
  }

  /** @param {string} words @returns {Told} */
  tell(words) {
    const held = this.known.get(words);
    if (held !== undefined) return held;
    const found = this.find(words);
    if (this.known.size >= MOST_KEPT) this.known.clear();
    this.known.set(words, found);
    return found;
  }

  /**
   * Figures with this language's decimal mark; where that is a comma another one cannot part them.
   * @param {string} words
   */
  figures(words) {
    const said = words.replace(DECIMAL, `$1${this.decimal}$2`);
    return said !== words && this.decimal === "," ? said.replace(LISTED, "; ") : said;
  }

  /** @param {string} words @returns {Told} */
  find(words) {
    const bare = words.trim();
    if (!bare || this.plain(bare) || !/\p{L}/u.test(bare)) return { said: this.figures(words), missing: false };
    const whole = this.whole(bare, true);
    if (whole) return around(words, bare, whole);
    const sentences = bare.split(SENTENCES);
    if (sentences.length > 1) {
      const told = sentences.map((each) => this.tell(each));
      return around(words, bare, { said: told.map((each) => each.said).join(" "), missing: told.some((each) => each.missing) });
    }
    return around(words, bare, this.pieceByPiece(bare) ?? this.whole(bare, false) ?? { said: bare, missing: true });
  }

  /**
   * A sentence by what stands between its commas: all of it or none.
   * @param {string} words @returns {Told | null}
   */
  pieceByPiece(words) {
    const stop = words.length > 1 && /[.:!?]$/.test(words) ? words.slice(-1) : "";
    const open = words.slice(0, words.length - stop.length);
    const whole = stop ? this.whole(open, true) : null;
    if (whole) return { said: whole.said + stop, missing: whole.missing };
    const pieces = open.split(PIECES).filter(Boolean);
    if (pieces.length === 1 && !stop) return null;
    const told = pieces.map((each) => (PIECE.test(each) ? { said: each, missing: false } : this.tell(each)));
    if (told.some((each) => each.missing)) return null;
    return { said: told.map((each) => each.said).join("") + stop, missing: false };
  }

  /**
   * The words by one phrase.
   * @param {string} words
   * @param {boolean} every whether each of its holes must be in a phrase, too
   * @returns {Told | null}
   */
  whole(words, every) {
    const [first = ""] = words;
    for (const [english, opens] of /** @type {Array<[string, boolean]>} */ ([[words, false], [first.toLowerCase() + words.slice(first.length), true]])) {
      const said = this.phrases.get(english);
      const told = said === undefined ? this.byPattern(english, every) : { said, missing: false };
      if (told) return opens ? { said: opening(told.said), missing: told.missing } : told;
    }
    return null;
  }

  /**
   * @param {string} words
   * @param {boolean} every
   * @returns {Told | null}
   */
  byPattern(words, every) {
    const bucket = bucketOf(words);
    for (const each of bucket ? [bucket, ""] : [""]) {
      for (const pattern of this.patterns.get(each) ?? []) {
        if ((!every && pattern.own < LEAST_OWN) || !words.includes(pattern.needle)) continue;
        const found = words.match(pattern.find);
        if (!found) continue;
        const held = found.slice(1).map((piece, place) => (pattern.names[place] ? { said: piece, missing: false } : this.tell(piece)));
        const missing = held.some((piece) => piece.missing);
        if (!missing || !every) return { said: filled(pattern.becomes, held.map((piece) => piece.said)), missing };
      }
    }
    return null;
  }
}

/**
 * @param {string} english
 * @param {string} becomes
 * @returns {Pattern}
 */
function patternOf(english, becomes) {
  const pieces = english.split(/(\{(?:#|=|\d+)?\})/);
  const texts = pieces.filter((_, place) => place % 2 === 0);
  const holes = pieces.filter((_, place) => place % 2 === 1);
  const quoted = (/** @type {number} */ place) => pieces[place - 1].endsWith('"') && pieces[place + 1].startsWith('"');
  const named = (/** @type {number} */ place) => (quoted(place) ? '([^"]+)' : "((?:(?![.!?]\\s)[^])+?)");
  const made = pieces.map((piece, place) =>
    place % 2 === 0 ? piece.replace(/[.*+?^${}()|[\]\\/-]/g, "\\$&") : piece === "{#}" ? `(${NUMBER})` : piece === "{=}" ? named(place) : "([^]+?)");
  const needle = texts.reduce((one, other) => (other.length > one.length ? other : one));
  const own = texts.join("").length;
  return { needle, find: new RegExp(`^${made.join("")}$`), becomes, names: holes.map((hole) => hole === "{=}" && own >= LEAST_OWN), own };
}

/**
 * The first word where it is whole.
 * @param {string} words
 */
function bucketOf(words) {
  const [first] = words.match(/^[^\s{]+/) ?? [""];
  return words.slice(first.length).startsWith("{") ? "" : first;
}

/**
 * @param {string} becomes
 * @param {string[]} held
 */
function filled(becomes, held) {
  let turn = 0;
  return becomes.replace(HOLE, (_, /** @type {string | undefined} */ number) => {
    if (/^\d+$/.test(number ?? "")) return held[Number(number) - 1];
    turn += 1;
    return held[turn - 1];
  });
}

/**
 * @param {string} words
 * @param {string} bare
 * @param {Told} told
 * @returns {Told}
 */
function around(words, bare, told) {
  return words === bare ? told : { said: words.replace(bare, () => told.said), missing: told.missing };
}

/** @param {string} words */
function opening(words) {
  const [first = ""] = words;
  return first.toUpperCase() + words.slice(first.length);
}

/** @type {WeakMap<Text, string>} */
const done = new WeakMap();
/** @type {WeakMap<Element, Object<string, string>>} */
const named = new WeakMap();

/**
 * Say all words at and below a node.
 * @param {Node} node
 * @param {Phrasebook} book
 */
function sayAll(node, book) {
  if (node instanceof Text) {
    // What was said here already has come back as a change: it is not said again.
    if (done.get(node) === node.data || node.parentElement?.closest(LEFT_ALONE)) return;
    const said = book.say(node.data);
    done.set(node, said);
    if (said !== node.data) node.data = said;
    return;
  }
  if (!(node instanceof Element) || node.matches(LEFT_ALONE)) return;
  for (const name of NAMES) {
    const words = node.getAttribute(name);
    const names = named.get(node) ?? {};
    if (words === null || names[name] === words) continue;
    named.set(node, { ...names, [name]: book.say(words) });
    if (book.say(words) !== words) node.setAttribute(name, book.say(words));
  }
  for (const child of node.childNodes) sayAll(child, book);
}

const { answer } = await ask("GET", `/api/phrases/${document.documentElement.lang}`);
if (answer) {
  const book = new Phrasebook(answer.phrases, answer.decimal, answer.units);
  sayAll(document.body, book);
  const changed = new MutationObserver((changes) => {
    for (const change of changes) {
      if (change.type === "childList") for (const node of change.addedNodes) sayAll(node, book);
      else sayAll(change.target, book);
    }
  });
  changed.observe(document.body, { subtree: true, childList: true, characterData: true, attributes: true, attributeFilter: NAMES });
  // A script may set the head of the window.
  for (const head of document.querySelectorAll("head title")) {
    sayAll(head, book);
    changed.observe(head, { childList: true });
  }
}
