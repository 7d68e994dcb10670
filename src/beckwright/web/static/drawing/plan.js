// The plan: ground, trees and services once; course, lips, reservoir and pegs at every answer.

import { leftward, pointAt } from "./course.js";
import { downstream } from "../desk/picking.js";
import { label, sketch } from "../shared/sketch.js";
import { through } from "../shared/svg.js";
import { metres, millimetres, one, unit } from "../shared/words.js";

/** @typedef {import("./scale.js").Turn} Turn */

// Width of a letter of a label, in pixels, about.
const LETTER = 7;

/** @param {any} state @param {Turn} turn @param {number} width */
export function ground(state, turn, width) {
  const contours = state.ground.contours.map((/** @type {any} */ contour) =>
    sketch("path", {
      d: through(contour.line.map(turn.to)),
      class: Math.abs(contour.level * 2 - Math.round(contour.level * 2)) < 0.01 ? "contour main" : "contour",
    }),
  );
  const edge = sketch("path", { d: through(state.ground.hull.map(turn.to), true), class: "surveyed" });
  return sketch("g", {}, edge, ...contours, ...state.trees.map((/** @type {any} */ tree) => circle(tree, turn)),
    ...state.trees.map((/** @type {any} */ tree) => trunk(tree, turn, width)),
    ...state.services.map((/** @type {any} */ service) => lain(service, turn, `service ${service.kind}`)),
    ...state.boundaries.map((/** @type {any} */ boundary) => lain(boundary, turn, "boundary")));
}

/** @param {any} tree @param {Turn} turn */
function circle(tree, turn) {
  const [cx, cy] = turn.to([tree.x, tree.y]);
  return sketch("circle", { cx, cy, r: tree.radius * turn.scale, class: "roots" });
}

/** @param {any} tree @param {Turn} turn @param {number} width */
function trunk(tree, turn, width) {
  const [cx, cy] = turn.to([tree.x, tree.y]);
  const radius = Math.max(4, (tree.radius / 24) * turn.scale);
  const words = `${tree.species}${tree.protected ? ", protected" : ""}, circle ${metres(tree.radius, 1)} ${unit("m")}`;
  const fits = width > 600 ? [label(cx + radius + 6, cy + 4, words, "label edge")] : [];
  return sketch("g", {}, sketch("circle", { cx, cy, r: radius, class: "trunk" }), ...fits);
}

/** @param {any} laid @param {Turn} turn @param {string} kind */
function lain(laid, turn, kind) {
  const points = laid.line.map(turn.to);
  const [x, y] = points[0].map((/** @type {number} */ at, /** @type {number} */ axis) => at + (points[1][axis] - at) / 2);
  return sketch("g", {}, sketch("path", { d: through(points), class: kind }), label(x + 4, y - 6, laid.name, "label second"));
}

/**
 * The works as they stand in one answer.
 * @param {any} state
 * @param {Turn} turn
 * @param {number} width
 */
export function works(state, turn, width) {
  const { stations, lips } = state.course;
  const left = leftward(state.course);
  const half = stations.width.map((/** @type {number} */ wide) => wide / 2);
  const side = (/** @type {number[]} */ off, /** @type {number} */ way) =>
    stations.x.map((/** @type {number} */ x, /** @type {number} */ i) =>
      turn.to([x + left[i][0] * off[i] * way, stations.y[i] + left[i][1] * off[i] * way]));
  const [toLeft, toRight] = [stations.left.map(turn.to), stations.right.map(turn.to)];
  return sketch("g", {},
    sketch("path", { d: through([...toLeft, ...[...toRight].reverse()], true), class: "lined" }),
    sketch("path", { d: through([...side(half, 1), ...side(half, -1).reverse()], true), class: "wetted" }),
    sketch("path", { d: through(state.course.smooth.map(turn.to)), class: "thread" }),
    sketch("path", { d: through(toLeft), class: "edge-left" }),
    sketch("path", { d: through(toRight), class: "edge-right" }),
    sketch("path", { d: through(state.hose.line.map(turn.to)), class: "hose" }),
    sketch("path", { d: through(state.hose.line.map(turn.to)), class: "hose-core" }),
    sketch("path", { d: through(state.reservoir.corners.map(turn.to), true), class: "crates" }),
    ...state.course.reaches.flatMap((/** @type {any} */ reach) => (reach.sills ?? []).map((/** @type {number} */ at) => sill(state, at, reach.width / 2, turn))),
    ...(width > 600 ? [named("source", turn.to(state.course.line[0]), -16)] : []),
    ...lips.filter((/** @type {any} */ lip) => lip.drop > 0).map((/** @type {any} */ lip) => bar(state, lip, left, turn, width > 600)));
}

/** @param {string} words @param {[number, number]} at @param {number} up */
const named = (words, [x, y], up) => label(x - 14, y + up, words, "label strong");

/**
 * A board across the bed.
 * @param {any} state @param {number} at chainage @param {number} half @param {Turn} turn
 */
