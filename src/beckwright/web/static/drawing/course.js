// What a drawing needs to know of the course: which reach a station is in, what lies where at a chainage.

/**
 * @typedef {Object} Piece stations of one run or pool
 * @property {any} reach
 * @property {number} first
 * @property {number} last
 */

/**
 * The stations of each run and pool; both ends of each are stations of its own.
 * @param {any} course
 * @returns {Piece[]}
 */
export function pieces(course) {
  const numbers = course.stations.reach;
  const found = [];
  let first = 0;
  for (let i = 1; i <= numbers.length; i += 1) {
    if (i < numbers.length && numbers[i] === numbers[i - 1]) continue;
    found.push({ reach: course.reaches[numbers[first]], first, last: i - 1 });
    first = i;
  }
  return found;
}

/**
 * The station nearest a chainage.
 * @param {any} course @param {number} chainage
 */
export function stationAt(course, chainage) {
  const along = course.stations.chainage;
  let nearest = 0;
  for (let i = 1; i < along.length; i += 1) {
    if (Math.abs(along[i] - chainage) < Math.abs(along[nearest] - chainage)) nearest = i;
  }
  return nearest;
}

/**
 * Chainage of the station nearest a point of the ground.
 * @param {any} course @param {number[]} point
 */
export function chainageNear(course, [x, y]) {
  const { chainage, x: east, y: north } = course.stations;
  let best = 0;
  let least = Infinity;
  for (let i = 0; i < chainage.length; i += 1) {
    const away = Math.hypot(east[i] - x, north[i] - y);
    if (away < least) [best, least] = [i, away];
  }
  return chainage[best];
}

/**
 * The point of the ground at a chainage.
 * @param {any} course @param {number} chainage @returns {[number, number]}
 */
export function pointAt(course, chainage) {
  const { chainage: along, x, y } = course.stations;
  const after = Math.max(1, along.findIndex((/** @type {number} */ each) => each >= chainage));
  const span = along[after] - along[after - 1];
  const share = span > 0 ? (chainage - along[after - 1]) / span : 1;
  return [x[after - 1] + (x[after] - x[after - 1]) * share, y[after - 1] + (y[after] - y[after - 1]) * share];
}

/**
 * Ways to the left of the water at each station, of length 1.
 * @param {any} course @returns {Array<[number, number]>}
 */
export function leftward(course) {
  const { x, y } = course.stations;
  const count = x.length;
  return x.map((/** @type {number} */ _, /** @type {number} */ i) => {
    const [from, to] = [Math.max(0, i - 2), Math.min(count - 1, i + 2)];
    const [dx, dy] = [x[to] - x[from], y[to] - y[from]];
    const length = Math.hypot(dx, dy) || 1;
    return [-dy / length, dx / length];
  });
}
