// Care: the month's normal range, one drop judged, and the tree walked by presses. Every number comes from the server.

import { ask } from "../shared/ask.js";
import { newMark } from "../shared/queue.js";
import { make } from "../shared/svg.js";
import { padded } from "../shared/typed.js";

const byId = (/** @type {string} */ id) => /** @type {HTMLElement} */ (document.getElementById(id));
const field = (/** @type {string} */ id) => /** @type {HTMLInputElement} */ (byId(id));
const tell = (/** @type {string} */ words) => { byId("told").textContent = words; };

/** @typedef {{asks: string, yes: string, no: string}} Question @typedef {{does: string, who: string, stops: boolean}} Leaf */
/** @typedef {{symptoms: {name: string, first: string}[], questions: Object<string, Question>, leaves: Object<string, Leaf>}} Tree */

/** @type {any} */
let told = null;
/** @type {{said: string, answer: string}[]} what was asked and answered so far */
let way = [];
/** @type {{key: string, way: {said: string, answer: string}[]}[]} */
let back = [];
let at = "";
let turn = 0;

/** @param {string} words @param {string} kind @param {() => void} pressed */
function button(words, kind, pressed) {
  const made = make("button", kind, words);
  made.setAttribute("type", "button");
  made.addEventListener("click", pressed);
  return made;
}

/** @param {HTMLElement} list @param {{name: string, says: string}[]} rows */
const listed = (list, rows) => list.replaceChildren(...rows.flatMap((row) => [make("dt", "", row.name), make("dd", "", row.says)]));

/**
 * Ask for a month; the first time, for now.
 * @param {string} [month]
 */
async function load(month) {
  turn += 1;
  const mine = turn;
  const { answer, problems } = await ask("GET", `/api/care${month ? `?month=${month}` : ""}`);
  if (mine !== turn) return;
  if (!answer) {
    byId("read").textContent = `${problems[0].found}. ${problems[0].remedy}.`;
    return;
  }
  told = answer;
  byId("verdict").replaceChildren();
  show();
}

function show() {
  const month = field("month");
  if (!month.children.length) month.append(...told.months.map((/** @type {string} */ name, /** @type {number} */ place) => {
    const option = /** @type {HTMLOptionElement} */ (make("option", "", name));
    option.value = String(place + 1);
    return option;
  }));
  month.value = String(told.month);
  listed(byId("ranges"), told.known ? told.ranges : [{ name: "This job has no climate table", says: "not known" }]);
  listed(byId("levels"), told.levels);
  byId("read").textContent = told.read;
  byId("unit").textContent = told.unit;
  byId("people").replaceChildren(...(told.people.length ? told.people.map(person) : [make("li", "", "No numbers are written in job.toml: ring whoever built it; for wires a licensed electrician.")]));
  byId("cautions").replaceChildren(...told.cautions.map((/** @type {string} */ words) => make("li", "", words)));
  step();
}

/** @param {{name: string, trade: string, telephone: string}} each */
function person(each) {
  if (!each.telephone) return make("li", "", `${each.trade}: ${each.name}`);
  const link = /** @type {HTMLAnchorElement} */ (make("a", "", make("small", "", `${each.trade}: ${each.name}`), each.telephone));
  link.href = `tel:${each.telephone.replace(/[^0-9+]/g, "")}`;
  return make("li", "", link);
}

/** Where the walk stands: the symptoms, a question, or an end. */
function step() {
  /** @type {Tree} */
  const tree = told.tree;
  byId("way").replaceChildren(...way.map((each) => make("li", "", `${each.said} `, make("b", "", each.answer))));
  const question = tree.questions[at], leaf = tree.leaves[at];
  if (question) asking(question);
  else if (leaf) ending(leaf);
  else {
    at = "";
    way = [];
    back = [];
    byId("way").replaceChildren();
    byId("step").replaceChildren(make("div", "symptoms", ...tree.symptoms.map((each) => button(each.name, "press words", () => go(each.first, each.name, "")))));
  }
}

/** @param {string} key @param {string} said @param {string} answer */
function go(key, said, answer) {
  back.push({ key: at, way: [...way] });
  way.push({ said, answer });
  at = key;
  step();
  /** @type {HTMLElement | null} */ (byId("step").querySelector("[tabindex]"))?.focus();
}

