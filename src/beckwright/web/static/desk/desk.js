// The desk: one picked thing ties plan, tape, section, strip and book together. Numbers come from the server.

import { sorted } from "./book.js";
import { Controls } from "./controls.js";
import { countsAnew } from "./edits.js";
import { chainageNear, stationAt } from "../drawing/course.js";
import { Drafts } from "./drafts.js";
import { FELT, draggable } from "./handles.js";
import { hoseUnder } from "./hose.js";
import { Link } from "./link.js";
import { Book } from "./page.js";
import { Painting } from "./painting.js";
import { PEG, chainageOf, levelOf, place, same, stands } from "./picking.js";
import { Shaping } from "./shaping.js";
import { Tour } from "./tour.js";
import { waiting } from "../shared/queue.js";
import { showUnits, tellIn } from "../shared/words.js";

/** @typedef {import("./picking.js").Picked} Picked */

class Desk {
  constructor() {
    this.link = new Link();
    this.hand = new Drafts(this);
    /** @type {any} the answer drawn now: the kept one, or a try */
    this.shown = null;
    this.flow = "";
    this.chainage = 0;
    /** @type {Picked} */
    this.picked = PEG;
    this.controls = new Controls(this);
    this.shaping = new Shaping(this);
    this.book = new Book(this);
    this.painting = new Painting(this);
    this.listen();
  }

  listen() {
    const { svg, handles } = this.painting;
    this.link.addEventListener("state", (event) => this.settled(/** @type {CustomEvent} */ (event).detail));
    this.link.addEventListener("moved", (event) => this.hand.draft && event.preventDefault());
    this.link.addEventListener("tried", (event) => this.tried(/** @type {CustomEvent} */ (event).detail));
    const hold = { start: (/** @type {Picked} */ thing) => this.hand.begin(thing), end: () => this.hand.release() };
    draggable(svg.plan, handles.plan, {
      ...hold, move: (dx, dy) => this.hand.dragOnPlan(dx, dy),
      press: (x, y) => this.press(x, y),
    });
    for (const side of /** @type {const} */ (["section", "strip"])) {
      draggable(svg[side], handles[side], { ...hold, move: (dx, dy) => this.hand.dragAlong(dx, dy), press: (x) => this.pickChainage(this.painting.along.from(x)) });
    }
    svg.tape.addEventListener("pointerdown", (event) => this.pickChainage(this.painting.along.from(event.clientX - svg.tape.getBoundingClientRect().left)));
    document.addEventListener("keydown", (event) => this.key(event));
  }

  /**
   * A kept answer: it is drawn, and what it changed is told.
   * @param {{state: any, says: string}} detail
   */
  settled({ state, says }) {
    tellIn(state.units_told);
    showUnits();
    const before = this.shown;
    this.shown = state;
    this.hand.draft = null;
    if (!state.flows.some((/** @type {any} */ flow) => flow.name === this.flow)) this.flow = state.flows[Math.min(1, state.flows.length - 1)].name;
    this.painting.clearOld();
    if (!before) this.chainage = this.firstPlace(state);
    this.holdOn();
    if (!before || this.painting.outgrown()) this.painting.refit();
    else this.paint();
    this.book.settled(state, says, before);
    this.controls.settled(state);
  }

  /** What is picked may have moved, or gone. */
  holdOn() {
    if (!stands(this.shown, this.picked)) this.picked = PEG;
    this.chainage = this.picked.kind === "peg" ? Math.min(this.chainage, this.shown.course.length) : chainageOf(this.shown, this.picked);
  }

  /**
   * Where the heaviest finding lies; without one, half-way.
   * @param {any} state
   */
  firstPlace(state) {
    const found = sorted(state.findings).wanted.find((finding) => finding.chainage.length > 0);
    const middle = found ? (found.chainage[0] + found.chainage[found.chainage.length - 1]) / 2 : state.course.length / 2;
    return state.course.stations.chainage[stationAt(state.course, middle)];
  }

  /**
   * An answer to a try, drawn while the hand still moves.
   * @param {any} state
   */
  tried(state) {
    if (!this.hand.draft) return;
    this.shown = { ...this.link.state, ...state, tried: true };
    this.holdOn();
    this.paint();
  }

  paint() {
    if (!this.painting.turn) return;
    this.painting.paint();
    this.book.paint(this.shown);
    this.shaping.paint();
  }

