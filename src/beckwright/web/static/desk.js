// The desk: one picked peg ties plan, tape, section, strip and book together. Numbers come from the server.

import { Book } from "./page.js";
import { chainageNear, stationAt } from "./course.js";
import { awaited, editsOf, moves, reachAbove, wordsOf } from "./edits.js";
import { Handles, draggable } from "./handles.js";
import { Link } from "./link.js";
import * as plan from "./plan.js";
import { waiting } from "./queue.js";
import { along, turned } from "./scale.js";
import { levelScale, section } from "./section.js";
import { heightScale, strip } from "./strip.js";
import { draw } from "./svg.js";
import { dropLine, tape } from "./tape.js";
import { metres } from "./words.js";
import { sorted } from "./book.js";

/** @typedef {import("./edits.js").Draft} Draft */

const PAUSE = 700;
const drawing = (/** @type {string} */ id) => /** @type {SVGSVGElement} */ (/** @type {unknown} */ (document.getElementById(id)));

class Desk {
  constructor() {
    this.link = new Link();
    this.book = new Book(this);
    this.svg = { plan: drawing("plan"), tape: drawing("tape"), section: drawing("section"), strip: drawing("strip") };
    this.layers = Object.fromEntries(Object.entries(this.svg).map(([name, svg]) => [name, layered(svg)]));
    this.points = new Handles(this.layers.plan.handles, (id) => this.pick("point", id));
    this.lips = new Handles(this.layers.section.handles, (id) => this.pick("lip", id));
    /** @type {any} the answer drawn now: the kept one, or a try */
    this.shown = null;
    this.flow = "";
    this.chainage = 0;
    /** @type {{kind: "point" | "lip" | "peg", id: string}} */
    this.picked = { kind: "peg", id: "" };
    /** @type {Draft | null} */
    this.draft = null;
    this.pause = 0;
    this.listen();
  }

  listen() {
    this.link.addEventListener("state", (event) => this.settled(/** @type {CustomEvent} */ (event).detail));
    this.link.addEventListener("tried", (event) => this.tried(/** @type {CustomEvent} */ (event).detail));
    draggable(this.svg.plan, this.points, {
      start: (id) => this.begin("point", id), move: (dx, dy) => this.dragPoint(dx, dy), end: () => this.release(),
      press: (x, y) => this.pickChainage(chainageNear(this.shown.course, this.turn.from([x, y]))),
    });
    draggable(this.svg.section, this.lips, {
      start: (id) => this.begin("lip", id), move: (dx, dy) => this.dragLip(dx, dy), end: () => this.release(),
      press: (x) => this.pickChainage(this.along.from(x)),
    });
    for (const svg of [this.svg.tape, this.svg.strip]) {
      svg.addEventListener("pointerdown", (event) => this.pickChainage(this.along.from(event.clientX - svg.getBoundingClientRect().left)));
    }
    document.addEventListener("keydown", (event) => this.key(event));
    new ResizeObserver(() => this.refit()).observe(this.svg.plan);
  }

  /** A kept answer: it is drawn, and what it changed is told. @param {{state: any, says: string}} detail */
  settled({ state, says }) {
    const before = this.shown;
    this.shown = state;
    this.draft = null;
    if (!state.flows.some((/** @type {any} */ flow) => flow.name === this.flow)) this.flow = state.flows[Math.min(1, state.flows.length - 1)].name;
    for (const layer of Object.values(this.layers)) layer.old.replaceChildren();
    if (!before) this.chainage = this.firstPlace(state);
    this.holdOn();
    if (!before || this.outgrown()) this.refit();
    else this.paint();
    this.book.settled(state, says, before);
  }

  /** What is picked may have moved, or gone. */
  holdOn() {
    const { kind, id } = this.picked;
    const { line, length } = this.shown.course;
    if (kind === "point" && line[Number(id)]) this.chainage = chainageNear(this.shown.course, line[Number(id)]);
    else if (kind === "lip" && this.lip(id)) this.chainage = this.lip(id).chainage;
    else {
      this.picked = { kind: "peg", id: "" };
      this.chainage = Math.min(this.chainage, length);
    }
  }

