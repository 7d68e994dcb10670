// A revision as a person is told of it, on every page that shows one: when, why, its name, and the press that lets it stand.

import { ask } from "../shared/ask.js";
import { newMark } from "../shared/queue.js";
import { make } from "../shared/svg.js";

/** Where a revision lies, in words. */
export const WAYS = /** @type {Object<string, string>} */ ({
  stands: "stands now", before: "", ahead: "redo leads here", left: "left behind by undo", aside: "kept beside the line: two people parted here",
});
const ORIGINS = /** @type {Object<string, string>} */ ({ outside: "written in an editor", aside: "" });

/** @param {string} iso */
export function when(iso) {
  const at = new Date(iso);
  const year = at.getFullYear() === new Date().getFullYear() ? {} : /** @type {const} */ ({ year: "numeric" });
  return at.toLocaleString("en-GB", { day: "numeric", month: "long", hour: "2-digit", minute: "2-digit", ...year });
}

/** @param {any} revision */
export const called = (revision) => `Revision ${revision.number}${revision.name ? `, ${revision.name}` : ""}`;

/**
 * Where it lies and where it came from, as short words.
 * @param {any} revision
 */
export const tags = (revision) => [WAYS[revision.way], ORIGINS[revision.origin] ?? ""].filter(Boolean);

/**
 * Fill a choice of revisions, newest first.
 * @param {HTMLSelectElement} select @param {any[]} revisions @param {number} chosen
 */
export function choices(select, revisions, chosen) {
  select.replaceChildren(...[...revisions].reverse().map((each) => {
    const option = /** @type {HTMLOptionElement} */ (make("option", "", `${each.number}${each.name ? ` ${each.name}` : ""}${each.way === "stands" ? " (stands)" : ""}: ${each.why}`.slice(0, 90)));
    option.value = String(each.number);
    option.selected = each.number === chosen;
    return option;
  }));
}

/**
 * A name, given or changed where it is read.
 * @param {any} revision @param {(said: string, problems: any[]) => void} done
 */
export function nameForm(revision, done) {
  const input = /** @type {HTMLInputElement} */ (make("input"));
  input.maxLength = 200;
  input.value = revision.name;
  input.autocomplete = "off";
  const press = make("button", "press words", revision.name ? "Rename it" : "Name it");
  press.setAttribute("type", "submit");
  const form = make("form", "naming", make("label", "", make("span", "", "Name, as a variant"), input), press);
  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    const { answer, problems } = await ask("POST", `/api/revisions/${revision.number}/name`, { name: input.value.trim() });
    done(!answer ? "" : answer.name ? `Revision ${answer.number} is called ${answer.name}.` : `Revision ${answer.number} has no name now.`, problems);
  });
  return form;
}

/**
 * The press that lets a text stand again, as a new revision.
 * @param {any} revision @param {number} stands what stood as far as this page knows @param {string} words
 * @param {(said: string, problems: any[]) => void} done
 */
export function standPress(revision, stands, words, done) {
  const already = revision.number === stands;
  const press = make("button", "press words", already ? "Stands now" : words);
  press.setAttribute("type", "button");
  press.toggleAttribute("disabled", already);
  press.addEventListener("click", async () => {
    press.setAttribute("disabled", "");
    const { answer, problems } = await ask("POST", `/api/revisions/${revision.number}/stand`, { mark: newMark(), based_on: stands });
    press.removeAttribute("disabled");
    done(answer ? `Revision ${revision.number} stands again, as revision ${answer.stands}. What stood before is kept.` : "", problems);
  });
  return press;
}

/**
 * What went wrong, every part of it.
 * @param {any[]} problems
 */
export const troubles = (problems) => problems.map((each) => make("li", "", make("b", "", each.place), `: ${each.found}. ${each.rule}.`, make("u", "", `${each.remedy}.`)));
