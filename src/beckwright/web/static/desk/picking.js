// What can be picked on the desk, where it stands, and which ways it may go. Reads an answer; changes nothing.

import { chainageNear, pointAt, stationAt } from "../drawing/course.js";
import { awaited } from "./awaited.js";
import { onHose, stretchOf } from "./hose.js";
import { waiting } from "../shared/queue.js";
import { metres, unit } from "../shared/words.js";

/**
 * A picked thing. ``id`` is a number from 0 for points and reaches, a name for lips, "reach.number" for sills;
 * "stretch share" for a
 * place between two points of the hose; empty for the reservoir, the lower end, the hose as a whole and a place on the tape.
 * @typedef {{kind: "peg" | "point" | "hose" | "place" | "reservoir" | "lip" | "end" | "foot" | "pool" | "sill", id: string}} Picked
 * @typedef {{plane: boolean, along: boolean, level: boolean}} Freedom
 */

export const PEG = /** @type {Picked} */ ({ kind: "peg", id: "" });
const FIXED = { plane: false, along: false, level: false };

/** @param {Picked} one @param {Picked} other */
export const same = (one, other) => one.kind === other.kind && one.id === other.id;

/**
 * Edits that wait, as places.
 * @param {any} state
 */
const waits = (state) => awaited(waiting().flatMap(({ edits }) => edits), state);

/** @param {any} state @param {string} name */
export const lipCalled = (state, name) => state.course.lips.find((/** @type {any} */ lip) => lip.name === name);

/** @param {any} state @param {Picked} picked */
export function stands(state, { kind, id }) {
  const { line, reaches } = state.course;
  switch (kind) {
    case "peg": case "reservoir": case "foot": return true;
    case "point": return Number(id) < line.length;
    case "hose": return state.hose.line.length > 0 && Number(id || 0) < state.hose.line.length;
    case "place": return stretchOf(id)[0] + 1 < state.hose.line.length;
    case "lip": return Boolean(lipCalled(state, id));
    case "sill": return sillAt(state, id) !== undefined;
    case "pool": return reaches[Number(id)]?.kind === "pool";
    default: return ends(state).includes(Number(id));
  }
}

/** @param {any} state @param {string} id @returns {number | undefined} its chainage */
export function sillAt(state, id) {
  const [reach, sill] = id.split(".").map(Number);
  return state.course.reaches[reach]?.sills?.[sill];
}

/**
 * Reaches whose lower end is no lip: it may slide, and where something falls on both sides, rise.
 * @param {any} state @returns {number[]}
 */
export function ends(state) {
  const { reaches } = state.course;
  return reaches.flatMap((/** @type {any} */ reach, /** @type {number} */ i) =>
    i + 1 < reaches.length && reach.kind !== "step" && reaches[i + 1].kind !== "step" ? [i] : []);
}

/**
 * The reaches that fall next above and below the end of one.
 * @param {any} state @param {number} end
 */
export function fallsBeside(state, end) {
  const falls = state.course.reaches.map((/** @type {any} */ reach) => reach.kind !== "pool");
  return { above: falls.lastIndexOf(true, end), below: falls.indexOf(true, end + 1) };
}

/** @param {any} state @param {Picked} picked @returns {Freedom} */
export function freedom(state, { kind, id }) {
  const { reaches } = state.course;
  const number = Number(id);
  if (kind === "point" || kind === "reservoir" || (kind === "hose" && id !== "")) return { ...FIXED, plane: true };
  if (kind === "lip") {
    const step = reaches.findIndex((/** @type {any} */ reach) => reach.kind === "step" && reach.name === id);
    return { ...FIXED, along: step > 0 && step + 1 < reaches.length, level: true };
  }
  if (kind === "end") {
    const { above, below } = fallsBeside(state, number);
    return { ...FIXED, along: true, level: above >= 0 && below >= 0 };
  }
  if (kind === "foot") return { ...FIXED, level: true };
  if (kind === "pool") return { ...FIXED, along: number > 0 && number + 1 < reaches.length };
  return { ...FIXED, along: kind === "sill" };
}

/**
 * Where something that moves freely stands: where the last edit that waits will put it.
 * @param {any} state @param {Picked} picked @returns {[number, number]}
 */
