// The four drawings of the desk: their layers, their scales, what can be taken hold of on them.

import { sorted } from "./book.js";
import { pointAt, stationAt } from "../drawing/course.js";
import { Handles } from "./handles.js";
import { placed, placedOnPlan } from "./holds.js";
import * as plan from "../drawing/plan.js";
import { along, turned } from "../drawing/scale.js";
import { levelScale, section } from "../drawing/section.js";
import { heightScale, strip } from "../drawing/strip.js";
import { become, sketch } from "../shared/sketch.js";
import { draw } from "../shared/svg.js";
import { dropLine, tape } from "../drawing/tape.js";
import { metres, unit } from "../shared/words.js";

const NAMES = /** @type {const} */ (["plan", "tape", "section", "strip"]);
const drawing = (/** @type {string} */ id) => /** @type {SVGSVGElement} */ (/** @type {unknown} */ (document.getElementById(id)));

/** @typedef {typeof NAMES[number]} Name */

export class Painting {
  /** @param {any} desk */
  constructor(desk) {
    this.desk = desk;
    this.svg = /** @type {Record<Name, SVGSVGElement>} */ (Object.fromEntries(NAMES.map((name) => [name, drawing(name)])));
    this.layers = /** @type {Record<Name, Record<string, SVGElement>>} */ (Object.fromEntries(NAMES.map((name) => [name, layered(this.svg[name])])));
    /** @type {Record<Name, {width: number, height: number}>} read once for each window: reading makes the browser lay out */
    this.sizes = { plan: { width: 0, height: 0 }, tape: { width: 0, height: 0 }, section: { width: 0, height: 0 }, strip: { width: 0, height: 0 } };
    // Scales stand once there is an answer and a window to fit it in.
    this.turn = /** @type {import("../drawing/scale.js").Turn} */ (/** @type {unknown} */ (null));
    this.level = this.above = this.along = /** @type {ReturnType<typeof along>} */ (/** @type {unknown} */ (null));
    const held = (/** @type {"plan" | "section" | "strip"} */ name) => new Handles(this.layers[name].handles, (thing) => desk.pick(thing));
    this.handles = { plan: held("plan"), section: held("section"), strip: held("strip") };
    new ResizeObserver(() => this.refit()).observe(this.svg.plan);
  }

  /** Where levels are taken hold of: the section, and on a narrow screen, which has none, the strip. */
  get side() {
    return this.sizes.section.width > 0 ? /** @type {const} */ ("section") : /** @type {const} */ ("strip");
  }

  /** Scale upward of that drawing. */
  get upright() {
    return this.side === "section" ? this.level : this.above;
  }

  /** Whether the works have left the window of the plan or of the section. */
  outgrown() {
    const { width, height } = this.sizes.plan;
    const state = this.desk.shown;
    const out = [...state.course.smooth, ...state.reservoir.corners, ...state.hose.line].some((/** @type {number[]} */ point) => {
      const [x, y] = this.turn.to(point);
      return x < 8 || y < 8 || x > width - 8 || y > height - 8;
    });
    const fresh = levelScale(state, this.sizes.section.height);
    return out || Math.abs(fresh.low - this.level.low) > 0.3 || Math.abs(fresh.high - this.level.high) > 0.3;
  }

  /** Fit the scales to the windows. Never while something is dragged: the drawing would run away from the hand. */
  refit() {
    const { shown, hand } = this.desk;
    for (const name of NAMES) this.sizes[name] = { width: this.svg[name].clientWidth, height: this.svg[name].clientHeight };
    const { width, height } = this.sizes.plan;
    if (!shown || hand.draft || width === 0) return;
    this.turn = turned(shown, width, height, width < 600 ? 0.7 : 0.9);
    this.level = levelScale(shown, this.sizes.section.height || 1);
    this.above = heightScale(shown, this.sizes.strip.height);
    become(this.layers.plan.base, plan.ground(shown, this.turn, width), ...(width > 600 ? [plan.furniture(this.turn, width, height)] : []));
    this.desk.paint();
  }

  /** Draw everything that an answer can change. */
  paint() {
    const { shown: state, flow, chainage } = this.desk;
    const { wanted } = sorted(this.desk.book.own(state));
    const { plan: onPlan, tape: onTape, section: onSection, strip: onStrip } = this.sizes;
    this.along = along(state.course.length, onTape.width, chainage);
    const x = this.along.to(chainage);
    become(this.layers.plan.works, plan.works(state, this.turn, onPlan.width), ...plan.calls(wanted, state, this.turn, onPlan.width),
      dropLine(x, onPlan.height, this.turn.to(this.pegPoint())));
    become(this.layers.tape.works, tape(this.along, onTape.width, onTape.height, state.course.length), this.flag(x, onTape.width));
    if (this.side === "section") {
      become(this.layers.section.works, section(state, this.along, this.level, flow, onSection.width, onSection.height), dropLine(x, onSection.height));
    }
    become(this.layers.strip.works, strip(state, this.along, this.above, flow, onStrip.width, onStrip.height), dropLine(x, onStrip.height));
    this.placeHandles();
  }

  pegPoint() {
    const { shown, picked, chainage } = this.desk;
    return picked.kind === "point" || picked.kind === "place" ? this.desk.placeNow(picked) : pointAt(shown.course, shown.course.stations.chainage[stationAt(shown.course, chainage)]);
  }

  /** @param {number} x @param {number} width */
  flag(x, width) {
    const at = Math.min(Math.max(x, 34), width - 34);
    return sketch("g", { class: "flag", transform: `translate(${at.toFixed(1)} 0)` },
      sketch("rect", { x: -32, y: 2, width: 64, height: 20 }), sketch("text", { y: 17 }, `${metres(this.desk.chainage)} ${unit("m")}`));
  }

  placeHandles() {
    this.handles.plan.place(placedOnPlan(this.desk, this.turn));
    const along = placed(this.desk, this.along, this.side === "section" ? this.level : null, this.above, this.sizes[this.side].width);
    for (const side of /** @type {const} */ (["section", "strip"])) this.handles[side].place(side === this.side ? along : []);
  }

  /** The lines as they stand stay as hairlines while the hand moves. */
  leaveBehind() {
    for (const name of /** @type {const} */ (["plan", "section", "strip"])) {
      const { works, old } = this.layers[name];
      old.replaceChildren(works.cloneNode(true));
    }
  }

  clearOld() {
    for (const layer of Object.values(this.layers)) layer.old.replaceChildren();
  }
}

/**
 * Layers of a drawing from the back: what stands still, the old lines, the works, the handles.
 * @param {SVGSVGElement} svg
 */
function layered(svg) {
  const layers = Object.fromEntries(["base", "old", "works", "handles"].map((name) => [name, draw("g", { class: name })]));
  const { base, ...moving } = layers;
  svg.replaceChildren(...Object.values(moving));
  // What stands still lies in a picture of its own behind: painted once, not again at each step of a hand.
  const behind = /** @type {SVGElement} */ (draw("svg", { class: "behind", "aria-hidden": "true" }, base));
  svg.before(behind);
  return layers;
}
