// Another feature on the same reservoir: four numbers, an answer at once, nothing kept.

import { ask } from "../shared/ask.js";
import { make } from "../shared/svg.js";
import { byId, field, fill, say } from "../slope/site.js";
import { stick } from "./charts.js";

const FIELDS = ["flow", "lift", "least", "most"];
let turn = 0;
let soon = 0;

/** @param {any} each */
function finding(each) {
  return make("li", each.severity, make("b", "", `${each.place}. `), make("span", "", each.says), make("p", "cure", each.cure));
}

/** @param {any} told */
function show(told) {
  byId("stick").replaceChildren(stick(told.stick));
  fill("findings", told.findings.map(finding), told.none);
  byId("rows").replaceChildren(...told.rows.flatMap((/** @type {any} */ row) => [make("dt", "", row.name), make("dd", "", row.says)]));
}

async function weigh() {
  turn += 1;
  const mine = turn;
  const { answer, problems } = await ask("POST", "/api/care/second", Object.fromEntries(FIELDS.map((id) => [id, field(id).value])));
  if (mine !== turn) return;
  document.querySelector(".sheet")?.classList.toggle("stale", !answer);
  say(answer ? "" : problems.map((each) => `${each.place}: ${each.found}. ${each.remedy}.`).join(" "));
  if (answer) show(answer);
}

for (const id of FIELDS) field(id).addEventListener("input", () => {
  window.clearTimeout(soon);
  soon = window.setTimeout(weigh, 250);
});
byId("form").addEventListener("submit", (event) => {
  event.preventDefault();
  weigh();
});
ask("GET", "/api/care/second").then(({ answer }) => {
  if (!answer) return;
  for (const id of ["flow", "lift"]) byId(`${id}-unit`).textContent = answer[id];
  for (const id of ["least", "most"]) byId(`${id}-unit`).textContent = answer.holds;
});
weigh();
