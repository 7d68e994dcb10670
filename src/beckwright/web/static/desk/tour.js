// A look round the desk: short steps, each at the real thing, that wait until it has been done. Kept in this browser.

import { make } from "../shared/svg.js";

const KEPT = `beckwright look round ${location.host}`;
const byId = (/** @type {string} */ id) => /** @type {HTMLElement} */ (document.getElementById(id));

/**
 * @typedef {Object} Step
 * @property {string} at selector of what it is about
 * @property {string} first selector of what the keyboard goes to
 * @property {string} title
 * @property {string} says
 * @property {string} done what is told once it was done
 */

/** @type {Step[]} */
export const STEPS = [
  { at: ".sheet.plan", first: "#plan .peg", title: "Drag a point", says: "Drag a yellow peg of the line, or pick one and use the arrows under the drawings. Levels, water and findings answer while it moves.", done: "It is kept, and one sentence at the foot tells what it changed." },
  { at: ".sheet.strip", first: "#typed input", title: "Read the level story", says: "Eight levels lie within a hand's breadth, so here the bed is pulled straight. Press a place in it, or on the yellow tape.", done: "The book page cuts the stream across there, with each level below the mark." },
  { at: "#flows", first: "#flows .flow:not([aria-pressed=true])", title: "Let more water run", says: "Press another lip. Freeboard is what is left between the water and the settled edges.", done: "Water, freeboard and answers are those of that flow now." },
  { at: ".needing", first: "#needs .finding", title: "Look at a finding", says: "What needs you stands here, the heaviest first, each with its place, its number and its limit. Press one.", done: "The picked peg went to its place." },
  { at: ".needing", first: "#needs .cure", title: "Try a cure", says: "Yellow under a finding is a cure that was tried. It comes a few seconds after the finding. Press it, read what it changes, and take it.", done: "It was taken as any edit is: kept, and to be undone." },
  { at: "#undo", first: "#undo", title: "Take it back", says: "Undo says what it takes back. Press it.", done: "Every text the job has had is kept, undone or not." },
  { at: ".places", first: ".places summary", title: "Go to the pegs", says: "On the slope a telephone shows the same pegs: how far to dig, peg by peg. Press Elsewhere, then Pegs, and come back here.", done: "The pegs follow the line, whatever is dragged." },
  { at: ".ways > a", first: ".ways > a", title: "Fetch the papers", says: "Each sheet is for one reader: driver, crew, supplier, electrician, owner. Press Papers.", done: "" },
];

export class Tour {
  /** @param {any} desk */
  constructor(desk) {
    this.desk = desk;
    this.job = document.title;
    this.step = 0;
    this.done = false;
    const asked = new URLSearchParams(location.search).has("round");
    const kept = recall();
    if (kept?.job === this.job) this.step = Math.min(kept.step, STEPS.length - 1);
    this.on = asked || (kept?.job === this.job && kept.on);
    if (!this.on) return;
    if (asked) history.replaceState(null, "", location.pathname);
    this.build();
    this.listen();
    this.show();
    if (asked) byId("tour-title").focus();
  }

  build() {
    const press = (/** @type {string} */ id, /** @type {string} */ words, /** @type {() => void} */ act) => {
      const button = make("button", "press words", words);
      button.id = id;
      button.setAttribute("type", "button");
      button.addEventListener("click", act);
      return button;
    };
    const title = make("h2");
    title.id = "tour-title";
    title.tabIndex = -1;
    const says = make("p");
    says.id = "tour-says";
    says.setAttribute("role", "status");
    byId("tour").replaceChildren(make("div", "tour-words", title, says), make("div", "tour-ways",
      press("tour-there", "Take me there", () => this.point(true)), press("tour-before", "Before", () => this.go(this.step - 1)),
      press("tour-next", "Next", () => this.go(this.step + 1)), press("tour-leave", "Leave", () => this.leave("Left. Show me round, under Elsewhere, goes on from here."))));
    byId("tour").hidden = false;
    document.querySelector(".desk")?.classList.add("touring");
  }

