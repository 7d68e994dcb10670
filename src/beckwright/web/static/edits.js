// Edits as the server takes them: the only place that knows their names.

import { metres, millimetres } from "./words.js";

/**
 * A change under way on one handle, not kept yet.
 * @typedef {{kind: "point", id: number, from: [number, number], to: [number, number]}
 *   | {kind: "slide", id: string, reach: number, by: number}
 *   | {kind: "level", id: string, from: number, to: number}} Draft
 */

const near = (/** @type {number} */ length) => Math.round(length * 1000) / 1000;

/** @param {Draft} draft @returns {any[]} */
export function editsOf(draft) {
  if (draft.kind === "point") {
    return [{ do: "move point", point: draft.id, x_m: near(draft.to[0]), y_m: near(draft.to[1]) }];
  }
  if (draft.kind === "slide") return [{ do: "slide reach", reach: draft.reach, by_m: near(draft.by) }];
  return [{ do: "set level", lip: draft.id, level_m: near(draft.to) }];
}

/** What a draft did, in one sentence. @param {Draft} draft */
export function wordsOf(draft) {
  if (draft.kind === "point") {
    const moved = Math.hypot(draft.to[0] - draft.from[0], draft.to[1] - draft.from[1]);
    return `Point ${draft.id + 1} moved ${metres(moved)} m.`;
  }
  const name = draft.id[0].toUpperCase() + draft.id.slice(1);
  if (draft.kind === "slide") return `${name} slid ${metres(Math.abs(draft.by))} m ${draft.by < 0 ? "upstream" : "downstream"}.`;
  const up = draft.to - draft.from;
  return `${name} ${up > 0 ? "raised" : "lowered"} ${millimetres(Math.abs(up))} mm, to ${metres(draft.to, 3)}.`;
}

/** Whether a draft changes anything. @param {Draft} draft */
export function moves(draft) {
  if (draft.kind === "point") return Math.hypot(draft.to[0] - draft.from[0], draft.to[1] - draft.from[1]) >= 0.001;
  return draft.kind === "slide" ? Math.abs(draft.by) >= 0.001 : Math.abs(draft.to - draft.from) >= 0.001;
}

/** The reach above a lip: its foot is the boundary that slides. @param {any} state @param {string} name */
export const reachAbove = (state, name) =>
  state.course.reaches.findIndex((/** @type {any} */ reach) => reach.kind === "step" && reach.name === name) - 1;

/**
 * Where a point or lip will be once the edits that wait are made: the last of them counts.
 * @param {any[]} edits @param {any} state
 */
export function awaited(edits, state) {
  const found = (/** @type {(edit: any) => boolean} */ test) => edits.findLast(test);
  return {
    point: (/** @type {number} */ id) => {
      const edit = found((each) => each.do === "move point" && each.point === id);
      return /** @type {[number, number]} */ (edit ? [edit.x_m, edit.y_m] : state.course.line[id]);
    },
    crest: (/** @type {any} */ lip) => found((each) => each.do === "set level" && each.lip === lip.name)?.level_m ?? lip.crest,
  };
}
