// What still waits in this browser for other jobs: it is said, and stays until its job is open here again.

import { forget, others } from "../shared/queue.js";
import { make } from "../shared/svg.js";
import { counted } from "../shared/words.js";

const byId = (/** @type {string} */ id) => /** @type {HTMLElement} */ (document.getElementById(id));

/** Show them; a word for the foot of the page, empty where nothing waits. */
export function showOthers() {
  const all = others();
  byId("others").hidden = all.length === 0;
  byId("others-list").replaceChildren(...all.map(row));
  const edits = all.reduce((sum, { count }) => sum + count, 0);
  return edits === 0 ? "" : counted(edits, "edit of another job waits here.", "edits of another job wait here.");
}

/** @param {import("../shared/queue.js").Others} held */
function row(held) {
  const press = make("button", "press words", "Throw away");
  press.setAttribute("type", "button");
  press.setAttribute("aria-label", `Throw away what waits for ${held.title}`);
  let sure = false;
  press.addEventListener("click", () => {
    if (sure) {
      forget(held.key);
      showOthers();
      return;
    }
    sure = true;
    press.textContent = "Press again: they cannot be had back";
  });
  const says = `${held.title}: ${counted(held.count, "edit")}, the last: ${held.says} Sent once that job is open at this address again.`;
  return make("li", "", make("p", "", says), press);
}
