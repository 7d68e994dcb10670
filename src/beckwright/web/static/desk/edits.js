// Edits as the server takes them: the only place that knows their names.

import { fallsBeside, named, reachAbove } from "./picking.js";
import { metres, millimetres, read, unit } from "../shared/words.js";

/**
 * A change under way on one handle, not kept yet. Numbers are chainages where it slides, levels where it rises.
 * @typedef {{how: "plane", picked: Picked, from: [number, number], to: [number, number]}} Shifted
 * @typedef {{how: "along" | "level", picked: Picked, from: number, to: number}} Slid
 * @typedef {Shifted | Slid} Draft
 * @typedef {import("./picking.js").Picked} Picked
 */

// To the millimetre; who reads feet types hundredths of one, and a millimetre would show in its third digit.
const near = (/** @type {number} */ length) => (read() === "metric" ? Math.round(length * 1000) / 1000 : Math.round(length * 1e5) / 1e5);
// Falls are written in mm, and one that is 262.5 stays so.
const fall = (/** @type {number} */ length) => Math.round(length * 1e4) / 10;

/** @param {Draft} draft @param {any} state the kept answer it is made on @returns {any[]} */
export function editsOf(draft, state) {
  if (draft.how === "plane") return shifted(draft);
  if (draft.how === "along") return slid(draft.picked, near(draft.to - draft.from), state);
  return risen(draft, state);
}

/** @param {Shifted} draft */
function shifted({ picked: { kind, id }, to }) {
  const at = { x_m: near(to[0]), y_m: near(to[1]) };
  if (kind === "reservoir") return [{ do: "move reservoir", ...at }];
  return [{ do: kind === "hose" ? "move hose point" : "move point", point: Number(id), ...at }];
}

/** @param {Picked} picked @param {number} by_m @param {any} state */
function slid({ kind, id }, by_m, state) {
  const slide = (/** @type {number} */ reach) => ({ do: "slide reach", reach, by_m });
  if (kind === "lip") return [slide(reachAbove(state, id))];
  if (kind === "end") return [slide(Number(id))];
  if (kind === "pool") return poolSlid(Number(id), by_m, state).map(slide);
  const [reach, sill] = id.split(".").map(Number);
  const { start, sills } = state.course.reaches[reach];
  const sills_m = sills.map((/** @type {number} */ at, /** @type {number} */ i) => near(at - start + (i === sill ? by_m : 0)));
  return [{ do: "change reach", reach, keys: { sills_m: sills_m.sort((/** @type {number} */ a, /** @type {number} */ b) => a - b) } }];
}

/**
 * Ends that slide with a pool: at a lip the lip takes it along, else both, the one with room first.
 * @param {number} pool @param {number} by @param {any} state
 */
function poolSlid(pool, by, state) {
  const { reaches } = state.course;
  if (reaches[pool - 1].kind === "step") return [pool - 2];
  if (reaches[pool + 1].kind === "step") return [pool];
  return by > 0 ? [pool, pool - 1] : [pool - 1, pool];
}

/** @param {Slid} draft @param {any} state */
function risen({ picked, to }, state) {
  if (picked.kind === "lip") return [{ do: "set level", lip: picked.id, level_m: near(to) }];
  if (picked.kind === "foot") return [{ do: "set lower end", level_m: near(to) }];
  const { above, below } = fallsBeside(state, Number(picked.id));
  const { reaches, stations } = state.course;
  const end = stations.reach.lastIndexOf(Number(picked.id));
  return [[above, -1], [below, 1]].map(([number, way]) => {
    const reach = reaches[number];
    const step = reach.kind === "step";
    const falls = step ? reach.drop : reach.bed_start - reach.bed_end;
    return { do: "set value", key: `course.reaches.${number + 1}.${step ? "drop_mm" : "fall_mm"}`, value: fall(falls + way * (to - stations.rim[end])) };
  });
}

/**
 * What a draft did, in one sentence.
 * @param {Draft} draft @param {any} state
 */
export function wordsOf(draft, state) {
  const name = named(state, draft.picked);
  if (draft.how === "plane") {
    const moved = Math.hypot(draft.to[0] - draft.from[0], draft.to[1] - draft.from[1]);
    return `${name} moved ${metres(moved)} ${unit("m")}.`;
  }
  const by = draft.to - draft.from;
  if (draft.how === "along") return `${name} slid ${metres(Math.abs(by))} ${unit("m")} ${by < 0 ? "upstream" : "downstream"}.`;
  return `${name} ${by > 0 ? "raised" : "lowered"} ${millimetres(Math.abs(by))} ${unit("mm")}, to ${metres(draft.to, 3)}.`;
}

/**
 * Whether a draft changes anything.
 * @param {Draft} draft
 */
export function moves(draft) {
  if (draft.how === "plane") return Math.hypot(draft.to[0] - draft.from[0], draft.to[1] - draft.from[1]) >= 0.001;
  return Math.abs(draft.to - draft.from) >= 0.0005;
}

/**
 * Edits that say what a whole list or fall becomes: made on an answer that is behind, they would undo what waits.
 * @param {Draft} draft
 */
export const wholeOnes = ({ how, picked: { kind } }) => kind === "sill" || (kind === "end" && how === "level");

const COUNTED = ["add point", "take point", "add hose point", "take hose point", "add reach", "take reach"];

/**
 * Whether edits change what the numbers of points and reaches mean.
 * @param {any[]} edits
 */
export const countsAnew = (edits) => edits.some((edit) => COUNTED.includes(edit.do));