  /**
   * The draft on a thing, where it has one that goes this way.
   * @param {Picked} thing @param {string} how
   */
  draftOf(thing, how) {
    const { draft } = this.hand;
    return draft && draft.how === how && same(draft.picked, thing) ? draft : null;
  }

  /**
   * Where a point is: under the hand, or where the last edit that waits will put it.
   * @param {Picked} thing
   */
  placeNow(thing) {
    return this.draftOf(thing, "plane")?.to ?? place(this.shown, thing);
  }

  /** @param {Picked} thing */
  chainageNow(thing) {
    return this.draftOf(thing, "along")?.to ?? chainageOf(this.shown, thing);
  }

  /** @param {Picked} thing */
  levelNow(thing) {
    return this.draftOf(thing, "level")?.to ?? levelOf(this.shown, thing);
  }

  /** @param {Picked} thing */
  pick(thing) {
    if (same(this.picked, thing) || !stands(this.shown, thing)) return;
    this.hand.release();
    this.picked = thing;
    this.chainage = chainageOf(this.shown, thing);
    this.paint();
  }

  /** @param {number} chainage */
  pickChainage(chainage) {
    this.hand.release();
    const { course } = this.shown;
    this.picked = PEG;
    this.chainage = course.stations.chainage[stationAt(course, Math.min(Math.max(chainage, 0), course.length))];
    this.paint();
  }

  /**
   * On the plan, off everything that can be taken hold of: a place on the hose once that is picked, else one on the tape.
   * @param {number} x @param {number} y pixels
   */
  press(x, y) {
    const { turn } = this.painting;
    const hose = this.picked.kind === "hose" || this.picked.kind === "place";
    const found = hose ? hoseUnder(this.shown, turn, [x, y], FELT) : null;
    if (found) this.pick(found);
    else this.pickChainage(chainageNear(this.shown.course, turn.from([x, y])));
  }

  /** @param {number} right @param {number} up @param {number} step */
  nudge(right, up, step) {
    if (this.picked.kind === "peg") this.walk(right);
    else this.hand.nudge(right, up, step);
  }

  /**
   * Put in, take out, turn, resize: kept at once, and what is picked stays a place.
   * @param {any[]} edits @param {string} says @param {boolean} [counts] whether numbers of points or reaches change
   * @param {Picked} [then] what is picked where they do
   */
  reshape(edits, says, counts = false, then = PEG) {
    this.hand.release();
    if (counts && waiting().some((held) => countsAnew(held.edits))) {
      this.book.tell("What was put in or taken out before is not answered yet. Wait for it, then press again.");
      return;
    }
    if (counts) this.picked = then;
    this.link.keep(edits, says);
  }

  /** @param {string} flow */
  choose(flow) {
    this.flow = flow;
    this.paint();
  }

  /** @param {"undo" | "redo"} way */
  undo(way) {
    this.hand.release();
    this.link.step(way);
  }

  /**
   * To the next station.
   * @param {number} way
   */
  walk(way) {
    const { chainage } = this.shown.course.stations;
    const next = way > 0 ? chainage.find((/** @type {number} */ at) => at > this.chainage + 1e-6)
      : chainage.findLast((/** @type {number} */ at) => at < this.chainage - 1e-6);
    if (next !== undefined) this.pickChainage(next);
  }

  /** @param {KeyboardEvent} event */
  key(event) {
    if (!this.shown) return;
    if (event.key === "Escape") {
      if (this.hand.draft) this.hand.putBack();
      else this.shaping.close();
    }
    if (event.target instanceof HTMLInputElement || event.target instanceof HTMLSelectElement) return;
    const [right, up] = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[event.key] ?? [0, 0];
    if (event.target instanceof SVGElement && (right || up)) {
      event.preventDefault();
      this.nudge(right, up, this.book.step * (event.shiftKey ? 5 : 1));
    } else if ((event.ctrlKey || event.metaKey) && event.key.toLowerCase() === "z") {
      event.preventDefault();
      this.undo(event.shiftKey ? "redo" : "undo");
    }
  }
}

const desk = new Desk();
desk.link.load();
new Tour(desk);
// Another page of this browser has brought a new survey.
new BroadcastChannel("beckwright survey").addEventListener("message", () => desk.link.load());
