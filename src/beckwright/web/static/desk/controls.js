// The row under the drawings: what is picked, arrows by a chosen step, and its numbers to be typed.

import { freedom, levelOf, named, same } from "./picking.js";
import { waiting } from "../shared/queue.js";
import { become } from "../shared/sketch.js";
import { amounts, fillIn, inWords, padded } from "../shared/typed.js";
import { unit } from "../shared/words.js";

const byId = (/** @type {string} */ id) => /** @type {HTMLElement} */ (document.getElementById(id));
const input = (/** @type {string} */ id) => /** @type {HTMLInputElement} */ (byId(id));

export class Controls {
  /** @param {any} desk */
  constructor(desk) {
    this.desk = desk;
  }

  /**
   * Which ways what is picked may go; a place on the tape is walked along.
   * @returns {import("./picking.js").Freedom}
   */
  get free() {
    const { picked, shown } = this.desk;
    return picked.kind === "peg" ? { plane: false, along: true, level: false } : freedom(shown, picked);
  }

  /** @param {any} state */
  paint(state) {
    const { picked } = this.desk;
    const { plane, along, level } = this.free;
    become(byId("picked"), named(state, picked));
    for (const id of ["go-up", "go-down"]) byId(id).toggleAttribute("disabled", !plane && !level);
    for (const id of ["go-left", "go-right"]) byId(id).toggleAttribute("disabled", !plane && !along);
    byId("first-label").hidden = !plane && !along;
    byId("second-label").hidden = !plane && !level;
    byId("set").toggleAttribute("disabled", !plane && !along && !level);
    become(byId("first-name"), `${plane ? "east" : "at"}, ${unit("m")}`);
    become(byId("second-name"), `${plane ? "north" : "level"}, ${unit("m")}`);
    if (document.activeElement === byId("first") || document.activeElement === byId("second")) return;
    const [first, second] = plane ? this.desk.placeNow(picked) : [this.desk.chainage, level ? this.desk.levelNow(picked) : 0];
    for (const [id, at, places] of /** @type {const} */ ([["first", first, plane || picked.kind !== "peg" ? 3 : 2], ["second", second, 3]])) {
      padded(input(id), "m");
      fillIn(input(id), at, "m", places);
    }
  }

  /** What was typed is set. */
  async typed() {
    const { picked, link } = this.desk;
    const { plane, level } = this.free;
    const asked = [input("first"), input("second")].filter((each) => !(/** @type {HTMLElement} */ (each.parentElement)).hidden);
    const { amounts: typed, problems, wrong } = await amounts(asked);
    if (problems.length > 0) {
      this.desk.book.tell(inWords(problems));
      wrong?.focus();
      return;
    }
    // While Python read it, something else may have been picked.
    if (!same(this.desk.picked, picked)) return;
    const [first, second] = [input("first"), input("second")].map((each) => typed[asked.indexOf(each)] ?? Number(each.dataset.amount));
    if (picked.kind === "peg") this.desk.pickChainage(first);
    else this.desk.hand.type(first, plane || level ? second : levelOf(link.state, picked));
  }

  /**
   * What Undo would take back, in its whole length.
   * @param {any} state
   */
  settled(state) {
    const held = waiting();
    const what = held.length > 0 ? held[held.length - 1].says : state.undo;
    byId("takes-back").textContent = what ? `Undo takes back: ${what}` : "";
    byId("undo").title = what;
  }
}
