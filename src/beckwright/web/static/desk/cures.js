// Cures in "Needs you": a press on one shows what it changes, and only then may it be taken. Numbers come from the server.

import { ask } from "../shared/ask.js";
import { make } from "../shared/svg.js";
import { counted } from "../shared/words.js";

/**
 * @typedef {Object} Cure
 * @property {string} code of its finding
 * @property {string} place of its finding
 * @property {string} words the order
 * @property {boolean} gone whether the finding is gone with it
 * @property {any[]} edits
 */

const byId = (/** @type {string} */ id) => /** @type {HTMLElement} */ (document.getElementById(id));
// The quick ones first: each part is asked for once the one before has come.
const PARTS = ["levels", "works", "films"];
const keyOf = (/** @type {{code: string, place: string}} */ each) => `${each.code} ${each.place}`;

export class Cures {
  /** @param {any} desk */
  constructor(desk) {
    this.desk = desk;
    this.turn = 0;
    /** @type {number | null} the revision they cure */
    this.revision = null;
    /** @type {Map<string, Cure[]>} */
    this.found = new Map();
    /** @type {Map<string, HTMLElement>} items of findings as they are drawn now */
    this.items = new Map();
    desk.link.addEventListener("works", (/** @type {any} */ event) => {
      if (!event.detail) this.forget();
    });
    desk.link.addEventListener("films", () => this.seek());
  }

  /** What was found holds no more. */
  forget() {
    this.turn += 1;
    this.revision = null;
    this.found.clear();
    for (const block of document.querySelectorAll(".cures")) block.remove();
  }

  /** Ask for the cures of the job as it stands, part by part. */
  async seek() {
    this.forget();
    const { turn } = this;
    this.revision = this.desk.link.state.revision;
    for (const part of PARTS) {
      const { answer } = await ask("GET", `/api/cures?part=${part}`);
      if (turn !== this.turn || !answer || answer.moved_on || answer.revision !== this.revision) return;
      for (const cure of answer.cures) this.found.set(keyOf(cure), [...(this.found.get(keyOf(cure)) ?? []), cure]);
      this.attach();
    }
  }

  /**
   * The findings as they are drawn now.
   * @param {any[]} findings @param {Iterable<Element>} items
   */
  drawn(findings, items) {
    this.items = new Map([...items].map((item, place) => [keyOf(findings[place]), /** @type {HTMLElement} */ (item)]));
    this.attach();
  }

  /** Put the cures under their findings, unless a try is drawn: they cure what is kept. */
  attach() {
    const { shown } = this.desk;
    if (!shown || shown.tried || shown.revision !== this.revision) return;
    for (const [key, item] of this.items) {
      const cures = this.found.get(key);
      if (cures && !item.querySelector(".cures")) item.append(make("div", "cures", ...cures.flatMap((cure) => this.press(cure))));
    }
  }

  /** @param {Cure} cure */
  press(cure) {
    const press = make("button", "press cure", cure.words);
    const panel = make("div", "effect");
    press.setAttribute("type", "button");
    press.setAttribute("aria-expanded", "false");
    panel.hidden = true;
    panel.setAttribute("role", "group");
    panel.setAttribute("aria-label", `What this changes: ${cure.words}`);
    press.addEventListener("click", () => (panel.hidden ? this.open(cure, press, panel) : this.close(press, panel)));
    panel.addEventListener("keydown", (event) => {
      if (event.key !== "Escape") return;
      event.stopPropagation();
      this.leave(press, panel);
    });
    return [press, panel];
  }

  /** @param {HTMLElement} press @param {HTMLElement} panel */
  close(press, panel) {
    press.setAttribute("aria-expanded", "false");
    panel.hidden = true;
  }

  /** @param {HTMLElement} press @param {HTMLElement} panel */
  leave(press, panel) {
    this.close(press, panel);
    press.focus();
  }

  /**
   * Show what a cure changes: at once what hangs on the levels, then the rest.
   * @param {Cure} cure @param {HTMLElement} press @param {HTMLElement} panel
   */
  async open(cure, press, panel) {
    const { turn } = this;
    press.setAttribute("aria-expanded", "true");
    panel.hidden = false;
    panel.replaceChildren(make("p", "second", "What it changes is being worked out."));
    this.desk.book.tell(`What this changes is being worked out: ${cure.words}`);
    for (const whole of [false, true]) {
      const { answer, problems } = await ask("POST", "/api/cures/effect", { edits: cure.edits, whole });
      if (turn !== this.turn || panel.hidden) return;
      if (!answer || answer.moved_on) {
        this.cannot(answer ? answer.problems : problems, whole, press, panel);
        return;
      }
      this.show(answer, cure, press, panel);
    }
  }

