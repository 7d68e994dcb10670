// Pegs and lips that can be taken hold of: drawn 10 pixels, felt 44, the nearest wins. They stay the same elements
// from one answer to the next, so that the keyboard never loses its place.

import { draw } from "./svg.js";

const FELT = 24;

/**
 * @typedef {Object} Handle
 * @property {string} id
 * @property {number} x
 * @property {number} y
 * @property {string} words for who cannot see it
 * @property {boolean} picked
 */

export class Handles {
  /** @param {SVGElement} layer @param {(id: string) => void} pick */
  constructor(layer, pick) {
    this.layer = layer;
    this.pick = pick;
    /** @type {Handle[]} */
    this.all = [];
  }

  /** @param {Handle[]} handles in order downstream */
  place(handles) {
    if (handles.map(({ id }) => id).join() !== this.all.map(({ id }) => id).join()) {
      this.layer.replaceChildren(...handles.map(({ id }) => this.peg(id)));
    }
    this.all = handles;
    handles.forEach(({ x, y, words, picked }, i) => {
      const peg = this.layer.children[i];
      peg.setAttribute("transform", `translate(${x.toFixed(1)} ${y.toFixed(1)})`);
      peg.setAttribute("aria-label", words);
      peg.setAttribute("aria-pressed", String(picked));
    });
  }

  /** @param {string} id */
  peg(id) {
    const peg = draw("g", { class: "peg", tabindex: 0, role: "button", "data-id": id },
      draw("rect", { x: -14, y: -14, width: 28, height: 28, class: "ring" }),
      draw("rect", { x: -6, y: -6, width: 12, height: 12, class: "wood" }), draw("circle", { r: 1.8, class: "nail" }));
    peg.addEventListener("focus", () => this.pick(id));
    return peg;
  }

  /** The nearest handle that can be felt here. @param {number} x @param {number} y */
  nearest(x, y) {
    const away = (/** @type {Handle} */ handle) => Math.hypot(handle.x - x, handle.y - y);
    const [first] = [...this.all].sort((one, other) => away(one) - away(other));
    return first && away(first) <= FELT ? first : null;
  }

  /** @param {string} id */
  focus(id) {
    const place = this.all.findIndex((handle) => handle.id === id);
    const peg = /** @type {SVGElement | undefined} */ (this.layer.children[place]);
    peg?.focus({ preventScroll: true });
  }
}

/**
 * Let a drawing be dragged by its handles.
 * @param {SVGSVGElement} svg
 * @param {Handles} handles
 * @param {{start: (id: string) => void, move: (x: number, y: number) => void, end: () => void, press: (x: number, y: number) => void}} on
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
    handles.focus(found.id);
    on.start(found.id);
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
