// The foot of every page for the slope: what the laptop does not have yet.

import { become } from "../shared/sketch.js";
import { make } from "../shared/svg.js";
import { Line } from "./waiting.js";
import { clock, counted } from "../shared/words.js";

/** @typedef {import("./waiting.js").Waiting} Waiting */

const job = document.querySelector("main")?.dataset.job ?? "";
export const line = new Line(job);

/**
 * @param {string} words
 * @param {string} kind
 * @param {() => void} pressed
 */
export function press(words, kind, pressed) {
  const button = /** @type {HTMLButtonElement} */ (make("button", kind, words));
  button.type = "button";
  button.addEventListener("click", pressed);
  return button;
}

/**
 * A second press does it: what a person typed is not lost by a slip of the thumb.
 * @param {string} words
 * @param {string} again what it says once it was pressed
 * @param {() => void} act
 */
export function pressTwice(words, again, act) {
  let pressed = false;
  const button = press(words, "white", () => {
    if (pressed) act();
    pressed = true;
    button.textContent = again;
  });
  return button;
}

/** @param {Waiting} one */
const throwing = (one) => pressTwice("Throw away", "Press again to throw it away", () => line.drop(one));

/** @param {Waiting} one */
function told(one) {
  // What it says stands by itself, so that it can be said in another language.
  const at = [`${clock(new Date(one.seen))} `, one.says];
  if (one.job !== job) return make("li", "", ...at, `. It was typed for the job ${one.job}, and goes when that one is open.`);
  if (!one.refused) return make("li", "", ...at);
  return make("li", "", ...at, `. Not taken. ${one.refused}`, make("div", "presses", press("Send again", "", () => line.resend(one)), throwing(one)));
}

let turn = 0;

async function show() {
  turn += 1;
  const mine = turn;
  const all = await line.all();
  if (mine !== turn) return;
  const going = all.filter((one) => one.job === job && !one.refused);
  const aside = all.length - going.length;
  const words = going.length === 0 ? "" : `${counted(going.length, "waits", "wait")} on this phone${line.away ? ": the laptop is out of reach" : ""}. What waits goes by itself, in this order.`;
  const more = aside === 0 ? "" : `${aside} set aside.`;
  const says = [words, more].filter(Boolean).join(" ") || (line.away ? "Nothing waits. The laptop is out of reach." : "Nothing waits: all of it is on the laptop.");
  const head = document.getElementById("waits-says");
  // A line that is said anew to a screen reader only where it is another one.
  if (head) become(head, says);
  document.getElementById("waits")?.replaceChildren(...all.map(told));
  document.querySelector(".waits")?.classList.toggle("any", all.length > 0);
}

for (const name of ["changed", "away"]) line.addEventListener(name, show);
line.store.then(show, () => {
  const head = document.getElementById("waits-says");
  if (head) head.textContent = "This browser keeps nothing: leave its private window, or write on paper.";
});
line.flush();
