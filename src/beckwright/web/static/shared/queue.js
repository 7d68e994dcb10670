// Edits that the server has not yet taken. They stand in the browser's own store, so closing the page loses nothing.
// Each job has a line of its own: another may lie open at this address by the time they can be sent.

/**
 * @typedef {Object} Waiting
 * @property {string} mark taken exactly once by the server, however often it is sent
 * @property {string | number} based_on the revision it was made on
 * @property {any[]} edits
 * @property {string} says what it did, in words
 * @property {string} [title] what the job it was made in is called
 */

/**
 * @typedef {Object} Others what waits for another job
 * @property {string} key
 * @property {string} title
 * @property {number} count
 * @property {string} says what the last of them did
 */

const LINES = "beckwright waiting ";
const KEY = `${LINES}${document.body.dataset.job ?? ""}`;

/** A mark nobody else makes. A page from another machine has no randomUUID, so it is built from random bytes. */
export function newMark() {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  bytes[6] = (bytes[6] & 0x0f) | 0x40;
  bytes[8] = (bytes[8] & 0x3f) | 0x80;
  const text = [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  return [text.slice(0, 8), text.slice(8, 12), text.slice(12, 16), text.slice(16, 20), text.slice(20)].join("-");
}

/** @returns {Waiting[]} */
export const waiting = () => held(KEY);

/**
 * @param {string} key
 * @returns {Waiting[]}
 */
function held(key) {
  try {
    const kept = JSON.parse(localStorage.getItem(key) ?? "[]");
    return Array.isArray(kept) ? kept : [];
  } catch (trouble) {
    if (trouble instanceof SyntaxError) return [];
    throw trouble;
  }
}

/** @param {Waiting[]} all */
const keep = (all) => localStorage.setItem(KEY, JSON.stringify(all));

/** @param {Waiting} edit */
export const add = (edit) => keep([...waiting(), { ...edit, title: document.title }]);

/**
 * Take out the edit with this mark, once it is on the disk or given up.
 * @param {string} mark
 */
export const take = (mark) => keep(waiting().filter((each) => each.mark !== mark));

/**
 * Those made on ``old`` follow on from ``made``, the revision their forerunner became.
 * @param {any} old @param {any} made
 */
export const follow = (old, made) =>
  keep(waiting().map((each) => (each.based_on === old ? { ...each, based_on: made } : each)));

/**
 * What waits for other jobs. It is sent by their own pages, and by no other.
 * @returns {Others[]}
 */
export function others() {
  const lines = Object.keys(localStorage).filter((key) => key.startsWith(LINES) && key !== KEY).sort();
  return lines.flatMap((key) => {
    const all = held(key);
    const last = all[all.length - 1];
    return last ? [{ key, title: last.title ?? "a job without a name", count: all.length, says: last.says }] : [];
  });
}

/**
 * Throw away what waits for another job.
 * @param {string} key
 */
export const forget = (key) => localStorage.removeItem(key);
