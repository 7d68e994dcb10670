// One sheet, as large as wanted. Its picture is drawn by the browser from the same SVG that is printed.

import { ask } from "../shared/ask.js";
import { make } from "../shared/svg.js";

const STEPS = [1, 1.5, 2, 3, 4, 6, 8];
const byId = (/** @type {string} */ id) => /** @type {HTMLElement} */ (document.getElementById(id));
const link = (/** @type {string} */ id) => /** @type {HTMLAnchorElement} */ (byId(id));
const sheet = /** @type {HTMLImageElement} */ (byId("sheet"));
const name = decodeURIComponent(location.pathname.split("/").pop() ?? "");
let step = 0;
let shape = 1;

/** As wide as the window allows times the step, about the middle of what is seen. */
function size() {
  const held = byId("held");
  const [was, wasHigh] = [sheet.width || 1, sheet.height || 1];
  const [across, down] = [(held.scrollLeft + held.clientWidth / 2) / was, (held.scrollTop + held.clientHeight / 2) / wasHigh];
  sheet.width = Math.floor(held.clientWidth * STEPS[step]) - 2;
  sheet.height = Math.round(sheet.width * shape);
  held.scrollLeft = across * sheet.width - held.clientWidth / 2;
  held.scrollTop = down * sheet.height - held.clientHeight / 2;
  byId("large").textContent = `${STEPS[step] * 100} %`;
  byId("smaller").toggleAttribute("disabled", step === 0);
  byId("larger").toggleAttribute("disabled", step === STEPS.length - 1);
}

/** @param {number} by */
function zoom(by) {
  step = Math.max(0, Math.min(STEPS.length - 1, by === 0 ? 0 : step + by));
  size();
}

/** @param {string} id @param {any} to */
function beside(id, to) {
  link(id).hidden = !to;
  if (!to) return;
  link(id).href = `/papers/${encodeURIComponent(to.name)}`;
  link(id).setAttribute("aria-label", `${id === "before" ? "Sheet before" : "Next sheet"}: ${to.title}`);
}

/** @param {string} form */
function given(form) {
  const made = /** @type {HTMLAnchorElement} */ (make("a", "", form.toUpperCase()));
  made.href = `/papers/${encodeURIComponent(name)}.${form}`;
  made.download = `${name}.${form}`;
  made.setAttribute("aria-label", `This sheet as ${form.toUpperCase()}`);
  return made;
}

/** @param {any} told */
function show(told) {
  const every = told.groups.flatMap((/** @type {any} */ group) => group.sheets);
  const row = every.findIndex((/** @type {any} */ each) => each.name === name);
  if (row < 0) {
    byId("told").textContent = `There is no sheet ${name} in this set. Go back to all sheets.`;
    byId("held").hidden = true;
    return;
  }
  const found = every[row];
  document.title = `${told.title}, ${found.title}`;
  byId("sheet-title").textContent = found.title;
  byId("sheet-says").textContent = `${told.title}, revision ${told.revision}, ${found.paper}, sheet ${row + 1} of ${every.length}`;
  shape = found.high / found.wide;
  sheet.alt = found.says || found.title;
  sheet.addEventListener("error", () => { byId("told").textContent = "The sheet did not come. Load the page again."; });
  sheet.src = `/papers/${encodeURIComponent(name)}.svg?face=true&revision=${told.revision}`;
  byId("take").replaceChildren(...found.forms.map(given));
  beside("before", every[row - 1]);
  beside("after", every[row + 1]);
  byId("told").textContent = "Printed from here it fills the page. For true scale print the PDF at 100 %.";
  size();
}

/** Ask until the sheets are drawn. */
async function follow() {
  for (let begin = true; ; begin = false) {
    const { answer, problems } = await ask("GET", `/api/papers?wait=2&begin=${begin}`);
    byId("problems").replaceChildren(...problems.map((each) => make("li", "", make("u", "", `${each.place}: ${each.found}. ${each.rule}.`), `${each.remedy}.`)));
    if (!answer) return;
    if (answer.drawn) return show(answer);
    byId("told").textContent = answer.stopped ? "Drawing was stopped. Draw them on the page of all sheets." : `The sheets are ${answer.of ? answer.words : "being worked out"}.`;
    if (answer.stopped) return;
  }
}

byId("smaller").addEventListener("click", () => zoom(-1));
byId("larger").addEventListener("click", () => zoom(1));
byId("fit").addEventListener("click", () => zoom(0));
byId("print").addEventListener("click", () => window.print());
byId("held").addEventListener("keydown", (event) => {
  if (event.key === "+" || event.key === "=") zoom(1);
  else if (event.key === "-") zoom(-1);
  else if (event.key === "0") zoom(0);
});
window.addEventListener("resize", size);
byId("told").textContent = "Fetching the sheet.";
follow();
