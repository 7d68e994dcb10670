// Every text the job has had: looked at, named, held against another, taken up again. Nothing here writes over anything.

import { ask } from "../shared/ask.js";
import { branches } from "./branches.js";
import { One } from "./one.js";
import { called, standPress, tags, troubles, when } from "./kept.js";
import { lines } from "./held.js";
import { watch } from "./stands.js";
import { make } from "../shared/svg.js";

const ROWS = 40;
const NARROW = window.matchMedia("(max-width: 899px)");
const ANSWERED = `beckwright parted ${location.host}`;
const byId = (/** @type {string} */ id) => /** @type {HTMLElement} */ (document.getElementById(id));

class Revisions {
  constructor() {
    /** @type {any} */
    this.told = null;
    this.shown = ROWS;
    this.one = new One(byId("one"), (said, problems) => this.done(said, problems));
    const asked = new URLSearchParams(location.search);
    this.look = Number(asked.get("look")) || 0;
    this.against = Number(asked.get("against")) || 0;
    byId("older").addEventListener("click", () => { this.shown += ROWS; this.list(); });
    NARROW.addEventListener("change", () => this.place());
    watch({ seen: () => this.told?.stands ?? null, moved: (told) => { if (told.fresh) this.moved(told.says); }, refused: (problems) => this.refuse(problems), lost: () => this.tell("The laptop is out of reach. What is shown may be old.") });
  }

  async load() {
    const { answer, problems } = await ask("GET", "/api/revisions");
    this.refuse(problems);
    if (!answer) return;
    this.told = answer;
    const known = (/** @type {number} */ number) => answer.revisions.some((/** @type {any} */ each) => each.number === number);
    if (!known(this.look)) this.look = answer.stands;
    if (!known(this.against)) this.against = 0;
    this.draw();
    this.list();
    this.show();
    await this.partedWays();
  }

  /**
   * Another text stands. A name half typed stays under the hand.
   * @param {string} says
   */
  async moved(says) {
    const typing = document.activeElement instanceof HTMLInputElement && this.one.block.contains(document.activeElement);
    if (!typing) await this.load();
    this.tell(says);
  }

  draw() {
    const held = byId("branches");
    held.replaceChildren(branches(this.told.revisions, this.look));
    const place = this.told.revisions.findIndex((/** @type {any} */ each) => each.number === this.look);
    held.scrollLeft = (place + 3) * 40 - held.clientWidth;
  }

  list() {
    const { revisions } = this.told;
    const place = revisions.length - revisions.findIndex((/** @type {any} */ each) => each.number === this.look);
    const many = Math.max(this.shown, place);
    this.one.block.remove();
    byId("list").replaceChildren(...revisions.slice(-many).reverse().map((/** @type {any} */ each) => this.row(each)));
    const left = revisions.length - many;
    byId("older").hidden = left <= 0;
    byId("older").textContent = `Show ${Math.min(left, ROWS)} older`;
    this.place();
  }

  /** @param {any} each */
  row(each) {
    const press = make("button", `row ${each.way}`, make("b", "number", String(each.number)),
      make("span", "what", ...(each.name ? [make("strong", "", each.name)] : []), make("span", "why", each.why), ...tags(each).map((words) => make("em", "", words))),
      make("small", "", when(each.kept)));
    press.setAttribute("type", "button");
    press.setAttribute("aria-pressed", String(each.number === this.look));
    press.addEventListener("click", () => this.choose(each.number));
    const item = make("li", "", press);
    item.dataset.number = String(each.number);
    return item;
  }

  /** @param {number} number */
  choose(number) {
    this.look = number;
    this.against = 0;
    for (const each of byId("list").querySelectorAll("li")) each.querySelector("button")?.setAttribute("aria-pressed", String(each.dataset.number === String(number)));
    this.place();
    this.draw();
    this.show();
  }

  /** What is looked at lies beside the list, or right below its row where the window is narrow. */
  place() {
    const row = NARROW.matches ? byId("list").querySelector(`[data-number="${this.look}"]`) : null;
    (row ?? document.querySelector(".columns"))?.append(this.one.block);
  }

  show() {
    this.one.show(this.told, this.look, this.against, (against) => {
      this.against = against;
      history.replaceState(null, "", `/revisions?look=${this.look}&against=${against}`);
    });
  }

  /** The last change that was kept beside the line, until somebody lets one of the two stand. */
  async partedWays() {
    const block = byId("parted");
    const ours = this.find(this.told.parted);
    block.hidden = !ours || localStorage.getItem(ANSWERED) === String(ours.number);
    if (block.hidden) return;
    const stands = this.find(this.told.stands);
    const [apart, theirs, mine] = await Promise.all([[stands.number, ours.number], [ours.parent, stands.number], [ours.parent, ours.number]].map(([a, b]) => ask("GET", `/api/revisions/${a}/against/${b}`)));
    byId("parted-says").textContent = `Each began from revision ${ours.parent} and did not see the other's change. Both are kept. One of them can stand.`;
    byId("parted-sides").replaceChildren(this.side("Stands now", stands, theirs.answer), this.side("Kept beside", ours, mine.answer));
    if (apart.answer) byId("parted-lines").replaceChildren(lines(apart.answer, [`Revision ${stands.number}`, `Revision ${ours.number}`]));
  }

  /** @param {string} title @param {any} revision @param {any} held against what both began from */
  side(title, revision, held) {
    const stays = revision.number === this.told.stands;
    const press = stays ? make("button", "press words", "Let this one stand") : standPress(revision, this.told.stands, "Let this one stand", (said, problems) => this.done(said, problems));
    press.setAttribute("type", "button");
    if (stays) press.addEventListener("click", () => {
      localStorage.setItem(ANSWERED, String(this.told.parted));
      this.done(`Revision ${revision.number} stands, as before. Revision ${this.told.parted} stays kept.`, []);
    });
    const words = (held?.changes ?? []).map((/** @type {any} */ each) => make("li", "", each.words));
    return make("div", "side", make("h3", "", `${title}: ${called(revision)}`), make("p", "second", when(revision.kept)), make("ul", "changes", ...words), press);
  }

  /** @param {number | null} number */
  find(number) {
    return this.told.revisions.find((/** @type {any} */ each) => each.number === number);
  }

  /** @param {string} said @param {any[]} problems */
  async done(said, problems) {
    await this.load();
    if (problems.length) this.refuse(problems);
    else this.tell(said);
  }

  /** @param {any[]} problems */
  refuse(problems) {
    byId("problems").replaceChildren(...troubles(problems));
    if (problems.length) this.tell(`${problems[0].found}. ${problems[0].remedy}.`);
    else if (!this.told) this.tell("Press a revision to look at it.");
  }

  /** @param {string} words */
  tell(words) {
    byId("told").textContent = words;
  }
}

new Revisions().load();
