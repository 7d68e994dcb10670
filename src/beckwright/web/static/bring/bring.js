// A survey brought in: sent, looked at, asked about, taken. Nothing is written before "Take it" has shown what it replaces.

import { exchange, outOfReach, unsaid } from "../shared/ask.js";
import { make } from "../shared/svg.js";
import { NAME, Typed } from "./typed.js";
import { codes, extent, finding, planned, planWords, problem, question, row } from "./understood.js";

const LARGEST = 600e6;
const LOOK_EVERY = 700;
const OPTIONS = /** @type {const} */ ([
  ["unit", "unit of the file", ["m", "mm", "cm", "ft", "us-ft", "in"]],
  ["level_unit", "unit of the levels, if another", ["m", "mm", "cm", "ft", "us-ft", "in"]],
  ["decimal", "decimal mark of a list", ["point", "comma"]],
  ["axes", "which are x, y and z", ["xyz", "yxz", "zyx", "xzy", "yzx", "zxy"]],
  ["columns", "columns in their order: id,y,x,z,code", null],
  ["layers", "layers of a drawing", null],
  ["surface", "surface of a LandXML", null],
  ["window", "west,south,east,north of a scan", null],
  ["spacing_m", "thin a scan to, m", null],
  ["shift", "shift, m: 451000,207000 or none", null],
]);
const byId = (/** @type {string} */ id) => /** @type {HTMLElement} */ (document.getElementById(id));
const body = (/** @type {string} */ id) => /** @type {HTMLElement} */ (byId(id).querySelector("tbody"));
const tell = (/** @type {string} */ words) => { byId("told").textContent = words; };

class Bring {
  constructor() {
    this.typed = new Typed(byId("rows"));
    /** @type {any} */
    this.told = null;
    /** @type {Object<string, string>} */
    this.answers = {};
    this.lot = "";
    this.stamp = "";
    this.busy = false;
    /** @type {number[]} row of the table each line of what was typed is */
    this.rows = [];
    this.listen();
    byId("saying").replaceChildren(...this.fields());
    tell("Drop a file, or type points. Nothing is written before you take it.");
  }

  listen() {
    const press = (/** @type {string} */ id, /** @type {() => void} */ act) => byId(id).addEventListener("click", act);
    const file = /** @type {HTMLInputElement} */ (byId("file"));
    file.addEventListener("change", () => { this.bring([...(file.files ?? [])]); file.value = ""; });
    const drop = byId("drop");
    for (const name of ["dragenter", "dragover"]) drop.addEventListener(name, (event) => { event.preventDefault(); drop.classList.add("over"); });
    drop.addEventListener("dragleave", () => drop.classList.remove("over"));
    drop.addEventListener("drop", (event) => {
      event.preventDefault();
      drop.classList.remove("over");
      this.bring([...(event.dataTransfer?.files ?? [])]);
    });
    // A file dropped beside the place for it would take the browser away from the page.
    for (const name of ["dragover", "drop"]) window.addEventListener(name, (event) => event.preventDefault());
    press("look", () => this.look());
    press("more-rows", () => this.typed.add(10));
    press("clear", () => this.typed.clear());
    press("stop", () => exchange("POST", "/api/bring/stop", {}).catch(() => undefined));
    press("take", () => (this.stamp === "" && byId("replaced").hidden ? this.replaces() : this.take()));
    press("back", () => this.leave());
    press("copy", () => this.copy());
    byId("saying").addEventListener("submit", (event) => { event.preventDefault(); this.say(); });
  }

  /** Fields of the answers that no question asks for. */
  fields() {
    const each = OPTIONS.map(([name, says, known]) => {
      const field = /** @type {HTMLInputElement | HTMLSelectElement} */ (make(known ? "select" : "input"));
      field.name = name;
      if (known) field.append(...["", ...known].map((word) => { const option = /** @type {HTMLOptionElement} */ (make("option", "", word || "as the file says")); option.value = word; return option; }));
      return make("label", "field", says, field);
    });
    const again = make("button", "press words", "Read it again");
    again.setAttribute("type", "submit");
    return [...each, again];
  }

  say() {
    for (const field of byId("saying").querySelectorAll("input, select")) {
      const { name, value } = /** @type {HTMLInputElement} */ (field);
      if (value.trim()) this.answers[name] = value.trim();
      else delete this.answers[name];
    }
    this.again();
  }

  /**
   * Send files: pages of one field book belong together, anything else is a survey of its own.
   * @param {File[]} files
   */
  async bring(files) {
    if (files.length === 0 || this.busy) return;
    this.rows = [];
    for (const [place, file] of files.entries()) {
      const wanted = this.told?.wants && place === 0;
      if (!(await this.send(file, file.name, place > 0 || wanted ? this.lot : ""))) return;
    }
  }

