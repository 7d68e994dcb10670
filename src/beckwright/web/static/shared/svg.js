// Small helpers for drawing. Words always go in as text nodes: nothing a job says can become markup.

import { unbroken } from "./words.js";

const SVG = "http://www.w3.org/2000/svg";

/**
 * Make one SVG element.
 * @param {string} name
 * @param {Object<string, string | number>} [attributes]
 * @param {...(Node | string)} children
 * @returns {SVGElement}
 */
export function draw(name, attributes = {}, ...children) {
  const element = document.createElementNS(SVG, name);
  for (const [key, amount] of Object.entries(attributes)) element.setAttribute(key, String(amount));
  element.append(...children.map((child) => (typeof child === "string" ? unbroken(child) : child)));
  return element;
}

/**
 * Make one HTML element; its class is the second argument, so that no style is ever written inline.
 * @param {string} name
 * @param {string} kind
 * @param {...(Node | string)} children
 * @returns {HTMLElement}
 */
export function make(name, kind = "", ...children) {
  const element = document.createElement(name);
  if (kind) element.className = kind;
  element.append(...children.map((child) => (typeof child === "string" ? unbroken(child) : child)));
  return element;
}

/**
 * The path through points, rounded to a tenth of a pixel.
 * @param {Array<[number, number]>} points
 * @param {boolean} [closed]
 */
export function through(points, closed = false) {
  if (points.length === 0) return "";
  return "M" + points.map(([x, y]) => `${x.toFixed(1)} ${y.toFixed(1)}`).join("L") + (closed ? "Z" : "");
}

/**
 * A label with the sheet's colour behind it, so that lines do not run through its letters.
 * @param {number} x
 * @param {number} y
 * @param {string} words
 * @param {string} kind
 */
export function label(x, y, words, kind = "label") {
  return draw("text", { x: x.toFixed(1), y: y.toFixed(1), class: kind }, words);
}

/**
 * Put short strokes along a line: barbs of an edge, ticks under the ground.
 * @param {Array<[number, number]>} points
 * @param {number} every pixels between strokes
 * @param {[number, number]} stroke reach of each
 */
export function strokes(points, every, [dx, dy]) {
  let ahead = every / 2;
  const pieces = [];
  for (let i = 1; i < points.length; i += 1) {
    const [[x1, y1], [x2, y2]] = [points[i - 1], points[i]];
    const length = Math.hypot(x2 - x1, y2 - y1);
    while (length > 0 && ahead <= length) {
      const [x, y] = [x1 + ((x2 - x1) * ahead) / length, y1 + ((y2 - y1) * ahead) / length];
      pieces.push(`M${x.toFixed(1)} ${y.toFixed(1)}l${dx} ${dy}`);
      ahead += every;
    }
    ahead -= length;
  }
  return pieces.join("");
}
