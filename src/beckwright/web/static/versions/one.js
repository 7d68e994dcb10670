// One revision, read-only: its name, what it holds against another, its figures, its text.

import { ask } from "../shared/ask.js";
import { answered, cannot, changed, findings, lines } from "./held.js";
import { called, choices, nameForm, standPress, tags, troubles, when } from "./kept.js";
import { make } from "../shared/svg.js";

export class One {
  /** @param {HTMLElement} block @param {(said: string, problems: any[]) => void} done */
  constructor(block, done) {
    this.block = block;
    this.done = done;
    this.turn = 0;
  }

  /**
   * @param {any} told all revisions @param {number} look @param {number} against 0 for the one that stands, or the one before it
   * @param {(against: number) => void} chosen
   */
  show(told, look, against, chosen) {
    const revision = told.revisions.find((/** @type {any} */ each) => each.number === look);
    const others = told.revisions.filter((/** @type {any} */ each) => each.number !== look);
    const other = against || (look === told.stands ? revision.parent ?? others.at(-1)?.number : told.stands);
    const press = standPress(revision, told.stands, "Take this one up again", this.done);
    const held = make("div", "holding");
    const head = [make("h2", "", called(revision)), make("p", "", revision.why), make("p", "second", [when(revision.kept), ...tags(revision)].join(", ")), nameForm(revision, this.done)];
    const own = [this.later("Its figures", () => figures(look)), this.later("Its text", () => text(look))];
    if (!other) {
      this.block.replaceChildren(...head, ...own);
      return;
    }
    const select = /** @type {HTMLSelectElement} */ (make("select"));
    choices(select, others, other);
    select.addEventListener("change", () => { chosen(Number(select.value)); this.hold(held, look, Number(select.value)); });
    this.block.replaceChildren(...head, make("div", "presses", press), make("label", "field", make("span", "", "Hold it against"), select), held, ...own);
    this.hold(held, look, other);
  }

  /** @param {HTMLElement} block @param {number} look @param {number} other */
  async hold(block, look, other) {
    const turn = (this.turn += 1);
    const [old, fresh] = [Math.min(look, other), Math.max(look, other)];
    const beside = /** @type {HTMLAnchorElement} */ (make("a", "press words link", "See both side by side"));
    beside.href = `/beside?left=${old}&right=${fresh}`;
    const names = [`Revision ${old}`, `Revision ${fresh}`];
    block.classList.add("late");
    const { answer, problems } = await ask("GET", `/api/revisions/${old}/against/${fresh}`);
    if (turn !== this.turn) return;
    block.classList.remove("late");
    if (!answer) {
      block.replaceChildren(make("ul", "problems", ...troubles(problems)));
      return;
    }
    const able = answer.old.problems.length + answer.new.problems.length === 0;
    block.replaceChildren(...cannot(answer, names), make("div", "presses", beside),
      make("h3", "", "What changed"), changed(answer, names),
      ...(able ? [make("h3", "", "Answers that differ"), make("p", "second", "Like end against like end, the low end first."), answered(answer.answers, names, false), make("h3", "", "Findings"), findings(answer.findings, names)] : []),
      this.later("Both texts, line beside line", async () => [lines(answer, names)]));
  }

  /**
   * What is fetched when it is opened.
   * @param {string} title @param {() => Promise<HTMLElement[]>} fetched
   */
  later(title, fetched) {
    const inside = make("div", "inside", make("p", "second", "being fetched"));
    const block = make("details", "", make("summary", "", title), inside);
    block.addEventListener("toggle", async () => inside.replaceChildren(...(await fetched())), { once: true });
    return block;
  }
}

/** @param {number} number */
async function figures(number) {
  const { answer, problems } = await ask("GET", `/api/revisions/${number}/state`);
  if (!answer) return [make("p", "strong", "It cannot be designed."), make("ul", "problems", ...troubles(problems))];
  return answer.answers.map((/** @type {any} */ each) => make("p", "answer", make("span", "", each.label), make("strong", "", each.words)));
}

/** @param {number} number */
async function text(number) {
  const { answer, problems } = await ask("GET", `/api/revisions/${number}`);
  if (!answer) return [make("ul", "problems", ...troubles(problems))];
  const block = make("pre", "", answer.text);
  block.setAttribute("tabindex", "0");
  block.setAttribute("aria-label", `job.toml as it was in revision ${number}`);
  return [block];
}