  /** @param {any[]} problems @param {boolean} whole @param {HTMLElement} press @param {HTMLElement} panel */
  cannot(problems, whole, press, panel) {
    const [{ found, remedy }] = problems;
    const told = make("p", "strong", `${found}. ${remedy}.`);
    if (whole) panel.querySelector(".waits")?.replaceWith(told);
    else panel.replaceChildren(told, make("div", "takes", this.button("Leave it", "leave", () => this.leave(press, panel))));
  }

  /** @param {any} answer @param {Cure} cure @param {HTMLElement} press @param {HTMLElement} panel */
  show(answer, cure, press, panel) {
    const focused = /** @type {HTMLElement | null} */ (panel.querySelector("button:focus"))?.dataset.act;
    const { here, others } = parted(answer.answers, this.desk.flow);
    const altered = answer.altered.filter((/** @type {any} */ each) => each.after.severity !== each.before.severity || each.after.code === cure.code);
    panel.replaceChildren(
      ...table(here, "Nothing at this flow reads otherwise."),
      ...(others.length ? [fold(`${counted(others.length, "answer")} at other flows`, table(others, ""))] : []),
      ...told("Gone", answer.gone, "gone"), ...told("New", answer.new, "new"),
      ...told("Told otherwise", altered.map((/** @type {any} */ each) => each.after), "otherwise"),
      ...(answer.whole ? [] : [make("p", "second waits", "Cost, digging, lining and films are still being worked out.")]),
      make("div", "takes", this.button("Take it", "take", () => this.take(cure)), this.button("Leave it", "leave", () => this.leave(press, panel))));
    if (focused) /** @type {HTMLElement | null} */ (panel.querySelector(`[data-act=${focused}]`))?.focus();
    this.desk.book.tell(`${counted(answer.gone.length, "finding")} gone, ${answer.new.length} new${answer.whole ? "" : ", as far as the levels tell"}: ${cure.words}`);
  }

  /** @param {string} words @param {string} act @param {() => void} pressed */
  button(words, act, pressed) {
    const button = make("button", act === "take" ? "press words" : "words plain", words);
    button.setAttribute("type", "button");
    button.dataset.act = act;
    button.addEventListener("click", pressed);
    return button;
  }

  /**
   * Keep it as any edit is kept: it can be undone, and waits where the laptop is out of reach.
   * @param {Cure} cure
   */
  take(cure) {
    this.forget();
    byId("needs-title").focus();
    this.desk.link.keep(cure.edits, `Taken: ${cure.words}`);
  }
}

/**
 * Answers of the flow that is looked at, and of all flows; the others apart.
 * @param {any[]} answers @param {string} flow
 */
function parted(answers, flow) {
  const here = answers.filter((each) => each.flow === flow || each.flow === "");
  return { here, others: answers.filter((each) => !here.includes(each)) };
}

/** @param {any[]} answers @param {string} none */
function table(answers, none) {
  if (answers.length === 0) return none ? [make("p", "", none)] : [];
  const head = make("tr", "", make("td"), make("th", "", "now"), make("th", "", "with it"));
  for (const cell of head.querySelectorAll("th")) cell.setAttribute("scope", "col");
  const rows = answers.map((each) => {
    const name = make("th", "", each.label);
    name.setAttribute("scope", "row");
    return make("tr", "", name, make("td", "", each.before || "none"), make("td", "after", each.after || "none"));
  });
  return [make("table", "", make("thead", "", head), make("tbody", "", ...rows))];
}

/** @param {string} title @param {HTMLElement[]} inside */
const fold = (title, inside) => make("details", "", make("summary", "", title), ...inside);

/** @param {string} title @param {any[]} findings @param {string} kind */
function told(title, findings, kind) {
  if (findings.length === 0) return [];
  const items = findings.map((each) => make("li", each.severity, make("b", "", `${each.place}. `), kind === "gone" ? "" : each.says));
  return [make("h3", "", `${title} (${findings.length})`), make("ul", kind, ...items)];
}
