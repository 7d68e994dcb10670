// Five answers in, ranges out as one types. What was typed stays in this browser, also while the laptop is away.

import { ask } from "../shared/ask.js";
import { newMark } from "../shared/queue.js";
import { draw, make } from "../shared/svg.js";
import { amounts, inTheirUnit, padded, withUnit } from "../shared/typed.js";
import { one, read } from "../shared/words.js";

const KEPT = `beckwright visit ${location.host}`;
const MAKING = `beckwright visit job ${location.host}`;
const PAUSE = 350;
const AGAIN = 3000;
const NUMBERS = ["length", "fall", "width", "access", "flow"];

const byId = (/** @type {string} */ id) => /** @type {HTMLElement} */ (document.getElementById(id));
const field = (/** @type {string} */ id) => /** @type {HTMLInputElement} */ (document.getElementById(id));
/** @template {Element} T @param {string} which @returns {T[]} */
const all = (which) => /** @type {T[]} */ ([...document.querySelectorAll(which)]);

/** @typedef {{length: string | null, fall: string | null, width: string | null, access: string | null, flow: string | null, look: string | null, measured: string[], prices: Record<string, string>, currency: string}} Visit */

/**
 * What is typed, as typed: Python reads it. Null where nothing is.
 * @param {string} id
 */
const typed = (id) => field(id).value.trim() || null;

/** @returns {Visit} */
function typedVisit() {
  const numbers = Object.fromEntries(NUMBERS.map((key) => [key, typed(key)]));
  const look = /** @type {HTMLInputElement | null} */ (document.querySelector("[name=look]:checked"))?.value || null;
  const measured = all("[data-measured]").filter((/** @type {any} */ box) => box.checked && typed(box.dataset.measured) !== null);
  const prices = all("[data-price]").flatMap((/** @type {any} */ each) => (typed(each.id) === null ? [] : [[each.dataset.price, typed(each.id)]]));
  return /** @type {any} */ ({
    ...numbers, look, measured: measured.map((/** @type {any} */ box) => box.dataset.measured), prices: Object.fromEntries(prices), currency: field("currency").value.trim() || "GBP",
  });
}

/** @param {string} key @returns {any} */
function kept(key) {
  try {
    return JSON.parse(localStorage.getItem(key) ?? "null");
  } catch (trouble) {
    if (trouble instanceof SyntaxError) return null;
    throw trouble;
  }
}

/**
 * Put what was typed the last time back.
 * @param {any} visit
 */
function putBack(visit) {
  for (const key of NUMBERS) field(key).value = inTheirUnit(String(visit[key] ?? ""), field(key).dataset.metric ?? "", visit.units ?? "metric");
  for (const radio of all("[name=look]")) /** @type {any} */ (radio).checked = /** @type {any} */ (radio).value === (visit.look ?? "");
  for (const box of all("[data-measured]")) /** @type {any} */ (box).checked = (visit.measured ?? []).includes(/** @type {any} */ (box).dataset.measured);
  for (const each of all("[data-price]")) /** @type {any} */ (each).value = visit.prices?.[/** @type {any} */ (each).dataset.price] ?? "";
  field("currency").value = visit.currency ?? "GBP";
}

let wanted = "";
let asking = false;
let timer = 0;

/** @param {string} words @param {boolean} stale */
function say(words, stale) {
  byId("state").textContent = words;
  document.querySelector(".answers")?.classList.toggle("stale", stale);
  document.querySelector(".answers")?.setAttribute("aria-busy", String(stale));
}

function changed() {
  const visit = typedVisit();
  localStorage.setItem(KEPT, JSON.stringify({ ...visit, units: read() }));
  for (const box of all("[data-measured]")) /** @type {any} */ (box).disabled = typed(/** @type {any} */ (box).dataset.measured) === null;
  window.clearTimeout(timer);
  wanted = JSON.stringify(visit);
  say("Being worked out.", true);
  timer = window.setTimeout(answer, PAUSE);
}

/**
 * Ask one at a time: what is typed meanwhile is asked once the answer is there.
 * @returns {Promise<void>}
 */
async function answer() {
  if (asking || wanted === "") return;
  asking = true;
  const asked = wanted;
  const { answer: told, problems, away } = await ask("POST", "/api/visit", JSON.parse(asked));
  asking = false;
  if (away) {
    say("The laptop is out of reach. What you typed is kept here, and is answered when it is back.", true);
    timer = window.setTimeout(answer, AGAIN);
    return;
  }
  if (asked !== wanted) {
    timer = window.setTimeout(answer, PAUSE);
    return;
  }
  showProblems(problems);
  if (told) show(told);
  else say("Not worked out.", true);
}

/** @param {import("../shared/ask.js").Trouble[]} problems */
function showProblems(problems) {
  for (const key of NUMBERS) field(key).setAttribute("aria-invalid", String(problems.some((each) => each.place.split(".")[0] === key)));
  byId("problems").replaceChildren(
    ...problems.map((each) => make("li", "", make("u", "", `${each.place}: ${each.found}`), `${each.rule}. ${each.remedy}.`)),
  );
}

