// What the pages for the slope have in common: reading their fields, keeping what is half typed, asking with a memory.

import { ask } from "../shared/ask.js";
import { newMark } from "../shared/queue.js";
import { make } from "../shared/svg.js";
import { line, press, pressTwice } from "./waits.js";
import { inTheirUnit, padded } from "../shared/typed.js";
import { clock, read } from "../shared/words.js";

export const byId = (/** @type {string} */ id) => /** @type {HTMLElement} */ (document.getElementById(id));
export const field = (/** @type {string} */ id) => /** @type {HTMLInputElement} */ (document.getElementById(id));

/**
 * What is chosen among radio buttons.
 * @param {string} name
 */
export const chosen = (name) => /** @type {HTMLInputElement} */ (document.querySelector(`input[name="${name}"]:checked`))?.value ?? "";

/**
 * @param {string} name
 * @param {string} value
 */
export function choose(name, value) {
  for (const each of document.querySelectorAll(`input[name="${name}"]`)) {
    const one = /** @type {HTMLInputElement} */ (each);
    one.checked = one.value === value;
  }
}

/**
 * Say what happened.
 * @param {string} words
 */
export const say = (words) => { byId("told").textContent = words; };

/**
 * @param {string} id
 * @param {boolean} shown
 */
export const reveal = (id, shown) => { byId(id).hidden = !shown; };

/**
 * Fill a list; a person is told where it is empty.
 * @param {string} id
 * @param {HTMLElement[]} items
 * @param {string} [none]
 */
export const fill = (id, items, none = "") => refill(id, ...(items.length || !none ? items : [make("li", "", none)]));

const REACHED = "a[href], button, input, select, textarea, summary";

/**
 * Let these stand there instead, and the keyboard keep its place: answers come while somebody is about to press.
 * @param {string} id
 * @param {...Node} items
 */
export function refill(id, ...items) {
  const holder = byId(id);
  const reached = () => /** @type {HTMLElement[]} */ ([...holder.querySelectorAll(REACHED)]);
  const place = reached().indexOf(/** @type {HTMLElement} */ (document.activeElement));
  holder.replaceChildren(...items);
  if (place >= 0) reached()[place]?.focus({ preventScroll: true });
}

/**
 * Write one reading down: it is on this phone once this returns.
 * @param {string} kind
 * @param {any} content
 * @param {string} says
 */
export async function writeDown(kind, content, says) {
  const seen = new Date().toISOString();
  await line.add({ job: line.job, path: "/api/readings", body: { mark: newMark(), kind, seen, content }, says, seen });
}

/**
 * Ask, and keep the answer for when the laptop is away, unless a newer one was asked for meanwhile.
 * @param {string} path
 * @param {() => boolean} newest
 * @returns {Promise<{answer: any, since: string}>} ``since`` is empty for an answer of now; ``answer`` null where there is none
 */
async function held(path, newest) {
  const key = `beckwright held ${line.job} ${path} ${read()}`;
  const { answer, problems, away } = await ask("GET", path);
  if (answer) {
    try {
      if (newest()) localStorage.setItem(key, JSON.stringify({ answer, when: clock(new Date()) }));
    } catch (trouble) {
      // A full store keeps the old answer; what was typed stands in a store of its own.
      if (!(trouble instanceof DOMException)) throw trouble;
    }
    return { answer, since: "" };
  }
  if (!away) {
    say(`${problems[0].place}: ${problems[0].found}. ${problems[0].remedy}.`);
    return { answer: null, since: "" };
  }
  const kept = JSON.parse(localStorage.getItem(key) ?? "null");
  return kept ? { answer: kept.answer, since: kept.when } : { answer: null, since: "" };
}

/**
 * Show the newest answer of a path now, and each time the laptop has taken something.
 * @param {string | (() => string)} path
 * @param {(answer: any, since: string) => void} show
 */
