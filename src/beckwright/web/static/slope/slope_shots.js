// Shots on the works: a place, an end of it, a number; the answer is how far off and what to do.

import { Anew, asking, byId, choose, chosen, draft, field, fill, follow, presses, ready, reveal, rowOf, say, writeDown, writeFile } from "./site.js";
import { make } from "../shared/svg.js";
import { line, press } from "./waits.js";
import { counted, unit } from "../shared/words.js";

/** @type {any} */
let told = { set_ups: [], shots: [], beyond: [], problems: [] };
/** @type {string[]} places in the order downstream */
let places = [];
let lips = new Set();
let openRow = "";
/**
 * A set-up that still waits on this phone counts too: the laptop reads it before the shots under it.
 * @type {string}
 */
let setUp = "";
const forget = draft(["typed", "note", "mark", "mark-level", "mark-typed"], { typed: "m", "mark-level": "m", "mark-typed": "m" });
const anew = new Anew(blank);
const anewSetUp = { row: "" };

function blank() {
  for (const id of ["typed", "note"]) field(id).value = "";
  field("hung").checked = false;
  forget();
}

const standing = () => told.set_ups.filter((/** @type {any} */ each) => !each.struck);
const named = (/** @type {any} */ row) => `${row.what}${lips.has(row.place) ? "" : ` at ${row.at || row.place}`}, ${row.typed}`;

/**
 * @param {any} row
 * @param {string} [typed]
 */
function rewrite(row, typed = row.typed) {
  choose("side", row.side);
  choose("given", row.given);
  field("place").value = row.place;
  field("typed").value = typed;
  field("note").value = row.note;
  field("hung").checked = row.hung;
  turned();
  anew.begin(row.row, `${named(row)} is written anew. What stood there is kept.`);
}

/**
 * @param {any} each
 * @param {string} [typed]
 */
function rewriteSetUp(each, typed = each.typed) {
  field("mark").value = each.mark;
  field("mark-level").value = each.level;
  field("mark-typed").value = typed;
  anewSetUp.row = each.row;
  /** @type {HTMLDetailsElement} */ (byId("standing")).open = true;
  byId("standing").scrollIntoView();
}

/** What depends on where it is and what is typed. */
function turned() {
  const at = places.indexOf(field("place").value);
  byId("before").toggleAttribute("disabled", at <= 0);
  byId("after").toggleAttribute("disabled", at >= places.length - 1);
  const lip = lips.has(field("place").value);
  byId("middle-name").textContent = lip ? "Middle" : "Bed";
  field("typed").setAttribute("aria-describedby", "standing-says");
  byId("typed-name").textContent = chosen("given") === "level" ? `Level, ${unit("m")}` : `Staff, ${unit("m")}`;
  const dig = /** @type {HTMLInputElement} */ (document.querySelector('input[name="side"][value="dig"]'));
  dig.disabled = lip;
  if (lip && dig.checked) choose("side", "left");
}

/** @param {any} row */
function drawn(row) {
  const off = row.off === "" ? "" : row.way === "as drawn" ? ", as drawn" : `, ${row.off} ${unit("mm")} ${row.way}`;
  const state = row.struck ? " (struck out)" : row.asked.length ? " (asked)" : row.counted ? "" : " (a later shot stands)";
  const head = press(`${row.what}${lips.has(row.place) ? "" : ` at ${row.at || row.place}`}: ${row.typed}${off}${state}`, "row", () => { openRow = openRow === row.row ? "" : row.row; show(); });
  head.setAttribute("aria-expanded", String(openRow === row.row));
  if (openRow !== row.row) return make("li", "", head);
  const more = [row.shot && `shot ${row.shot}, drawn ${row.drawn}, ${row.allowed} allowed either way`, row.cure, row.shot_before, ...row.freeboard, row.note, row.before.length && `before: ${row.before.join(", ")}`].filter(Boolean);
  return make("li", "", head, ...more.map((words) => make("p", "", String(words))), presses(row, named(row), () => rewrite(row), row.usable));
}

