// The yellow tape: the only scale along the stream. What stands above or below a mark on it is at that chainage.

import { sketch } from "../shared/sketch.js";
import { through } from "../shared/svg.js";
import { one, unit } from "../shared/words.js";

const ROUND = [1, 2, 5, 10, 20, 50];
const NUMERAL = 26;

/**
 * How a tape is marked: metres with tenths or halves, or feet with tenths, halves or none; a numeral where there is room.
 * @param {number} each pixels for each metre
 */
function marked(each) {
  const whole = one("m");
  const room = each * whole;
  if (unit("m") === "m") return { whole, parts: room > 34 ? 10 : 2, numeral: room < 22 ? 2 : 1 };
  return { whole, parts: room > 42 ? 10 : room > 14 ? 2 : 1, numeral: ROUND.find((count) => count * room >= NUMERAL) ?? 100 };
}

/** @param {any} scale @param {number} width @param {number} height @param {number} length of the course */
export function tape(scale, width, height, length) {
  const { whole, parts, numeral } = marked(scale.each);
  const wholes = length / whole;
  const marks = [];
  for (let tick = 0; tick <= Math.floor(wholes * parts + 1e-6); tick += 1) {
    const deep = tick % (parts * numeral) === 0 ? 0.55 : tick % parts === 0 ? (numeral > 2 ? 0.42 : 0.55) : tick % (parts / 2) === 0 ? 0.42 : 0.25;
    marks.push(`M${scale.to((tick / parts) * whole).toFixed(1)} 0v${deep * height}`);
  }
  const numerals = [];
  for (let count = 0; count <= wholes + 1e-6; count += numeral) {
    numerals.push(sketch("text", { x: (scale.to(count * whole) - 4).toFixed(1), y: height - 4, class: "numeral" }, String(count)));
  }
  const room = width - scale.to(length);
  const words = room > 130 ? [sketch("text", { x: width - 8, y: height - 8, class: "numeral words" }, `${unit("m")} from source`)] : [];
  return sketch("g", {}, sketch("path", { d: marks.join(""), class: "ticks" }), ...numerals, ...words);
}

/**
 * The line that ties the drawings: from the peg on the plan to the tape, and straight down.
 * @param {number} x
 * @param {number} height
 * @param {[number, number]} [peg]
 */
export function dropLine(x, height, peg) {
  const points = peg ? [peg, [peg[0], Math.max(peg[1], height - 30)], [x, height]] : [[x, 0], [x, height]];
  return sketch("path", { d: through(/** @type {any} */ (points)), class: "drop-line" });
}