/** @param {any} told */
function show(told) {
  const answers = new Map(told.answers.map((/** @type {any} */ each) => [each.key, each]));
  for (const row of all("[data-answer]")) {
    const each = answers.get(/** @type {any} */ (row).dataset.answer);
    row.classList.toggle("untold", !each);
    if (each) showAnswer(row, each);
    else {
      part(row, "says", "Not told without your own prices.");
      for (const name of ["note", "moved"]) part(row, name, "");
    }
  }
  brief(answers);
  byId("pit").textContent = `Pit: ${told.pit}. ${told.machines}`;
  byId("next").textContent = told.next ? `Next: ${told.next}` : "Nothing is left to measure for these.";
  byId("taken").replaceChildren(...told.taken.flatMap((/** @type {any} */ each) => [make("dt", "", each.says), make("dd", "", each.band)]));
  for (const each of told.taken) {
    const line = document.getElementById(`${each.key}-taken`);
    if (line) line.textContent = each.band.split(":")[0];
  }
  say(`${told.designed} streams designed: the least and the most of them.`, false);
}

/**
 * The first three in one glance, at the foot of a telephone: they are read elsewhere.
 * @param {Map<string, any>} answers
 */
function brief(answers) {
  const [flow, holds, dug] = ["flow", "holds", "dug"].map((key) => answers.get(key)?.says ?? "");
  byId("brief-1").replaceChildren(make("b", "", flow), " must run");
  byId("brief-2").replaceChildren(make("b", "", holds), " held, ", make("b", "", dug), " dug");
}

/** @param {Element} row @param {string} name @param {string} words */
function part(row, name, words) {
  const found = row.querySelector(`[data-part=${name}]`);
  if (found) found.replaceChildren(...make("span", "", words).childNodes);
}

/** @param {Element} row @param {any} each */
function showAnswer(row, each) {
  for (const name of ["says", "note", "half", "top"]) part(row, name, each[name]);
  const heading = row.querySelector("h3");
  if (heading) heading.textContent = each.name;
  part(row, "moved", each.moved ? `${each.moved} ${each.order}` : "");
  const [left, right] = [1 + 358 * each.low, 1 + 358 * each.high];
  const ticks = Array.from({ length: 19 }, (_, at) => 1 + (358 / 20) * (at + 1));
  row.querySelector("svg")?.replaceChildren(
    draw("rect", { class: "band", x: 1, y: 1, width: 358, height: 18 }),
    ...ticks.map((x, at) => draw("path", { class: "tick", d: `M${x.toFixed(1)} 1v${(at + 1) % 5 ? 5 : 11}` })),
    draw("rect", { class: "known", x: left.toFixed(1), y: 1, width: Math.max(right - left, 3).toFixed(1), height: 18 }),
  );
}

/**
 * One press of plus or minus: on by a step, from the middle where nothing was known. What has a unit of its own is asked for.
 * @param {HTMLElement} button
 */
async function stepBy(button) {
  const key = /** @type {HTMLElement} */ (button.closest("[data-key]")).dataset.key ?? "";
  const by = Number(button.dataset.by);
  const input = field(key);
  const words = typed(key);
  let now = words === null ? NaN : Number(words.replace(",", "."));
  if (words !== null && Number.isNaN(now)) {
    const { amounts: [amount], problems } = await amounts([input]);
    if (problems.length > 0) return changed();
    now = amount / one("m");
  }
  const next = words === null ? Number(input.dataset.middle) : now + by;
  const held = Math.min(Math.max(next, Number(input.dataset.min)), Number(input.dataset.max));
  input.value = String(Number(held.toFixed(2)));
  changed();
}

/** The job that was asked for and is not made yet: kept until the laptop has taken it. */
async function makeJob() {
  const making = kept(MAKING);
  if (!making) return;
  field("make").disabled = true;
  byId("made").textContent = "Being made.";
  const { answer: told, problems, away } = await ask("POST", "/api/visit/job", making);
  if (away) {
    byId("made").textContent = "The laptop is out of reach. The job is made as soon as it is back.";
    window.setTimeout(makeJob, AGAIN);
    return;
  }
  localStorage.removeItem(MAKING);
  field("make").disabled = false;
  if (!told) {
    byId("made").textContent = "No job was made.";
    showProblems(problems);
    byId("problems").scrollIntoView();
  } else if (told.here) location.assign("/");
  else byId("made").textContent = `Made: ${told.folder}, in the folder beside this job. Open it on the laptop: beckwright open "${told.folder}"`;
}

byId("asks").addEventListener("input", (event) => {
  // Where a flow is typed no look counts, and the other way round.
  if (/** @type {any} */ (event.target).name === "look") field("flow").value = "";
  changed();
});
byId("asks").addEventListener("submit", (event) => event.preventDefault());
for (const button of all("[data-by]")) button.addEventListener("click", () => stepBy(/** @type {HTMLElement} */ (button)));
byId("clear").addEventListener("click", () => {
  putBack({ prices: typedVisit().prices, currency: field("currency").value });
  changed();
});
byId("make").addEventListener("click", () => {
  const visit = typedVisit();
  const own = Object.fromEntries(NUMBERS.map((key) => [key, typed(key) && withUnit(typed(key) ?? "", field(key).dataset.metric ?? "")]));
  localStorage.setItem(MAKING, JSON.stringify({ mark: newMark(), name: field("name").value.trim(), visit: { ...visit, ...own } }));
  makeJob();
});
document.getElementById("round")?.addEventListener("submit", async (event) => {
  event.preventDefault();
  const { answer: told, problems } = await ask("POST", "/api/example", { name: field("round-name").value.trim() });
  if (told) location.assign("/?round");
  else byId("round-told").textContent = problems.map(({ found, remedy }) => `${found}. ${remedy}.`).join(" ");
});
for (const name of ["online", "pageshow"]) window.addEventListener(name, () => document.querySelector(".stale") && answer());
for (const key of NUMBERS) padded(field(key), field(key).dataset.metric ?? "");
putBack(kept(KEPT) ?? {});
changed();
makeJob();