export function follow(path, show) {
  let turn = 0;
  let soon = 0;
  const look = async () => {
    turn += 1;
    const mine = turn;
    const newest = () => mine === turn;
    const { answer, since } = await held(typeof path === "string" ? path : path(), newest);
    if (newest() && answer) show(answer, since);
  };
  const later = () => {
    window.clearTimeout(soon);
    soon = window.setTimeout(look, 60);
  };
  for (const name of ["taken", "away"]) line.addEventListener(name, later);
  look();
  return look;
}

/**
 * Keep what is half typed, until it is written down.
 * @param {string[]} ids @param {Object<string, string>} [numbers] metric unit of those that are amounts
 * @returns {() => void} forgets it
 */
export function draft(ids, numbers = {}) {
  const key = `beckwright draft ${line.job} ${location.pathname}`;
  const kept = JSON.parse(localStorage.getItem(key) ?? "{}");
  for (const id of ids) if (typeof kept[id] === "string") field(id).value = numbers[id] ? inTheirUnit(kept[id], numbers[id], kept.units ?? "metric") : kept[id];
  const keep = () => localStorage.setItem(key, JSON.stringify({ units: read(), ...Object.fromEntries(ids.map((id) => [id, field(id).value])) }));
  for (const [id, metric] of Object.entries(numbers)) padded(field(id), metric);
  for (const id of ids) field(id).addEventListener("input", keep);
  return () => localStorage.removeItem(key);
}

/**
 * A row that is written anew: which, until it is written or put back.
 * @param {() => void} back what to do with the form when a person thinks better of it
 */
export class Anew {
  /** @param {() => void} back */
  constructor(back) {
    this.row = "";
    this.back = back;
  }

  /**
   * @param {string} row
   * @param {string} says
   */
  begin(row, says) {
    this.row = row;
    byId("anew").replaceChildren(says, make("div", "presses", press("Leave it as it is", "white", () => { this.end(); this.back(); })));
    reveal("anew", true);
    byId("form").scrollIntoView();
  }

  end() {
    this.row = "";
    reveal("anew", false);
  }
}

/**
 * The presses of a row: write it anew, strike it out, or say that it is right.
 * @param {any} row as Python tells it
 * @param {string} says what it is, in words
 * @param {() => void} anew
 * @param {boolean} usable
 */
export function presses(row, says, anew, usable) {
  const word = (/** @type {string} */ said) => writeDown("word on a row", { row: row.row, word: said }, `${says}: ${said === "right" ? "it is right" : "struck out"}`);
  const all = [press("Write it anew", "", anew)];
  if (usable && row.asked.length) all.push(press("It is right", "", () => word("right")));
  all.push(pressTwice("Strike it out", "Press again to strike it out", () => word("struck")));
  return make("div", "presses", ...all);
}

/**
 * One row that is asked about.
 * @param {any} row
 * @param {string} says
 * @param {() => void} anew
 * @param {boolean} usable
 */
export const asking = (row, says, anew, usable) =>
  make("li", "", make("b", "", says), ...row.asked.map((/** @type {string} */ each) => make("p", "", each)), presses(row, says, anew, usable));

/**
 * Let the presses that write be pressed, once the page hears them: before that a browser would send the form itself.
 * @param {...string} ids
 */
export const ready = (...ids) => ids.forEach((id) => byId(id).removeAttribute("disabled"));

/**
 * A row of its own, with a new word, and the units its fields named: what was typed stays as typed.
 * @param {any} content
 * @param {string} insteadOf
 */
export const rowOf = (content, insteadOf) => ({ row: newMark(), ...(insteadOf ? { instead_of: insteadOf } : {}), units: read(), ...content });

/**
 * Finish: have a table written, and say which.
 * @param {string} path
 * @param {any} body
 * @param {(answer: any) => string} told
 */
export async function writeFile(path, body, told) {
  if ((await line.next()) !== undefined) {
    say("Some rows still wait on this phone. Let them arrive first.");
    return;
  }
  const { answer, problems } = await ask("POST", path, body);
  say(answer ? told(answer) : problems.map((each) => `${each.place}: ${each.found}. ${each.remedy}.`).join(" "));
}
