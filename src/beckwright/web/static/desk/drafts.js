// What is under the hand: taken hold of, dragged or stepped, tried as it goes, kept when it is let go.

import { countsAnew, editsOf, moves, wholeOnes, wordsOf } from "./edits.js";
import { chainageOf, downstream, freedom, levelOf, place } from "./picking.js";
import { waiting } from "../shared/queue.js";

/** @typedef {import("./edits.js").Draft} Draft @typedef {import("./picking.js").Picked} Picked */

// Steps in quick succession are one edit: so long after the last it is kept.
const PAUSE = 700;

export class Drafts {
  /** @param {any} desk */
  constructor(desk) {
    this.desk = desk;
    /** @type {Draft | null} */
    this.draft = null;
    this.pause = 0;
  }

  /**
   * Take hold; the drawing as it stands stays behind as a hairline.
   * @param {Picked} thing @param {"plane" | "along" | "level"} [how]
   */
  begin(thing, how) {
    this.release();
    this.desk.pick(thing);
    const kept = this.desk.link.state;
    const free = freedom(kept, thing);
    const way = how ?? (free.plane ? "plane" : free.along ? "along" : "level");
    if (!free[way]) return;
    const draft = /** @type {Draft} */ (way === "plane"
      ? { how: way, picked: thing, from: place(kept, thing), to: place(kept, thing) }
      : { how: way, picked: thing, from: standing(kept, thing, way), to: standing(kept, thing, way) });
    const held = waiting();
    if (held.length > 0 && (wholeOnes(draft) || held.some(({ edits }) => countsAnew(edits)))) {
      this.desk.book.tell("What was changed before is not answered yet. Wait for it, then move this.");
      return;
    }
    this.draft = draft;
    this.desk.painting.leaveBehind();
  }

  /**
   * On the plan.
   * @param {number} dx @param {number} dy pixels since the press
   */
  dragOnPlan(dx, dy) {
    const { turn } = this.desk.painting;
    const { draft } = this;
    if (draft?.how === "plane") {
      const [x, y] = turn.to(draft.from);
      draft.to = turn.from([x + dx, y + dy]);
    } else if (draft?.how === "along") {
      const { course } = this.desk.link.state;
      const [[x0, y0], [x1, y1]] = [turn.to([0, 0]), turn.to(downstream(course, draft.from))];
      draft.to = this.inside(draft.from + (dx * (x1 - x0) + dy * (y1 - y0)) / turn.scale ** 2);
    }
    this.ask();
  }

  /**
   * In the section or the strip: the first pixels settle whether a thing that may do both slides or rises.
   * @param {number} dx @param {number} dy
   */
  dragAlong(dx, dy) {
    const { along, upright } = this.desk.painting;
    if (this.draft?.how === "along" && this.draft.to === this.draft.from && Math.abs(dy) > Math.abs(dx) && freedom(this.desk.link.state, this.draft.picked).level) {
      const { picked } = this.draft;
      this.draft = null;
      this.begin(picked, "level");
    }
    if (this.draft?.how === "along") this.draft.to = this.inside(this.draft.from + dx / along.each);
    else if (this.draft?.how === "level") this.draft.to = this.draft.from + dy / upright.each;
    this.ask();
  }

  /** @param {number} chainage */
  inside(chainage) {
    return Math.min(Math.max(chainage, 0), this.desk.link.state.course.length);
  }

  ask() {
    // The answer is worked out while what is under the hand is drawn.
    if (this.draft) this.desk.link.attempt(editsOf(this.draft, this.desk.link.state));
    this.desk.painting.placeHandles();
  }

  /** Let go: what moved is kept. */
  release() {
    window.clearTimeout(this.pause);
    const { draft, desk } = this;
    if (!draft) return;
    if (moves(draft)) {
      this.draft = null;
      desk.link.keep(editsOf(draft, desk.link.state), wordsOf(draft, desk.link.state));
    } else this.putBack();
  }

  /** Drop the draft and show what is kept. */
  putBack() {
    window.clearTimeout(this.pause);
    if (!this.draft) return;
    this.desk.link.forget();
    this.desk.settled({ state: this.desk.link.state, says: "" });
  }

  /**
   * Move what is picked by steps, without dragging. Steps in quick succession are kept as one edit.
   * @param {number} right steps to the right, downstream
   * @param {number} up steps up the sheet
   * @param {number} step metres
   */
  nudge(right, up, step) {
    const { picked } = this.desk;
    const free = freedom(this.desk.link.state, picked);
    const way = free.plane ? "plane" : up ? "level" : "along";
    if (!free[way]) return;
    if (this.draft && this.draft.how !== way) this.release();
    if (!this.draft) this.begin(picked, way);
    const { draft } = this;
    if (!draft) return;
    if (draft.how === "plane") {
      const { turn } = this.desk.painting;
      const [x, y] = turn.to(draft.to);
      draft.to = turn.from([x + right * step * turn.scale, y - up * step * turn.scale]);
    } else draft.to += (draft.how === "along" ? right : up) * step;
    this.ask();
    window.clearTimeout(this.pause);
    this.pause = window.setTimeout(() => this.release(), PAUSE);
  }

  /**
   * Numbers typed in: east and north, or chainage and level; of the last two the level counts where it is another.
   * @param {number} first @param {number} second
   */
  type(first, second) {
    this.release();
    const { picked, link } = this.desk;
    const free = freedom(link.state, picked);
    const rises = free.level && Math.abs(second - levelOf(link.state, picked)) >= 0.0005;
    this.begin(picked, free.plane ? "plane" : rises ? "level" : "along");
    if (this.draft?.how === "plane") this.draft.to = [first, second];
    else if (this.draft) this.draft.to = rises ? second : first;
    this.release();
  }
}

/** @param {any} state @param {Picked} thing @param {"along" | "level"} way */
const standing = (state, thing, way) => (way === "along" ? chainageOf(state, thing) : levelOf(state, thing));
