// A few named fields and the press that sends them.

import { make } from "../shared/svg.js";

/** @typedef {{key: string, label: string, value: any, choices?: string[]}} Field */

/**
 * @param {string} title @param {Field[]} fields @param {string} words on the press
 * @param {(form: HTMLElement) => void} act
 */
export function fieldset(title, fields, words, act) {
  const form = make("form", "shape", make("h3", "", title), ...fields.map(field));
  form.setAttribute("novalidate", "");
  const button = press(words, () => undefined);
  button.setAttribute("type", "submit");
  form.append(button);
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const wrong = [...form.querySelectorAll("input")].find((each) => !Number.isFinite(each.valueAsNumber));
    if (wrong) wrong.focus();
    else act(form);
  });
  return form;
}

/** @param {Field} field */
function field({ key, label, value, choices }) {
  const made = choices ? make("select", "", ...choices.map(option)) : make("input");
  if (!choices) for (const [name, word] of [["type", "number"], ["step", "any"], ["inputmode", "decimal"]]) made.setAttribute(name, word);
  made.setAttribute("name", key);
  /** @type {HTMLInputElement} */ (made).value = String(value);
  return make("label", "", make("span", "", label), made);
}

/** @param {string} word */
const option = (word) => make("option", "", word);

/**
 * What stands in the fields of a form: numbers as numbers.
 * @param {HTMLElement} form @returns {Record<string, any>}
 */
export const filled = (form) => Object.fromEntries([...form.querySelectorAll("input")].map((each) => [each.name, each.valueAsNumber])
  .concat([...form.querySelectorAll("select")].map((each) => /** @type {any} */ ([each.name, each.value]))));

/** @param {string} words @param {() => void} act */
export function press(words, act) {
  const button = make("button", "press words", words);
  button.setAttribute("type", "button");
  button.addEventListener("click", act);
  return button;
}