export function place(state, { kind, id }) {
  const at = waits(state);
  if (kind === "point") return at.point(Number(id));
  if (kind === "place") return onHose(state, id);
  return kind === "hose" ? at.hose(Number(id)) : at.reservoir();
}

/**
 * Chainage of whatever is picked.
 * @param {any} state @param {Picked} picked @returns {number}
 */
export function chainageOf(state, { kind, id }) {
  const { course } = state;
  const reach = course.reaches[Number(id)];
  // A try answers with what waits made in it already.
  const slid = (/** @type {number} */ end) => (state.tried ? 0 : waits(state).slid(end));
  switch (kind) {
    case "point": return chainageNear(course, course.line[Number(id)]);
    case "hose": return chainageNear(course, state.hose.line[id === "" ? Math.floor(state.hose.line.length / 2) : Number(id)]);
    case "place": return chainageNear(course, onHose(state, id));
    case "lip": return lipCalled(state, id).chainage + slid(reachAbove(state, id));
    case "end": return reach.end + slid(Number(id));
    case "pool": return (reach.start + reach.end) / 2 + slid(Number(id) - 1);
    case "sill": return Number(sillAt(state, id));
    default: return course.length;
  }
}

/**
 * Level of a lip, of the bed at the lower end, or at the end of a reach.
 * @param {any} state @param {Picked} picked @returns {number}
 */
export function levelOf(state, picked) {
  if (picked.kind === "lip") return waits(state).crest(lipCalled(state, picked.id));
  const { reaches, stations: { rim } } = state.course;
  if (picked.kind === "foot") return waits(state).foot(reaches[reaches.length - 1].bed_end);
  return rim[stationAt(state.course, picked.kind === "peg" ? 0 : chainageOf(state, picked))];
}

/**
 * What the picked thing is called.
 * @param {any} state @param {Picked} picked
 */
export function named(state, { kind, id }) {
  const { reaches } = state.course;
  const number = Number(id);
  switch (kind) {
    case "point": return number === 0 ? "Source, point 1" : `Point ${number + 1}`;
    case "hose": return id === "" ? "Hose" : `Hose point ${number + 1}`;
    case "place": return "On the hose";
    case "reservoir": return "Reservoir";
    case "foot": return "Lower end";
    case "lip": return opening(id === "source" ? "source lip" : id);
    case "end": return `End of ${reaches[number].name}`;
    case "pool": return opening(reaches[number].name);
    case "sill": return `Sill ${Number(id.split(".")[1]) + 1}, ${reaches[Number(id.split(".")[0])].name}`;
    default: return "Picked peg";
  }
}

/**
 * The same for who cannot see where it lies.
 * @param {any} state @param {Picked} picked
 */
export function described(state, picked) {
  const name = named(state, picked);
  if (picked.kind === "reservoir") return `${name}, its middle`;
  if (picked.kind === "hose") return picked.id === "" ? `${name}: show its points` : `${name} of ${state.hose.line.length}, from the pump`;
  const at = `${metres(chainageOf(state, picked))} ${unit("m")} from the source`;
  if (picked.kind === "point") return picked.id === "0" ? `${name} of the course` : `${name} of the course, ${at}`;
  return freedom(state, picked).level ? `${name}, at ${metres(chainageOf(state, picked))} ${unit("m")}, level ${metres(levelOf(state, picked), 3)}` : `${name}, ${at}`;
}

/** @param {string} words */
export const opening = (words) => words[0].toUpperCase() + words.slice(1);

/**
 * The reach above a lip: its foot is the boundary that slides.
 * @param {any} state @param {string} name
 */
export const reachAbove = (state, name) =>
  state.course.reaches.findIndex((/** @type {any} */ reach) => reach.kind === "step" && reach.name === name) - 1;

/**
 * Way of the water at a chainage, of length 1.
 * @param {any} course @param {number} chainage @returns {[number, number]}
 */
export function downstream(course, chainage) {
  const [from, to] = [Math.max(0, chainage - 0.15), Math.min(course.length, chainage + 0.15)];
  const [[x1, y1], [x2, y2]] = [pointAt(course, from), pointAt(course, to)];
  const long = Math.hypot(x2 - x1, y2 - y1) || 1;
  return [(x2 - x1) / long, (y2 - y1) / long];
}
