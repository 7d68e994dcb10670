// How numbers are read: narrow space in thousands that no line breaks at, unit once, never a sign that is not needed.

const THIN = "\u202f";

/** Words as Python tells them, their thin spaces made such as no line breaks at. @param {string} words */
export const unbroken = (words) => words.replaceAll("\u2009", THIN);

/** @param {number} whole */
export const grouped = (whole) => String(Math.round(whole)).replace(/\B(?=(\d{3})+$)/g, THIN);

/** @param {number | null | undefined} length @param {number} [places] */
export const metres = (length, places = 2) => (Number.isFinite(length) ? Number(length).toFixed(places) : "none");

/** Millimetres rounded to ``to``. @param {number} length metres @param {number} [to] */
export const millimetres = (length, to = 1) => grouped(Math.round((length * 1000) / to) * to);

/** @param {number} count @param {string} one @param {string} [many] */
export const counted = (count, one, many = `${one}s`) => `${count} ${count === 1 ? one : many}`;

/** A dotted key as a person would say it: ``beds.pebbles.voids`` is "beds, pebbles, voids". @param {string} key */
export const spoken = (key) => key.replaceAll("_", " ").split(".").join(", ");

/** @param {Date} when */
export const clock = (when) =>
  `${String(when.getHours()).padStart(2, "0")}:${String(when.getMinutes()).padStart(2, "0")}`;
