// The page around the drawings: flow switch, undo, book, controls, and the line at the foot that tells what happened.

import * as book from "./book.js";
import { Cures } from "./cures.js";
import { flowSwitch, running } from "../drawing/flows.js";
import { showOthers } from "./others.js";
import { waiting } from "../shared/queue.js";
import { become } from "../shared/sketch.js";
import { clock, counted, metres, unit } from "../shared/words.js";

const byId = (/** @type {string} */ id) => /** @type {HTMLElement} */ (document.getElementById(id));
const input = (/** @type {string} */ id) => /** @type {HTMLInputElement} */ (byId(id));

export class Book {
  /** @param {any} desk */
  constructor(desk) {
    this.desk = desk;
    /** @type {{needs: any[], notes: any[]}} findings as they are drawn */
    this.needed = { needs: [], notes: [] };
    /** @type {{works: any[], films: any[]}} findings of the slower answers */
    this.later = { works: [], films: [] };
    this.awaited = { works: true, films: true };
    /** @type {string[]} codes of findings the slower answers tell better */
    this.bettered = [];
    this.cures = new Cures(desk);
    this.listen();
  }

  /** Metres each press moves. */
  get step() {
    return Number(input("step").value);
  }

  listen() {
    const { link } = this.desk;
    const press = (/** @type {string} */ id, /** @type {() => void} */ act) => byId(id).addEventListener("click", act);
    press("go-left", () => this.desk.nudge(-1, 0, this.step));
    press("go-right", () => this.desk.nudge(1, 0, this.step));
    press("go-up", () => this.desk.nudge(0, 1, this.step));
    press("go-down", () => this.desk.nudge(0, -1, this.step));
    press("undo", () => this.desk.undo("undo"));
    press("redo", () => this.desk.undo("redo"));
    press("look-again", () => link.lookAgain());
    press("all-needs", () => byId("needs").classList.toggle("all"));
    for (const list of /** @type {const} */ (["needs", "notes"])) byId(list).addEventListener("click", (event) => this.showPressed(list, event));
    byId("typed").addEventListener("submit", (event) => {
      event.preventDefault();
      this.desk.controls.typed();
    });
    link.addEventListener("away", () => this.away());
    link.addEventListener("waiting", () => this.away());
    link.addEventListener("refused", (/** @type {any} */ event) => this.refused(event.detail));
    link.addEventListener("moved", (/** @type {any} */ { detail }) => detail.fresh && this.tell(detail.says));
    link.addEventListener("slower", () => this.asked());
    link.addEventListener("works", (/** @type {any} */ event) => this.worked(event.detail));
    link.addEventListener("films", (/** @type {any} */ event) => this.filmed(event.detail));
  }

  /**
   * Draw what depends on the picked peg and the flow.
   * @param {any} state
   */
  paint(state) {
    const { chainage, flow } = this.desk;
    become(byId("across-title"), `Across the stream at ${metres(chainage)} ${unit("m")}`);
    become(byId("across"), book.across(state, chainage, flow, 348, 128));
    become(byId("eight"), ...book.eight(state, chainage, flow));
    become(byId("mark"), `below the mark: ${state.datum.name}, ${metres(state.datum.level)} ${unit("m")}`);
    become(byId("answers-title"), `At ${flow}`);
    const { first, others } = book.parted(state.answers, flow);
    become(byId("answers"), ...book.answered(first));
    become(byId("other-answers"), ...book.answered(others));
    this.paintNeeds(state);
    this.desk.controls.paint(state);
    become(byId("page-title"), state.title);
    running(byId("flows"), flow);
  }

  /** @param {any} state */
  paintNeeds(state) {
    const { wanted, notes } = book.sorted([...this.own(state), ...this.later.films, ...this.later.works]);
    // Cures are those of what is kept: while a try is drawn, no finding shows any.
    const stays = (/** @type {Element} */ item) => !state.tried || !item.querySelector(".cures");
    this.needed = { needs: wanted, notes };
    const changed = [book.needs(byId("needs"), wanted, stays), book.needs(byId("notes"), notes, stays)];
    if (!changed.includes(true)) return;
    become(byId("needs-count"), String(wanted.length));
    become(byId("all-needs"), `all ${wanted.length}`);
    become(byId("notes-title"), counted(notes.length, "note"));
    this.cures.drawn([...wanted, ...notes], [...byId("needs").children, ...byId("notes").children]);
  }

