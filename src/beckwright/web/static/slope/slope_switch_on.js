// The first morning: a bucket, a stopwatch, a stick in the reservoir. Each reading stands beside what was expected of it.

import { Anew, asking, byId, choose, chosen, draft, field, fill, follow, presses, ready, reveal, rowOf, say, writeDown, writeFile } from "./site.js";
import { make } from "../shared/svg.js";
import { line, press } from "./waits.js";
import { padded, withUnit } from "../shared/typed.js";
import { counted } from "../shared/words.js";

/** @type {any} */
let told = { settings: [], kinds: [], lips: [], expected: [], rows: [] };
let openRow = "";
const FIELDS = ["amount", "seconds", "chainage", "note"];
const forget = draft(FIELDS, { chainage: "m", amount: "L" });
const anew = new Anew(blank);

function blank() {
  for (const id of FIELDS) field(id).value = "";
  forget();
}

const kind = () => told.kinds.find((/** @type {any} */ each) => each.name === field("kind").value);
const named = (/** @type {any} */ row) => `${row.what}: ${row.seen || row.typed}`;

/** What a kind of reading asks for. */
function turned() {
  const now = kind();
  if (!now) return;
  byId("tells").textContent = `${now.tells}.`;
  reveal("settings", now.flow);
  reveal("lip-part", now.place.startsWith("lip"));
  reveal("chainage-part", now.place === "chainage");
  const foot = /** @type {HTMLOptionElement | null} */ (document.querySelector('#lip option[value="reservoir"]'));
  if (foot) foot.disabled = now.place === "lip";
  const amount = /** @type {HTMLElement} */ (field("amount").parentElement);
  const seconds = /** @type {HTMLElement} */ (field("seconds").parentElement);
  amount.hidden = now.amount === "";
  seconds.hidden = !now.seconds;
  /** @type {HTMLElement} */ (document.querySelector(".watch")).hidden = !now.seconds;
  byId("amount-name").textContent = now.label;
  padded(field("amount"), now.amount === "W" ? "" : now.amount);
}

/** @param {any} row */
function rewrite(row) {
  field("kind").value = row.kind;
  choose("setting", row.flow);
  field("lip").value = row.place;
  for (const id of ["amount", "seconds", "note"]) field(id).value = row[id];
  field("chainage").value = row.place;
  turned();
  anew.begin(row.row, `${named(row)} is written anew. What stood there is kept.`);
}

/** @param {any} row */
function drawn(row) {
  const state = row.struck ? " (struck out)" : row.asked.length ? " (asked)" : row.outside ? ", outside what was expected" : "";
  const head = press(`${named(row)}${row.expected ? `, expected ${row.expected}` : ""}${state}`, "row", () => { openRow = openRow === row.row ? "" : row.row; show(); });
  head.setAttribute("aria-expanded", String(openRow === row.row));
  if (openRow !== row.row) return make("li", "", head);
  const more = [row.why_not && `Not counted: ${row.why_not}`, row.note].filter(Boolean);
  return make("li", "", head, ...more.map((words) => make("p", "", String(words))), presses(row, named(row), () => rewrite(row), row.usable));
}

/** @param {string} head @param {...string} cells */
function tableRow(head, ...cells) {
  const first = make("th", "", head);
  first.setAttribute("scope", "row");
  return make("tr", "", first, ...cells.map((words) => make("td", "", words)));
}

function show() {
  const last = told.rows.find((/** @type {any} */ row) => !row.struck);
  byId("seen").textContent = last?.seen || "\u2013";
  byId("seen-way").textContent = !last ? "nothing read yet" : !last.expected ? "" : last.outside ? "outside what was expected" : "as expected";
  byId("big-says").textContent = last ? [last.what, last.expected && `expected ${last.expected}`, last.why_not && `not counted: ${last.why_not}`].filter(Boolean).join("; ") : "Choose what is read and at which setting.";
  byId("expected-head").textContent = `To be expected at ${told.setting}`;
  byId("expected").replaceChildren(...told.expected.map((/** @type {any} */ each) => tableRow(each.what.replace(` at ${told.setting}`, ""), each.band)));
  const asked = told.rows.filter((/** @type {any} */ row) => row.asked.length);
  reveal("asked-part", asked.length > 0);
  fill("asked", asked.map((/** @type {any} */ row) => asking(row, named(row), () => rewrite(row), row.usable)));
  fill("rows", told.rows.map(drawn), "No readings yet.");
}

