// How numbers are read: narrow space in thousands that no line breaks at, unit once, never a sign that is not needed.

const THIN = "\u202f";

/**
 * Words as Python tells them, their thin spaces made such as no line breaks at.
 * @param {string} words
 */
export const unbroken = (words) => words.replaceAll("\u2009", THIN);

/** @param {number} whole */
export const grouped = (whole) => String(Math.round(whole)).replace(/\B(?=(\d{3})+$)/g, THIN);

/** @typedef {{name: string, times: number}} Unit @typedef {Object<string, Unit>} Units */

/** @param {{called: string}} units @returns {Units} */
const others = (units) => (units.called === "metric" ? {} : /** @type {any} */ (units));

/**
 * Units Python has told, at first those the page was made in; none while everything is told in metric ones.
 * @type {Units}
 */
let told = others(JSON.parse(document.documentElement.dataset.units ?? '{"called": "metric"}'));

/**
 * Tell numbers in the units of an answer, its ``units_told``, from here on.
 * @param {{called: string}} units
 */
export const tellIn = (units) => { told = others(units); };

/** Which units are read, as readings and kept answers name them. */
export const read = () => (told.m ? "us" : "metric");

/** Name the reader's units wherever a page's heads have one. */
export function showUnits() {
  for (const place of document.querySelectorAll("[data-unit]")) place.textContent = unit(place.getAttribute("data-unit") ?? "");
}

/**
 * The name of a metric unit to whoever reads: "m" is "ft" in US units.
 * @param {string} metric
 */
export const unit = (metric) => told[metric]?.name ?? metric;

/**
 * How much of a metric unit one of the reader's is: rulings and steps go by it.
 * @param {string} metric
 */
export const one = (metric) => 1 / (told[metric]?.times ?? 1);

/** @param {number} length @param {number} places */
const fixed = (length, places) => (Number.isFinite(length) ? Number(length).toFixed(places) : "none");

/**
 * A length or level without its unit, that is ``unit("m")``.
 * @param {number | null | undefined} length @param {number} [places]
 */
export const metres = (length, places = 2) => fixed(Number(length ?? NaN) * (told.m?.times ?? 1), places);

/**
 * Inches as a tape shows them: eighths, below one inch sixteenths.
 * @param {number} inches
 */
const onTape = (inches) => {
  const parts = Math.abs(inches) >= 1 ? 8 : 16;
  const strokes = Math.round(Math.abs(inches) * parts);
  const whole = Math.floor(strokes / parts);
  let over = strokes % parts, of = parts;
  while (over && over % 2 === 0) { over /= 2; of /= 2; }
  const words = [whole || !over ? grouped(whole) : "", over ? `${over}/${of}` : ""].filter(Boolean).join(" ");
  return inches < 0 && strokes ? `\u2212${words}` : words;
};

/**
 * Millimetres rounded to ``to``, or inches, without their unit, that is ``unit("mm")``.
 * @param {number} length metres @param {number} [to]
 */
export const millimetres = (length, to = 1) =>
  told.mm ? onTape(length * 1000 * told.mm.times) : grouped(Math.round((length * 1000) / to) * to);

/**
 * What a field holds, for a person to type over: in the reader's unit, as Python's ``as_typed`` has it.
 * @param {number} amount of the metric unit @param {string} metric @param {number} [places]
 */
export const asTyped = (amount, metric, places = 3) =>
  unit(metric) === "in" ? onTape(amount * (told[metric]?.times ?? 1)).replace("\u2212", "-").replace(THIN, "") : fixed(amount * (told[metric]?.times ?? 1), places);

/**
 * A flow of litres an hour, with its unit.
 * @param {number} litres
 */
export const flowing = (litres) => `${grouped(litres * (told["L/h"]?.times ?? 1))} ${unit("L/h")}`;

/** @param {number} count @param {string} one @param {string} [many] */
export const counted = (count, one, many = `${one}s`) => `${count} ${count === 1 ? one : many}`;

/**
 * A dotted key as a person would say it: ``beds.pebbles.voids`` is "beds, pebbles, voids".
 * @param {string} key
 */
export const spoken = (key) => key.replaceAll("_", " ").split(".").join(", ");

/** @param {Date} when */
export const clock = (when) =>
  `${String(when.getHours()).padStart(2, "0")}:${String(when.getMinutes()).padStart(2, "0")}`;