  look() {
    const { text, rows } = this.typed.list();
    this.rows = rows;
    if (rows.length === 1) tell("The table is empty. Type a number, east, north and level.");
    else this.send(new Blob([text], { type: "text/plain" }), NAME, "");
  }

  /** @param {Blob} file @param {string} name @param {string} to lot it belongs to @returns {Promise<boolean>} */
  async send(file, name, to) {
    if (file.size > LARGEST) {
      this.refused([{ place: name, found: `it has ${Math.round(file.size / 1e6)} MB`, rule: `A file may have ${LARGEST / 1e6} MB`, remedy: "Cut out the part you need" }]);
      return false;
    }
    if (!to) { this.answers = {}; this.lot = ""; }
    const query = new URLSearchParams({ name, ...(to ? { to } : {}) });
    return this.ask(`/api/bring?${query}`, file, `sending ${name}`, (told) => this.show(told));
  }

  again() {
    this.ask(`/api/bring/${this.lot}/look`, { answers: this.answers }, "reading it again", (told) => this.show(told));
  }

  /**
   * @param {string} path @param {any} sent @param {string} words
   * @param {(told: any) => void} done
   */
  async ask(path, sent, words, done) {
    if (this.busy) return false;
    this.busy = true;
    byId("coming").hidden = false;
    byId("coming-words").textContent = words;
    tell(words);
    const looking = window.setInterval(() => this.hear(words), LOOK_EVERY);
    try {
      const { response, told } = await exchange("POST", path, sent);
      if (!response.ok) {
        if (told.id) this.lot = told.id;
        this.refused(told.problems ?? [unsaid(response)]);
        return false;
      }
      byId("problems").replaceChildren();
      this.typed.mark([]);
      done(told);
      return true;
    } catch (trouble) {
      if (!outOfReach(trouble)) throw trouble;
      tell("The laptop is out of reach, or the file takes too long. Nothing was written.");
      return false;
    } finally {
      window.clearInterval(looking);
      byId("coming").hidden = true;
      this.busy = false;
    }
  }

  /** @param {string} words */
  async hear(words) {
    const heard = await exchange("GET", "/api/bring/progress").catch(() => null);
    if (this.busy) byId("coming-words").textContent = heard?.told.words || words;
  }

  /** @param {any[]} problems */
  refused(problems) {
    const wrong = problems.map((each) => this.rows[Number(/ line (\d+)$/.exec(each.place)?.[1] ?? NaN) - 1]).filter((place) => place !== undefined);
    const named = this.rows.length ? problems.map((each) => ({ ...each, line: "", place: each.place.replace(/^.* line (\d+)$/, (/** @type {string} */ _, /** @type {string} */ line) => `row ${(this.rows[Number(line) - 1] ?? 0) + 1}`) })) : problems;
    byId("problems").replaceChildren(...named.map(problem));
    this.typed.mark(wrong);
    tell(`${problems.length === 1 ? "One thing stands" : `${problems.length} things stand`} in the way. Nothing was written.`);
    byId("problems").scrollIntoView({ block: "nearest" });
  }

  /** @param {any} told */
  show(told) {
    this.told = told;
    this.lot = told.id;
    this.answers = told.answers;
    this.leave();
    byId("understood").hidden = false;
    byId("understood-title").textContent = `What was understood: ${told.files.map((/** @type {any} */ each) => each.name).join(", ")}, ${told.kind}`;
    byId("asking").hidden = told.questions.length === 0;
    byId("questions").replaceChildren(...told.questions.map((/** @type {any} */ each) => question(each, (answer, words) => { this.answers[answer] = words; this.again(); })));
    this.showPoints(told);
    byId("notes").replaceChildren(...told.notes.map((/** @type {string} */ words) => make("li", "", words)), ...this.edges(told));
    byId("answered").replaceChildren(...this.answered());
    byId("codes-held").hidden = told.codes.length === 0;
    body("codes").replaceChildren(...codes(told));
    byId("findings").replaceChildren(...told.problems.map(problem), ...told.findings.map(finding));
    byId("offers-held").hidden = !told.offers;
    byId("offers").textContent = told.offers;
    byId("say").hidden = told.kind === "a field book";
    for (const field of byId("saying").querySelectorAll("input, select")) /** @type {HTMLInputElement} */ (field).value = this.answers[/** @type {HTMLInputElement} */ (field).name] ?? "";
    byId("take").toggleAttribute("disabled", !told.ready);
    byId("take-says").textContent = this.stands(told);
    tell(this.stands(told));
    byId(told.questions.length ? "asking" : "understood").scrollIntoView({ block: "start" });
  }

