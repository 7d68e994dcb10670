// The doubt list: what each measurement is worth, how it is made, and a form that takes the key off the list.

import { ask } from "../shared/ask.js";
import { newMark } from "../shared/queue.js";
import { make } from "../shared/svg.js";
import { padded } from "../shared/typed.js";
import { counted, spoken, unit } from "../shared/words.js";

const by = (/** @type {string} */ id) => /** @type {HTMLElement} */ (document.getElementById(id));
let revision = 0;

/** @param {string} [says] */
async function load(says = "") {
  const { answer, problems } = await ask("GET", "/api/doubts");
  if (!answer) return tell(problems);
  revision = answer.revision;
  by("lead").textContent = `Nobody said how far off these may be: each is tried ${answer.by} less and more (a level ${answer.by_level} lower and higher). The measurement that narrows a figure most comes first.`;
  by("doubts").replaceChildren(...answer.doubts.map((/** @type {any} */ one) => doubt(one, answer.by)));
  if (!answer.doubts.length) by("doubts").replaceChildren(make("p", "doubt", "The doubt list is bare: all was measured."));
  by("assumed").replaceChildren(...answer.assumed.map((/** @type {any} */ row) =>
    make("li", "", make("b", "", row.comes, ": ", row.words, ". "), make("span", "", row.why, ". "), make("small", "", `In ${counted(row.count, "figure")}: `), ...among(row.figures))));
  by("told").textContent = says || `Revision ${revision}. ${counted(answer.doubts.length, "doubt")}.`;
}

/** @param {any[]} figures */
const among = (figures) => figures.flatMap((one, number) => [number ? ", " : "", linked(one)]);

/** @param {any} figure */
function linked(figure) {
  const link = make("a", "", figure.label);
  link.setAttribute("href", `/why/${encodeURIComponent(figure.name)}`);
  return link;
}

/** @param {any} one @param {string} share */
function doubt(one, share) {
  const moves = one.moves.map((/** @type {any} */ move) =>
    make("li", "", linked(move), make("br"), `${move.doubtful} while it may be off; ${move.measured} once measured (${move.percent} of it narrower)`));
  /** @type {Object<string, string>} */
  const none = { line: "A place, a line or a table: no single number to try. What it is worth is not told.", nought: "It stands at 0, of which there is no share to try. What it is worth is not told." };
  const nothing = none[one.kind] ?? `By ${share} either way it moves no figure.`;
  const others = one.moves.length && !one.matters ? [make("p", "second", "None of the ten figures moves by it; these do.")] : [];
  const title = spoken(one.key);
  const section = make("section", "doubt", make("h2", "", title[0].toUpperCase() + title.slice(1)), make("p", "second key", `${one.key}: ${one.shown}`),
    ...others, make("ul", "moves", ...(moves.length ? moves : [make("li", "second", nothing)])), make("p", "", make("b", "", "On site: "), one.how));
  section.append(form(one, title));
  return section;
}

/** @param {any} one @param {string} title */
function form(one, title) {
  const made = make("form", "");
  made.setAttribute("novalidate", "");
  const number = /** @type {HTMLInputElement} */ (make("input"));
  if (one.kind !== "line") {
    number.value = one.typed;
    number.autocomplete = "off";
    if (Array.isArray(one.value)) number.inputMode = "text";
    else padded(number, one.unit);
    const press = make("button", "press words", "Set, and take it off the list");
    press.setAttribute("type", "submit");
    made.append(make("label", "", `measured${one.unit ? `, ${unit(one.unit)}` : ""}${Array.isArray(one.value) ? ", each with a semicolon between" : ""}`, number), press);
    number.setAttribute("aria-label", `${title}, measured`);
  }
  const stands = make("button", "plain", "Measured: it stands as it is");
  stands.setAttribute("type", "button");
  stands.addEventListener("click", () => set(one, []));
  made.append(stands);
  made.addEventListener("submit", async (event) => {
    event.preventDefault();
    // What stands in the field untouched is what stands in the job, to its last digit.
    if (number.value.trim() === one.typed) return set(one, [{ do: "set value", key: one.key, value: one.value }]);
    const numbers = number.value.split(";").map((text) => ({ place: one.key, text: text.trim(), unit: one.unit }));
    const { answer, problems } = await ask("POST", "/api/typed", { numbers });
    if (!answer) return tell(problems);
    if (answer.problems.length > 0) return tell(answer.problems);
    const typed = answer.amounts;
    set(one, [{ do: "set value", key: one.key, value: Array.isArray(one.value) ? typed : typed[0] }]);
  });
  return made;
}

/** @param {any} one @param {any[]} edits */
async function set(one, edits) {
  says("Being kept.");
  const off = { do: "set value", key: `job.doubts.${one.row}`, value: null };
  const { answer, problems } = await ask("POST", "/api/edit", { mark: newMark(), based_on: revision, edits: [...edits, off] });
  if (!answer) return tell(problems);
  await load(`${one.key} is ${edits.length ? `set to ${edits[0].value}` : "as it was"} and off the list. Revision ${answer.revision}; the desk's undo takes it back.`);
}

const says = (/** @type {string} */ words) => { by("told").textContent = words; };

/** @param {import("../shared/ask.js").Trouble[]} problems */
const tell = (problems) => by("told").replaceChildren(...problems.map((each) => make("span", "", `${each.place}: ${each.found}. ${each.rule}. ${each.remedy}. `)));

load();
