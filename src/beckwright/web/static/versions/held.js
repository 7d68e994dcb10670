// Two texts held against each other, as Python told them: changes, answers, findings, lines.

import { troubles } from "./kept.js";
import { make } from "../shared/svg.js";
import { counted } from "../shared/words.js";

/**
 * Why a side has no answers.
 * @param {any} held @param {string[]} names of both sides
 */
export function cannot(held, names) {
  return [held.old, held.new].flatMap((side, i) => side.problems.length === 0 ? [] : [
    make("p", "strong", `${names[i]} cannot be designed: no answers. Its text is kept.`),
    make("ul", "problems", ...troubles(side.problems))]);
}

const ROLES = /** @type {Object<string, string>} */ ({ TABLE: "table", THEAD: "rowgroup", TBODY: "rowgroup", TR: "row", TD: "cell" });

/** @param {string[]} heads @param {HTMLElement[]} rows */
function table(heads, rows) {
  const head = make("tr", "", ...heads.map((words) => scoped("col", words)));
  const made = make("table", `held of-${heads.length - 1}`, make("thead", "", head), make("tbody", "", ...rows));
  // A telephone lays each row out in two lines, and a browser then forgets that it is one.
  for (const each of [made, ...made.querySelectorAll("*")]) if (ROLES[each.tagName]) each.setAttribute("role", ROLES[each.tagName]);
  return make("div", "wide", made);
}

/** @param {"row" | "col"} scope @param {...(Node | string)} words */
function scoped(scope, ...words) {
  const cell = make("th", "", ...words);
  cell.setAttribute("scope", scope);
  cell.setAttribute("role", `${scope === "col" ? "column" : "row"}header`);
  return cell;
}

/**
 * What changed, in words.
 * @param {any} held @param {string[]} names
 */
export function changed(held, names) {
  if (held.changes === null) return make("p", "", "One of the two is no whole text, so that what changed cannot be told in words. Read its lines.");
  if (held.changes.length === 0) return make("p", "", "Nothing but comments, or nothing at all.");
  return table(["", ...names], held.changes.map((/** @type {any} */ each) => make("tr", "", scoped("row", each.what), make("td", "", each.before || "not there"), make("td", "", (each.differs ? `${each.after}: ${each.differs}` : each.after) || "taken out"))));
}

/**
 * Answers of both and their difference, from the first to the second.
 * @param {any[]} answers @param {string[]} names @param {boolean} all whether those that say the same are shown
 */
export function answered(answers, names, all) {
  const shown = answers.filter((each) => all || each.differs);
  if (shown.length === 0) return make("p", "", "No answer differs.");
  return table(["", ...names, "Difference"], shown.map((each) => make("tr", each.differs ? "differs" : "",
    scoped("row", each.label, ...(each.label_before ? [make("small", "", `before: ${each.label_before}`)] : [])),
    make("td", "", each.before ?? "no answer"), make("td", "", each.after ?? "no answer"), make("td", "strong", each.difference || (each.differs ? "one side only" : "same")))));
}

/** @param {any} finding */
const told = (finding) => make("li", `finding ${finding.severity}`, make("b", "", finding.place), make("span", "", finding.says), make("u", "", finding.cure));

/**
 * Findings only one side has.
 * @param {any} findings @param {string[]} names
 */
export function findings({ gone, new: fresh, otherwise }, names) {
  const list = (/** @type {string} */ title, /** @type {any[]} */ those) =>
    make("div", "side", make("h3", "", `${title} (${those.length})`), make("ol", "findings", ...those.map(told)), ...(those.length ? [] : [make("p", "second", "none")]));
  const both = make("details", "", make("summary", "", `${counted(otherwise.length, "finding")} of both, told with other numbers`),
    ...otherwise.map((/** @type {any} */ { before, after }) => make("div", "sides", make("ol", "findings", told(before)), make("ol", "findings", told(after)))));
  return make("div", "", make("div", "sides", list(`Only in ${names[0]}`, gone), list(`Only in ${names[1]}`, fresh)), ...(otherwise.length ? [both] : []));
}

/**
 * Both texts, line beside line; what is alike is left out.
 * @param {any} held @param {string[]} names
 */
export function lines(held, names) {
  if (held.lines.length === 0) return make("p", "", "Too many lines to lay side by side.");
  if (held.lines.every((/** @type {any} */ row) => "alike" in row || !row.differs)) return make("p", "", "No line differs.");
  const rows = held.lines.map((/** @type {any} */ row) => {
    if ("alike" in row) {
      const cell = make("td", "alike", `${counted(row.alike, "line")} alike`);
      cell.setAttribute("colspan", "3");
      return make("tr", "", cell);
    }
    const side = (/** @type {string | null} */ words) => make("td", words === null ? "absent" : row.differs ? "changed" : "", ...(words === null ? [make("span", "hidden-words", "no such line")] : [make("code", "", words)]));
    return make("tr", "", make("td", "number second", row.line === null ? "" : String(row.line)), side(row.old), side(row.new));
  });
  const block = table(["", ...names], rows);
  block.classList.add("texts");
  // A block that scrolls sideways must be within reach of the keyboard.
  block.setAttribute("tabindex", "0");
  block.setAttribute("role", "region");
  block.setAttribute("aria-label", "Both texts, line beside line");
  return block;
}
