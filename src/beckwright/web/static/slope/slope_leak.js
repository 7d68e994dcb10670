// Leak or not: a level now and then, and what is left of its fall once the sun has had its part. All sums are Python's.

import { Anew, asking, byId, choose, chosen, draft, field, fill, follow, presses, ready, refill, reveal, rowOf, say, writeDown, writeFile } from "./site.js";
import { draw, make } from "../shared/svg.js";
import { line, press } from "./waits.js";
import { withUnit } from "../shared/typed.js";
import { counted } from "../shared/words.js";

const OTHER = "at a chainage";
/** @type {any} */
let told = { flows: [], lips: [], rows: [], tests: [], problems: [], says: [], asked: [], spills: [], now: {}, next: {} };
let openRow = "";
/** @type {Set<string>} */
const openTests = new Set();
const FIELDS = ["at", "hours", "level", "mark", "chainage", "rain", "top_up", "temperature", "pan", "note"];
const EVERY_TIME = ["at", "hours", "level", "rain", "top_up", "temperature", "pan", "note"];
const forget = draft(FIELDS, { level: "mm", mark: "mm", chainage: "m", rain: "mm", top_up: "L", pan: "mm" });
const anew = new Anew(blank);
let filed = false;

/** A form for the next reading: what goes on, and where it is read from, stay as they are. */
function blank() {
  for (const id of EVERY_TIME) field(id).value = "";
  field("begins").checked = false;
  filed = false;
  forget();
  kept();
  turned();
}

const STATE = `beckwright leak ${line.job}`;

/** What goes on is kept through a page that is closed: the next reading is most often of the same test. */
function kept() {
  localStorage.setItem(STATE, JSON.stringify({ from: chosen("from"), pump: chosen("pump"), comes_in: field("comes_in").value, mark: field("mark").value, chainage: field("chainage").value }));
}

/** @param {Date} when */
function local(when) {
  const two = (/** @type {number} */ part) => String(part).padStart(2, "0");
  return `${when.getFullYear()}-${two(when.getMonth() + 1)}-${two(when.getDate())}T${two(when.getHours())}:${two(when.getMinutes())}`;
}

/**
 * A time of this phone's clock with its zone: nights on which the clocks change are no hour longer.
 * @param {string} wall
 */
function zoned(wall) {
  const away = -new Date(wall).getTimezoneOffset();
  const two = (/** @type {number} */ part) => String(part).padStart(2, "0");
  const size = Math.abs(away);
  return Number.isNaN(away) ? wall : `${wall.slice(0, 16)}${away < 0 ? "-" : "+"}${two(Math.floor(size / 60))}:${two(size % 60)}`;
}

const named = (/** @type {any} */ row) => `${row.test || "Not counted"}, ${row.when}: ${row.understood || row.level || "no level"}`;

/** What belongs to what is chosen. */
function turned() {
  const runs = chosen("pump") !== "off" && chosen("pump") !== "";
  reveal("clock-part", !filed);
  reveal("hours-part", filed);
  reveal("mark-part", chosen("from") === "mark");
  reveal("pump", !filed);
  reveal("comes-part", runs && !filed);
  reveal("chainage-part", runs && !filed && field("comes_in").value === OTHER);
}

/** @param {any} row */
function rewrite(row) {
  filed = row.filed;
  choose("from", row.from || "floor");
  choose("pump", row.pump || "off");
  const known = [...field("comes_in").children].some((each) => /** @type {HTMLOptionElement} */ (each).value === row.comes_in);
  field("comes_in").value = known ? row.comes_in : OTHER;
  field("chainage").value = known ? "" : row.comes_in;
  for (const id of ["hours", "level", "mark", "rain", "top_up", "temperature", "pan", "note"]) field(id).value = row[id] ?? "";
  field("at").value = row.at.slice(0, 16);
  turned();
  anew.begin(row.row, `${named(row)} is written anew. What stood there is kept.`);
}