  listen() {
    const told = (/** @type {string} */ says) => {
      if (/moved|slid|raised|lowered/.test(says)) this.did(0);
      else if (says.startsWith("Taken:")) this.did(4);
      else if (says.startsWith("Undone")) this.did(5);
    };
    this.desk.link.addEventListener("state", (/** @type {any} */ event) => told(event.detail.says));
    const changes = (/** @type {string} */ id, /** @type {number} */ step) => {
      // What is drawn first is no doing of anybody's.
      let before = "";
      new MutationObserver(() => {
        const now = byId(id).textContent ?? "";
        if (before && now !== before) this.did(step);
        before = now;
      }).observe(byId(id), { childList: true, characterData: true, subtree: true });
    };
    changes("across-title", 1);
    changes("answers-title", 2);
    document.addEventListener("click", (event) => {
      if (!(event.target instanceof Element)) return;
      if (event.target.closest("#needs .finding")) this.did(3);
      if (event.target.closest('.places a[href="/slope"]')) this.keep(7, true);
      if (this.step === 7 && event.target.closest('.ways > a[href="/papers"]')) this.keep(0, false);
    });
  }

  /**
   * Somebody did what a step waits for.
   * @param {number} step
   */
  did(step) {
    if (!this.on || step !== this.step || this.done) return;
    this.done = true;
    byId("tour-says").textContent = `Done. ${STEPS[step].done}`;
    byId("tour-next").textContent = "Next";
    byId("tour").classList.add("done");
  }

  /** @param {number} step */
  go(step) {
    if (step >= STEPS.length) {
      this.keep(0, false);
      this.leave("That was the way round. Show me round, under Elsewhere, begins it again.");
      return;
    }
    this.step = Math.max(step, 0);
    this.show();
  }

  show() {
    const { title, says } = STEPS[this.step];
    this.done = false;
    this.keep(this.step, true);
    byId("tour").classList.remove("done");
    byId("tour-title").textContent = `${this.step + 1} of ${STEPS.length}: ${title}`;
    byId("tour-says").textContent = says;
    byId("tour-before").toggleAttribute("disabled", this.step === 0);
    byId("tour-next").textContent = this.step === STEPS.length - 1 ? "End" : "Pass over";
    this.point(false);
  }

  /**
   * Mark what the step is about, and bring it into view.
   * @param {boolean} focus whether the keyboard goes there too
   */
  point(focus) {
    for (const each of document.querySelectorAll(".pointed")) each.classList.remove("pointed");
    const { at, first } = STEPS[this.step];
    const thing = document.querySelector(at);
    thing?.classList.add("pointed");
    if (!thing) return;
    if (matchMedia("(max-width: 1179px)").matches || focus) thing.scrollIntoView({ block: "center" });
    if (!focus) return;
    const held = document.querySelector(first);
    if (held instanceof HTMLElement || held instanceof SVGElement) held.focus({ preventScroll: true });
    else this.desk.book.tell("It is not there yet. Wait a moment.");
  }

  /** @param {string} words */
  leave(words) {
    const kept = recall();
    if (kept) this.keep(kept.step, false);
    this.on = false;
    for (const each of document.querySelectorAll(".pointed")) each.classList.remove("pointed");
    byId("tour").hidden = true;
    document.querySelector(".desk")?.classList.remove("touring");
    this.desk.book.tell(words);
    byId("needs-title").focus({ preventScroll: true });
  }

  /** @param {number} step @param {boolean} on */
  keep(step, on) {
    try {
      localStorage.setItem(KEPT, JSON.stringify({ job: this.job, step, on }));
    } catch {
      // A browser that keeps nothing shows it all the same, from the start.
    }
  }
}

/** @returns {{job: string, step: number, on: boolean} | null} */
function recall() {
  try {
    return JSON.parse(localStorage.getItem(KEPT) ?? "null");
  } catch {
    return null;
  }
}
