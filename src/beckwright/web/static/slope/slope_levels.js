// The level book: row by row as on paper, reduced by the laptop after each.

import { newMark } from "../shared/queue.js";
import { Anew, asking, byId, choose, chosen, draft, field, fill, follow, presses, ready, refill, reveal, rowOf, say, writeDown, writeFile } from "./site.js";
import { make } from "../shared/svg.js";
import { line, press } from "./waits.js";
import { clock, unit } from "../shared/words.js";

const NEW = "";
const NAMES = /** @type {Object<string, string>} */ ({ back: "back sight", intermediate: "inter sight", fore: "fore sight" });
const FIELDS = ["title", "point", "typed", "level", "note"];
const WAYS = /** @type {Object<string, string[][]>} */ ({
  collimation: [["Coll.", "collimation"], ["Level", "reached"]],
  rise: [["Rise", "rise"], ["Fall", "fall"], ["Level", "reached"]],
});

/** @type {any} */
let told = { datum: { name: "", level: "" }, books: [] };
/** The book that is written in; a new one has its word before the laptop knows of it. */
let open = { book: newMark(), title: "", fresh: true };
let picked = false;
let openRow = "";
/** The row just written: what it comes to is said once, where a thumb on the fields can see it. */
let justWritten = "";
// A book begun out of reach goes on where its rows wait.
const last = (await line.all()).filter((one) => one.job === line.job && one.body?.kind === "level row").at(-1)?.body.content;
if (last) {
  open = { book: last.book, title: last.title, fresh: true };
  picked = true;
}
const forget = draft(FIELDS, { typed: "m", level: "m" });
const anew = new Anew(blank);

function blank() {
  for (const id of ["typed", "level", "note"]) field(id).value = "";
  field("hung").checked = false;
  forget();
}

/** @returns {any} the open book as the laptop has it */
const book = () => told.books.find((/** @type {any} */ each) => each.book === open.book);

function choices() {
  const named = told.books.map((/** @type {any} */ each) => [each.book, each.title]);
  if (open.fresh && !book()) named.unshift([open.book, open.title || "New book"]);
  else named.push([NEW, "Begin a new book"]);
  field("book").replaceChildren(...named.map((/** @type {string[]} */ [value, words]) => {
    const option = /** @type {HTMLOptionElement} */ (make("option", "", words));
    option.value = value;
    return option;
  }));
  field("book").value = open.book;
  reveal("title-line", open.fresh && !book());
}

function begin() {
  open = { book: newMark(), title: "", fresh: true };
  field("title").value = `${new Date().toLocaleDateString("en-GB", { day: "numeric", month: "short" })} ${clock(new Date())}`;
  field("point").value = told.datum.name;
  field("level").value = told.datum.level;
  choose("sight", "back");
}

/**
 * @param {any} row
 * @param {string} [typed]
 */
function rewrite(row, typed = row.typed) {
  choose("sight", row.sight);
  for (const [id, value] of [["point", row.point], ["typed", typed], ["level", row.level], ["note", row.note]]) field(id).value = value;
  field("hung").checked = row.hung;
  anew.begin(row.row, `${row.place ? `Row ${row.place}` : "The row"} is written anew. What stood there is kept: ${row.typed}.`);
}

const named = (/** @type {any} */ row) => `Row ${row.place ?? "struck out"}, ${NAMES[row.sight]} on ${row.point}, ${row.typed}`;

/**
 * @param {any} row
 * @param {string[][]} columns
 */
function drawn(row, columns) {
  const number = press(String(row.place ?? "-"), "", () => { openRow = openRow === row.row ? "" : row.row; show(); });
  number.setAttribute("aria-label", named(row));
  number.setAttribute("aria-expanded", String(openRow === row.row));
  const cells = [make("td", "", number), make("td", "", row.point)];
  for (const sight of Object.keys(NAMES)) cells.push(make("td", "", row.sight === sight ? `${row.hung ? "\u2212" : ""}${row.typed}` : ""));
  for (const [, name] of columns) cells.push(make("td", "", row[name]));
  const line = make("tr", [row.suspect.length ? "suspect" : "", row.struck ? "struck" : "", row.asked.length ? "doubt" : ""].join(" ").trim(), ...cells);
  if (openRow !== row.row) return [line];
  const more = [row.adjusted && `adjusted ${row.adjusted} ${row.sure}`, row.note, ...row.suspect, row.before.length && `before: ${row.before.join(", ")}`].filter(Boolean);
  const cell = make("td", "", ...more.map((words) => make("p", "", String(words))), presses(row, named(row), () => rewrite(row), row.usable));
  cell.setAttribute("colspan", String(cells.length));
  return [line, make("tr", "opened", cell)];
}

