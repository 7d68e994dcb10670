// A job begun on points typed: looked at, two pegs put among them, made with one press.

import { ask } from "../shared/ask.js";
import { newMark } from "../shared/queue.js";
import { draw, make } from "../shared/svg.js";
import { padded } from "../shared/typed.js";
import { asTyped } from "../shared/words.js";
import { Typed } from "../bring/typed.js";
import { planned, planWords, problem } from "../bring/understood.js";

const PAUSE = 300;
const PEGS = /** @type {const} */ (["source", "foot"]);
const byId = (/** @type {string} */ id) => /** @type {HTMLElement} */ (document.getElementById(id));
const field = (/** @type {string} */ id) => /** @type {HTMLInputElement} */ (byId(id));
const tell = (/** @type {string} */ words) => { byId("told").textContent = words; };
/** What is typed, as typed: Python reads it. Null where nothing is. */
const typed = (/** @type {string} */ id) => field(id).value.trim() || null;

class Begin {
  constructor() {
    this.typed = new Typed(byId("rows"));
    /** @type {number[]} row of the table each line of what was typed is */
    this.rows = [];
    this.text = "";
    /** @type {any} */
    this.plan = null;
    this.turn = 0;
    /** @type {Object<string, {text: [string, string] | null, at: number[]}>} */
    this.stood = {};
    this.pause = 0;
    const press = (/** @type {string} */ id, /** @type {() => void} */ act) => byId(id).addEventListener("click", act);
    press("look", () => this.look());
    press("more-rows", () => this.typed.add(10));
    press("clear", () => this.typed.clear());
    press("make", () => this.make());
    byId("plan").addEventListener("click", (event) => this.pressed(event));
    byId("ground").addEventListener("input", (event) => /** @type {HTMLInputElement} */ (event.target).type !== "radio" && this.changed());
    byId("rows").addEventListener("input", () => this.close());
    byId("rows").addEventListener("paste", () => this.close());
  }

  /** What was seen is no longer what is typed. */
  close() {
    byId("ground").hidden = true;
    byId("making").hidden = true;
  }

  async look() {
    const { text, rows } = this.typed.list();
    this.rows = rows;
    if (rows.length === 1) {
      tell("The table is empty. Type a number, east, north and level.");
      return;
    }
    this.text = text;
    const { answer, problems } = await ask("POST", "/api/begin", { text });
    if (!answer) {
      this.refused(problems);
      return;
    }
    this.clearProblems();
    this.plan = answer.plan;
    byId("ground").hidden = false;
    byId("plan-says").textContent = planWords(answer);
    tell(`${answer.counted} points. Put the two pegs.`);
    byId("ground-title").focus();
    byId("ground").scrollIntoView({ block: "start" });
    this.weigh();
  }

  clearProblems() {
    byId("problems").replaceChildren();
    this.typed.mark([]);
  }

  /** @param {any[]} problems */
  refused(problems) {
    const lineOf = (/** @type {any} */ each) => Number(/ line (\d+)$/.exec(each.place)?.[1] ?? NaN) - 1;
    const named = problems.map((each) => (this.rows[lineOf(each)] === undefined || !each.place.startsWith("survey.csv") ? each : { ...each, place: `row ${this.rows[lineOf(each)] + 1}` }));
    byId("problems").replaceChildren(...named.map(problem));
    this.typed.mark(problems.map((each) => this.rows[lineOf(each)]).filter((place) => place !== undefined));
    tell(`${problems.length === 1 ? "One thing stands" : `${problems.length} things stand`} in the way. Nothing was written.`);
    byId("problems").scrollIntoView({ block: "nearest" });
  }

  /**
   * A press on the plan puts a peg to the centimetre, and the next press the other.
   * @param {MouseEvent} event
   */
  pressed(event) {
    const box = byId("plan").getBoundingClientRect();
    const { wide, high, middle, scale } = this.plan;
    // The drawing keeps its proportions in whatever room it has.
    const each = Math.min(box.width / wide, box.height / high);
    const x = (event.clientX - box.left - box.width / 2) / each / scale + middle[0];
    const y = (box.top + box.height / 2 - event.clientY) / each / scale + middle[1];
    const which = /** @type {HTMLInputElement} */ (document.querySelector("[name=next]:checked")).value;
    for (const [way, at] of /** @type {const} */ ([["east", x], ["north", y]])) field(`${which}-${way}`).value = asTyped(at, "m", 2);
    this.stood[which] = { text: this.spot(which), at: [x, y] };
    const [other] = PEGS.filter((name) => name !== which);
    /** @type {HTMLInputElement} */ (document.querySelector(`[name=next][value=${other}]`)).checked = true;
    this.changed();
  }

