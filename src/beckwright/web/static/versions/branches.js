// How the revisions followed: a line of pegs from left to right, the last at the right; what undo left lies below it.

import { draw, label } from "../shared/svg.js";

const STEP = 40;
const LANE = 34;
const TOP = 34;

/** @param {any[]} revisions oldest first @param {number} chosen @returns {SVGElement} */
export function branches(revisions, chosen) {
  const places = new Map(revisions.map((each, i) => [each.number, [STEP * (i + 0.7), TOP + LANE * each.lane]]));
  const width = STEP * (revisions.length + 0.4);
  const height = TOP + LANE * Math.max(...revisions.map((each) => each.lane)) + 26;
  const ways = revisions.flatMap((each) => each.parent === null ? [] : [way(each, places)]);
  const lowest = new Map(revisions.map((each) => [each.lane, each.number]));
  return draw("svg", { width, height, viewBox: `0 0 ${width} ${height}`, role: "img", "aria-label": said(revisions, lowest.size) },
    ...ways, ...revisions.map((each) => peg(each, places, each.number === chosen)));
}

/** @param {any} revision @param {Map<number, number[]>} places */
function way(revision, places) {
  const [[x1, y1], [x2, y2]] = [places.get(revision.parent) ?? [0, 0], places.get(revision.number) ?? [0, 0]];
  const d = y1 === y2 ? `M${x1} ${y1}H${x2}` : `M${x1} ${y1}V${y2 - 8}Q${x1} ${y2} ${x1 + 8} ${y2}H${x2}`;
  return draw("path", { d, class: `way ${revision.way}` });
}

/** @param {any} revision @param {Map<number, number[]>} places @param {boolean} chosen */
function peg(revision, places, chosen) {
  const [x, y] = places.get(revision.number) ?? [0, 0];
  const wood = revision.origin === "outside" ? draw("circle", { r: 8 }) : draw("rect", { x: -7, y: -7, width: 14, height: 14 });
  return draw("g", { class: `kept ${revision.way}${chosen ? " chosen" : ""}`, transform: `translate(${x} ${y})` },
    ...(chosen ? [draw("rect", { x: -12, y: -12, width: 24, height: 24, class: "ring" })] : []), wood,
    label(0, -14, String(revision.number), revision.way === "stands" ? "label strong middle" : "label middle"));
}

/** @param {any[]} revisions @param {number} lanes */
function said(revisions, lanes) {
  const count = (/** @type {string} */ kind) => revisions.filter((each) => each.way === kind).length;
  return `${revisions.length} revisions on ${lanes} ${lanes === 1 ? "line" : "lines"}: ${count("left")} left behind by undo, ${count("aside")} kept beside the line`;
}