function show() {
  choices();
  const here = book() ?? { rows: [], lines: [], checks: [], likely: [], findings: [], problems: [], as_far: "", big: { missed: "", allowed: "", says: "Nothing is reduced yet", refused: false, unit: unit("m") === "m" ? "mm" : "ft" } };
  byId("missed").textContent = here.big.missed || (here.rows.length ? "open" : "\u2013");
  byId("allowed").textContent = here.big.allowed || "\u2013";
  for (const [id, word] of [["missed-unit", "missed"], ["allowed-unit", "allowed"]]) byId(id).textContent = `${here.big.unit} ${word}`;
  byId("big-says").textContent = [here.big.says, here.as_far].filter(Boolean).join(". ");
  byId("big").classList.toggle("fine", here.big.unit !== "mm");
  byId("big").classList.toggle("refused", here.big.refused);
  const asked = here.rows.filter((/** @type {any} */ row) => row.asked.length);
  const problems = here.problems.map((/** @type {any} */ each) => make("li", "", make("b", "", each.place), make("p", "", `${each.found}. ${each.rule}. ${each.remedy}.`)));
  reveal("asked-part", asked.length + problems.length > 0);
  fill("asked", [...asked.map((/** @type {any} */ row) => asking(row, named(row), () => rewrite(row, row.meant || row.typed), row.usable)), ...problems]);
  reveal("likely-part", here.likely.length > 0);
  fill("likely", here.likely.map((/** @type {string} */ each) => make("li", "", each)));
  const columns = WAYS[chosen("way")];
  byId("heads").replaceChildren(make("tr", "", ...["", "Point", "BS", "IS", "FS", ...columns.map(([head]) => head)].map((words) => make("th", "", words))));
  refill("rows", ...here.rows.flatMap((/** @type {any} */ row) => drawn(row, columns)));
  fill("lines", [...here.lines.map((/** @type {any} */ each) => make("li", "", each.says)), ...here.findings.map((/** @type {any} */ each) => make("li", "", `${each.says} ${each.cure}`))]);
  fill("checks", here.checks.map((/** @type {any} */ each) => make("li", "", `${each.says}: ${each.one} and ${each.other}${each.holds ? "" : ". They differ"}`)), "No sums yet.");
  byId("points").replaceChildren(...[...new Set([told.datum.name, ...here.rows.map((/** @type {any} */ row) => row.point)])].map((point) => {
    const option = /** @type {HTMLOptionElement} */ (make("option"));
    option.value = point;
    return option;
  }));
}

/**
 * After a fore sight comes the back sight on the same point; after any other, an inter sight somewhere else.
 * @param {string} sight
 */
function onward(sight) {
  choose("sight", sight === "fore" ? "back" : "intermediate");
  if (sight !== "fore") field("point").value = "";
  field(sight === "fore" ? "typed" : "point").focus();
}

byId("form").addEventListener("submit", async (event) => {
  event.preventDefault();
  const [point, typed, title] = [field("point").value.trim(), field("typed").value.trim(), field("title").value.trim()];
  if (!point || !typed) {
    say(point ? "The staff reading is empty." : "The point is empty.");
    field(point ? "typed" : "point").focus();
    return;
  }
  const sight = chosen("sight");
  if (open.fresh) open.title = title || open.title || "Level book";
  const content = { book: open.book, title: open.title, sight, point, typed, hung: field("hung").checked, level: field("level").value.trim(), note: field("note").value.trim() };
  const again = anew.row !== "";
  const row = /** @type {any} */ (rowOf(content, anew.row));
  // Whoever writes before the laptop has answered goes on in the book they wrote in.
  picked = true;
  justWritten = row.row;
  await writeDown("level row", row, `${NAMES[sight]} on ${point}: ${typed}`);
  say(`Written down: ${NAMES[sight]} on ${point}, ${typed}.`);
  anew.end();
  blank();
  byId("big").classList.add("stale");
  if (!again) onward(sight);
  choices();
});
field("book").addEventListener("change", () => {
  const found = told.books.find((/** @type {any} */ each) => each.book === field("book").value);
  if (found) open = { book: found.book, title: found.title, fresh: false };
  else begin();
  anew.end();
  show();
});
for (const each of document.querySelectorAll('input[name="way"]')) each.addEventListener("change", show);
byId("file").addEventListener("click", () => writeFile("/api/slope/levels/file", { book: open.book }, (answer) => `Written as ${answer.file} in the job's folder.`));

follow("/api/slope/levels", (answer, since) => {
  told = answer;
  if (!picked) {
    picked = true;
    if (told.books.length) open = { book: told.books[0].book, title: told.books[0].title, fresh: false };
    else if (!field("point").value && !field("typed").value) begin();
  }
  byId("big").classList.toggle("stale", since !== "");
  const row = book()?.rows.find((/** @type {any} */ each) => each.row === justWritten);
  if (row) {
    justWritten = "";
    say(row.asked.length ? `Asked: ${row.asked[0]}` : `${row.point}: ${row.reached ? `level ${row.reached}` : "written down"}. ${book().big.says}${book().big.missed ? `, ${book().big.missed} ${book().big.unit}` : ""}.`);
  }
  if (since) say(`Not reduced since ${since}: the laptop is out of reach.`);
  show();
});
choices();
ready("write");