  /** @param {any} told */
  showPoints(told) {
    const there = told.count > 0;
    for (const each of document.querySelectorAll(".pair, #first-held")) /** @type {HTMLElement} */ (each).hidden = !there;
    body("extent").replaceChildren(...(there ? extent(told.rows) : []));
    body("first").replaceChildren(...(there ? told.first.map((/** @type {string[]} */ cells) => row(cells, [1, 2, 3])) : []));
    if (!there) return;
    planned(/** @type {SVGSVGElement} */ (/** @type {unknown} */ (byId("plan"))), told.plan);
    byId("plan-says").textContent = planWords(told);
  }

  /** @param {any} told */
  stands(told) {
    if (told.questions.length) return `${told.questions.length === 1 ? "One question is" : `${told.questions.length} questions are`} open. Answer before it can be taken.`;
    if (told.wants) return `A survey needs place and level: bring the ${told.wants} too.`;
    if (!told.ready) return "It cannot be the survey of a job as it is. Mend what is listed and bring it again.";
    return `${told.counted} points stand ready. Nothing is written yet.`;
  }

  /** @param {any} told */
  edges(told) {
    if (!told.edges) return [];
    const press = make("button", "plain", "Join them");
    press.setAttribute("type", "button");
    press.addEventListener("click", () => { this.answers.join_lines = "yes"; this.again(); });
    return [make("li", "", `Numbered edges can become breaklines, in the order they were shot: ${told.edges}. `, press)];
  }

  answered() {
    return Object.entries(this.answers).map(([name, words]) => {
      const press = make("button", "plain", `You said ${name.replaceAll("_", " ")}: ${words}. Take it back`);
      press.setAttribute("type", "button");
      press.addEventListener("click", () => { delete this.answers[name]; this.again(); });
      return press;
    });
  }

  /** Show what would be replaced. */
  replaces() {
    this.ask(`/api/bring/${this.lot}/replaces`, { answers: this.answers }, "looking at what it replaces", (told) => {
      this.stamp = told.stamp;
      const panel = byId("replaced");
      const heads = make("tr", "", ...["", told.there ? "survey.csv now" : "no survey.csv now", "after"].map((words) => make("th", "", words)));
      const after = new Map(told.after);
      const rows = told.after.map((/** @type {[string, string]} */ [name, words]) => row([name, new Map(told.now).get(name) ?? "", words]));
      const gone = told.now.filter((/** @type {[string, string]} */ [name]) => !after.has(name)).map((/** @type {[string, string]} */ [name, words]) => row([name, words, ""]));
      const table = make("div", "wide", make("table", "", make("thead", "", heads), make("tbody", "", ...rows, ...gone)));
      panel.replaceChildren(table, ...(told.differs ? [make("p", "", `Against the survey of now: ${told.differs}.`)] : []), make("p", "", told.kept_as ? `The survey of now is kept in revision ${told.kept_as}: Undo on the desk brings it back.` : "Nothing is replaced."));
      if (told.problems.length) {
        panel.append(make("p", "", make("b", "", "With it the job as it stands cannot be designed. The desk would show nothing until this is mended:")));
        const list = make("ol", "problems", ...told.problems.map(problem));
        panel.append(list);
      }
      panel.hidden = false;
      byId("take").textContent = told.there ? "Replace survey.csv" : "Write survey.csv";
      byId("back").hidden = false;
      tell("Look at what it replaces, then take it or leave it.");
      byId("take").focus();
    });
  }

  leave() {
    this.stamp = "";
    byId("replaced").hidden = true;
    byId("back").hidden = true;
    byId("take").textContent = "Take it";
  }

  take() {
    this.ask(`/api/bring/${this.lot}/take`, { answers: this.answers, stamp: this.stamp }, "writing survey.csv", (told) => {
      this.leave();
      byId("understood").hidden = true;
      this.told = null;
      tell(`${told.says}. ${told.kept_as ? "Undo on the desk brings the one before back. " : ""}Every page answers from it now.`);
      const channel = new BroadcastChannel("beckwright survey");
      channel.postMessage(told.says);
      channel.close();
      window.scrollTo(0, 0);
    });
  }

  async copy() {
    const words = byId("offers").textContent ?? "";
    try {
      await navigator.clipboard.writeText(words);
      tell("Copied.");
    } catch {
      const range = document.createRange();
      range.selectNodeContents(byId("offers"));
      getSelection()?.removeAllRanges();
      getSelection()?.addRange(range);
      tell("Marked: copy it with the keys of your machine.");
    }
  }
}

new Bring();
