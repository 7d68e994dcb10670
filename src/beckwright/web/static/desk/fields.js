// A few named fields and the press that sends them.

import { make } from "../shared/svg.js";
import { amounts, fillIn, inWords, padded, typedOver } from "../shared/typed.js";

/**
 * ``unit`` is the metric unit of its key, empty for a plain number; the label names the reader's.
 * @typedef {{key: string, label: string, value: any, unit?: string, choices?: string[]}} Field
 */

/**
 * @param {string} title @param {Field[]} fields @param {string} words on the press
 * @param {(values: Record<string, any>, over: Record<string, any>) => void} act with every value, and those typed over
 */
export function fieldset(title, fields, words, act) {
  const form = make("form", "shape", make("h3", "", title), ...fields.map(field));
  form.setAttribute("novalidate", "");
  const button = press(words, () => undefined);
  button.setAttribute("type", "submit");
  const trouble = make("p", "second");
  trouble.setAttribute("role", "alert");
  form.append(trouble, button);
  form.addEventListener("submit", async (event) => {
    event.preventDefault();
    const inputs = [...form.querySelectorAll("input")];
    const { amounts: typed, problems, wrong } = await amounts(inputs);
    trouble.textContent = inWords(problems);
    for (const each of inputs) each.toggleAttribute("aria-invalid", each === wrong);
    wrong?.focus();
    if (problems.length > 0) return;
    const chosen = [...form.querySelectorAll("select")].map((each) => /** @type {[string, any]} */ ([each.name, each.value]));
    const values = inputs.map((each, at) => /** @type {[string, any]} */ ([each.name, typed[at]]));
    act(Object.fromEntries([...values, ...chosen]), Object.fromEntries(values.filter((_, at) => typedOver(inputs[at]))));
  });
  return form;
}

/** @param {Field} field */
function field({ key, label, value, unit = "", choices }) {
  const made = choices ? make("select", "", ...choices.map(option)) : make("input");
  made.setAttribute("name", key);
  if (choices) /** @type {HTMLSelectElement} */ (made).value = String(value);
  else {
    const input = /** @type {HTMLInputElement} */ (made);
    input.autocomplete = "off";
    padded(input, unit);
    fillIn(input, value, unit);
  }
  return make("label", "", make("span", "", label), made);
}

/** @param {string} word */
const option = (word) => make("option", "", word);

/** @param {string} words @param {() => void} act */
export function press(words, act) {
  const button = make("button", "press words", words);
  button.setAttribute("type", "button");
  button.addEventListener("click", act);
  return button;
}
