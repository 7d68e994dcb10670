// What was understood of a survey file, as tables, a small plan and questions. Every word of a file is a text node.

import { draw, make, through } from "../shared/svg.js";
import { grouped } from "../shared/words.js";

/** @param {Array<string | Node>} cells @param {number[]} [numbers] columns of numbers */
export function row(cells, numbers = []) {
  return make("tr", "", ...cells.map((cell, place) => make("td", numbers.includes(place) ? "number" : "", cell)));
}

/** @param {Array<[string, string]>} rows */
export const extent = (rows) => rows.map(([name, words]) => {
  const head = make("th", "", name);
  head.setAttribute("scope", "row");
  return make("tr", "", head, make("td", "", words));
});

/** @param {any} told */
export const codes = (told) => [
  ...told.codes.map((/** @type {any} */ each) => row([each.written || "(none)", each.known ? each.became : each.written ? "as it is" : "none", grouped(each.count)], [2])),
  ...(told.more_codes ? [row([`and ${told.more_codes} more`, "", ""])] : []),
];

/** @param {any} problem */
export function problem(problem) {
  const said = make("li", "", make("u", "", `${problem.place}: ${problem.found}. ${problem.rule}.`), `${problem.remedy}.`);
  if (problem.line) said.append(make("code", "", problem.line));
  return said;
}

/** @param {any} finding */
export const finding = (finding) => make("li", "", make("u", "", `${finding.place}. ${finding.says}`), finding.cure);

/**
 * A question with a press for each choice; names of columns and a window may be typed too.
 * @param {any} asked @param {(answer: string, words: string) => void} answer
 */
export function question(asked, answer) {
  const choices = make("div", "choices");
  const typed = asked.about === "columns" || asked.about === "window";
  for (const choice of asked.choices) {
    const press = make("button", "press", choice.says, make("small", "", choice.words));
    press.setAttribute("type", "button");
    press.addEventListener("click", () => answer(choice.answer, choice.words));
    if (!(typed && asked.choices.length === 1)) choices.append(press);
  }
  if (typed) choices.append(...ownWords(asked, answer));
  return make("li", "", make("p", "", asked.says), choices);
}

/** @param {any} asked @param {(answer: string, words: string) => void} answer */
function ownWords(asked, answer) {
  const input = /** @type {HTMLInputElement} */ (make("input"));
  input.value = asked.choices[0].words;
  const label = make("label", "field", asked.about === "columns" ? "Or name them in their order: id, x, y, z, code, breakline, - to pass over" : "West, south, east and north of the part", input);
  const press = make("button", "press words", "Use these");
  press.setAttribute("type", "button");
  press.addEventListener("click", () => answer(asked.choices[0].answer, input.value));
  return [label, press];
}

/**
 * Draw the plan.
 * @param {SVGSVGElement} svg
 * @param {any} plan
 */
export function planned(svg, plan) {
  const { wide, high, bar } = plan;
  svg.setAttribute("viewBox", `0 0 ${wide} ${high}`);
  const spots = plan.points.map((/** @type {[number, number]} */ [x, y]) => `M${x - 2} ${y}a2 2 0 1 0 4 0a2 2 0 1 0-4 0`).join("");
  svg.replaceChildren(
    draw("path", { class: "hull", d: through(plan.hull, true) }),
    draw("path", { class: "contour", d: plan.contours.map((/** @type {any} */ line) => through(line)).join("") }),
    draw("path", { class: "breakline", d: plan.lines.map((/** @type {any} */ line) => through(line)).join("") }),
    draw("path", { class: "spot", d: spots }),
    ...plan.levels.map((/** @type {any} */ [x, y, level]) => draw("text", { class: "level", x: Math.min(x + 5, wide - 60), y: y - 4 }, level)),
    draw("path", { class: "bar", d: `M14 ${high - 12}h${bar.pixels}` }),
    draw("text", { x: 14, y: high - 18 }, bar.metres),
    draw("path", { class: "north", d: `M${wide - 22} 44V12M${wide - 29} 22l7-10 7 10` }),
    draw("text", { x: wide - 28, y: 60 }, "N"),
  );
}

/**
 * What the plan shows, in words.
 * @param {any} told
 */
export function planWords(told) {
  const { plan } = told;
  const few = plan.points.length < plan.of ? `${grouped(plan.points.length)} of ${told.counted} points drawn` : `${told.counted} points`;
  const lines = plan.lines.length ? ", breaklines solid" : "";
  return `Plan, north up: ${few}${lines}${plan.interval ? `, contours every ${plan.interval} m` : ""}. Levels in m.`;
}
