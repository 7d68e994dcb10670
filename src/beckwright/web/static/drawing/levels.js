// The eight lines, once: how each looks, what it is called. The section draws them as levels, the strip as heights.

import { stationAt } from "./course.js";
import { sketch } from "../shared/sketch.js";
import { strokes, through } from "../shared/svg.js";

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
  const xs = stations.chainage.map(toX);
  const across = xs.map(tenth);
  // Most lines are in several paths: what a path writes of a station is made once.
  const lineOf = (/** @type {number[]} */ levels) => {
    const ys = levels.map(toY);
    return { ys, points: ys.map((y, i) => `${across[i]} ${tenth(y)}`) };
  };
  /** @typedef {ReturnType<typeof lineOf>} Line */
  const along = (/** @type {Line} */ { points }, /** @type {number} */ first, /** @type {number} */ last) => points.slice(first, last + 1).join("L");
  const all = (/** @type {Line} */ line) => cut.map(({ first, last }) => `M${along(line, first, last)}`).join("");
  const between = (/** @type {Line} */ over, /** @type {Line} */ under) => cut.map(({ first, last }) =>
    `M${along(over, first, last)}L${under.points.slice(first, last + 1).reverse().join("L")}Z`).join("");
  const struck = (/** @type {Line} */ { ys }, /** @type {number} */ every, /** @type {[number, number]} */ stroke) => cut.map(({ first, last }) =>
    strokes(ys.slice(first, last + 1).map((y, i) => [xs[first + i], y]), every, stroke)).join("");
  const [ground, dig, liner, bed, high, left, right] = [stations.ground, stations.dig, stations.liner, stations.bed, water.high, stations.edge_left, stations.edge_right].map(lineOf);
  const shown = lineOf(water.low.map((level, i) => Math.max(level, stations.bed[i])));
  const settled = lineOf(lower(stations.settled_left, stations.settled_right));
  const still = lineOf(stations.still);
  const earth = cut.map(({ first, last }) => `M${along(ground, first, last)}L${across[last]} ${tenth(foot)}L${across[first]} ${tenth(foot)}Z`).join("");
  return sketch("g", {},
    sketch("path", { d: earth, class: "earth-fill" }),
    sketch("path", { d: between(settled, high), class: "freeboard-fill" }),
    sketch("path", { d: between(high, bed), class: "water-fill" }),
    sketch("path", { d: between(high, shown), class: "water-band" }),
    sketch("path", { d: all(ground), class: "line ground" }),
    sketch("path", { d: struck(ground, 70, [-5, 7]), class: "line ground-ticks" }),
    sketch("path", { d: all(dig), class: "line dig" }),
    sketch("path", { d: all(liner), class: "line liner" }),
    sketch("path", { d: all(bed), class: "line bed" }),
    sketch("path", { d: struck(bed, 9, [0, 3]), class: "line bed" }),
    sketch("path", { d: cut.flatMap((piece) => runsOf(stations.held, piece).map(([first, last]) => `M${along(still, first, last)}`)).join(""), class: "line still" }),
    sketch("path", { d: all(high), class: "line running" }),
    sketch("path", { d: all(settled), class: "line settled" }),
    sketch("path", { d: all(left), class: "line edge-left" }),
    sketch("path", { d: struck(left, 60, [-4, -7]), class: "line edge-left" }),
    sketch("path", { d: all(right), class: "line edge-right" }),
    sketch("path", { d: struck(right, 60, [-4, 7]), class: "line edge-barbs" }));
}

/** @param {number} pixels */
const tenth = (pixels) => String(Math.round(pixels * 10) / 10);

/**
 * Sills: boards from the lining up to the bed.
 * @param {any} state @param {any} scale @param {(level: number, station: number) => number} toY
 */
export function sills(state, scale, toY) {
  const { stations, reaches } = state.course;
  return reaches.flatMap((/** @type {any} */ reach) => reach.sills ?? []).map((/** @type {number} */ at) => {
    const i = stationAt(state.course, at);
    const x = scale.to(at);
    return sketch("path", { d: through([[x, toY(stations.liner[i], i)], [x, toY(stations.bed[i], i)]]), class: "sill-board" });
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
  return sketch("svg", { class: "sample", viewBox: "0 0 34 16", width: 34, height: 16, "aria-hidden": "true" },
    sketch("path", { d: through(across), class: `line ${kind}` }),
    sketch("path", { d: extra, class: `line ${kind === "edge-right" ? "edge-barbs" : kind === "ground" ? "ground-ticks" : kind}` }));
}
