// A lip read across: how far out of level, what that does to the water, which end to shim.

import { Anew, asking, byId, choose, chosen, draft, field, fill, follow, presses, ready, reveal, rowOf, say, writeDown } from "./site.js";
import { make } from "../shared/svg.js";
import { press } from "./waits.js";
import { unit } from "../shared/words.js";

const ENDS = ["left", "middle", "right"];
/** @type {any} */
let told = { lips: [], checks: [] };
let openRow = "";
const forget = draft([...ENDS, "note"], { left: "m", middle: "m", right: "m" });
const anew = new Anew(blank);

function blank() {
  for (const id of [...ENDS, "note"]) field(id).value = "";
  forget();
}

const typed = (/** @type {any} */ row) => ENDS.map((end) => row.ends[end]).filter(Boolean).join(", ");
const named = (/** @type {any} */ row) => `${row.lip}, ${typed(row)}`;

/** @param {any} row */
function rewrite(row) {
  choose("lip", row.lip);
  choose("given", row.given);
  for (const end of ENDS) field(end).value = row.ends[end];
  field("note").value = row.note;
  anew.begin(row.row, `${named(row)} is written anew. What stood there is kept.`);
}

/** @param {any} row */
function drawn(row) {
  const out = row.out === "" ? "" : `: ${row.out} ${unit("mm")} out of level${row.high ? `, ${row.high} end high` : ""}`;
  const head = press(`${named(row)}${out}${row.struck ? " (struck out)" : row.asked.length ? " (asked)" : ""}`, "row", () => { openRow = openRow === row.row ? "" : row.row; show(); });
  head.setAttribute("aria-expanded", String(openRow === row.row));
  if (openRow !== row.row) return make("li", "", head);
  const more = [row.shim, row.bow, row.note].filter(Boolean);
  return make("li", "", head, ...more.map((words) => make("p", "", words)), presses(row, named(row), () => rewrite(row), row.usable));
}

function show() {
  const lip = told.lips.find((/** @type {any} */ each) => each.name === chosen("lip"));
  const last = told.checks.find((/** @type {any} */ each) => each.lip === chosen("lip") && !each.struck);
  byId("out").textContent = last?.out || "\u2013";
  byId("out-way").textContent = `${unit("mm")} out of level`;
  byId("big-says").textContent = [
    lip ? `${lip.name} at ${lip.at}, ${lip.wide} wide, drawn at ${lip.level}` : "",
    last ? (last.out === "" ? "It cannot be told yet" : `${last.high ? `The ${last.high} end is high` : "Neither end is high"}; read to ${last.sure}`) : "Not checked yet",
  ].filter(Boolean).join(". ");
  reveal("shim", Boolean(last?.shim));
  byId("shim").textContent = last?.shim ?? "";
  byId("bow").textContent = last?.bow ?? "";
  reveal("share-part", Boolean(last?.shares.length));
  byId("shares").replaceChildren(...(last?.shares ?? []).map((/** @type {any} */ each) => {
    const head = make("th", "", each.flow);
    head.setAttribute("scope", "row");
    return make("tr", "", head, make("td", "", each.left), make("td", "", each.right));
  }));
  fill("twice", (lip?.twice ?? []).map((/** @type {string} */ each) => make("li", "", each)), "Choose a lip.");
  const asked = told.checks.filter((/** @type {any} */ row) => row.asked.length);
  reveal("asked-part", asked.length > 0);
  fill("asked", asked.map((/** @type {any} */ row) => asking(row, named(row), () => rewrite(row), row.usable)));
  fill("checks", told.checks.map(drawn), "No checks yet.");
}

/** The lips of this job, once. */
function lips() {
  if (document.querySelector('input[name="lip"]')) return;
  byId("lips").append(...told.lips.map((/** @type {any} */ each, /** @type {number} */ place) => {
    const box = /** @type {HTMLInputElement} */ (make("input"));
    Object.assign(box, { type: "radio", name: "lip", value: each.name, checked: place === 0 });
    box.addEventListener("change", show);
    return make("label", "", box, make("span", "", each.name));
  }));
}

byId("form").addEventListener("submit", async (event) => {
  event.preventDefault();
  const [left, middle, right] = ENDS.map((end) => field(end).value.trim());
  const lip = chosen("lip");
  if (!left || !right || !lip) {
    say(lip ? "Left and right are both needed: only their difference counts." : "Choose a lip.");
    field(left ? "right" : "left").focus();
    return;
  }
  const content = { lip, given: chosen("given"), left, middle, right, note: field("note").value.trim() };
  await writeDown("lip check", rowOf(content, anew.row), `${lip}: ${[left, middle, right].filter(Boolean).join(", ")}`);
  say(`Written down: ${lip}, ${left} left, ${right} right.`);
  byId("big").classList.add("stale");
  anew.end();
  blank();
  byId("big").scrollIntoView();
});

follow("/api/slope/lips", (answer, since) => {
  told = answer;
  lips();
  byId("big").classList.toggle("stale", since !== "");
  if (since) say(`Not recalculated since ${since}: the laptop is out of reach.`);
  show();
});
ready("write");
