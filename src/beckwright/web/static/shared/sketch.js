// What elements are to be, held against what they were: only what reads otherwise is changed in the page. The rest keeps its
// place under the keyboard, and is not laid out and painted again at every step of a hand.

import { unbroken } from "./words.js";

const SVG = "http://www.w3.org/2000/svg";
const HTML = "http://www.w3.org/1999/xhtml";

/** @typedef {Node | Sketch | string} Child words always go in as text nodes: nothing a job says can become markup */

export class Sketch {
  /**
   * @param {string} space @param {string} name
   * @param {Object<string, string | number>} attributes
   * @param {Child[]} children
   */
  constructor(space, name, attributes, children) {
    this.space = space;
    this.name = name;
    this.attributes = attributes;
    this.children = children;
  }
}

/** @type {WeakMap<Element, Sketch>} what each element was made from, or turned into last */
const sketches = new WeakMap();
/** @type {WeakMap<Text, string>} what each text was given, before another language said it */
const given = new WeakMap();

/**
 * One SVG element.
 * @param {string} name
 * @param {Object<string, string | number>} [attributes]
 * @param {...Child} children
 */
export const sketch = (name, attributes = {}, ...children) => new Sketch(SVG, name, attributes, children);

/**
 * One HTML element, its class or all its attributes given.
 * @param {string} name
 * @param {string | Object<string, string>} [kind]
 * @param {...Child} children
 */
export const written = (name, kind = "", ...children) =>
  new Sketch(HTML, name, typeof kind === "string" ? (kind ? { class: kind } : {}) : kind, children);

/**
 * A label with the sheet's colour behind it, so that lines do not run through its letters.
 * @param {number} x @param {number} y @param {string} words @param {string} [kind]
 */
export const label = (x, y, words, kind = "label") => sketch("text", { x: x.toFixed(1), y: y.toFixed(1), class: kind }, words);

/**
 * Make an element from its sketch.
 * @param {Sketch} from
 */
export function made(from) {
  const element = document.createElementNS(from.space, from.name);
  for (const name in from.attributes) element.setAttribute(name, String(from.attributes[name]));
  if (from.children.length > 0) element.append(...from.children.map(node));
  sketches.set(element, from);
  return element;
}

/** @param {Child} child */
function node(child) {
  if (child instanceof Sketch) return made(child);
  return typeof child === "string" ? unbroken(child) : child;
}

/**
 * Let an element hold these and nothing else.
 * @param {Element} holder @param {...Child} wanted
 */
export function become(holder, ...wanted) {
  let stands = holder.firstChild;
  for (const next of wanted) {
    const after = stands && stands.nextSibling;
    if (!stands) holder.append(node(next));
    else if (!turned(stands, next)) stands.replaceWith(node(next));
    stands = after;
  }
  while (stands) {
    const after = stands.nextSibling;
    stands.remove();
    stands = after;
  }
}

/**
 * Turn what stands into what is wanted; false where it is of another kind.
 * @param {Node} stands @param {Child} next
 */
function turned(stands, next) {
  if (next instanceof Sketch) {
    const before = stands instanceof Element ? sketches.get(stands) : undefined;
    if (!before || before.name !== next.name || before.space !== next.space) return false;
    const element = /** @type {Element} */ (stands);
    for (const name in before.attributes) if (!(name in next.attributes)) element.removeAttribute(name);
    for (const name in next.attributes) if (before.attributes[name] !== next.attributes[name]) element.setAttribute(name, String(next.attributes[name]));
    sketches.set(element, next);
    become(element, ...next.children);
    return true;
  }
  if (typeof next !== "string") return stands === next;
  if (!(stands instanceof Text)) return false;
  const words = unbroken(next);
  if ((given.get(stands) ?? stands.data) !== words) {
    given.set(stands, words);
    stands.data = words;
  }
  return true;
}
