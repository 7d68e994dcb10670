// Small charts of the years. Every point comes from Python; here they are only drawn.

import { draw, make } from "../shared/svg.js";

/** @typedef {[number, number]} Spot @typedef {{at: number, words: string}} Mark */
/**
 * @typedef {Object} Chart
 * @property {number} wide
 * @property {number} high
 * @property {Spot[]} dots
 * @property {Spot[]} line
 * @property {Spot[]} band
 * @property {Mark | null} limit
 * @property {Spot} ends
 * @property {number} foot
 * @property {{at: Spot, words: string, first: boolean}[]} values
 * @property {Mark[]} ticks
 * @property {string} says
 */

/** @param {Spot[]} points */
const along = (points) => points.map((each) => each.join(",")).join(" ");

/**
 * @param {number} wide
 * @param {number} high
 * @param {string} says
 * @param {...Node} parts
 */
function frame(wide, high, says, ...parts) {
  return draw("svg", { viewBox: `0 0 ${wide} ${high}`, class: "chart", role: "img", "aria-label": says }, ...parts);
}

/**
 * @param {number} x
 * @param {number} y
 * @param {string} words
 * @param {string} anchor
 * @param {string} kind
 */
const words = (x, y, words, anchor, kind = "") => draw("text", { x, y, "text-anchor": anchor, class: kind }, words);

/**
 * Readings over the years, the line through them with its band, and the limit.
 * @param {Chart} chart
 */
export function years(chart) {
  const [left, right] = chart.ends;
  const parts = [draw("line", { x1: left, x2: right, y1: chart.foot, y2: chart.foot, class: "foot-line" })];
  if (chart.band.length) parts.push(draw("polygon", { points: along(chart.band), class: "band" }));
  if (chart.limit) parts.push(draw("line", { x1: left, x2: right, y1: chart.limit.at, y2: chart.limit.at, class: "limit" }), words(left, chart.limit.at - 6, chart.limit.words, "start", "limit-says"));
  if (chart.line.length) parts.push(draw("polyline", { points: along(chart.line), class: "line" }));
  parts.push(...chart.dots.map(([cx, cy]) => draw("circle", { cx, cy, r: 4, class: "dot" })));
  parts.push(...chart.values.map((each) => words(each.at[0], each.at[1], each.words, each.first ? "start" : "middle", "value")));
  parts.push(...chart.ticks.map((each) => words(each.at, chart.foot + 19, each.words, "middle")));
  return frame(chart.wide, chart.high, chart.says, ...parts);
}

/**
 * One side of the course: a line for each visit.
 * @param {any} told
 */
export function side(told) {
  const [left, right] = told.ends;
  const parts = [draw("line", { x1: left, x2: right, y1: told.zero, y2: told.zero, class: "foot-line" })];
  const last = told.lines.length - 1;
  told.lines.forEach((/** @type {any} */ each, /** @type {number} */ place) => {
    parts.push(draw("polyline", { points: along(each.points), class: place === last ? "line" : "line early" }));
    const end = each.points[each.points.length - 1];
    if (end && place === last) parts.push(words(end[0], end[1] - 5, each.words, "end", "value"));
  });
  parts.push(words(left, told.foot + 19, told.from_to[0], "start"), words(right, told.foot + 19, told.from_to[1], "end"));
  return frame(told.wide, told.high, told.says, ...parts);
}

/**
 * Levels from the lid down as bars, the pump's least across them.
 * @param {any} told
 */
export function stick(told) {
  const mark = (/** @type {any} */ each, /** @type {string} */ kind, /** @type {string} */ anchor) => [draw("line", { x1: each.at, x2: each.at, y1: 4, y2: each.foot, class: kind }), words(each.at, each.foot + 17, each.words, anchor, `${kind}-says`)];
  const parts = told.bars.flatMap((/** @type {any} */ bar) => [
    words(told.ends[0], bar.at - 5, `${bar.name}: ${bar.says}`, "start", "value"),
    draw("rect", { x: bar.from, y: bar.at, width: Math.max(bar.to - bar.from, 2), height: told.bar - 8, class: "bar" }),
  ]);
  return frame(told.wide, told.high, told.says, ...mark(told.rested, "rest", "start"), ...mark(told.least, "limit", "end"), ...parts);
}

/**
 * A chart under its words.
 * @param {string} says
 * @param {Node} drawn
 */
export const item = (says, drawn) => make("li", "", make("p", "", says), drawn);