  /**
   * Findings of an answer that the slower answers do not tell better.
   * @param {any} state
   */
  own(state) {
    return state.findings.filter((/** @type {any} */ finding) => !this.bettered.includes(finding.code));
  }

  /**
   * A press on a finding shows its place.
   * @param {"needs" | "notes"} list @param {Event} event
   */
  showPressed(list, event) {
    const press = /** @type {Element} */ (event.target).closest("button.finding");
    if (press?.parentElement) this.show(this.needed[list][[...byId(list).children].indexOf(press.parentElement)]);
  }

  /**
   * Bring a finding's place to the picked peg.
   * @param {any} finding
   */
  show(finding) {
    if (finding.chainage.length === 0) this.tell(`${finding.place}: it has no place along the stream.`);
    else this.desk.pickChainage((finding.chainage[0] + finding.chainage[finding.chainage.length - 1]) / 2);
  }

  /**
   * A kept answer has come.
   * @param {any} state @param {string} says @param {any} before
   */
  settled(state, says, before) {
    byId("flows").replaceChildren(...flowSwitch(state.flows, (name) => this.desk.choose(name)));
    running(byId("flows"), this.desk.flow);
    byId("revision").textContent = `revision ${state.revision}${state.invented ? ", invented data" : ""}`;
    byId("doubts").replaceChildren(...book.doubted(state.doubts));
    byId("undo-what").textContent = state.undo;
    for (const [id, open] of /** @type {const} */ ([["undo", state.undo || waiting().length > 0], ["redo", state.redo]])) byId(id).toggleAttribute("disabled", !open);
    if (says) {
      byId("stopped").replaceChildren();
      const [was, now] = [before, state].map((each) => book.sorted(each?.findings ?? []).wanted.length);
      this.tell(`${says} ${now === was ? counted(now, "thing as before needs you", "things as before need you") : `${counted(now, "thing needs you", "things need you")}, before ${was}`}.`);
    } else if (!before) this.tell(`${showOthers()} Drag a peg, or pick it and use the arrows.`.trim());
  }

  /** The slower answers are being worked out: what stands of them is of before. */
  asked() {
    this.awaited = { works: true, films: true };
    this.tellAwaited();
  }

  tellAwaited() {
    const { works, films } = this.awaited;
    byId("later-answers").classList.toggle("late", works);
    const what = works ? `cost, digging${films ? ", lining and films" : " and lining"}` : films ? "films" : "";
    byId("later").textContent = what && `${what} being worked out`;
  }

  /** @param {any} works the slower answers */
  worked(works) {
    this.awaited.works = false;
    this.tellAwaited();
    this.later.works = works.findings;
    become(byId("later-answers"), ...book.answered(works.answers));
    this.desk.paint();
  }

  /** @param {any} films the slowest answers of all */
  filmed(films) {
    this.awaited.films = false;
    this.tellAwaited();
    this.later.films = films.findings;
    this.bettered = films.in_place_of;
    this.desk.paint();
  }

  /** @param {{path: string, problems: any[]}} refusal */
  refused({ path, problems }) {
    if (path.startsWith("/api/later")) return;
    const [first] = problems;
    this.tell(`${first.found}. ${first.remedy}`.replaceAll("..", "."));
    if (path !== "/api/try") byId("stopped").replaceChildren(...book.stopped(problems));
  }

  /** The server is out of reach, or answers again: old numbers stay, shaded and named. */
  away() {
    if (this.desk.shown) this.desk.paint();
    const since = this.desk.link.awaySince;
    const held = waiting();
    document.body.classList.toggle("away", Boolean(since));
    byId("foot-away").hidden = !since;
    byId("told").hidden = Boolean(since);
    if (!since) return;
    byId("undo").toggleAttribute("disabled", held.length === 0);
    byId("away-since").textContent = ` since ${clock(since)}. ${this.desk.link.elsewhere || "The laptop is out of reach"}. ${
      held.length === 0 ? "Nothing waits." : `${counted(held.length, "edit kept here, sent by itself", "edits kept here, sent by themselves")}: ${held[held.length - 1].says}`}`;
  }

  /** @param {string} words */
  tell(words) {
    byId("told").textContent = words;
  }
}

