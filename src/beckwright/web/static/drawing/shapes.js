// What can be taken hold of looks like the thing on the slope: peg and nail, outlet box, slab, board, basin, coupling, crate.

import { draw } from "../shared/svg.js";

const wood = (/** @type {string} */ d) => draw("path", { d, class: "wood" });
const mark = (/** @type {string} */ d) => draw("path", { d, class: "mark" });

/** @type {Record<string, () => SVGElement[]>} */
export const SHAPES = {
  peg: () => [draw("rect", { x: -6, y: -6, width: 12, height: 12, class: "wood" }), draw("circle", { r: 1.8, class: "nail" })],
  // The outlet box: the source peg stands in its open side.
  "peg source": () => [mark("M2 -10H-10V10H2"), draw("rect", { x: -6, y: -6, width: 12, height: 12, class: "wood" }), draw("circle", { r: 1.8, class: "nail" })],
  // A slab laid level, seen from the side.
  slab: () => [wood("M-10 -3.5H10L8 3.5H-8Z")],
  // The same slab from above, across the stream.
  "slab across": () => [wood("M-3.5 -9H3.5V9H-3.5Z")],
  // The end of a reach: a board on edge.
  board: () => [wood("M-2.5 -8H2.5V8H-2.5Z"), mark("M-6 8H6")],
  // The lower end: a level as drawings mark it, its tip on the bed.
  toe: () => [wood("M-8 -11H8L0 0Z"), mark("M-10 0H10")],
  // A pool: a basin.
  basin: () => [wood("M-9 -4H9C9 3 5 6 0 6S-9 3 -9 -4Z")],
  // A sill: a board driven in to its point.
  sill: () => [wood("M-4 -8H4V3L0 9L-4 3Z")],
  // A hose coupling; one of its points is the coupling's collar alone.
  coupling: () => [wood("M-8 -4H8V4H-8Z"), mark("M-8 -7V7M8 -7V7M0 -4V4")],
  collar: () => [wood("M-3.5 -6H3.5V6H-3.5Z"), mark("M-3.5 0H3.5")],
  // A place between two of its points, where one may go in.
  spot: () => [mark("M-7 0H7M0 -7V7")],
  // A void crate.
  crate: () => [wood("M-8 -8H8V8H-8Z"), mark("M-8 -8L8 8M8 -8L-8 8")],
};