  /** Where the heaviest finding lies; without one, half-way. @param {any} state */
  firstPlace(state) {
    const found = sorted(state.findings).wanted.find((finding) => finding.chainage.length > 0);
    const middle = found ? (found.chainage[0] + found.chainage[found.chainage.length - 1]) / 2 : state.course.length / 2;
    return state.course.stations.chainage[stationAt(state.course, middle)];
  }

  /** An answer to a try, drawn while the hand still moves. @param {any} state */
  tried(state) {
    if (!this.draft) return;
    this.shown = state;
    if (this.picked.kind === "lip") this.chainage = this.lip(this.picked.id).chainage;
    else if (this.draft.kind === "point") this.chainage = chainageNear(state.course, this.draft.to);
    this.paint();
  }

  /** Whether the works have left the window of the plan or of the section. */
  outgrown() {
    const { width, height } = this.size("plan");
    const out = this.shown.course.smooth.some((/** @type {number[]} */ point) => {
      const [x, y] = this.turn.to(point);
      return x < 8 || y < 8 || x > width - 8 || y > height - 8;
    });
    const fresh = levelScale(this.shown, this.size("section").height);
    return out || Math.abs(fresh.low - this.level.low) > 0.3 || Math.abs(fresh.high - this.level.high) > 0.3;
  }

  /** Fit the scales to the windows. Never while something is dragged: the drawing would run away from the hand. */
  refit() {
    if (!this.shown || this.draft) return;
    const { width, height } = this.size("plan");
    if (width === 0) return;
    this.turn = turned(this.shown, width, height, width < 600 ? 0.5 : 0.9);
    this.level = levelScale(this.shown, this.size("section").height || 1);
    this.above = heightScale(this.shown, this.size("strip").height);
    this.layers.plan.base.replaceChildren(plan.ground(this.shown, this.turn, width), ...(width > 600 ? [plan.furniture(this.turn, width, height)] : []));
    this.paint();
  }

  /** @param {"plan" | "tape" | "section" | "strip"} name */
  size(name) {
    return { width: this.svg[name].clientWidth, height: this.svg[name].clientHeight };
  }

  /** Draw everything that an answer can change. */
  paint() {
    const state = this.shown;
    const { wanted } = sorted(this.book.own(state));
    const [onPlan, onTape, onSection, onStrip] = [this.size("plan"), this.size("tape"), this.size("section"), this.size("strip")];
    this.along = along(state.course.length, onTape.width, this.chainage);
    const x = this.along.to(this.chainage);
    const [px, py] = this.turn.to(this.pegPoint());
    this.layers.plan.works.replaceChildren(plan.works(state, this.turn, onPlan.width), ...plan.calls(wanted, state, this.turn, onPlan.width),
      dropLine(x, onPlan.height, [px, py]));
    this.layers.tape.works.replaceChildren(tape(this.along, onTape.width, onTape.height, state.course.length), this.flag(x, onTape.width));
    this.layers.section.works.replaceChildren(section(state, this.along, this.level, this.flow, onSection.width, onSection.height), dropLine(x, onSection.height));
    this.layers.strip.works.replaceChildren(strip(state, this.along, this.above, this.flow, onStrip.width, onStrip.height), dropLine(x, onStrip.height));
    this.placeHandles();
    this.book.paint(state);
  }

  pegPoint() {
    const { x, y } = this.shown.course.stations;
    const i = stationAt(this.shown.course, this.chainage);
    return this.picked.kind === "point" ? this.pointNow(Number(this.picked.id)) : [x[i], y[i]];
  }

  /** Edits that wait, as places. */
  awaited() {
    return awaited(waiting().flatMap(({ edits }) => edits), this.shown);
  }

