// Where things will be once the edits that wait are sent.

/**
 * Where things will be once the edits that wait are made: the last of them counts, and what slides adds up.
 * @param {any[]} edits @param {any} state
 */
export function awaited(edits, state) {
  const last = (/** @type {(edit: any) => boolean} */ test) => edits.findLast(test);
  /** @type {(edit: any, stood: [number, number]) => [number, number]} */
  const at = (edit, stood) => (edit ? [edit.x_m, edit.y_m] : stood);
  return {
    point: (/** @type {number} */ id) => at(last((each) => each.do === "move point" && each.point === id), state.course.line[id]),
    hose: (/** @type {number} */ id) => at(last((each) => each.do === "move hose point" && each.point === id), state.hose.line[id]),
    reservoir: () => at(last((each) => each.do === "move reservoir"), state.reservoir.centre),
    crest: (/** @type {any} */ lip) => last((each) => each.do === "set level" && each.lip === lip.name)?.level_m ?? lip.crest,
    foot: (/** @type {number} */ stood) => last((each) => each.do === "set lower end")?.level_m ?? stood,
    slid: (/** @type {number} */ reach) => edits.reduce((sum, each) => sum + (each.do === "slide reach" && each.reach === reach ? each.by_m : 0), 0),
  };
}
