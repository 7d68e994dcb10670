// What was typed or taken on site and the laptop does not have yet. It stands in the browser's own store, so that closing
// the page loses nothing, and goes in the order it was typed. Each carries a mark: sent twice, it is taken once.

import { exchange, outOfReach, unsaid } from "../shared/ask.js";

/**
 * @typedef {Object} Waiting
 * @property {number} [turn] its place in the line
 * @property {string} job the folder it was typed for: another may be open on this laptop by now
 * @property {string} path where it goes, its mark in it or in ``body``
 * @property {any} [body] JSON
 * @property {ArrayBuffer} [raw] a photograph; as plain bytes, for some browsers lose a Blob they keep
 * @property {string} [form] media type of ``raw``
 * @property {string} says what it is, in words
 * @property {string} seen when it was typed
 * @property {string} [refused] why the laptop did not take it: it is set aside, and the line goes on
 */

const NAME = "beckwright slope";
const STORE = "waiting";
const AGAIN = 4000;
const NO_PASS = 403;
const OWN_FAULT = 500;

/** @returns {Promise<IDBDatabase>} */
function opened() {
  return new Promise((resolve, reject) => {
    const asked = indexedDB.open(NAME, 1);
    asked.addEventListener("upgradeneeded", () => asked.result.createObjectStore(STORE, { keyPath: "turn", autoIncrement: true }));
    asked.addEventListener("success", () => resolve(asked.result));
    asked.addEventListener("error", () => reject(asked.error));
  });
}

/** Events: changed (what waits is another), taken (the laptop has one more), away (out of reach: true or false). */
export class Line extends EventTarget {
  /** @param {string} job */
  constructor(job) {
    super();
    this.job = job;
    this.sending = false;
    this.more = false;
    this.away = false;
    this.again = 0;
    this.store = opened();
    for (const name of ["online", "pageshow", "focus"]) addEventListener(name, () => this.flush());
    document.addEventListener("visibilitychange", () => document.hidden || this.flush());
  }

  /**
   * One act on the store, on the disk when this returns.
   * @param {IDBTransactionMode} mode
   * @param {(store: IDBObjectStore) => IDBRequest} act
   * @returns {Promise<any>}
   */
  async act(mode, act) {
    const store = await this.store;
    return new Promise((resolve, reject) => {
      // "strict" waits for the disk; older checkers of types do not know it.
      const turn = store.transaction([STORE], mode, /** @type {any} */ ({ durability: "strict" }));
      const asked = act(turn.objectStore(STORE));
      turn.addEventListener("complete", () => resolve(asked.result));
      turn.addEventListener("abort", () => reject(turn.error));
    });
  }

  /**
   * All that waits, in order.
   * @returns {Promise<Waiting[]>}
   */
  all() {
    return this.act("readonly", (store) => store.getAll());
  }

  /**
   * Keep one, then send what waits. It is safe once this returns.
   * @param {Waiting} one
   */
  async add(one) {
    await this.act("readwrite", (store) => store.add(one));
    this.dispatchEvent(new Event("changed"));
    this.flush();
  }

  /**
   * Send one that was set aside again.
   * @param {Waiting} one
   */
  async resend(one) {
    await this.act("readwrite", (store) => store.put({ ...one, refused: undefined }));
    this.dispatchEvent(new Event("changed"));
    this.flush();
  }

  /**
   * Take one out: it has arrived, or a person has thrown it away.
   * @param {Waiting} one
   */
  async drop(one) {
    await this.act("readwrite", (store) => store.delete(/** @type {number} */ (one.turn)));
    this.dispatchEvent(new Event("changed"));
  }

  /** Send what waits, in order, until nothing does or the laptop is out of reach. */
  async flush() {
    this.more = true;
    if (this.sending) return;
    this.sending = true;
    let away = false;
    try {
      while (this.more && !away) {
        this.more = false;
        let next = await this.next();
        while (next && !away) {
          away = !(await this.send(next));
          if (!away) next = await this.next();
        }
      }
    } finally {
      this.sending = false;
      window.clearTimeout(this.again);
      if (away) this.again = window.setTimeout(() => this.flush(), AGAIN);
      if (away !== this.away) {
        this.away = away;
        this.dispatchEvent(new Event("away"));
      }
    }
  }

  async next() {
    return (await this.all()).find((one) => one.job === this.job && !one.refused);
  }

  /**
   * Send one: false where the laptop cannot be asked now.
   * @param {Waiting} one
   */
  async send(one) {
    const body = one.raw ? new Blob([one.raw], { type: one.form }) : one.body;
    /** @type {{response: Response, told: any}} */
    let reached;
    try {
      reached = await exchange("POST", one.path, body);
    } catch (trouble) {
      if (!outOfReach(trouble)) throw trouble;
      return false;
    }
    const { response, told } = reached;
    // Another job lies open at this address: it waits for its own.
    if (response.status === NO_PASS || response.status > OWN_FAULT || told.other_job) return false;
    if (response.ok) {
      await this.drop(one);
      this.dispatchEvent(new CustomEvent("taken", { detail: told }));
      return true;
    }
    const problem = (told.problems ?? [unsaid(response)])[0];
    await this.act("readwrite", (store) => store.put({ ...one, refused: `${problem.place}: ${problem.found}. ${problem.rule}. ${problem.remedy}.` }));
    this.dispatchEvent(new Event("changed"));
    return true;
  }
}
