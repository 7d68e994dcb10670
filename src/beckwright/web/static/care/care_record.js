// The yearly record: one reading at a time, kept as typed; what changes over the years, and when it matters.

import { Anew, asking, byId, draft, field, fill, follow, presses, ready, reveal, rowOf, say, writeDown, writeFile } from "../slope/site.js";
import { press } from "../slope/waits.js";
import { make } from "../shared/svg.js";
import { counted } from "../shared/words.js";
import { item as charted, years } from "./charts.js";

/** @type {any} */
let told = { items: [], rows: [], trends: [], files: [], problems: [] };
let openRow = "";
const FIELDS = ["amount", "note"];
const forget = draft(FIELDS);
const anew = new Anew(blank);

function blank() {
  for (const id of FIELDS) field(id).value = "";
  forget();
}

const now = () => told.items.find((/** @type {any} */ each) => each.key === field("item").value);
const named = (/** @type {any} */ row) => `${row.year}, ${row.what}: ${row.says || row.amount}`;

/** What the chosen item is read in, and where it matters. */
function turned() {
  const item = now();
  if (!item) return;
  byId("amount-name").textContent = `Reading, ${item.unit}`;
  byId("item-says").textContent = item.limit ? `Limit ${item.limit}: ${item.why}.` : "This job has no limit for it.";
}

/** @param {any} row */
function rewrite(row) {
  for (const id of ["item", "year", "amount", "note"]) field(id).value = row[id];
  turned();
  anew.begin(row.row, `${named(row)} is written anew. What stood there is kept.`);
}

/** @param {any} row */
function drawn(row) {
  const state = row.struck ? " (struck out)" : row.asked.length ? " (asked)" : "";
  const head = press(`${named(row)}${state}`, "row", () => { openRow = openRow === row.row ? "" : row.row; show(); });
  head.setAttribute("aria-expanded", String(openRow === row.row));
  if (openRow !== row.row) return make("li", "", head);
  return make("li", "", head, ...(row.note ? [make("p", "", row.note)] : []), presses(row, named(row), () => rewrite(row), row.usable));
}

function choices() {
  const select = field("item");
  if (!select.children.length) {
    select.append(...told.items.map((/** @type {any} */ each) => {
      const option = /** @type {HTMLOptionElement} */ (make("option", "", each.name));
      option.value = each.key;
      return option;
    }));
  }
  turned();
}

function show() {
  const asked = told.rows.filter((/** @type {any} */ row) => row.asked.length);
  reveal("asked-part", asked.length > 0);
  fill("asked", asked.map((/** @type {any} */ row) => asking(row, named(row), () => rewrite(row), row.usable)));
  fill("rows", told.rows.map(drawn), "No readings yet.");
  reveal("none", told.trends.length === 0);
  fill("trends", told.trends.map((/** @type {any} */ each) => charted(each.says, years(each.chart))));
  reveal("files-part", told.files.length > 0);
  fill("files", told.files.map((/** @type {string} */ each) => make("li", "", each)));
  reveal("problems-part", told.problems.length > 0);
  fill("problems", told.problems.map((/** @type {any} */ each) => make("li", "", `${each.place}: ${each.found}. ${each.remedy}.`)));
}

byId("item").addEventListener("change", turned);
byId("form").addEventListener("submit", async (event) => {
  event.preventDefault();
  const item = now();
  if (!item) {
    say("The laptop has not yet said what can be read: wait until it is near once.");
    return;
  }
  const [year, amount, note] = ["year", "amount", "note"].map((id) => field(id).value.trim());
  const empty = !year ? "year" : !amount ? "amount" : "";
  if (empty) {
    say(empty === "year" ? "The year is empty." : "The reading is empty.");
    field(empty).focus();
    return;
  }
  const says = `${year}, ${item.name}, ${amount}`;
  await writeDown("service", rowOf({ item: item.key, year, amount, note }, anew.row), says);
  say(`Written down: ${says}.`);
  anew.end();
  blank();
});
byId("file").addEventListener("click", () => writeFile("/api/care/record/file", undefined, (answer) =>
  `Written as ${answer.file} in the job's folder.${answer.left_out ? ` ${counted(answer.left_out, "row")} left out.` : ""}`));

field("year").value = new Date().toLocaleDateString("sv");
let wasAway = false;
follow("/api/care/record", (answer, away) => {
  told = answer;
  choices();
  if (away) say(`Not recalculated since ${away}: the laptop is out of reach.`);
  else if (wasAway) say("");
  wasAway = away !== "";
  show();
});
ready("write");
