// Where what can be taken hold of lies on each drawing. Points of the hose show once the hose is picked.

import { pointAt, stationAt } from "../drawing/course.js";
import { hoseMiddle, onHose } from "./hose.js";
import { described, downstream, ends, freedom, levelOf, same } from "./picking.js";

/** @typedef {import("./picking.js").Picked} Picked @typedef {import("./handles.js").Handle} Handle */

// Beside the water, so that a slab never lies on a peg that stands at its lip.
const BESIDE = 19;

/** @param {any} desk @param {import("../drawing/scale.js").Turn} turn @returns {Handle[]} */
export function placedOnPlan(desk, turn) {
  const { course, hose, reservoir } = desk.shown;
  const handle = handles(desk);
  const points = course.line.map((/** @type {any} */ _, /** @type {number} */ i) => {
    const thing = /** @type {Picked} */ ({ kind: "point", id: String(i) });
    return handle(thing, i === 0 ? "peg source" : "peg", turn.to(desk.placeNow(thing)));
  });
  const lips = course.lips.filter((/** @type {any} */ lip) => lip.drop > 0).map((/** @type {any} */ lip) => {
    const thing = /** @type {Picked} */ ({ kind: "lip", id: lip.name });
    const at = desk.chainageNow(thing);
    const [dx, dy] = downstream(course, at);
    const off = Math.max(lip.width / 2 + 0.12, BESIDE / turn.scale);
    const [x, y] = pointAt(course, at);
    const spot = turn.to([x + dy * off, y - dx * off]);
    const [mx, my] = turn.to([x, y]);
    return { ...handle(thing, "slab across", spot), turned: (Math.atan2(spot[1] - my, spot[0] - mx) * 180) / Math.PI - 90 };
  });
  const crate = /** @type {Picked} */ ({ kind: "reservoir", id: "" });
  const middle = reservoir.corners.length > 0 ? [handle(crate, "crate", turn.to(desk.placeNow(crate)))] : [];
  if (hose.line.length === 0) return [...points, ...lips, ...middle];
  const whole = handle({ kind: "hose", id: "" }, "coupling", turn.to(onHose(desk.shown, hoseMiddle(desk.shown))));
  if (desk.picked.kind !== "hose" && desk.picked.kind !== "place") return [...points, ...lips, ...middle, whole];
  const spot = desk.picked.kind === "place" ? [handle(desk.picked, "spot", turn.to(desk.placeNow(desk.picked)))] : [];
  return [...points, ...lips, ...middle, whole, ...spot, ...hose.line.map((/** @type {any} */ _, /** @type {number} */ i) => {
    const thing = /** @type {Picked} */ ({ kind: "hose", id: String(i) });
    return handle(thing, "collar", turn.to(desk.placeNow(thing)));
  })];
}

/**
 * In the section at their levels; in the strip, where ``level`` is null, at the bed pulled straight.
 * @param {any} desk @param {any} along @param {any} level @param {any} above @param {number} width of the drawing
 * @returns {Handle[]}
 */
export function placed(desk, along, level, above, width) {
  const { course } = desk.shown;
  const { rim } = course.stations;
  const handle = handles(desk);
  /** @param {Picked} thing @param {string} shape @param {number} sunk pixels */
  const at = (thing, shape, sunk) => {
    const chainage = desk.chainageNow(thing);
    const up = desk.levelNow(thing);
    const x = along.to(chainage);
    const foot = thing.kind === "foot" ? levelOf(desk.shown, thing) : rim[stationAt(course, chainage)];
    return { chainage, made: handle(thing, shape, [x, (level ? level.to(up) : above.to(desk.draftOf(thing, "level") ? up - foot : 0)) + sunk]) };
  };
  const lips = course.lips.filter((/** @type {any} */ lip) => lip.drop > 0 || lip.name === "source")
    .map((/** @type {any} */ lip) => at({ kind: "lip", id: lip.name }, "slab", 0));
  const boards = ends(desk.shown).map((end) => at({ kind: "end", id: String(end) }, "board", 0));
  const others = course.reaches.flatMap((/** @type {any} */ reach, /** @type {number} */ i) => {
    const pool = /** @type {Picked} */ ({ kind: "pool", id: String(i) });
    if (reach.kind === "pool") return freedom(desk.shown, pool).along ? [at(pool, "basin", 10)] : [];
    return (reach.sills ?? []).map((/** @type {number} */ _, /** @type {number} */ sill) => at({ kind: "sill", id: `${i}.${sill}` }, "sill", 6));
  });
  return [...lips, ...boards, ...others, at({ kind: "foot", id: "" }, "toe", 0)].sort((one, other) => one.chainage - other.chainage).map(({ made }) => made)
    .filter(({ x, picked }) => picked || (x > -12 && x < width + 12 && rim.length > 0));
}

/** @param {any} desk @returns {(thing: Picked, shape: string, at: [number, number]) => Handle} */
const handles = (desk) => (thing, shape, [x, y]) =>
  ({ thing, shape, x, y, turned: 0, words: described(desk.shown, thing), picked: same(desk.picked, thing) });