/** @param {any} row */
function drawn(row) {
  const state = row.struck ? " (struck out)" : row.asked.length ? " (asked)" : "";
  const head = press(`${named(row)}${state}`, "row", () => { openRow = openRow === row.row ? "" : row.row; show(); });
  head.setAttribute("aria-expanded", String(openRow === row.row));
  const kind = row.struck ? "struck" : "";
  if (openRow !== row.row) return make("li", kind, head);
  const down = row.from === "mark" ? `a mark at ${withUnit(row.mark, "mm")}` : "the overflow";
  const typed = `Typed: ${withUnit(row.level, "mm")} ${row.from === "floor" ? "up from the floor" : `down from ${down}`}`;
  const more = [row.line ? `Line ${row.line} of leak_test.csv` : typed, row.condition, ...row.more, row.note, ...row.before.map((/** @type {string} */ was) => `Before: ${was}`)].filter(Boolean);
  return make("li", kind, head, ...more.map((words) => make("p", "", String(words))), presses(row, named(row), () => rewrite(row), row.usable));
}

/** @param {any} chart */
function level(chart) {
  const right = chart.wide - 12;
  const odd = new Set(chart.odd);
  byId("chart").replaceChildren(
    ...chart.up.map((/** @type {any} */ [y]) => draw("path", { class: "grid", d: `M${chart.left} ${y}H${right}` })),
    draw("path", { class: "alone", d: chart.band }),
    draw("path", { class: "edge", d: `M${chart.left} 6V${chart.foot}H${right}` }),
    ...chart.up.map((/** @type {any} */ [y, words]) => draw("text", { x: chart.left - 6, y: y + 5, "text-anchor": "end" }, words)),
    ...chart.along.map((/** @type {any} */ [x, words]) => draw("text", { x, y: chart.foot + 20, "text-anchor": x > right - 12 ? "end" : "middle" }, words)),
    ...chart.points.map((/** @type {any} */ [cx, cy], /** @type {number} */ place) => draw("circle", { class: odd.has(place) ? "read odd" : "read", cx, cy, r: 4 })),
  );
  byId("chart-says").textContent = chart.says;
}

function loss() {
  const test = told.tests[0];
  reveal("loss-part", Boolean(test?.chart));
  if (!test?.chart) return;
  byId("loss-head").textContent = `${test.name}: ${test.condition}`;
  level(test.chart);
  byId("losses").replaceChildren(...test.rows.map((/** @type {any} */ each) => {
    const head = make("th", "", each.what);
    head.setAttribute("scope", "row");
    return make("tr", each.what.startsWith("Left") ? "last" : "", head, make("td", "", each.band));
  }));
}

/** Rows by their test: a night of them is long. */
function readings() {
  const items = (/** @type {string} */ name) => told.rows.filter((/** @type {any} */ row) => (row.counts || row.struck ? row.test : "") === name);
  const one = (/** @type {string} */ name, /** @type {string} */ says, /** @type {any[]} */ rows) => {
    const details = /** @type {HTMLDetailsElement} */ (make("details", "", make("summary", "", says), make("ul", "plain", ...rows.map(drawn))));
    details.open = openTests.has(name);
    details.addEventListener("toggle", () => { if (details.open) openTests.add(name); else openTests.delete(name); });
    return details;
  };
  const loose = items("");
  const tests = told.tests.map((/** @type {any} */ test) => one(test.name, `${test.name}, ${test.condition}: ${counted(test.count, "reading")}${test.left ? `, ${test.left} left` : ""}`, items(test.name)));
  const rest = loose.length ? [one("", `Not counted: ${counted(loose.length, "row")}`, loose)] : [];
  refill("rows", ...(tests.length || rest.length ? [...rest, ...tests] : [make("p", "", "No readings yet.")]));
}

function show() {
  const { now, next } = told;
  byId("left").textContent = now.left || "\u2013";
  byId("way").textContent = now.way;
  byId("big-says").textContent = now.says;
  reveal("again", Boolean(next.again));
  byId("again").textContent = next.again ? `Read again: ${next.again}` : "";
  byId("do").textContent = [next.do, next.until && `Until ${next.until}.`].filter(Boolean).join(" ");
  byId("why").textContent = next.why;
  reveal("problems-part", told.problems.length > 0);
  fill("problems", told.problems.map((/** @type {any} */ each) => make("li", "", `${each.place}: ${each.found}. ${each.rule}. ${each.remedy}.`)));
  const asked = told.rows.filter((/** @type {any} */ row) => row.asked.length);
  reveal("asked-part", asked.length + told.asked.length > 0);
  fill("asked", [...asked.map((/** @type {any} */ row) => asking(row, named(row), () => rewrite(row), row.usable)), ...told.asked.map((/** @type {string} */ each) => make("li", "", make("p", "", each)))]);
  loss();
  reveal("spills-part", told.spills.length > 0);
  fill("spills", told.spills.map((/** @type {string} */ each) => make("li", "", each)));
  fill("says", told.says.map((/** @type {string} */ each) => make("li", "", each)), "Nothing yet.");
  reveal("report-part", told.tests.length > 0);
  reveal("reads", Boolean(told.reads));
  byId("reads").textContent = told.reads ?? "";
  readings();
}

