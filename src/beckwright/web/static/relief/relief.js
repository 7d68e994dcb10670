// The view in space: it is only looked at; what is changed is changed on the desk.

import { ask } from "../shared/ask.js";
import { Solids } from "../drawing/solid.js";
import { draw, label, make, through } from "../shared/svg.js";

const STEP = Math.PI / 12;
const COLOURS = {
  ground: "--earth-pale", bank: "--edge-pale", lining: "--second", bed: "--ruling", pit: "--earth", crates: "--second", held: "--water-mid",
  stem: "--earth", water: "--water-mid", contour: "--earth", edge: "--edge", hose: "--ink", boundary: "--second", service: "--mark", roots: "--edge",
};
const DASHED = ["roots", "boundary"];
const byId = (/** @type {string} */ id) => /** @type {HTMLElement} */ (document.getElementById(id));
const canvas = /** @type {HTMLCanvasElement} */ (byId("relief"));
const solids = new Solids(canvas);
/** @type {import("../drawing/solid.js").Look} */
const look = { turn: 0.6, tilt: 0.62, near: 20, about: [0, 0, 0], heights: 2 };
/** @type {any} */
let told = null;
let flow = "";

/** @param {string} name */
function colour(name) {
  const hex = getComputedStyle(document.documentElement).getPropertyValue(name).trim();
  return [1, 3, 5].map((at) => parseInt(hex.slice(at, at + 2), 16) / 255);
}

/** @param {string} kind */
const coloured = (kind) => colour(COLOURS[/** @type {keyof typeof COLOURS} */ (kind)]);

function build() {
  const here = (/** @type {number[][]} */ points) => points.map((point) => point.map((at, axis) => at - told.origin[axis]));
  solids.clear();
  for (const { kind, points, triangles } of [...told.solids, told.water[flow]]) solids.triangles(kind, here(points), triangles, coloured(kind));
  for (const { kind, points } of told.lines) solids.line(kind, here(points), coloured(kind), DASHED.includes(kind));
}

function paint() {
  const lifted = /** @type {HTMLInputElement} */ (byId("lifted")).checked;
  solids.draw(look, lifted ? ["ground", "contour"] : [], colour("--sheet"));
  const [x, y] = [Math.sin(look.turn) * 26, -Math.cos(look.turn) * 26 * Math.sin(look.tilt)];
  byId("needle").replaceChildren(draw("path", { d: through([[x, y], [y / 5, -x / 5], [-x / 3, -y / 3], [-y / 5, x / 5]], true), class: "needle" }),
    label(x * 1.35, y * 1.35 + 4, "N", "label strong middle"));
}

/** Show the whole stream and its pit. */
function fit() {
  const points = told.lines.filter((/** @type {any} */ each) => each.kind === "edge" || each.kind === "hose").flatMap((/** @type {any} */ each) => each.points);
  const ends = (/** @type {number} */ axis) => points.map((/** @type {number[]} */ point) => point[axis]);
  const spans = [0, 1, 2].map((axis) => [Math.min(...ends(axis)), Math.max(...ends(axis))]);
  look.about = spans.map(([low, high], axis) => (low + high) / 2 - told.origin[axis]);
  const line = told.lines.find((/** @type {any} */ each) => each.kind === "edge").points;
  const [first, last] = [line[0], line[line.length - 1]];
  // Water runs from left to right, as on every other sheet.
  look.turn = Math.atan2(last[1] - first[1], last[0] - first[0]);
  const wide = canvas.clientWidth / canvas.clientHeight;
  look.near = (Math.hypot(...spans.slice(0, 2).map(([low, high]) => high - low)) * 1.2) / Math.max(1, wide);
}

/** @type {Object<string, () => void>} */
const DOES = {
  left: () => { look.turn += STEP; }, right: () => { look.turn -= STEP; },
  higher: () => { look.tilt = Math.min(look.tilt + STEP / 2, Math.PI / 2); }, lower: () => { look.tilt = Math.max(look.tilt - STEP / 2, 0.05); },
  nearer: () => { look.near /= 1.25; }, farther: () => { look.near *= 1.25; },
};
/** @type {Object<string, string>} */
const KEYS = { ArrowLeft: "left", ArrowRight: "right", ArrowUp: "higher", ArrowDown: "lower", "+": "nearer", "=": "nearer", "-": "farther" };

/** @param {string} what */
function act(what) {
  DOES[what]();
  paint();
}

function listen() {
  for (const press of document.querySelectorAll("[data-do]")) press.addEventListener("click", () => act(press.getAttribute("data-do") ?? "left"));
  canvas.addEventListener("keydown", (event) => {
    if (!KEYS[event.key]) return;
    event.preventDefault();
    act(KEYS[event.key]);
  });
  /** @type {{x: number, y: number} | null} */
  let held = null;
  canvas.addEventListener("pointerdown", (event) => {
    held = { x: event.clientX, y: event.clientY };
    canvas.setPointerCapture(event.pointerId);
  });
  canvas.addEventListener("pointermove", (event) => {
    if (!held) return;
    look.turn -= (event.clientX - held.x) / 150;
    look.tilt = Math.min(Math.max(look.tilt + (event.clientY - held.y) / 200, 0.05), Math.PI / 2);
    held = { x: event.clientX, y: event.clientY };
    paint();
  });
  for (const end of ["pointerup", "pointercancel"]) canvas.addEventListener(end, () => { held = null; });
  byId("heights").addEventListener("change", (event) => {
    look.heights = Number(/** @type {HTMLSelectElement} */ (event.target).value);
    paint();
  });
  byId("lifted").addEventListener("change", paint);
  new ResizeObserver(paint).observe(canvas);
}

/** @param {string} name */
function choose(name) {
  flow = name;
  build();
  byId("flows").replaceChildren(...told.flows.map((/** @type {string} */ each) => {
    const press = make("button", "flow", each);
    press.setAttribute("type", "button");
    press.setAttribute("aria-pressed", String(each === flow));
    press.addEventListener("click", () => {
      choose(each);
      byId("flows").querySelector("[aria-pressed=true]")?.dispatchEvent(new Event("focus"));
    });
    return press;
  }));
  paint();
}

const { answer, problems } = await ask("GET", "/api/relief");
if (!solids.gl) byId("told").textContent = "This browser draws nothing in space. The desk shows the same in plan and section.";
else if (!answer) byId("told").textContent = `${problems[0].found}. ${problems[0].remedy}.`;
else {
  told = answer;
  fit();
  choose(told.flows[Math.min(1, told.flows.length - 1)]);
  listen();
  byId("told").textContent = `Revision ${told.revision}. Drag it, or press; water runs from left to right.`;
}
