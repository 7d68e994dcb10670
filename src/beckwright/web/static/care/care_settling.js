// Settling: the edges shot on several visits, drawn over the years, and until when their freeboard lasts.

import { byId, field, fill, follow, reveal, say } from "../slope/site.js";
import { make } from "../shared/svg.js";
import { counted } from "../shared/words.js";
import { item, side, years } from "./charts.js";

/** @param {any} told */
function show(told) {
  byId("head").textContent = told.big.head;
  byId("big-says").textContent = told.big.says;
  byId("note").textContent = told.note;
  fill("visits", told.visits.map((/** @type {any} */ each) => make("li", each.counted ? "" : "early", `${each.day}: ${counted(each.edges, "edge")}, ${each.comes}`)), "No visit yet: shoot the edges once the fill has had a winter, and once a year from then on.");
  const wrong = [...told.problems.map((/** @type {any} */ each) => `${each.place}: ${each.found}. ${each.remedy}.`), ...told.doubled];
  reveal("problems-part", wrong.length > 0);
  fill("problems", wrong.map((words) => make("li", "", words)));
  fill("along", told.along.map((/** @type {any} */ each) => item(each.says, side(each))), "Two places of one side, each shot on two visits, make a line.");
  fill("charts", told.charts.map((/** @type {any} */ each) => item(each.says, years(each.chart))), "An edge shot on two visits is drawn here.");
  byId("edges").replaceChildren(...told.edges.map((/** @type {any} */ each) => {
    const head = make("th", "", each.what);
    head.setAttribute("scope", "row");
    return make("tr", each.sinks ? "sinks" : "", head, ...[each.at, each.pace, each.left, each.gone].map((words) => make("td", "", words)));
  }));
  choices(told.visits);
}

/** @param {{day: string}[]} visits */
function choices(visits) {
  const select = field("since");
  const had = [...select.children].map((each) => /** @type {HTMLOptionElement} */ (each).value);
  for (const { day } of visits) {
    if (had.includes(day)) continue;
    const option = /** @type {HTMLOptionElement} */ (make("option", "", day));
    option.value = day;
    select.append(option);
  }
}

const look = follow(() => `/api/care/settling${field("since").value ? `?since=${field("since").value}` : ""}`, (answer, away) => {
  byId("big").classList.toggle("stale", away !== "");
  if (away) say(`Not recalculated since ${away}: the laptop is out of reach.`);
  show(answer);
});
field("since").addEventListener("change", () => look());
