// The eight lines, once: how each looks, what it is called. The section draws them as levels, the strip as heights.

import { stationAt } from "./course.js";
import { draw, strokes, through } from "../shared/svg.js";

/** Name, key of the stations, and class, from the top as the book lists them. */
export const LINES = /** @type {const} */ ([
  ["liner edge left", "edge_left", "edge-left"],
  ["liner edge right", "edge_right", "edge-right"],
  ["running water", "water", "running"],
  ["still water", "still", "still"],
  ["bed", "bed", "bed"],
  ["liner", "liner", "liner"],
  ["dig level", "dig", "dig"],
  ["existing ground", "ground", "ground"],
]);

/** @typedef {Array<[number, number]>} Line */

/**
 * Draw all lines, each broken where the course is: one element for each, however many pieces there are.
 * @param {any} stations
 * @param {import("./course.js").Piece[]} cut
 * @param {(chainage: number) => number} toX
 * @param {(level: number, station: number) => number} toY
 * @param {{low: number[], high: number[]}} water
 * @param {number} foot y of the lower edge of the drawing
 */
export function lines(stations, cut, toX, toY, water, foot) {
  /** @type {(levels: number[], first: number, last: number) => Line} */
  const line = (levels, first, last) => {
    const found = [];
    for (let i = first; i <= last; i += 1) found.push(/** @type {[number, number]} */ ([toX(stations.chainage[i]), toY(levels[i], i)]));
    return found;
  };
  const each = (/** @type {number[]} */ levels) => cut.map(({ first, last }) => line(levels, first, last));
  const all = (/** @type {Line[]} */ parts) => parts.map((part) => through(part)).join("");
  const between = (/** @type {Line[]} */ over, /** @type {Line[]} */ under) => over.map((part, i) => through([...part, ...[...under[i]].reverse()], true)).join("");
  const struck = (/** @type {Line[]} */ parts, /** @type {number} */ every, /** @type {[number, number]} */ stroke) => parts.map((part) => strokes(part, every, stroke)).join("");
  const shown = each(water.low.map((level, i) => Math.max(level, stations.bed[i])));
  const [ground, bed, high] = [each(stations.ground), each(stations.bed), each(water.high)];
  const [left, right] = [each(stations.edge_left), each(stations.edge_right)];
  const settled = each(lower(stations.settled_left, stations.settled_right));
  const still = cut.flatMap((piece) => runsOf(stations.held, piece).map(([first, last]) => line(stations.still, first, last)));
  const earth = ground.map((part) => through([...part, [part[part.length - 1][0], foot], [part[0][0], foot]], true)).join("");
  return draw("g", {},
    draw("path", { d: earth, class: "earth-fill" }),
    draw("path", { d: between(settled, high), class: "freeboard-fill" }),
    draw("path", { d: between(high, bed), class: "water-fill" }),
    draw("path", { d: between(high, shown), class: "water-band" }),
    draw("path", { d: all(ground), class: "line ground" }),
    draw("path", { d: struck(ground, 70, [-5, 7]), class: "line ground-ticks" }),
    draw("path", { d: all(each(stations.dig)), class: "line dig" }),
    draw("path", { d: all(each(stations.liner)), class: "line liner" }),
    draw("path", { d: all(bed), class: "line bed" }),
    draw("path", { d: struck(bed, 9, [0, 3]), class: "line bed" }),
    draw("path", { d: all(still), class: "line still" }),
    draw("path", { d: all(high), class: "line running" }),
    draw("path", { d: all(settled), class: "line settled" }),
    draw("path", { d: all(left), class: "line edge-left" }),
    draw("path", { d: struck(left, 60, [-4, -7]), class: "line edge-left" }),
    draw("path", { d: all(right), class: "line edge-right" }),
    draw("path", { d: struck(right, 60, [-4, 7]), class: "line edge-barbs" }));
}

/**
 * Sills: boards from the lining up to the bed.
 * @param {any} state @param {any} scale @param {(level: number, station: number) => number} toY
 */
export function sills(state, scale, toY) {
  const { stations, reaches } = state.course;
  return reaches.flatMap((/** @type {any} */ reach) => reach.sills ?? []).map((/** @type {number} */ at) => {
    const i = stationAt(state.course, at);
    const x = scale.to(at);
    return draw("path", { d: through([[x, toY(stations.liner[i], i)], [x, toY(stations.bed[i], i)]]), class: "sill-board" });
  });
}

/**
 * First and last of every unbroken row of true stations.
 * @param {boolean[]} held @param {import("./course.js").Piece} piece
 */
function runsOf(held, { first, last }) {
  /** @type {Array<[number, number]>} */
  const found = [];
  for (let i = first; i <= last; i += 1) {
    if (!held[i]) continue;
    if (i > first && held[i - 1]) found[found.length - 1][1] = i;
    else found.push([i, i]);
  }
  return found;
}

/** @param {number[]} one @param {number[]} other */
const lower = (one, other) => one.map((level, i) => Math.min(level, other[i]));

/**
 * A short sample of a line for the book.
 * @param {string} kind
 */
export function sample(kind) {
  const across = /** @type {Array<[number, number]>} */ ([[1, 8], [33, 8]]);
  const extra = {
    "edge-left": strokes(across, 12, [-4, -6]), "edge-right": strokes(across, 12, [-4, 6]),
    bed: strokes(across, 6, [0, 4]), ground: strokes(across, 11, [-4, 6]),
    still: "M13 1h8l-4 6zM14 11h6M15 14h4", running: "M1 5h32M1 11h32",
  }[kind] ?? "";
  return draw("svg", { class: "sample", viewBox: "0 0 34 16", width: 34, height: 16, "aria-hidden": "true" },
    draw("path", { d: through(across), class: `line ${kind}` }),
    draw("path", { d: extra, class: `line ${kind === "edge-right" ? "edge-barbs" : kind === "ground" ? "ground-ticks" : kind}` }));
}
