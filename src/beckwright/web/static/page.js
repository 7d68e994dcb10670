// The page around the drawings: flow switch, undo, book, controls, and the line at the foot that tells what happened.

import * as book from "./book.js";
import { flowSwitch } from "./flows.js";
import { waiting } from "./queue.js";
import { clock, counted, metres } from "./words.js";

const byId = (/** @type {string} */ id) => /** @type {HTMLElement} */ (document.getElementById(id));
const input = (/** @type {string} */ id) => /** @type {HTMLInputElement} */ (byId(id));

export class Book {
  /** @param {any} desk */
  constructor(desk) {
    this.desk = desk;
    this.drawn = "";
    /** @type {any[]} */
    this.later = [];
    /** @type {string[]} codes of findings the slower answers tell better */
    this.bettered = [];
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
    byId("typed").addEventListener("submit", (event) => {
      event.preventDefault();
      this.typed();
    });
    link.addEventListener("away", () => this.away());
    link.addEventListener("waiting", () => this.away());
    link.addEventListener("refused", (/** @type {any} */ event) => this.refused(event.detail));
    link.addEventListener("works", (/** @type {any} */ event) => this.worked(event.detail));
  }

  typed() {
    const [first, second] = [input("first").valueAsNumber, input("second").valueAsNumber];
    if (Number.isFinite(first) && (byId("second-label").hidden || Number.isFinite(second))) this.desk.type(first, second);
    this.drawn = "";
  }

  /** Draw what depends on the picked peg and the flow. @param {any} state */
  paint(state) {
    const { chainage, flow } = this.desk;
    byId("across-title").textContent = `Across the stream at ${metres(chainage)} m`;
    const cut = /** @type {SVGSVGElement} */ (/** @type {unknown} */ (byId("across")));
    cut.replaceChildren(book.across(state, chainage, flow, 348, 128));
    byId("eight").replaceChildren(...book.eight(state, chainage, flow));
    byId("mark").textContent = `below the mark: ${state.datum.name}, ${metres(state.datum.level)} m`;
    byId("answers-title").textContent = `At ${flow}`;
    const { first, others } = book.parted(state.answers, flow);
    byId("answers").replaceChildren(...book.answered(first));
    byId("other-answers").replaceChildren(...book.answered(others));
    this.paintNeeds(state);
    this.paintControls(state);
    for (const button of byId("flows").children) button.setAttribute("aria-pressed", String(button.querySelector("b")?.textContent === flow));
  }

  /** @param {any} state */
  paintNeeds(state) {
    const { wanted, notes } = book.sorted([...this.own(state), ...this.later]);
    const told = JSON.stringify([wanted, notes]);
    if (told === this.drawn) return;
    this.drawn = told;
    const show = (/** @type {any} */ finding) => this.show(finding);
    byId("needs").replaceChildren(...book.needs(wanted, show));
    byId("needs-count").textContent = String(wanted.length);
    byId("all-needs").textContent = `all ${wanted.length}`;
    byId("notes-title").textContent = counted(notes.length, "note");
    byId("notes").replaceChildren(...book.needs(notes, show));
  }

  /** Findings of an answer that the slower answers do not tell better. @param {any} state */
  own(state) {
    return state.findings.filter((/** @type {any} */ finding) => !this.bettered.includes(finding.code));
  }

  /** Bring a finding's place to the picked peg. @param {any} finding */
  show(finding) {
    if (finding.chainage.length === 0) this.tell(`${finding.place}: it has no place along the stream.`);
    else this.desk.pickChainage((finding.chainage[0] + finding.chainage[finding.chainage.length - 1]) / 2);
  }

  /** @param {any} state */
  paintControls(state) {
    const { picked, chainage } = this.desk;
    const peg = picked.kind === "peg";
    const point = picked.kind === "point";
    byId("picked").textContent = peg ? "Picked peg" : point ? `Point ${Number(picked.id) + 1}` : picked.id;
    for (const id of ["go-up", "go-down"]) byId(id).toggleAttribute("disabled", peg);
    byId("second-label").hidden = peg;
    byId("first-name").textContent = point ? "east, m" : "at, m";
    byId("second-name").textContent = point ? "north, m" : "level, m";
    if (document.activeElement === byId("first") || document.activeElement === byId("second")) return;
    const at = point ? this.desk.pointNow(Number(picked.id)) : [];
    const lip = picked.kind === "lip" ? this.desk.lip(picked.id) : null;
    input("first").value = metres(point ? at[0] : chainage, point ? 3 : 2);
    if (!peg) input("second").value = metres(point ? at[1] : lip.crest, 3);
    byId("page-title").textContent = state.title;
  }

  /** A kept answer has come. @param {any} state @param {string} says @param {any} before */
  settled(state, says, before) {
    byId("flows").replaceChildren(...flowSwitch(state.flows, this.desk.flow, (name) => this.desk.choose(name)));
    byId("revision").textContent = `revision ${state.revision}${state.invented ? ", invented data" : ""}`;
    byId("doubts").replaceChildren(...book.doubted(state.doubts));
    byId("undo-what").textContent = state.undo;
    for (const [id, open] of /** @type {const} */ ([["undo", state.undo || waiting().length > 0], ["redo", state.redo]])) byId(id).toggleAttribute("disabled", !open);
    if (says) {
      byId("stopped").replaceChildren();
      const [was, now] = [before, state].map((each) => book.sorted(each?.findings ?? []).wanted.length);
      this.tell(`${says} ${now === was ? `${counted(now, "thing")} as before ${now === 1 ? "needs" : "need"} you` : `${counted(now, "thing")} ${now === 1 ? "needs" : "need"} you, before ${was}`}.`);
    } else if (!before) this.tell("Drag a peg, or pick it and use the arrows.");
  }

  /** @param {any} works the slower answers, or null while they are worked out */
  worked(works) {
    byId("later").textContent = works ? "" : "cost, digging and lining being worked out";
    byId("later-answers").classList.toggle("late", !works);
    if (!works) return;
    this.later = works.findings;
    this.bettered = works.in_place_of;
    byId("later-answers").replaceChildren(...book.answered(works.answers));
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
    byId("away-since").textContent = ` since ${clock(since)}. The laptop is out of reach. ${
      held.length === 0 ? "Nothing waits." : `${counted(held.length, "edit")} kept here, sent by ${held.length === 1 ? "itself" : "themselves"}: ${held[held.length - 1].says}`}`;
  }

  /** @param {string} words */
  tell(words) {
    byId("told").textContent = words;
  }
}