/** What there is to choose from, once. */
function choices() {
  if (byId("pump").querySelector("input")) return;
  const before = JSON.parse(localStorage.getItem(STATE) ?? "{}");
  byId("pump").append(...told.flows.map((/** @type {string} */ name, /** @type {number} */ place) => {
    const box = /** @type {HTMLInputElement} */ (make("input"));
    Object.assign(box, { type: "radio", name: "pump", value: name, checked: place === 0 });
    return make("label", "", box, make("span", "", name === "off" ? "pump off" : name));
  }));
  const option = (/** @type {string} */ value, /** @type {string} */ words) => {
    const made = /** @type {HTMLOptionElement} */ (make("option", "", words));
    made.value = value;
    return made;
  };
  field("comes_in").append(...told.lips.map((/** @type {any} */ lip) => option(lip.name, `below ${lip.name}, ${lip.at}`)), option(OTHER, OTHER));
  if (told.flows.includes(before.pump)) choose("pump", before.pump);
  if (before.from) choose("from", before.from);
  for (const id of ["comes_in", "mark", "chainage"]) if (before[id]) field(id).value = before[id];
  turned();
}

for (const id of ["from", "pump", "comes_in"]) byId(id).addEventListener("change", () => { turned(); kept(); });
byId("clock").addEventListener("click", () => {
  field("at").value = local(new Date());
  field("at").dispatchEvent(new Event("input"));
});

byId("form").addEventListener("submit", async (event) => {
  event.preventDefault();
  const pump = chosen("pump");
  if (!pump) {
    say("The laptop has not yet said what can run: wait until it is near once.");
    return;
  }
  const [level, mark, chainage] = ["level", "mark", "chainage"].map((id) => field(id).value.trim());
  const place = field("comes_in").value;
  const empty = !level ? "level" : chosen("from") === "mark" && !mark ? "mark" : pump !== "off" && !filed && place === OTHER && !chainage ? "chainage" : filed && !field("hours").value.trim() ? "hours" : "";
  if (empty) {
    say("A number is empty.");
    field(empty).focus();
    return;
  }
  const at = filed ? "" : zoned(field("at").value || local(new Date()));
  const content = {
    at, hours: filed ? field("hours").value.trim() : "", level, from: chosen("from"), mark: chosen("from") === "mark" ? mark : "",
    pump: filed ? "" : pump, comes_in: filed || pump === "off" ? "" : place === OTHER ? chainage : place,
    rain: field("rain").value.trim(), top_up: field("top_up").value.trim(), pan: field("pan").value.trim(), temperature: field("temperature").value.trim(),
    begins: field("begins").checked, note: field("note").value.trim(),
  };
  const says = [at.slice(11, 16) || `${content.hours} h`, withUnit(level, "mm"), filed ? "" : pump === "off" ? "pump off" : `pump on ${pump}`, content.comes_in && `let in at ${content.comes_in}`].filter(Boolean).join(", ");
  await writeDown("leak test", rowOf(content, anew.row), says);
  say(`Written down: ${says}.`);
  byId("big").classList.add("stale");
  anew.end();
  blank();
  byId("big").scrollIntoView();
});

byId("file").addEventListener("click", () => writeFile("/api/slope/leak/file", undefined, (answer) =>
  `Written as ${answer.file} in the job's folder.${answer.file === "leak_test.csv" ? "" : " It holds every reading that counts; leak_test.csv stays as it was."}${answer.left_out ? ` ${counted(answer.left_out, "row")} left out.` : ""}`));

follow("/api/slope/leak", (answer, away) => {
  told = answer;
  choices();
  byId("big").classList.toggle("stale", away !== "");
  if (away) say(`Not recalculated since ${away}: the laptop is out of reach.`);
  show();
});
ready("write");
