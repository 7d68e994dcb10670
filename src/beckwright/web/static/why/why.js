// Why one figure is what it is: at once what can be followed by hand, then what moves it most, as far as it is found.

import { ask } from "../shared/ask.js";
import { draw, make } from "../shared/svg.js";

const AGAIN = 400;
const MOST_LISTED = 60;
const by = (/** @type {string} */ id) => /** @type {HTMLElement} */ (document.getElementById(id));
const name = decodeURIComponent(location.pathname.replace(/^\/why\/?/, ""));
const search = /** @type {HTMLInputElement} */ (by("search"));
const GRADES = /** @type {Object<string, string>} */ ({ "common practice": "practice" });
const gradeClass = (/** @type {string} */ grade) => `grade ${GRADES[grade] ?? grade.split(" ")[0]}`;
/**
 * A key of the job stays as it is; what stands before it is said.
 * @param {string} comes
 */
function came(comes) {
  const [, key] = comes.match(/^job: ([\w.]+)$/) ?? [];
  if (!key) return [comes];
  const kept = make("span", "", key);
  kept.setAttribute("translate", "no");
  return ["job", ": ", kept];
}
const address = (/** @type {string} */ figure) => `/why/${encodeURIComponent(figure)}`;

/** @param {string} figure @param {string} words */
function linked(figure, words) {
  const link = make("a", "", words);
  link.setAttribute("href", address(figure));
  return link;
}

/** @type {any[]} */
let figures = [];

async function list() {
  const { answer, problems } = await ask("GET", "/api/figures");
  if (!answer) return tell(problems);
  figures = answer.figures;
  found();
  if (!name) by("told").textContent = `Revision ${answer.revision}.`;
}

function found() {
  const words = search.value.toLowerCase().split(/\s+/).filter(Boolean);
  const fits = figures.filter((one) => words.every((word) => `${one.name} ${one.label}`.toLowerCase().includes(word)));
  const shown = words.length || !name ? fits.slice(0, MOST_LISTED) : [];
  by("count").textContent = `${fits.length} of ${figures.length} figures${fits.length > shown.length && shown.length ? `, the first ${shown.length} shown` : ""}`;
  by("figures").replaceChildren(...shown.map((one) => {
    const link = linked(one.name, "");
    const label = make("span", "", one.label);
    label.setAttribute("translate", "no"); // Said already.
    link.append(label, make("strong", gradeClass(one.grade), one.words), make("small", "", one.name));
    return make("li", "", link);
  }));
}

async function explain() {
  const { answer, problems } = await ask("GET", `/api/explain/${encodeURIComponent(name)}`);
  if (!answer) return unknown(problems);
  document.title = `Why: ${answer.label}`;
  by("one").hidden = by("moving").hidden = false;
  by("label").textContent = answer.label;
  by("value").replaceChildren(make("span", gradeClass(answer.grade), answer.band || answer.words));
  by("grade").replaceChildren(...(answer.band ? [`middle ${answer.words}`, "; "] : []), answer.grade, "; ", answer.name);
  if (answer.equation) by("working").replaceChildren(...working(answer.equation));
  const from = make("dd", "", answer.source, ...(answer.place ? [" ", answer.place] : []));
  if (answer.published) from.setAttribute("translate", "no");
  const source = [make("dt", "", "Source"), from];
  if (answer.note) source.push(make("dt", "", "Note"), make("dd", "", answer.note));
  by("source").replaceChildren(...source);
  by("told").textContent = "What can be followed by hand is above.";
  document.querySelector("main")?.append(by("searching"));
  await moved("POST", "");
}

/** @param {any} equation */
function working(equation) {
  const rows = equation.inputs.map((/** @type {any} */ one) =>
    make("tr", "", make("td", "", one.letter), make("td", "", one.meaning), make("td", "number", one.words), make("td", "", ...(one.leads ? [linked(one.leads, one.comes)] : came(one.comes)))));
  const heads = ["sign", "what", "value", "from"].map((words) => {
    const head = make("th", words === "value" ? "number" : "", words);
    head.setAttribute("scope", "col");
    return head;
  });
  const table = make("div", "wide", make("table", "", make("thead", "", make("tr", "", ...heads)), make("tbody", "", ...rows)));
  const outside = equation.outside.length ? [make("p", "", `Outside what its source tested: ${equation.outside.join(", ")}.`)] : [];
  return [make("p", "", equation.summary), make("code", "formula", equation.formula), table, ...outside];
}

/**
 * Ask how far the search is, and again until it is over.
 * @param {string} method
 * @param {string} more
 */
async function moved(method, more) {
  const { answer, problems } = await ask(method, `/api/moved/${encodeURIComponent(name)}${more}`);
  if (!answer) return tell(problems);
  const { state, done, of } = answer;
  by("stop").hidden = state !== "working";
  by("again").hidden = state === "working" || state === "done";
  /** @type {Object<string, string>} */
  const says = {
    working: of ? `Being worked out: ${done} of ${of} inputs tried.` : "Being worked out.",
    done: answer.found ? `${of} inputs tried, each a little less and more; ${answer.found} move it.` : "No number of the job moves it.",
    stopped: `Stopped after ${done} of ${of} inputs; the strongest of those are below.`,
    broken: "It could not be worked out. Nothing in the job folder was changed.",
    "not asked": "The job has changed. Look again.",
  };
  by("progress").textContent = says[state] ?? "";
  by("bars").replaceChildren(...answer.moved.map(bar));
  if (state === "working") setTimeout(() => moved("GET", ""), AGAIN);
}

/** @param {any} one */
function bar(one) {
  const [low, high, before] = one.bar.map((/** @type {number} */ share) => 1000 * share);
  const svg = draw("svg", { viewBox: "0 0 1000 20", preserveAspectRatio: "none", "aria-hidden": "true" },
    draw("path", { d: "M0 10H1000", class: "rail" }), draw("rect", { x: low, y: 3, width: Math.max(2, high - low), height: 14, class: "bar" }), draw("path", { d: `M${before} 0V20`, class: "before" }));
  return make("li", "", make("b", "", one.key), svg, make("span", "", `${one.change}: ${one.words}`));
}

/**
 * No such figure: what a person may have meant.
 * @param {import("../shared/ask.js").Trouble[]} problems
 */
function unknown(problems) {
  const [problem] = problems;
  const near = problem.remedy.startsWith("Did you mean ") ? problem.remedy.slice(13).split(", ") : [];
  by("one").hidden = false;
  by("label").textContent = problem.found;
  by("working").replaceChildren(make("p", "", near.length ? "Did you mean" : problem.remedy), make("ul", "figures", ...near.map((one) => make("li", "", linked(one, one)))));
  search.value = name.split(".").slice(-1)[0].replaceAll("_", " ");
  found();
  by("told").textContent = `${problem.found}. ${problem.rule}.`;
}

/** @param {import("../shared/ask.js").Trouble[]} problems */
const tell = (problems) => by("told").replaceChildren(...problems.map((each) => make("span", "", `${each.place}: ${each.found}. ${each.rule}. ${each.remedy}. `)));

search.addEventListener("input", found);
by("stop").addEventListener("click", () => moved("POST", "/stop"));
by("again").addEventListener("click", () => moved("POST", ""));
if (name) await explain();
await list();
