// Numbers a person types. What was typed goes to Python with the unit of its key, and comes back as an amount of that unit.

import { ask } from "./ask.js";
import { asTyped, read, unit } from "./words.js";

/** @param {string} digits without the noughts at their end */
const bare = (digits) => (digits.includes(".") ? digits.replace(/\.?0+$/, "") : digits);
const BARE = /^[-+\u2212]?[\d.,/ \u2009\u202f\u00bc-\u00be\u215b-\u215e]+$/;
/** @type {Object<string, string>} */
const US = { m: "ft", mm: "in", L: "US gal", "L/h": "US gal/h" };
const PLAIN = /^-?\d+(\.\d+)?$/;

/**
 * Fill a field with an amount. While nobody types over it, it stands for that very amount, whatever its digits show.
 * @param {HTMLInputElement} input @param {number} amount of the metric unit @param {string} metric empty where it has none
 * @param {number} [places] as few as there are, where none are said
 */
export function fillIn(input, amount, metric, places) {
  input.value = !metric ? String(amount) : places === undefined ? bare(asTyped(amount, metric)) : asTyped(amount, metric, places);
  Object.assign(input.dataset, { shown: input.value, amount: String(amount), metric });
}

/** @param {HTMLInputElement} input */
export const typedOver = (input) => input.value.trim() !== input.dataset.shown;

/**
 * The amounts of fields, each in the metric unit it was filled in; or what cannot be read in them, told by Python.
 * @param {HTMLInputElement[]} inputs
 * @returns {Promise<{amounts: number[], problems: import("./ask.js").Trouble[], wrong: HTMLInputElement | null}>}
 */
export async function amounts(inputs) {
  const over = inputs.filter((input) => typedOver(input) && !stands(input));
  const numbers = over.map((input) => ({ place: called(input), text: input.value.trim(), unit: input.dataset.metric ?? "" }));
  const { answer, problems: trouble } = over.length > 0 ? await ask("POST", "/api/typed", { numbers }) : { answer: { amounts: [], problems: [] }, problems: [] };
  const problems = answer?.problems ?? trouble;
  if (problems.length > 0) return { amounts: [], problems, wrong: over.find((_, at) => answer?.amounts[at] === null) ?? null };
  const found = new Map(over.map((input, at) => [input, answer.amounts[at]]));
  return { amounts: inputs.map((input) => found.get(input) ?? Number(typedOver(input) ? input.value : input.dataset.amount)), problems: [], wrong: null };
}

/**
 * A bare number in the unit of its own key is that number: nothing is turned, so nobody is asked.
 * @param {HTMLInputElement} input
 */
const stands = (input) => PLAIN.test(input.value.trim()) && (read() === "metric" || !input.dataset.metric);

/** @param {HTMLInputElement} input */
const called = (input) => (input.getAttribute("aria-label") ?? input.labels?.[0]?.querySelector("span")?.textContent ?? input.name).slice(0, 80);

/**
 * What was typed while the labels named other units, with its unit put behind: nothing is turned, and nothing means another thing.
 * @param {string} text @param {string} metric @param {string} units they were typed in
 */
export const inTheirUnit = (text, metric, units) =>
  units === read() || !BARE.test(text.trim()) ? text : `${text.trim()} ${units === "metric" ? metric : US[metric] ?? metric}`;

/**
 * What is typed now, with its unit: it may arrive when other units are read.
 * @param {string} text @param {string} metric
 */
export const withUnit = (text, metric) => (BARE.test(text.trim()) ? `${text.trim()} ${unit(metric)}` : text.trim());

/** @param {import("./ask.js").Trouble[]} problems */
export const inWords = (problems) => problems.map(({ found, remedy }) => `${found}. ${remedy}.`).join(" ");

/**
 * A pad of digits has no foot mark, no inch mark and no stroke: who reads US units gets letters as well.
 * @param {HTMLInputElement} input @param {string} metric
 */
export const padded = (input, metric) => { input.inputMode = metric && read() === "us" ? "text" : "decimal"; };
