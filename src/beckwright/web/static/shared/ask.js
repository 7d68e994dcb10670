// One request to the server and its whole answer. Every page asks through here.

// A request that hangs when the network goes would hold up what waits; its mark makes sending it again safe.
const PATIENCE = 10000;
const LONG_PATIENCE = 120000;
// Answers nobody waits for with a finger on the glass: they may take their time.
const SLOW = /^\/api\/(later|papers|film|cures|care|doubts|explain|figures|moved|relief|bring|begin|example|visit|readings|photographs|slope)/;

/**
 * @typedef {Object} Trouble one thing that is wrong, as the program tells it everywhere
 * @property {string} place
 * @property {string} found
 * @property {string} rule
 * @property {string} remedy
 */

/**
 * One request and its whole answer: the network may go while the answer is read.
 * @param {string} method @param {string} path @param {any} [body] JSON, or a Blob sent as it is
 */
export async function exchange(method, path, body) {
  const raw = body instanceof Blob;
  const { job } = document.body.dataset;
  const response = await fetch(path, {
    method,
    headers: { ...(body && !raw ? { "Content-Type": "application/json" } : {}), ...(job ? { "X-Beckwright-Job": job } : {}) },
    body: body && !raw ? JSON.stringify(body) : body,
    signal: /** @type {any} Debian's checker of types is older than it */ (AbortSignal).timeout(SLOW.test(path) ? LONG_PATIENCE : PATIENCE),
  });
  const kind = response.headers.get("Content-Type") ?? "";
  return { response, told: kind.includes("json") ? await response.json() : {} };
}

/** @param {unknown} trouble */
export const outOfReach = (trouble) => trouble instanceof TypeError || (trouble instanceof DOMException && trouble.name === "TimeoutError");

/**
 * What is told where an answer says nothing of its own.
 * @param {Response} response @returns {Trouble}
 */
export const unsaid = (response) => ({
  place: "this page", found: `the answer ${response.status}`, rule: "An answer says what is wrong", remedy: "Nothing in the job folder was changed. Look again",
});

/** @type {Trouble} */
const AWAY = { place: "this page", found: "The laptop is out of reach", rule: "The program answers from the laptop it was opened on", remedy: "Look again when it is near" };

/**
 * Ask, and be told either an answer or what is wrong.
 * @param {string} method @param {string} path @param {any} [body]
 * @returns {Promise<{answer: any, problems: Trouble[], away: boolean}>} ``answer`` is null where there are problems
 */
export async function ask(method, path, body) {
  try {
    const { response, told } = await exchange(method, path, body);
    if (response.ok) return { answer: told, problems: [], away: false };
    return { answer: null, problems: told.problems ?? [unsaid(response)], away: false };
  } catch (trouble) {
    if (!outOfReach(trouble)) throw trouble;
    return { answer: null, problems: [AWAY], away: true };
  }
}
