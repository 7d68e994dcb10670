// Two variants side by side: one scale and turn for both plans, one tape and one scale of levels for both sections.

import { ask } from "../shared/ask.js";
import { flowSwitch, running } from "../drawing/flows.js";
import { answered, cannot, changed, findings } from "./held.js";
import { called, choices, nameForm, standPress, tags, troubles, when } from "./kept.js";
import { ground, works } from "../drawing/plan.js";
import { along, turned } from "../drawing/scale.js";
import { levelScale, section } from "../drawing/section.js";
import { watch } from "./stands.js";
import { become } from "../shared/sketch.js";
import { draw, label, make } from "../shared/svg.js";
import { tape } from "../drawing/tape.js";
import { flowing, metres, tellIn, unit } from "../shared/words.js";

/** @typedef {"left" | "right"} Side */

const SIDES = /** @type {const} */ (["left", "right"]);
/** Half of what the tape shows on a telephone. */
const WALK = 2.5;
const byId = (/** @type {string} */ id) => /** @type {HTMLElement} */ (document.getElementById(id));
const drawing = (/** @type {string} */ id) => /** @type {SVGSVGElement} */ (/** @type {unknown} */ (byId(id)));

class Beside {
  constructor() {
    /** @type {any} */
    this.told = null;
    /** @type {any} what holds the two against each other */
    this.held = null;
    const asked = new URLSearchParams(location.search);
    /** @type {{left: number, right: number}} */
    this.which = { left: Number(asked.get("left")) || 0, right: Number(asked.get("right")) || 0 };
    /** @type {{left: any, right: any}} */
    this.states = { left: null, right: null };
    this.flow = "";
    this.at = 0;
    this.turn = 0;
    for (const side of SIDES) byId(`${side}-which`).addEventListener("change", (event) => this.choose({ ...this.which, [side]: Number(/** @type {HTMLSelectElement} */ (event.target).value) }));
    byId("swap").addEventListener("click", () => this.choose({ left: this.which.right, right: this.which.left }));
    byId("up-stream").addEventListener("click", () => this.walk(-1));
    byId("down-stream").addEventListener("click", () => this.walk(1));
    new ResizeObserver(() => this.draw()).observe(byId("left-plan"));
    watch({ seen: () => this.told?.stands ?? null, moved: (told) => { if (told.fresh) this.moved(told.says); }, refused: (problems) => this.refuse(problems), lost: () => this.tell("The laptop is out of reach. What is shown may be old.") });
  }

  async load() {
    const { answer, problems } = await ask("GET", "/api/revisions");
    this.refuse(problems);
    if (!answer) return;
    this.told = answer;
    const known = (/** @type {number} */ number) => answer.revisions.some((/** @type {any} */ each) => each.number === number);
    const [left, right] = answer.beside;
    await this.choose({ left: known(this.which.left) ? this.which.left : left, right: known(this.which.right) ? this.which.right : right });
  }

  /**
   * Another text stands: both sides stay as they were chosen.
   * @param {string} says
   */
  async moved(says) {
    const { answer } = await ask("GET", "/api/revisions");
    if (answer) {
      this.told = answer;
      if (!(document.activeElement instanceof HTMLInputElement)) this.about();
    }
    this.tell(says);
  }

  /** @param {{left: number, right: number}} which */
  async choose(which) {
    const turn = (this.turn += 1);
    this.which = which;
    history.replaceState(null, "", `/beside?left=${which.left}&right=${which.right}`);
    this.about();
    const path = `${which.left}/against/${which.right}`;
    const [held, ...states] = await Promise.all([`/api/revisions/${path}`, ...SIDES.map((side) => `/api/revisions/${which[side]}/state`)].map((address) => ask("GET", address)));
    if (turn !== this.turn) return;
    if (!held.answer) {
      this.refuse(held.problems);
      return;
    }
    SIDES.forEach((side, i) => { this.states[side] = states[i].answer; });
    tellIn(this.states.left?.units_told ?? { called: "metric" });
    this.held = held.answer;
    this.settle();
    this.tell(this.which.left === this.which.right ? "There is one text only, twice. Change the job, or choose another." : "Both drawn in one scale.");
    await this.wait(turn);
  }

  /**
   * The slower answers of both, where both can be designed.
   * @param {number} turn
   */
  async wait(turn) {
    if (!this.states.left || !this.states.right) return;
    byId("later").textContent = "Cost, digging and lining being worked out.";
    const { answer } = await ask("GET", `/api/later/${this.which.left}/${this.which.right}`);
    if (turn !== this.turn) return;
    byId("later").textContent = answer ? "" : "Cost, digging and lining are not there: load the page again.";
    if (!answer) return;
    this.held = answer;
    this.tables();
  }

  /** @param {Side} side */
  name(side) {
    return called(this.find(this.which[side]));
  }

  /** @param {number} number */
  find(number) {
    return this.told.revisions.find((/** @type {any} */ each) => each.number === number);
  }

  /** Which two, and what can be done with each. */
  about() {
    const done = (/** @type {string} */ said, /** @type {any[]} */ problems) => this.done(said, problems);
    for (const side of SIDES) {
      const revision = this.find(this.which[side]);
      choices(/** @type {HTMLSelectElement} */ (byId(`${side}-which`)), this.told.revisions, revision.number);
      byId(`${side}-about`).replaceChildren(make("p", "second", [when(revision.kept), ...tags(revision)].join(", ")), nameForm(revision, done),
        standPress(revision, this.told.stands, "Go on with this one", done));
    }
  }