  /** Where a point of the course is: under the hand, or where the last edit that waits will put it. @param {number} id */
  pointNow(id) {
    return this.draft?.kind === "point" && this.draft.id === id ? this.draft.to : this.awaited().point(id);
  }

  /** @param {number} x @param {number} width */
  flag(x, width) {
    const at = Math.min(Math.max(x, 34), width - 34);
    return draw("g", { class: "flag", transform: `translate(${at.toFixed(1)} 0)` },
      draw("rect", { x: -32, y: 2, width: 64, height: 20 }), draw("text", { y: 17 }, `${metres(this.chainage)} m`));
  }

  placeHandles() {
    const { line, lips } = this.shown.course;
    const isPicked = (/** @type {string} */ kind, /** @type {string} */ id) => this.picked.kind === kind && this.picked.id === id;
    this.points.place(line.map((/** @type {any} */ _, /** @type {number} */ i) => {
      const at = this.pointNow(i);
      const [x, y] = this.turn.to(at);
      return { id: String(i), x, y, picked: isPicked("point", String(i)), words: `Point ${i + 1} of the course, ${metres(chainageNear(this.shown.course, at))} m from the source` };
    }));
    this.lips.place(lips.filter((/** @type {any} */ lip) => lip.drop > 0).map((/** @type {any} */ lip) => ({
      id: lip.name, x: this.along.to(lip.chainage), y: this.level.to(this.awaited().crest(lip)), picked: isPicked("lip", lip.name),
      words: `${lip.name}, at ${metres(lip.chainage)} m, level ${metres(lip.crest, 3)}`,
    })));
  }

  /** @param {string} name */
  lip(name) {
    return this.shown.course.lips.find((/** @type {any} */ lip) => lip.name === name);
  }

  /** @param {"point" | "lip"} kind @param {string} id */
  pick(kind, id) {
    if (this.picked.kind === kind && this.picked.id === id) return;
    this.release();
    this.picked = { kind, id };
    this.chainage = kind === "lip" ? this.lip(id).chainage : chainageNear(this.shown.course, this.shown.course.line[Number(id)]);
    this.paint();
  }

  /** @param {number} chainage */
  pickChainage(chainage) {
    this.release();
    const { course } = this.shown;
    this.picked = { kind: "peg", id: "" };
    this.chainage = course.stations.chainage[stationAt(course, Math.min(Math.max(chainage, 0), course.length))];
    this.paint();
  }

  /** Take hold of a handle; the drawing as it stands stays behind as a hairline. @param {"point" | "lip"} kind @param {string} id @param {boolean} [level] */
  begin(kind, id, level = false) {
    this.pick(kind, id);
    if (kind === "point") {
      const at = this.pointNow(Number(id));
      this.draft = { kind, id: Number(id), from: at, to: at };
    } else if (level) {
      const from = this.awaited().crest(this.lip(id));
      this.draft = { kind: "level", id, from, to: from };
    }
    else this.draft = { kind: "slide", id, reach: reachAbove(this.shown, id), by: 0 };
    for (const name of ["plan", "section", "strip"]) {
      const { works, old } = this.layers[name];
      old.replaceChildren(works.cloneNode(true));
    }
  }

  /** @param {number} dx @param {number} dy pixels since the press */
  dragPoint(dx, dy) {
    if (this.draft?.kind !== "point") return;
    const [x, y] = this.turn.to(this.draft.from);
    this.draft.to = this.turn.from([x + dx, y + dy]);
    this.ask();
  }

  /** The first pixels settle whether a lip slides or rises. @param {number} dx @param {number} dy */
  dragLip(dx, dy) {
    if (this.draft?.kind === "slide" && this.draft.by === 0 && Math.abs(dy) > Math.abs(dx)) this.begin("lip", this.draft.id, true);
    if (this.draft?.kind === "slide") this.draft.by = Math.round((dx / this.along.each) * 100) / 100;
    else if (this.draft?.kind === "level") this.draft.to = Math.round((this.draft.from + dy * this.level.each) * 200) / 200;
    this.ask();
  }

