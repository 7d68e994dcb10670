// Small helpers for drawing.

import { made, sketch, label as sketched, written } from "./sketch.js";

/** @typedef {import("./sketch.js").Child} Child */

/**
 * Make one SVG element.
 * @param {string} name
 * @param {Object<string, string | number>} [attributes]
 * @param {...Child} children
 * @returns {SVGElement}
 */
export function draw(name, attributes = {}, ...children) {
  return /** @type {SVGElement} */ (made(sketch(name, attributes, ...children)));
}

/**
 * Make one HTML element; its class is the second argument, so that no style is ever written inline.
 * @param {string} name
 * @param {string} kind
 * @param {...Child} children
 * @returns {HTMLElement}
 */
export function make(name, kind = "", ...children) {
  return /** @type {HTMLElement} */ (made(written(name, kind, ...children)));
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
 * A label as an element.
 * @param {number} x @param {number} y @param {string} words @param {string} [kind]
 */
export function label(x, y, words, kind) {
  return /** @type {SVGElement} */ (made(sketched(x, y, words, kind)));
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
