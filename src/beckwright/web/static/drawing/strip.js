// The level story with the bed pulled straight: the fall taken out, heights above the bed, or the rim of a pool.

import { pieces } from "./course.js";
import { lines, sills } from "./levels.js";
import { straight } from "./scale.js";
import { label, sketch } from "../shared/sketch.js";
import { through } from "../shared/svg.js";
import { millimetres, one, unit } from "../shared/words.js";

/**
 * Heights the strip must show.
 * @param {any} state @param {number} height
 */
export function heightScale(state, height) {
  const { stations } = state.course;
  const above = (/** @type {number[]} */ levels) => levels.map((level, i) => level - stations.rim[i]);
  const low = Math.min(...above(stations.dig));
  const high = Math.max(...above(stations.edge_left), ...above(stations.edge_right));
  return straight([low - 0.04, high + 0.05], [height, 0]);
}

/**
 * How far apart heights are ruled, m: 100 mm, or 1, 2, 3, 6, 12 in.
 * @param {number} each pixels for each metre
 */
export function ruledBy(each) {
  const inch = one("mm") / 1000;
  return unit("mm") === "mm" ? 0.1 : inch * ([1, 2, 3, 6].find((count) => count * inch * each >= 18) ?? 12);
}

/** @param {any} state @param {any} scale @param {any} above @param {string} flow @param {number} width @param {number} height */
export function strip(state, scale, above, flow, width, height) {
  const { stations, lips } = state.course;
  const cut = pieces(state.course);
  const drawn = lines(stations, cut, scale.to, (level, i) => above.to(level - stations.rim[i]), stations.water[flow], height);
  const short = cut.flatMap((piece) => shortOf(state, piece, scale, above, flow));
  const rulings = [];
  const apart = ruledBy(Math.abs(above.each));
  for (let count = Math.ceil(above.low / apart); count * apart < above.high; count += 1) {
    const at = count * apart;
    const words = `${count > 0 ? "+" : count < 0 ? "\u2212" : ""}${millimetres(Math.abs(at))}`;
    rulings.push(sketch("path", { d: `M0 ${above.to(at).toFixed(1)}h${width}`, class: "ruling" }), label(6, above.to(at) - 3, words, "label small"));
  }
  const slits = lips.filter((/** @type {any} */ lip) => lip.drop > 0).map((/** @type {any} */ lip) => slit(lip, scale.to(lip.chainage), height));
  const boards = sills(state, scale, (level, i) => above.to(level - stations.rim[i]));
  return sketch("g", {}, ...rulings, drawn, ...short, ...boards, ...slits, ...key(state, scale, above, flow, width));
}

/**
 * What each line is called, at its right-hand end, moved apart where two would meet.
 * @param {any} state @param {any} scale @param {any} above @param {string} flow @param {number} width
 */
function key(state, scale, above, flow, width) {
  const { stations, length } = state.course;
  const x = scale.to(length) + 8;
  if (width - x < 100) return [];
  const last = stations.chainage.length - 1;
  const named = [["edge left", stations.edge_left, "edge strong"], ["edge right, dashed", stations.edge_right, "edge strong"],
    [`${flow}, high end`, stations.water[flow].high, "water strong"], ["bed", stations.bed, ""], ["liner", stations.liner, "strong"],
    ["dig level", stations.dig, "earth"], ["existing ground", stations.ground, "earth"]]
    .map(([words, levels, kind]) => ({ words, kind, y: above.to(levels[last] - stations.rim[last]) + 4 }))
    .sort((one, other) => one.y - other.y);
  let next = 13;
  for (const each of named) {
    each.y = Math.max(each.y, next);
    next = each.y + 15;
  }
  return named.map(({ words, kind, y }) => label(x, y, words, `label ${kind}`));
}

/** @param {any} lip @param {number} x @param {number} height */
function slit(lip, x, height) {
  return sketch("g", {}, sketch("rect", { x: (x - 3).toFixed(1), y: -1, width: 6, height: height + 2, class: "slit" }),
    label(x + 7, height - 7, `down ${millimetres(lip.drop)}`, "label strong"));
}

/**
 * Where less freeboard is left at this flow, once settled, than is wanted.
 * @param {any} state @param {any} piece @param {any} scale @param {any} above @param {string} flow
 */
function shortOf(state, piece, scale, above, flow) {
  const { stations, freeboard_wanted: wanted } = state.course;
  const water = stations.water[flow];
  const found = [];
  for (const [left, settled] of [[water.left, stations.settled_left], [water.right, stations.settled_right]]) {
    /** @type {Array<[number, number]>} */
    let top = [];
    /** @type {Array<[number, number]>} */
    let foot = [];
    for (let i = piece.first; i <= piece.last + 1; i += 1) {
      if (i <= piece.last && left[i] < wanted - 1e-6) {
        const x = scale.to(stations.chainage[i]);
        top.push([x, above.to(settled[i] - stations.rim[i])]);
        foot.push([x, above.to(water.high[i] - stations.rim[i])]);
      } else if (top.length > 0) {
        found.push(sketch("path", { d: through([...top, ...foot.reverse()], true), class: "short" }));
        [top, foot] = [[], []];
      }
    }
  }
  return found;
}