  ask() {
    this.placeHandles();
    if (this.draft) this.link.attempt(editsOf(this.draft));
  }

  /** Let go: what moved is kept. */
  release() {
    window.clearTimeout(this.pause);
    const { draft } = this;
    if (!draft) return;
    if (moves(draft)) {
      this.draft = null;
      this.link.keep(editsOf(draft), wordsOf(draft));
    } else this.putBack();
  }

  /** Drop the draft and show what is kept. */
  putBack() {
    window.clearTimeout(this.pause);
    if (!this.draft) return;
    this.link.forget();
    this.settled({ state: this.link.state, says: "" });
  }

  /**
   * Move what is picked by steps, without dragging. Steps in quick succession are kept as one edit.
   * @param {number} right steps to the right, downstream
   * @param {number} up steps up the sheet
   * @param {number} step metres
   */
  nudge(right, up, step) {
    if (this.picked.kind === "peg") {
      this.walk(right);
      return;
    }
    const { kind, id } = this.picked;
    if (this.draft && kind === "lip" && (this.draft.kind === "level") !== (up !== 0)) this.release();
    if (!this.draft) this.begin(kind, id, up !== 0);
    const draft = /** @type {Draft} */ (this.draft);
    if (draft.kind === "point") {
      const [x, y] = this.turn.to(draft.to);
      draft.to = this.turn.from([x + right * step * this.turn.scale, y - up * step * this.turn.scale]);
    } else if (draft.kind === "slide") draft.by += right * step;
    else draft.to += up * step;
    this.ask();
    window.clearTimeout(this.pause);
    this.pause = window.setTimeout(() => this.release(), PAUSE);
  }

  /** Numbers typed in. @param {number} first @param {number} second */
  type(first, second) {
    const { kind, id } = this.picked;
    if (kind === "peg") {
      this.pickChainage(first);
      return;
    }
    this.release();
    if (kind === "point") {
      this.begin("point", id);
      Object.assign(/** @type {Draft} */ (this.draft), { to: [first, second] });
    } else {
      const lip = this.lip(id);
      const level = Math.abs(second - lip.crest) >= 0.0005;
      this.begin("lip", id, level);
      Object.assign(/** @type {Draft} */ (this.draft), level ? { to: second } : { by: first - lip.chainage });
    }
    this.release();
  }

  /** @param {string} flow */
  choose(flow) {
    this.flow = flow;
    this.paint();
  }

  /** @param {"undo" | "redo"} way */
  undo(way) {
    this.release();
    this.link.step(way);
  }

  /** To the next station. @param {number} way */
  walk(way) {
    const { chainage } = this.shown.course.stations;
    const next = way > 0 ? chainage.find((/** @type {number} */ at) => at > this.chainage + 1e-6)
      : chainage.findLast((/** @type {number} */ at) => at < this.chainage - 1e-6);
    if (next !== undefined) this.pickChainage(next);
  }

  /** @param {KeyboardEvent} event */
  key(event) {
    if (event.target instanceof HTMLInputElement || event.target instanceof HTMLSelectElement || !this.shown) return;
    const [right, up] = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[event.key] ?? [0, 0];
    const onDrawing = event.target instanceof SVGElement;
    if (onDrawing && (right || up)) {
      event.preventDefault();
      this.nudge(right, up, this.book.step * (event.shiftKey ? 5 : 1));
    } else if (event.key === "Escape") this.putBack();
    else if ((event.ctrlKey || event.metaKey) && event.key.toLowerCase() === "z") {
      event.preventDefault();
      this.undo(event.shiftKey ? "redo" : "undo");
    }
  }
}

/** Layers of a drawing from the back: what stands still, the old lines, the works, the handles. @param {SVGSVGElement} svg */
function layered(svg) {
  const layers = Object.fromEntries(["base", "old", "works", "handles"].map((name) => [name, draw("g", { class: name })]));
  svg.replaceChildren(...Object.values(layers));
  return layers;
}

const desk = new Desk();
desk.link.load();