function sill(state, at, half, turn) {
  const [[x, y], [dx, dy]] = [pointAt(state.course, at), downstream(state.course, at)];
  return sketch("path", { d: through([turn.to([x + dy * half, y - dx * half]), turn.to([x - dy * half, y + dx * half])]), class: "sill-board" });
}

/** @param {any} state @param {any} lip @param {Array<[number, number]>} left @param {Turn} turn @param {boolean} named */
function bar(state, lip, left, turn, named) {
  const beside = besideLip(state, lip, left, turn);
  const reach = lipReach(lip);
  const { x, y, words } = lipWords(state, lip, left, turn);
  return sketch("g", {}, sketch("path", { d: through([beside(reach), beside(-reach)]), class: "lip-bar" }),
    ...(named ? [label(x, y + 4, words, "label strong middle")] : []));
}

/** @param {any} lip */
const lipReach = (lip) => lip.width / 2 + 0.12;

/**
 * Places to the left of a lip's middle, by metres.
 * @param {any} state @param {any} lip @param {Array<[number, number]>} left @param {Turn} turn
 */
function besideLip(state, lip, left, turn) {
  const [x, y] = pointAt(state.course, lip.chainage);
  const [dx, dy] = left[state.course.stations.chainage.findIndex((/** @type {number} */ at) => at >= lip.chainage - 1e-6)];
  return (/** @type {number} */ off) => turn.to([x + dx * off, y + dy * off]);
}

/**
 * What a lip is called, and the middle of its words: past the slab that is taken hold of.
 * @param {any} state @param {any} lip @param {Array<[number, number]>} left @param {Turn} turn
 */
function lipWords(state, lip, left, turn) {
  const [x, y] = besideLip(state, lip, left, turn)(-Math.max(1.25, lipReach(lip) + 34 / turn.scale));
  return { x, y, words: `${lip.name}, drop ${millimetres(lip.drop)}` };
}

/**
 * North, and a bar of five metres in five pieces, or of ten feet.
 * @param {Turn} turn @param {number} width @param {number} height
 */
export function furniture(turn, width, height) {
  const [nx, ny] = turn.north;
  const [x, y] = [width - 34, 36];
  const needle = through([[x + nx * 20, y + ny * 20], [x - nx * 14 - ny * 7, y - ny * 14 + nx * 7],
    [x - nx * 8, y - ny * 8], [x - nx * 14 + ny * 7, y - ny * 14 - nx * 7]], true);
  const each = unit("m") === "m" ? 1 : 2;
  const wide = each * one("m") * turn.scale;
  const pieces = [0, 1, 2, 3, 4].map((piece) => sketch("rect", {
    x: 14 + piece * wide, y: height - 18, width: wide, height: 6, class: piece % 2 ? "bar white" : "bar",
  }));
  return sketch("g", {}, sketch("path", { d: needle, class: "needle" }), label(x + nx * 30 - 4, y + ny * 30 + 4, "N", "label strong"),
    ...pieces, label(12, height - 24, "0", "label"), label(10 + 5 * wide, height - 24, `${5 * each} ${unit("m")}`, "label"));
}

/**
 * Numbered marks where something needs the person, each pushed off the stream until it covers no other and no lip's words.
 * @param {any[]} needs @param {any} state @param {Turn} turn @param {number} width
 */
export function calls(needs, state, turn, width) {
  const left = leftward(state.course);
  const { chainage } = state.course.stations;
  /** @type {Array<[number, number]>} */
  const taken = [];
  const lips = width > 600 ? state.course.lips.filter((/** @type {any} */ lip) => lip.drop > 0) : [];
  const said = lips.map((/** @type {any} */ lip) => lipWords(state, lip, left, turn));
  return needs.flatMap((finding, place) => {
    if (finding.chainage.length === 0) return [];
    const middle = (finding.chainage[0] + finding.chainage[finding.chainage.length - 1]) / 2;
    const [x, y] = pointAt(state.course, middle);
    const [dx, dy] = left[Math.max(0, chainage.findIndex((/** @type {number} */ at) => at >= middle - 1e-6))];
    const way = /\bright\b/i.test(finding.place) ? -1 : 1;
    const free = (/** @type {[number, number]} */ [u, v]) => taken.every(([p, q]) => Math.hypot(p - u, q - v) >= 23)
      && said.every((/** @type {any} */ each) => Math.abs(u - each.x) > each.words.length * LETTER / 2 + 12 || Math.abs(v - each.y) > 19);
    let off = (width < 600 ? 22 : 42) / turn.scale;
    let spot = turn.to([x + dx * off * way, y + dy * off * way]);
    while (!free(spot)) {
      off += 8 / turn.scale;
      spot = turn.to([x + dx * off * way, y + dy * off * way]);
    }
    taken.push(spot);
    return [numbered(place + 1, finding.severity, ...spot)];
  });
}

/** @param {number} number @param {string} severity @param {number} x @param {number} y */
export function numbered(number, severity, x, y) {
  return sketch("g", { class: `call ${severity}`, transform: `translate(${x.toFixed(1)} ${y.toFixed(1)})` },
    sketch("circle", { r: 10 }), sketch("text", { y: 4.5 }, String(number)));
}
