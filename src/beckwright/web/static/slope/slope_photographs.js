// Photographs tied to the tape. Each is on this phone before anything is said of it, and goes by itself.

import { byId, draft, field, fill, follow, say } from "./site.js";
import { newMark } from "../shared/queue.js";
import { make } from "../shared/svg.js";
import { line, press } from "./waits.js";
import { withUnit } from "../shared/typed.js";
import { clock, metres, one, unit } from "../shared/words.js";

const LARGEST = 12000000;
const MEGABYTE = 1000000;
/** @type {any[]} */
let pegs = [];
let length = Infinity;
/** @type {string} */
let openOne = "";
/** @type {any[]} */
let photographs = [];
const forget = draft(["chainage", "note"], { chainage: "m" });

/** The chainage as a bare number in the reader's unit, or null where the field is empty; NaN where only Python can read it. */
function chainage() {
  const text = field("chainage").value.trim().replace(",", ".");
  return text === "" ? null : /^\d+(\.\d+)?$/.test(text) ? Number(text) : NaN;
}

/** What was typed, with its unit: it may wait until other units are read. */
const typed = () => withUnit(field("chainage").value, "m");

/** Whether it is a place at all: a number, bare or with its unit. */
const readable = () => typed() === "" || /^\d/.test(typed());

/** @param {number} way */
function step(way) {
  const at = chainage();
  const ahead = pegs.filter((peg) => at === null || Number.isNaN(at) || (Number(peg.told) - at) * way > 0.001);
  const next = way > 0 ? ahead[0] : ahead.at(-1);
  if (next) field("chainage").value = next.told;
  field("chainage").dispatchEvent(new Event("input"));
}

function near() {
  const at = chainage();
  const peg = pegs.find((each) => at !== null && Math.abs(Number(each.told) - at) < 0.005);
  byId("near").textContent = at === null ? "Leave it empty where it belongs to no place." : Number.isNaN(at) ? (readable() ? "" : `That is no number: write ${unit("m")} from the source.`)
    : at * one("m") > length ? `The course ends at ${metres(length, 1)} ${unit("m")}. Is it so?` : peg ? `At peg ${peg.number}.` : "Between two pegs.";
}

/** @param {File} file */
async function keep(file) {
  const at = typed();
  if (file.size > LARGEST) {
    say(`It holds ${(file.size / MEGABYTE).toFixed(0)} MB, and ${LARGEST / MEGABYTE} are taken. Take it with fewer pixels; it is still in the telephone.`);
    return false;
  }
  const seen = new Date().toISOString();
  const note = field("note").value.trim();
  const query = new URLSearchParams({ mark: newMark(), seen, note, ...(at ? { chainage: at } : {}) });
  const says = `photograph${at ? ` at ${at}` : ""}${note ? `: ${note}` : ""}`;
  await line.add({ job: line.job, path: `/api/photographs?${query}`, raw: await file.arrayBuffer(), form: file.type || "application/octet-stream", says, seen });
  return true;
}

/** @param {HTMLInputElement} input */
async function taken(input) {
  if (!readable()) {
    say("The chainage is no number. Mend it or empty it, and take the photograph again.");
    input.value = "";
    return;
  }
  const files = [...(input.files ?? [])];
  let count = 0;
  for (const file of files) if (await keep(file)) count += 1;
  input.value = "";
  if (count === 0) return;
  say(`${count} on this phone. It goes to the laptop by itself.`);
  field("note").value = "";
  forget();
}

/** @param {any} one */
function drawn(one) {
  const place = one.chainage === null ? "no place" : `${metres(one.chainage, 1)} ${unit("m")}`;
  const beyond = one.chainage !== null && one.chainage > length ? " (beyond the course's end: is it so?)" : "";
  const at = new Date(one.seen);
  const day = at.toLocaleDateString("en-GB", { day: "numeric", month: "short" });
  const head = press(`${place}${one.note ? `: ${one.note}` : ""}, ${day} ${clock(at)}${beyond}`, "row", () => { openOne = openOne === one.number ? "" : one.number; show(); });
  head.setAttribute("aria-expanded", String(openOne === one.number));
  if (openOne !== one.number) return make("li", "", head);
  const picture = /** @type {HTMLImageElement} */ (make("img"));
  picture.alt = one.note || `Photograph at ${place}`;
  picture.src = `/photographs/${one.digest}`;
  return make("li", "", head, picture, make("p", "small", `${one.form}, ${(one.size / MEGABYTE).toFixed(1)} MB`));
}

const show = () => fill("photographs", photographs.map(drawn), "No photographs yet.");

for (const id of ["file", "pick"]) field(id).addEventListener("change", () => taken(field(id)));
byId("before").addEventListener("click", () => step(-1));
byId("after").addEventListener("click", () => step(1));
field("chainage").addEventListener("input", near);
byId("form").addEventListener("submit", (event) => event.preventDefault());
follow("/api/slope/places", (answer) => {
  pegs = answer.pegs;
  length = answer.length;
  for (const id of ["before", "after"]) byId(id).toggleAttribute("disabled", pegs.length === 0);
  near();
  show();
});
follow("/api/photographs", (answer, since) => {
  photographs = answer.photographs;
  if (since) say(`As listed at ${since}: the laptop is out of reach.`);
  show();
});