  settle() {
    const flows = SIDES.flatMap((side) => this.states[side]?.flows ?? []);
    const names = [...new Set(flows.map((flow) => flow.name))];
    if (!names.includes(this.flow)) this.flow = names[Math.min(1, names.length - 1)] ?? "";
    byId("cannot").replaceChildren(...cannot(this.held, SIDES.map((side) => this.name(side))));
    byId("flows").replaceChildren(...(names.length ? flowSwitch(names.map((name) => flows.find((flow) => flow.name === name)), (name) => this.run(name)) : []));
    this.run(this.flow);
  }

  /**
   * Let water run in both.
   * @param {string} flow
   */
  run(flow) {
    this.flow = flow;
    running(byId("flows"), flow);
    const rates = SIDES.map((side) => this.states[side]?.flows.find((/** @type {any} */ each) => each.name === flow));
    byId("rates").textContent = rates.every((rate) => rate && rate.l_h === rates[0].l_h) ? "" : SIDES.map((side, i) => `${this.name(side)}: ${rates[i] ? `${flow} at ${flowing(rates[i].l_h)}` : `no flow called ${flow}, so no water is drawn`}`).join(". ");
    this.tables();
    this.draw();
  }

  tables() {
    const names = SIDES.map((side) => this.name(side));
    const those = this.held.answers.filter((/** @type {any} */ each) => !each.flow || each.flow === this.flow);
    byId("answers-title").textContent = this.flow ? `Answers of both, at ${this.flow}` : "Answers of both";
    byId("changes").replaceChildren(changed(this.held, names));
    byId("answers").replaceChildren(answered(those, names, true));
    byId("findings").replaceChildren(findings(this.held.findings, names));
  }

  draw() {
    const there = SIDES.filter((side) => this.states[side]);
    for (const side of SIDES) for (const kind of ["plan", "long"]) {
      byId(`${side}-${kind}-name`).textContent = this.told ? this.name(side) : "";
      drawing(`${side}-${kind}`).setAttribute("aria-label", `${kind === "plan" ? "Plan" : "Long section"} of ${this.told ? this.name(side) : side}`);
    }
    if (there.length === 0) {
      for (const id of ["left-plan", "right-plan", "left-long", "right-long", "tape"]) byId(id).replaceChildren();
      return;
    }
    const both = together(there.map((side) => this.states[side]));
    const plan = { width: byId("left-plan").clientWidth, height: byId("left-plan").clientHeight };
    const long = { width: byId("left-long").clientWidth, height: byId("left-long").clientHeight };
    const turn = turned(both, plan.width, plan.height, 0.9);
    const scale = along(both.course.length, long.width, this.at);
    const level = levelScale(both, long.height);
    for (const side of SIDES) {
      const state = this.states[side];
      // Names of lips would lie over each other on so small a plan: the section beneath tells them.
      become(byId(`${side}-plan`), ...(state ? [draw("g", { class: "base" }, ground(state, turn, plan.width)), works(state, turn, 0)] : [unable(plan)]));
      const wet = state && this.flow in state.course.stations.water;
      become(byId(`${side}-long`), ...(wet ? [section(state, scale, level, this.flow, long.width, long.height)] : [unable(long)]));
    }
    become(byId("tape"), tape(scale, long.width, byId("tape").clientHeight, both.course.length));
    const windowed = long.width < 600;
    byId("walk").hidden = !windowed;
    byId("window").textContent = `${metres(Math.max(0, scale.low))} to ${metres(Math.min(both.course.length, scale.high))} ${unit("m")}`;
  }

  /**
   * Along the tape, on a narrow screen.
   * @param {number} way
   */
  walk(way) {
    const there = SIDES.filter((side) => this.states[side]);
    const length = Math.max(...there.map((side) => this.states[side].course.length));
    this.at = Math.min(Math.max(this.at, WALK) + way * WALK, length - WALK);
    this.draw();
  }

  /** @param {string} said @param {any[]} problems */
  async done(said, problems) {
    const { answer } = await ask("GET", "/api/revisions");
    if (answer) {
      this.told = answer;
      this.about();
      this.draw();
    }
    this.refuse(problems);
    if (said) this.tell(said);
  }

  /** @param {any[]} problems */
  refuse(problems) {
    byId("problems").replaceChildren(...troubles(problems));
    if (problems.length) this.tell(`${problems[0].found}. ${problems[0].remedy}.`);
  }

  /** @param {string} words */
  tell(words) {
    byId("told").textContent = words;
  }
}

/** @param {{width: number, height: number}} size */
const unable = ({ width, height }) => label(width / 2, height / 2, "nothing to draw: see above", "label middle second");

/**
 * Both as one, for the scales only: the first gives the turn, and everything of both must fit.
 * @param {any[]} states
 */
function together(states) {
  const [first] = states;
  const all = (/** @type {(state: any) => any[]} */ part) => states.flatMap(part);
  const ends = first.course.smooth;
  const joined = (/** @type {string} */ name) => all((state) => state.course.stations[name]);
  return {
    course: {
      length: Math.max(...states.map((state) => state.course.length)),
      smooth: [ends[0], ...all((state) => state.course.smooth), ends[ends.length - 1]],
      stations: { edge_left: joined("edge_left"), dig: joined("dig"), ground: joined("ground") },
    },
    hose: { line: all((state) => state.hose.line) },
    reservoir: { corners: all((state) => state.reservoir.corners), levels: { sump_floor: Math.min(...states.map((state) => state.reservoir.levels.sump_floor)) } },
  };
}

new Beside().load();
