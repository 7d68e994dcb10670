// Places on the hose between its points. Reads an answer; changes nothing.

/** @typedef {import("./picking.js").Picked} Picked */

/**
 * Number of a stretch of the hose and the share of it, of a place between two of its points.
 * @param {string} id
 */
export const stretchOf = (id) => id.split(" ").map(Number);

/**
 * Where a place on the hose lies.
 * @param {any} state @param {string} id @returns {[number, number]}
 */
export function onHose(state, id) {
  const [i, share] = stretchOf(id);
  const [[x1, y1], [x2, y2]] = state.hose.line.slice(i, i + 2);
  return [x1 + (x2 - x1) * share, y1 + (y2 - y1) * share];
}

/**
 * The place on the hose nearest a spot of the drawing, where it can be felt there.
 * @param {any} state @param {import("../drawing/scale.js").Turn} turn @param {number[]} spot pixels @param {number} felt pixels
 * @returns {Picked | null}
 */
export function hoseUnder(state, turn, [x, y], felt) {
  const drawn = state.hose.line.map(turn.to);
  /** @type {Picked | null} */
  let found = null;
  let least = felt;
  for (let i = 0; i + 1 < drawn.length; i += 1) {
    const [[x1, y1], [x2, y2]] = [drawn[i], drawn[i + 1]];
    const [dx, dy] = [x2 - x1, y2 - y1];
    const share = Math.min(Math.max(((x - x1) * dx + (y - y1) * dy) / (dx * dx + dy * dy || 1), 0), 1);
    const away = Math.hypot(x1 + dx * share - x, y1 + dy * share - y);
    if (away < least) [found, least] = [{ kind: "place", id: `${i} ${share.toFixed(4)}` }, away];
  }
  return found;
}

/**
 * Half-way along the hose, where it is taken hold of as a whole.
 * @param {any} state @returns {string} of the place
 */
export function hoseMiddle(state) {
  const { line } = state.hose;
  const longs = line.slice(1).map((/** @type {number[]} */ [x, y], /** @type {number} */ i) => Math.hypot(x - line[i][0], y - line[i][1]));
  let left = longs.reduce((/** @type {number} */ sum, /** @type {number} */ each) => sum + each, 0) / 2;
  const i = longs.findIndex((/** @type {number} */ long) => {
    if (left <= long) return true;
    left -= long;
    return false;
  });
  return `${i} ${longs[i] > 0 ? left / longs[i] : 0}`;
}
