// Things that can be taken hold of: drawn 10 pixels, felt 44, the nearest wins. They stay the same elements
// from one answer to the next, so that the keyboard never loses its place.

import { same } from "./picking.js";
import { SHAPES } from "../drawing/shapes.js";
import { draw } from "../shared/svg.js";

export const FELT = 24;
// Where two lie on one another, what is picked already is a little nearer.
const HELD = 3;

/**
 * @typedef {import("./picking.js").Picked} Picked
 * @typedef {Object} Handle
 * @property {Picked} thing
 * @property {string} shape
 * @property {number} x
 * @property {number} y
 * @property {string} words for who cannot see it
 * @property {boolean} picked
 * @property {number} turned degrees, clockwise
 */

export class Handles {
  /** @param {SVGElement} layer @param {(thing: Picked) => void} pick */
  constructor(layer, pick) {
    this.layer = layer;
    this.pick = pick;
    /** @type {Handle[]} */
    this.all = [];
    /** @type {Map<string, SVGElement>} */
    this.made = new Map();
  }

  /** @param {Handle[]} handles in the order the keyboard walks them */
  place(handles) {
    const wanted = handles.map(({ thing, shape }) => `${shape} ${thing.id}`);
    const others = wanted.join("\n") !== [...this.made.keys()].join("\n");
    if (others) this.make(handles, wanted);
    const before = others ? [] : this.all;
    this.all = handles;
    handles.forEach((handle, i) => put(this.layer.children[i], handle, before[i]));
  }

  /**
   * Those that stay keep their element, and with it the keyboard's place.
   * @param {Handle[]} handles @param {string[]} wanted
   */
  make(handles, wanted) {
    const before = this.made;
    this.made = new Map(handles.map(({ thing, shape }, i) => [wanted[i], before.get(wanted[i]) ?? this.handle(thing, shape)]));
    for (const [key, element] of before) if (!this.made.has(key)) element.remove();
    let next = this.layer.firstElementChild;
    for (const element of this.made.values()) {
      if (element === next) next = next.nextElementSibling;
      else this.layer.insertBefore(element, next);
    }
  }

  /** @param {Picked} thing @param {string} shape */
  handle(thing, shape) {
    const made = draw("g", { class: `handle ${shape}`, tabindex: 0, role: "button", "data-id": thing.id },
      draw("rect", { x: -14, y: -14, width: 28, height: 28, class: "ring" }), ...SHAPES[shape]());
    made.addEventListener("focus", () => this.pick(thing));
    return made;
  }

  /**
   * The nearest handle that can be felt here. A spot is none: the next press may mean another close by.
   * @param {number} x @param {number} y
   */
  nearest(x, y) {
    const away = (/** @type {Handle} */ handle) => Math.hypot(handle.x - x, handle.y - y) - (handle.picked ? HELD : 0);
    /** @type {Handle | null} */
    let found = null;
    for (const handle of this.all) if (handle.shape !== "spot" && away(handle) <= (found ? away(found) - 1e-9 : FELT)) found = handle;
    return found;
  }

  /** @param {Picked} thing */
  focus(thing) {
    const place = this.all.findIndex((handle) => same(handle.thing, thing));
    const made = /** @type {SVGElement | undefined} */ (this.layer.children[place]);
    made?.focus({ preventScroll: true });
  }
}

/**
 * Nothing is written that stands already: every writing makes the browser look again.
 * @param {Element} made @param {Handle} handle @param {Handle} [before]
 */
function put(made, { x, y, words, picked, turned }, before) {
  if (before?.x !== x || before.y !== y || before.turned !== turned) {
    made.setAttribute("transform", `translate(${x.toFixed(1)} ${y.toFixed(1)})${turned ? ` rotate(${turned.toFixed(0)})` : ""}`);
  }
  if (before?.words !== words) made.setAttribute("aria-label", words);
  if (before?.picked !== picked) made.setAttribute("aria-pressed", String(picked));
}

/**
 * Let a drawing be dragged by its handles.
 * @param {SVGSVGElement} svg
 * @param {Handles} handles
 * @param {{start: (thing: Picked) => void, move: (x: number, y: number) => void, end: () => void, press: (x: number, y: number) => void}} on
 *   ``move`` tells how far the pointer went since it went down
 */
export function draggable(svg, handles, on) {
  /** @type {{id: number, x: number, y: number, moved: boolean} | null} */
  let held = null;
  svg.addEventListener("pointerdown", (event) => {
    if (event.button !== 0) return;
    const box = svg.getBoundingClientRect();
    const found = handles.nearest(event.clientX - box.left, event.clientY - box.top);
    if (!found) {
      on.press(event.clientX - box.left, event.clientY - box.top);
      return;
    }
    event.preventDefault();
    svg.setPointerCapture(event.pointerId);
    held = { id: event.pointerId, x: event.clientX, y: event.clientY, moved: false };
    handles.focus(found.thing);
    on.start(found.thing);
  });
  svg.addEventListener("pointermove", (event) => {
    if (!held || event.pointerId !== held.id) return;
    const [dx, dy] = [event.clientX - held.x, event.clientY - held.y];
    held.moved = held.moved || Math.hypot(dx, dy) > 3;
    if (held.moved) on.move(dx, dy);
  });
  const drop = (/** @type {PointerEvent} */ event) => {
    if (!held || event.pointerId !== held.id) return;
    held = null;
    on.end();
  };
  svg.addEventListener("pointerup", drop);
  svg.addEventListener("pointercancel", drop);
}