/** What there is to choose from, once. */
function choices() {
  if (field("kind").children.length) return;
  const option = (/** @type {string} */ value) => {
    const made = /** @type {HTMLOptionElement} */ (make("option", "", value));
    made.value = value;
    return made;
  };
  field("kind").append(...told.kinds.map((/** @type {any} */ each) => option(each.name)));
  field("lip").append(...[...told.lips, "reservoir"].map(option));
  byId("settings").append(...told.settings.map((/** @type {string} */ name, /** @type {number} */ place) => {
    const box = /** @type {HTMLInputElement} */ (make("input"));
    Object.assign(box, { type: "radio", name: "setting", value: name, checked: place === 0 });
    box.addEventListener("change", () => look());
    return make("label", "", box, make("span", "", name));
  }));
  turned();
}

byId("kind").addEventListener("change", turned);
byId("form").addEventListener("submit", async (event) => {
  event.preventDefault();
  const now = kind();
  if (!now) {
    say("The laptop has not yet said what can be read: wait until it is near once.");
    return;
  }
  const [amount, seconds, chainage] = ["amount", "seconds", "chainage"].map((id) => field(id).value.trim());
  const empty = now.amount && !amount ? "amount" : now.needs_seconds && !seconds ? "seconds" : now.place === "chainage" && !chainage ? "chainage" : "";
  if (empty) {
    say("A number is empty.");
    field(empty).focus();
    return;
  }
  const place = now.place === "chainage" ? chainage : now.place ? field("lip").value : "";
  const content = {
    kind: now.name, flow: now.flow ? chosen("setting") : "", place, note: field("note").value.trim(),
    amount: now.amount ? amount : "", seconds: now.seconds ? seconds : "",
  };
  const says = [now.name, content.flow, place, content.amount && withUnit(content.amount, now.amount), content.seconds && `${content.seconds} s`].filter(Boolean).join(", ");
  await writeDown("switch-on", rowOf(content, anew.row), says);
  say(`Written down: ${says}.`);
  byId("big").classList.add("stale");
  anew.end();
  blank();
  byId("big").scrollIntoView();
});

// The watch: it goes on through a page that is closed and opened again, for a phone falls asleep in a pocket.
const WATCH = `beckwright watch ${line.job}`;
let since = Number(localStorage.getItem(WATCH) ?? 0);
const gone = () => (since ? (Date.now() - since) / 1000 : 0);
const tick = () => { byId("watch").textContent = `${gone().toFixed(1)} s`; };
function watching() {
  byId("watch-start").textContent = since ? "Start again" : "Start the watch";
  byId("watch-now").toggleAttribute("disabled", !since);
}
byId("watch-start").addEventListener("click", () => {
  since = Date.now();
  localStorage.setItem(WATCH, String(since));
  watching();
});
byId("watch-now").addEventListener("click", () => {
  field("seconds").value = gone().toFixed(1);
  field("seconds").dispatchEvent(new Event("input"));
});
window.setInterval(tick, 200);
watching();

byId("file").addEventListener("click", () => writeFile("/api/slope/switch-on/file", undefined, (answer) =>
  `Written as ${answer.file} in the job's folder.${answer.left_out ? ` ${counted(answer.left_out, "row")} left out.` : ""}`));

const look = follow(() => `/api/slope/switch-on?flow=${encodeURIComponent(chosen("setting"))}`, (answer, away) => {
  told = answer;
  choices();
  byId("big").classList.toggle("stale", away !== "");
  if (away) say(`Not recalculated since ${away}: the laptop is out of reach.`);
  show();
});
follow("/api/slope/switch-on/causes", (answer, away) => {
  byId("causes-says").textContent = answer.rows ? `From ${counted(answer.rows, "reading")}${away ? `, as of ${away}` : ""}. Chances rest on how often each turns up, which is assumed.` : "Nothing is read yet.";
  byId("causes").replaceChildren(...answer.causes.map((/** @type {any} */ each) => tableRow(each.name, each.chance, each.before)));
  const items = (/** @type {string[]} */ those) => (those ?? []).map((each) => make("li", "", each));
  fill("says", items([...(answer.says ?? []), ...answer.asked]));
  fill("next", answer.next.map((/** @type {any} */ each) => make("li", "", make("b", "", each.do), make("p", "small", each.tells), make("table", "shares", make("tbody", "", ...each.shows.map((/** @type {any} */ one) => tableRow(one.name, one.band)))))), answer.rows ? "No reading here would tell them apart." : "Time a bucket, and read the reservoir after a start.");
  fill("gives", items(answer.gives), "Nothing is read yet.");
  fill("learned", items(answer.learned), "Nothing yet.");
  reveal("order", answer.wrong);
  byId("order").textContent = answer.wrong ? `Likeliest: ${answer.causes[0].name.toLowerCase()}, ${answer.causes[0].chance}` : "";
});
ready("write");
