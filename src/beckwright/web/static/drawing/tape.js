// The yellow tape: the only scale along the stream. What stands above or below a mark on it is at that chainage.

import { draw, through } from "../shared/svg.js";

/** @param {any} scale @param {number} width @param {number} height @param {number} length of the course */
export function tape(scale, width, height, length) {
  const fine = scale.each > 34 ? 10 : 2;
  const marks = [];
  for (let tick = 0; tick <= Math.floor(length * fine + 1e-6); tick += 1) {
    const whole = tick % fine === 0;
    const deep = whole ? height * 0.55 : tick % (fine / 2) === 0 ? height * 0.42 : height * 0.25;
    const x = scale.to(tick / fine);
    marks.push(`M${x.toFixed(1)} 0v${deep.toFixed(1)}`);
  }
  const numerals = [];
  for (let metre = 0; metre <= length + 1e-6; metre += scale.each < 22 ? 2 : 1) {
    numerals.push(draw("text", { x: scale.to(metre) - 4, y: height - 4, class: "numeral" }, String(metre)));
  }
  const room = width - scale.to(length);
  const words = room > 130 ? [draw("text", { x: width - 8, y: height - 8, class: "numeral words" }, "m from source")] : [];
  return draw("g", {}, draw("path", { d: marks.join(""), class: "ticks" }), ...numerals, ...words);
}

/**
 * The line that ties the drawings: from the peg on the plan to the tape, and straight down.
 * @param {number} x
 * @param {number} height
 * @param {[number, number]} [peg]
 */
export function dropLine(x, height, peg) {
  const points = peg ? [peg, [peg[0], Math.max(peg[1], height - 30)], [x, height]] : [[x, 0], [x, height]];
  return draw("path", { d: through(/** @type {any} */ (points)), class: "drop-line" });
}
