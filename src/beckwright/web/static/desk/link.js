// All talk with the server. One try at a time, the newest wins; edits go one by one, in the order they were made.

import { exchange, outOfReach, unsaid } from "../shared/ask.js";
import * as queue from "../shared/queue.js";
import { watch } from "../versions/stands.js";

const AGAIN = 4000;
// Answers after which an edit is asked again, not given up: the pass is missing, or something between us is.
const NO_PASS = 403;
const OWN_FAULT = 500;

/** Events: state (a new answer), moved (another text stands, not through this page; prevented where a hand is on the drawing), away (out of reach or back), refused (problems), slower (they are asked for), works and films (they have come). */
export class Link extends EventTarget {
  constructor() {
    super();
    /** @type {any} */
    this.state = null;
    /** @type {Date | null} */
    this.awaySince = null;
    this.elsewhere = "";
    /** @type {any[] | null} */
    this.next = null;
    this.trying = false;
    this.sending = false;
    this.turn = 0;
    this.again = 0;
    this.changing = 0;
    /** @type {number | null} the revision that could not be answered */
    this.stuck = null;
    watch({
      seen: () => (this.state && !this.awaySince && !this.changing && queue.waiting().length === 0 ? this.state.revision : null),
      moved: (told) => this.follow(told), refused: (problems) => this.tell("refused", { path: "/api/stands", problems }), lost: () => this.lost(),
    });
  }

  /** @param {string} name @param {any} [detail] */
  tell(name, detail) {
    this.dispatchEvent(new CustomEvent(name, { detail }));
  }

  /** Fetch the job as it stands, then send what waited. */
  async load() {
    const answer = await this.ask("GET", "/api/state");
    if (!answer) return;
    this.settle(answer, "");
    await this.flush();
  }

  /**
   * Answer edits that are not kept. While one is in flight only the newest waits; older ones are dropped.
   * @param {any[]} edits
   */
  async attempt(edits) {
    this.next = edits;
    if (this.trying) return;
    this.trying = true;
    while (this.next) {
      const asked = this.next;
      const turn = this.turn;
      this.next = null;
      const answer = await this.ask("POST", "/api/try", { edits: asked });
      if (answer && turn === this.turn) this.tell("tried", answer);
    }
    this.trying = false;
  }

  /** Forget tries under way: what they answer is no longer asked for. */
  forget() {
    this.turn += 1;
    this.next = null;
  }

  /** @param {any[]} edits @param {string} says */
  async keep(edits, says) {
    this.forget();
    queue.add({ mark: queue.newMark(), based_on: this.state.revision, edits, says });
    this.tell("waiting");
    await this.flush();
  }

  /** Send what waits, in order; stop at the first that cannot be sent. */
  async flush() {
    if (this.sending) return;
    this.sending = true;
    for (let [first] = queue.waiting(); first; [first] = queue.waiting()) {
      const { mark, based_on, edits, says } = first;
      const answer = await this.ask("POST", "/api/edit", { mark, based_on, edits });
      if (answer === undefined) break;
      queue.take(mark);
      if (answer) queue.follow(based_on, answer.revision);
      const stands = answer ?? (await this.ask("GET", "/api/state"));
      if (stands) this.settle(stands, answer ? says : "");
    }
    this.sending = false;
    this.tell("waiting");
  }

  /**
   * Take back the last edit that waits; where none waits, step along the revisions.
   * @param {"undo" | "redo"} way
   */
  async step(way) {
    this.forget();
    const last = queue.waiting().pop();
    if (last && !this.sending) {
      if (way === "undo") queue.take(last.mark);
      this.tell("waiting");
      this.tell("state", { state: this.state, says: way === "undo" ? "Taken back before it was sent." : "" });
      return;
    }
    const what = this.state.undo;
    const answer = await this.ask("POST", `/api/${way}`, { mark: queue.newMark(), based_on: this.state.revision });
    if (answer) this.settle(answer, way === "undo" ? `Undone: ${what}.` : `Done again: ${answer.undo}.`);
  }

  /**
   * Another text stands: the drawing follows, unless something is held in the hand.
   * @param {{number: number, says: string, fresh: boolean}} told
   */
  async follow(told) {
    const free = this.dispatchEvent(new CustomEvent("moved", { detail: told, cancelable: true }));
    if (!free || this.stuck === told.number) return;
    const before = this.state;
    const answer = await this.ask("GET", "/api/state");
    if (answer && this.state === before) this.settle(answer, told.says);
    if (answer !== null) return;
    // It is told why it cannot be drawn; the foot says where it came from.
    this.stuck = told.number;
    this.tell("moved", { ...told, fresh: true });
  }

  /** @param {any} answer @param {string} says */
  settle(answer, says) {
    this.state = answer;
    // Asked first: they are worked out while the drawing is made.
    this.slower(answer.revision);
    this.tell("state", { state: answer, says });
  }

  /**
   * Answers nobody waits for, each told as it comes.
   * @param {any} revision
   */
  slower(revision) {
    this.tell("slower");
    for (const [name, path] of [["works", "/api/later"], ["films", "/api/later/films"]]) {
      this.ask("GET", path).then((answer) => {
        if (answer && this.state.revision === revision) this.tell(name, answer);
      });
    }
  }

  /**
   * @param {string} method
   * @param {string} path
   * @param {any} [body]
   * @returns {Promise<any>} the answer; null where the server refused it, undefined where it is out of reach
   */
  async ask(method, path, body) {
    /** @type {{response: Response, told: any}} */
    let reached;
    // While a change of our own is under way, another text standing is no news.
    const changes = method === "POST" && path !== "/api/try" ? 1 : 0;
    this.changing += changes;
    try {
      reached = await exchange(method, path, body);
    } catch (trouble) {
      if (!outOfReach(trouble)) throw trouble;
      this.lost();
      return undefined;
    } finally {
      this.changing -= changes;
    }
    const { response, told } = reached;
    // What was made in this page's job waits for it: another one lies open at this address.
    const elsewhere = told.other_job ? told.problems[0].found : "";
    const known = elsewhere !== "" && elsewhere === this.elsewhere;
    const asksAgain = elsewhere !== "" || response.status === NO_PASS || response.status > OWN_FAULT;
    if (asksAgain) this.lost(elsewhere);
    else this.found();
    if (response.ok) return told;
    if (!known) this.tell("refused", { path, problems: told.problems ?? [unsaid(response)] });
    return asksAgain ? undefined : null;
  }

  /** @param {string} [elsewhere] which other job answers; empty where nothing does */
  lost(elsewhere = "") {
    const news = !this.awaySince || this.elsewhere !== elsewhere;
    this.elsewhere = elsewhere;
    this.awaySince ??= new Date();
    if (news) this.tell("away", this.awaySince);
    window.clearTimeout(this.again);
    this.again = window.setTimeout(() => this.lookAgain(), AGAIN);
  }

  found() {
    window.clearTimeout(this.again);
    if (!this.awaySince) return;
    this.awaySince = null;
    this.elsewhere = "";
    this.tell("away", null);
    if (this.state) this.flush();
  }

  /** See whether the server answers again; if it does, what waits is sent by itself. */
  async lookAgain() {
    if (queue.waiting().length > 0 && this.state) await this.flush();
    else await this.load();
  }
}