function show() {
  const now = standing()[0];
  if (now && !setUp) setUp = now.row;
  const mine = told.set_ups.find((/** @type {any} */ each) => each.row === setUp);
  byId("standing-says").textContent = mine && !mine.struck && mine.collimation ? `Line of sight ${mine.collimation}, from ${mine.mark}` : setUp ? "A set-up that is asked about, or on its way" : "No set-up yet: write one, or type levels";
  const last = told.shots.find((/** @type {any} */ each) => !each.struck);
  byId("off").textContent = last?.off || "\u2013";
  byId("off-way").textContent = !last ? `${unit("mm")} off` : last.way === "as drawn" ? `${unit("mm")}, as drawn` : `${unit("mm")} ${last.way}`;
  byId("big-says").textContent = last ? [`${last.what}${lips.has(last.place) ? "" : ` at ${last.at || last.place}`}`, last.shot && `shot ${last.shot}, drawn ${last.drawn}`, last.shot_before].filter(Boolean).join(". ") : "Nothing is shot yet";
  const order = last?.asked[0] || last?.cure || "";
  reveal("cure", order !== "");
  byId("cure").textContent = order;
  const asked = told.shots.filter((/** @type {any} */ row) => row.asked.length);
  const standings = told.set_ups.filter((/** @type {any} */ row) => row.asked.length);
  reveal("asked-part", asked.length + standings.length > 0);
  fill("asked", [...standings.map((/** @type {any} */ row) => asking(row, `Set-up on ${row.mark}, ${row.typed}`, () => rewriteSetUp(row, row.meant || row.typed), row.usable)),
    ...asked.map((/** @type {any} */ row) => asking(row, named(row), () => rewrite(row, row.meant || row.typed), row.usable))]);
  reveal("problem-part", told.problems.length > 0);
  fill("problems", told.problems.map((/** @type {any} */ each) => make("li", "", make("b", "", each.place), make("p", "", `${each.found}. ${each.rule}. ${each.remedy}.`))));
  fill("beyond", told.beyond.map((/** @type {string} */ each) => make("li", "", each)), "Nothing that was shot stands outside its tolerance.");
  fill("shots", told.shots.map(drawn), "No shots yet.");
}

byId("form").addEventListener("submit", async (event) => {
  event.preventDefault();
  const [place, typed, given] = [field("place").value, field("typed").value.trim(), chosen("given")];
  if (!typed || !place) {
    say("The number is empty.");
    field("typed").focus();
    return;
  }
  if (given === "staff" && !setUp) {
    say("A staff reading hangs on a set-up. Write the set-up first, or type the level.");
    /** @type {HTMLDetailsElement} */ (byId("standing")).open = true;
    field("mark-typed").focus();
    return;
  }
  const content = { place, side: chosen("side"), given, typed, hung: field("hung").checked, set_up: given === "staff" ? setUp : "", note: field("note").value.trim() };
  const says = `${content.side} at ${lips.has(place) ? place : (/** @type {any} */ (field("place"))).selectedOptions[0].textContent}: ${typed}`;
  await writeDown("shot", rowOf(content, anew.row), says);
  say(`Written down: ${says}.`);
  byId("big").classList.add("stale");
  anew.end();
  blank();
  // The answer stands on top: out of the way of the keyboard, above the next place.
  field("typed").blur();
  scrollTo(0, 0);
});

byId("set-up").addEventListener("submit", async (event) => {
  event.preventDefault();
  const [mark, level, typed] = [field("mark").value.trim(), field("mark-level").value.trim(), field("mark-typed").value.trim()];
  if (!mark || !level || !typed) {
    say("A set-up has a mark, its level, and what the staff showed on it.");
    return;
  }
  const content = /** @type {any} */ (rowOf({ mark, level, typed }, anewSetUp.row));
  await writeDown("set-up", content, `set-up on ${mark}: ${typed}`);
  setUp = content.row;
  anewSetUp.row = "";
  field("mark-typed").value = "";
  /** @type {HTMLDetailsElement} */ (byId("standing")).open = false;
  say(`Set-up written down: ${typed} on ${mark}.`);
  forget();
  show();
});

for (const [id, way] of /** @type {const} */ ([["before", -1], ["after", 1]])) {
  byId(id).addEventListener("click", () => {
    field("place").value = places[places.indexOf(field("place").value) + way] ?? field("place").value;
    turned();
  });
}
byId("form").addEventListener("change", turned);
byId("file").addEventListener("click", () => writeFile("/api/slope/shots/file", undefined, (answer) =>
  `Written as ${answer.file} in the job's folder.${answer.left_out ? ` ${counted(answer.left_out, "row")} asked about left out.` : ""}`));

const waiting = (await line.all()).filter((one) => one.job === line.job && one.body?.kind === "set-up").at(-1);
if (waiting) setUp = waiting.body.content.row;
follow("/api/slope/places", (answer) => {
  if (places.length) return;
  lips = new Set(answer.lips.map((/** @type {any} */ each) => each.name));
  const all = [...answer.pegs.map((/** @type {any} */ each) => [Number(each.at), each.at, `Peg ${each.number}, ${each.told} ${unit("m")}`]), ...answer.lips.map((/** @type {any} */ each) => [each.chainage, each.name, `${each.name}, ${each.at}`])];
  all.sort((one, other) => one[0] - other[0]);
  places = all.map(([, name]) => name);
  field("place").replaceChildren(...all.map(([, value, words]) => {
    const option = /** @type {HTMLOptionElement} */ (make("option", "", words));
    option.value = value;
    return option;
  }));
  if (!field("mark").value) field("mark").value = answer.datum.name;
  if (!field("mark-level").value) field("mark-level").value = answer.datum.level;
  turned();
  show();
});
const look = follow(() => `/api/slope/shots?settled=${field("settled").checked}`, shown);
byId("settled").addEventListener("change", look);

/**
 * @param {any} answer
 * @param {string} since
 */
function shown(answer, since) {
  told = answer;
  byId("big").classList.toggle("stale", since !== "");
  if (since) say(`Not recalculated since ${since}: the laptop is out of reach.`);
  show();
}
ready("write", "write-set-up");
