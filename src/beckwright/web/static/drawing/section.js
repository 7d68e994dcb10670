// The long section in true levels, heights drawn larger than lengths only as far as the window asks.

import { pieces } from "./course.js";
import { lines, sills } from "./levels.js";
import { bounds, straight } from "./scale.js";
import { label, sketch } from "../shared/sketch.js";
import { through } from "../shared/svg.js";
import { metres, one, unit } from "../shared/words.js";

/**
 * Levels the section must show.
 * @param {any} state @param {number} height
 */
export function levelScale(state, height) {
  const { stations } = state.course;
  const pit = state.reservoir.levels.sump_floor;
  const [low, high] = bounds([...stations.edge_left, ...stations.dig, ...stations.ground, pit].map((level) => [level, 0]));
  return straight([low[0] - 0.08, high[0] + 0.22], [height, 0]);
}

/**
 * How far apart levels are ruled, m: half a metre, or 1, 2, 5, 10 ft.
 * @param {number} each pixels for each metre
 */
function ruledBy(each) {
  const foot = one("m");
  return unit("m") === "m" ? 0.5 : foot * ([1, 2, 5].find((count) => count * foot * each >= 18) ?? 10);
}

/** @param {any} state @param {any} scale @param {any} level @param {string} flow @param {number} width @param {number} height */
export function section(state, scale, level, flow, width, height) {
  const { stations, lips, length } = state.course;
  const drawn = lines(stations, pieces(state.course), scale.to, level.to, stations.water[flow], height);
  const wholes = [];
  const apart = ruledBy(Math.abs(level.each));
  for (let count = Math.ceil(level.low / apart); count * apart < level.high; count += 1) {
    const at = count * apart;
    wholes.push(sketch("path", { d: `M0 ${level.to(at).toFixed(1)}h${width}`, class: "ruling" }), label(6, level.to(at) - 3, metres(at), "label small earth"));
  }
  const names = lips.filter((/** @type {any} */ lip) => lip.drop > 0).map((/** @type {any} */ lip) =>
    label(scale.to(lip.chainage) + 8, Math.max(15, level.to(lip.crest) - 30), `${lip.name} ${metres(lip.crest)}`, "label strong"));
  return sketch("g", {}, ...wholes, drawn, ...sills(state, scale, level.to), ...names, ...pit(state, scale.to(length), level, width));
}

/** @param {any} state @param {number} from @param {any} level @param {number} width */
function pit(state, from, level, width) {
  const { cover, sump_floor: floor, rested } = state.reservoir.levels;
  if (width - from < 60) return [];
  const [left, right] = [from + 12, width - 14];
  const box = (/** @type {number} */ top, /** @type {number} */ foot, /** @type {string} */ kind) =>
    sketch("rect", { x: left.toFixed(1), y: level.to(top).toFixed(1), width: (right - left).toFixed(1), height: Math.max(0, level.to(foot) - level.to(top)).toFixed(1), class: kind });
  return [
    sketch("path", { d: through([[left, level.to(cover)], [left, level.to(floor)], [right, level.to(floor)], [right, level.to(cover)]]), class: "line liner" }),
    box(rested, floor, "wetted"), box(cover, floor, "crates"),
  ];
}
