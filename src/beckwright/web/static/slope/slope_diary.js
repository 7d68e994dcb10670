// The diary: dated words that are added to and never rewritten, with the photographs of each day.

import { byId, draft, field, follow, ready, say } from "./site.js";
import { newMark } from "../shared/queue.js";
import { make } from "../shared/svg.js";
import { line, press } from "./waits.js";
import { clock, metres, unit } from "../shared/words.js";

const forget = draft(["text"]);
/** @type {any} */
let told = { entries: [], photographs: [] };
let openOne = "";

byId("form").addEventListener("submit", async (event) => {
  event.preventDefault();
  const text = field("text").value.trim();
  if (!text) {
    say("Nothing is written in it.");
    field("text").focus();
    return;
  }
  const seen = new Date().toISOString();
  await line.add({ job: line.job, path: "/api/diary", body: { mark: newMark(), seen, text }, says: text.length > 60 ? `${text.slice(0, 60)}...` : text, seen });
  field("text").value = "";
  forget();
  say("Added. It stays as it is.");
});

const dayOf = (/** @type {string} */ seen) => new Date(seen).toLocaleDateString("en-GB", { weekday: "long", day: "numeric", month: "long", year: "numeric" });

/** @param {any} one */
function pictured(one) {
  const words = `Photograph${one.chainage === null ? "" : ` at ${metres(one.chainage, 1)} ${unit("m")}`}${one.note ? `: ${one.note}` : ""}, ${clock(new Date(one.seen))}`;
  const head = press(words, "row", () => { openOne = openOne === one.number ? "" : one.number; show(); });
  head.setAttribute("aria-expanded", String(openOne === one.number));
  if (openOne !== one.number) return make("li", "", head);
  const picture = /** @type {HTMLImageElement} */ (make("img"));
  picture.alt = one.note || words;
  picture.src = `/photographs/${one.digest}`;
  return make("li", "", head, picture);
}

function show() {
  const all = [...told.entries.map((/** @type {any} */ each) => [each.seen, each, false]), ...told.photographs.map((/** @type {any} */ each) => [each.seen, each, true])];
  all.sort(([one], [other]) => (one < other ? 1 : -1));
  /** @type {Map<string, HTMLElement[]>} */
  const days = new Map();
  for (const [seen, each, isPicture] of all) {
    const day = dayOf(seen);
    if (!days.has(day)) days.set(day, []);
    days.get(day)?.push(isPicture ? pictured(each) : make("li", "entry", make("b", "", clock(new Date(seen))), ` ${each.text}`));
  }
  const parts = [...days].flatMap(([day, items]) => [make("h2", "", day), make("ul", "plain photographs", ...items)]);
  byId("days").replaceChildren(...(parts.length ? parts : [make("p", "", "Nothing is written yet.")]));
}

follow("/api/diary", (answer, since) => {
  told = answer;
  if (since) say(`As it stood at ${since}: the laptop is out of reach.`);
  show();
});
ready("write");
