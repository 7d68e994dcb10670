// All sheets, by whose hands they go into; a sheet stands with everybody who reads it. Drawing them takes seconds: the page says how far it is, and can stop it.

import { ask } from "../shared/ask.js";
import { make } from "../shared/svg.js";
import { counted } from "../shared/words.js";

const WAIT = 0.6;
const SHOWN = 6;
const byId = (/** @type {string} */ id) => /** @type {HTMLElement} */ (document.getElementById(id));
const far = /** @type {HTMLProgressElement} */ (byId("far"));
let revision = 0;
let turn = 0;

/**
 * Ask until the sheets are there, or somebody stops it.
 * @param {boolean} begin
 */
async function follow(begin) {
  turn += 1;
  const mine = turn;
  byId("draw").hidden = true;
  byId("stop").hidden = false;
  for (let first = begin; ; first = false) {
    const { answer, problems } = await ask("GET", `/api/papers?wait=${WAIT}&begin=${first}`);
    if (mine !== turn) return;
    byId("problems").replaceChildren(...problems.map(problemTold));
    if (!answer) return pause("not drawn");
    if (answer.drawn) return lay(answer);
    if (answer.stopped) return pause("stopped");
    byId("words").textContent = answer.words;
    far.max = answer.of || 1;
    far.value = answer.done;
    if (answer.of === 0) far.removeAttribute("value");
  }
}

/** @param {string} words */
function pause(words) {
  far.value = 0;
  byId("words").textContent = words;
  byId("stop").hidden = true;
  byId("draw").hidden = false;
  byId("told").textContent = words === "stopped" ? "Stopped. What was worked out is kept: drawing again goes on from there." : "Nothing is drawn.";
}

/** @param {any} problem */
function problemTold(problem) {
  return make("li", "", make("u", "", `${problem.place}: ${problem.found}. ${problem.rule}.`), `${problem.remedy}.`);
}

/**
 * Lay the sheets out.
 * @param {any} told
 */
function lay(told) {
  revision = told.revision;
  byId("job").textContent = told.title;
  byId("revision").textContent = `revision ${told.revision}`;
  byId("way").hidden = true;
  byId("ready").hidden = false;
  byId("whole-title").textContent = `The whole set, ${counted(told.sheets.length, "sheet")}`;
  byId("jumps").replaceChildren(...told.groups.map((/** @type {any} */ group, /** @type {number} */ row) => jump(group, row)));
  byId("groups").replaceChildren(...told.groups.map((/** @type {any} */ group, /** @type {number} */ row) => section(group, row)));
  byId("told").textContent = "Press a sheet to see it large. For true scale print the PDF at 100 %.";
}

/** @param {any} group @param {number} row */
function jump(group, row) {
  const link = /** @type {HTMLAnchorElement} */ (make("a", "", `${group.name} (${group.sheets.length})`));
  link.href = `#group-${row}`;
  return link;
}

/** @param {any} group @param {number} row */
function section(group, row) {
  const cards = make("div", "cards", ...group.sheets.map(card));
  const title = make("h2", "", group.name, make("small", "", group.says));
  const pdf = /** @type {HTMLAnchorElement} */ (make("a", "press words", "PDF", make("small", "", group.key === "whole" ? "every sheet" : "these sheets only")));
  pdf.href = group.pdf;
  const made = make("section", "group", title, make("p", "own", pdf), cards);
  made.id = `group-${row}`;
  title.id = `group-title-${row}`;
  made.setAttribute("aria-labelledby", title.id);
  const rest = [...cards.children].slice(SHOWN);
  if (rest.length > 2) {
    for (const each of rest) /** @type {HTMLElement} */ (each).hidden = true;
    const more = make("button", "press words", `Show all ${group.sheets.length}`);
    more.setAttribute("type", "button");
    more.addEventListener("click", () => {
      for (const each of rest) /** @type {HTMLElement} */ (each).hidden = false;
      more.remove();
      rest[0].querySelector("a")?.focus();
    });
    made.append(more);
  }
  return made;
}

/** @param {any} sheet */
function card(sheet) {
  const picture = /** @type {HTMLImageElement} */ (make("img"));
  picture.loading = "lazy";
  picture.decoding = "async";
  picture.width = Math.round(sheet.wide);
  picture.height = Math.round(sheet.high);
  picture.alt = "";
  picture.src = `/papers/${encodeURIComponent(sheet.name)}.svg?face=true&revision=${revision}`;
  const link = /** @type {HTMLAnchorElement} */ (make("a", "", picture, make("b", "", sheet.title)));
  link.href = `/papers/${encodeURIComponent(sheet.name)}`;
  return make("article", "card", link, make("p", "forms", ...sheet.forms.map((/** @type {string} */ form) => given(sheet, form))));
}

/** @param {any} sheet @param {string} form */
function given(sheet, form) {
  const link = /** @type {HTMLAnchorElement} */ (make("a", "", form.toUpperCase()));
  link.href = `/papers/${encodeURIComponent(sheet.name)}.${form}`;
  link.download = `${sheet.name}.${form}`;
  link.setAttribute("aria-label", `${sheet.title} as ${form.toUpperCase()}`);
  return link;
}

/** Whoever comes back to the page is told where the job has moved on. */
async function lookAgain() {
  if (document.hidden || revision === 0) return;
  const { answer } = await ask("GET", "/api/papers?wait=0&begin=false");
  if (!answer || (answer.drawn && answer.revision === revision)) return;
  byId("way").hidden = false;
  pause(`These are of revision ${revision}; the job stands at ${answer.revision}`);
  byId("told").textContent = "The job has changed since these were drawn. Draw them again before anything is printed.";
}

byId("stop").addEventListener("click", async () => {
  await ask("POST", "/api/papers/stop", {});
});
byId("draw").addEventListener("click", () => follow(true));
document.addEventListener("visibilitychange", lookAgain);
follow(true);