function goBack() {
  const before = back.pop();
  at = before?.key ?? "";
  way = before?.way ?? [];
  step();
  /** @type {HTMLElement | null} */ (byId("step").querySelector("[tabindex], button"))?.focus();
}

/**
 * A line that can take the focus, so that whoever hears the page is where it goes on.
 * @param {string} kind
 * @param {string} words
 */
function line(kind, words) {
  const made = make("p", kind, words);
  made.setAttribute("tabindex", "-1");
  return made;
}

/** @param {Question} question */
function asking(question) {
  const answers = make("div", "answers", button("Yes", "press", () => go(question.yes, question.asks, "Yes")), button("No", "press", () => go(question.no, question.asks, "No")));
  byId("step").replaceChildren(line("asks", question.asks), answers, make("div", "again", button("Back", "plain", goBack)));
}

/** @param {Leaf} leaf */
function ending(leaf) {
  const words = way.map((each) => `${each.said} ${each.answer}`.trim()).join(" ");
  byId("step").replaceChildren(
    make("div", leaf.stops ? "end stops" : "end", line("does", leaf.does)),
    make("div", "again", button("Back", "plain", goBack), button("From the beginning", "plain", () => { at = ""; step(); }), diary(`${words} ${leaf.does}`)));
}

/**
 * A press that writes words into the diary, once.
 * @param {string} words
 */
function diary(words) {
  const mark = newMark();
  const seen = new Date().toISOString();
  const made = /** @type {HTMLButtonElement} */ (button("Write it into the diary", "plain", async () => {
    made.disabled = true;
    const { answer, problems } = await ask("POST", "/api/diary", { mark, seen, text: words });
    made.disabled = Boolean(answer);
    if (answer) made.textContent = "It is in the diary";
    tell(answer ? "It is in the diary, and stays there." : `${problems[0].found}. ${problems[0].remedy}.`);
  }));
  return made;
}

/** @param {string} text of a count, with a decimal comma or point */
const number = (text) => (text.trim() === "" ? NaN : Number(text.trim().replace(",", ".")));

/** @param {string} words */
const opened = (words) => words.slice(0, 1).toUpperCase() + words.slice(1);

/** @param {string} words @param {string} does */
const verdict = (words, does) => byId("verdict").replaceChildren(make("p", "", words), make("p", "does", does));

byId("drop").addEventListener("submit", async (event) => {
  event.preventDefault();
  if (!told) return;
  const down = field("down").value.trim(), amount = number(field("amount").value);
  const wrong = !down ? "down" : !(amount > 0) ? "amount" : "";
  for (const id of ["down", "amount"]) field(id).setAttribute("aria-invalid", String(id === wrong));
  if (wrong) {
    verdict(wrong === "down" ? "How far down is missing." : "Over how long is missing, or no number over nothing.", "Write a number such as 40.");
    field(wrong).focus();
    return;
  }
  if (/** @type {HTMLInputElement} */ (document.querySelector("[name=state]:checked")).value === "mixed") {
    byId("verdict").replaceChildren(make("p", "word closer", "Read again"), make("p", "does", told.read));
    return;
  }
  const over = field("over").value;
  const { answer, problems } = await ask("POST", "/api/care/judge", { month: told.month, down, amount, over });
  if (!answer) {
    field("down").setAttribute("aria-invalid", String(problems[0].place === "down"));
    verdict(`${problems[0].found}. ${problems[0].rule}.`, `${problems[0].remedy}.`);
    return;
  }
  const kind = answer.verdict === "ring" ? "word ring" : answer.verdict === "normal" ? "word" : "word closer";
  byId("verdict").replaceChildren(
    make("p", kind, opened(answer.verdict || "not known")), make("p", "", answer.says), make("p", "does", answer.does), ...(answer.left ? [make("p", "", answer.left)] : []),
    make("div", "again", diary(`${answer.verdict}: ${answer.says} ${answer.does}`)));
});
padded(field("down"), "mm");
field("month").addEventListener("change", () => load(field("month").value));
load();