  changed() {
    window.clearTimeout(this.pause);
    this.pause = window.setTimeout(() => this.weigh(), PAUSE);
    this.paint();
  }

  /** @param {string} which @returns {[string, string] | null} what is typed of a peg */
  spot(which) {
    const [east, north] = [typed(`${which}-east`), typed(`${which}-north`)];
    return east === null || north === null ? null : [east, north];
  }

  /**
   * Where a peg stands, m: where the plan was pressed, or where Python has read what is typed.
   * @param {string} which @returns {number[] | null}
   */
  stands(which) {
    const stood = this.stood[which];
    return stood && String(stood.text) === String(this.spot(which)) ? stood.at : null;
  }

  paint() {
    const svg = /** @type {SVGSVGElement} */ (/** @type {unknown} */ (byId("plan")));
    planned(svg, this.plan);
    const { wide, high, middle, scale } = this.plan;
    const at = PEGS.flatMap((which) => {
      const spot = this.stands(which);
      return spot ? [[which, (spot[0] - middle[0]) * scale + wide / 2, high / 2 - (spot[1] - middle[1]) * scale]] : [];
    });
    if (at.length === 2) svg.append(draw("path", { class: "way", d: `M${at[0][1]} ${at[0][2]}L${at[1][1]} ${at[1][2]}` }));
    for (const [which, x, y] of at) svg.append(draw("g", { class: "peg", transform: `translate(${x} ${y})` },
      draw("rect", { x: -9, y: -9, width: 18, height: 18 }), draw("circle", { r: 3 }), draw("text", { x: 13, y: 5 }, String(which))));
  }

  /** What lies between the two pegs. */
  async weigh() {
    this.paint();
    this.turn += 1;
    const { turn } = this;
    const [source, foot] = PEGS.map((which) => this.spot(which));
    if (!source || !foot) {
      byId("making").hidden = true;
      byId("between").textContent = source || foot ? "One peg. Put the other." : "No pegs yet.";
      return;
    }
    const { answer, problems } = await ask("POST", "/api/begin", { text: this.text, source, foot });
    if (turn !== this.turn) return;
    byId("making").hidden = !answer;
    if (!answer) {
      byId("between").textContent = "Look at what stands in the way.";
      this.refused(problems);
      return;
    }
    this.clearProblems();
    const { length, fall, grade, high, low } = answer.pegs;
    this.stood = { source: { text: source, at: answer.pegs.source }, foot: { text: foot, at: answer.pegs.foot } };
    this.paint();
    tell("Both pegs stand. Nothing is written yet.");
    byId("between").replaceChildren(make("span", "", `${length} of stream, falling ${fall}, ${grade}. Ground at the source ${high}, at the foot ${low}.`));
  }

  async make() {
    const [source, foot] = PEGS.map((which) => this.spot(which));
    const [steps, flow] = [Number(typed("steps") ?? NaN), typed("flow")];
    if (!Number.isInteger(steps)) {
      this.refused([{ place: "steps", found: "it is no whole number", rule: "Steps are counted", remedy: "Write 1 where there is to be one step" }]);
      return;
    }
    byId("make").toggleAttribute("disabled", true);
    byId("made").textContent = "Being made.";
    const { answer, problems } = await ask("POST", "/api/begin/job", { mark: newMark(), name: field("name").value.trim(), text: this.text, source, foot, steps, flow });
    byId("make").toggleAttribute("disabled", false);
    if (!answer) {
      byId("made").textContent = "No job was made.";
      this.refused(problems);
    } else if (answer.here) location.assign("/");
    else byId("made").textContent = `Made: ${answer.folder}, in the folder beside this job. Open it on the laptop: beckwright open "${answer.folder}"`;
  }
}

padded(field("flow"), "L/h");
new Begin();
