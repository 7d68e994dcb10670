// From the ground to the screen: the plan turned so that water runs left to right, and the tape all else hangs from.

/**
 * @typedef {Object} Turn
 * @property {(point: number[]) => [number, number]} to ground to pixels
 * @property {(pixel: number[]) => [number, number]} from pixels to ground
 * @property {number} scale pixels for each metre
 * @property {[number, number]} north way north points on the screen
 */

/**
 * Turn the plan so that the straight from source to lower end lies level, and fit the works in a window.
 * @param {any} state
 * @param {number} width
 * @param {number} height
 * @param {number} [margin] metres round the works
 * @returns {Turn}
 */
export function turned(state, width, height, margin = 0.9) {
  const line = state.course.smooth;
  const [[x1, y1], [x2, y2]] = [line[0], line[line.length - 1]];
  const angle = Math.atan2(y2 - y1, x2 - x1);
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
  const lay = (/** @type {number[]} */ [x, y]) => [x * cos + y * sin, -(-x * sin + y * cos)];
  const laid = [...line, ...state.reservoir.corners, ...state.hose.line].map(lay);
  const [low, high] = bounds(laid);
  const wide = high[0] - low[0] + 2 * margin;
  const tall = high[1] - low[1] + 2 * margin;
  const scale = Math.min(width / wide, height / tall);
  const [left, top] = [(low[0] + high[0]) / 2 - width / scale / 2, (low[1] + high[1]) / 2 - height / scale / 2];
  return {
    scale,
    north: [sin, -cos],
    to: (point) => {
      const [u, v] = lay(point);
      return [(u - left) * scale, (v - top) * scale];
    },
    from: ([px, py]) => {
      const [u, v] = [px / scale + left, -(py / scale + top)];
      return [u * cos - v * sin, u * sin + v * cos];
    },
  };
}

/** @param {number[][]} points */
export function bounds(points) {
  const low = [Infinity, Infinity];
  const high = [-Infinity, -Infinity];
  for (const point of points) {
    for (const axis of [0, 1]) {
      low[axis] = Math.min(low[axis], point[axis]);
      high[axis] = Math.max(high[axis], point[axis]);
    }
  }
  return [low, high];
}

/**
 * A straight scale from metres to pixels.
 * @param {[number, number]} metres
 * @param {[number, number]} pixels
 */
export function straight([low, high], [start, end]) {
  const each = (end - start) / (high - low || 1);
  return { each, to: (/** @type {number} */ at) => start + (at - low) * each, from: (/** @type {number} */ px) => low + (px - start) / each, low, high };
}

/**
 * The tape: the whole course, or a few metres of it about a picked peg where the screen is narrow.
 * @param {number} length of the course
 * @param {number} width of the drawing, pixels
 * @param {number} picked
 */
export function along(length, width, picked) {
  if (width < 600) {
    const window = Math.min(5, length);
    const start = Math.min(Math.max(0, picked - window / 2), length - window);
    return straight([start - 0.2, start + window + 0.2], [0, width]);
  }
  return straight([0, length], [40, width - (width > 740 ? 136 : 44)]);
}
