// One peg, one numeral: how far below its nail the dig goes. The last answer is kept, for the slope has no network.

import { clock, metres, showUnits, tellIn, unit } from "../shared/words.js";

// Another job may have been open at this address before: its depths are not these.
const KEPT = `beckwright pegs ${location.host} ${document.querySelector("main")?.dataset.job}`;
const byId = (/** @type {string} */ id) => /** @type {HTMLElement} */ (document.getElementById(id));

/** @returns {{pegs: any[], when: string} | null} */
function kept() {
  try {
    return JSON.parse(localStorage.getItem(KEPT) ?? "null");
  } catch (trouble) {
    if (trouble instanceof SyntaxError) return null;
    throw trouble;
  }
}

/** Ask for the pegs; out of reach, show those of the last time and say so. */
async function fetchPegs() {
  try {
    const response = await fetch("/api/pegs");
    const told = await response.json();
    if (!response.ok) {
      byId("told").textContent = `${told.problems[0].found}. ${told.problems[0].remedy}.`;
      return kept()?.pegs ?? [];
    }
    localStorage.setItem(KEPT, JSON.stringify({ pegs: told.pegs, when: clock(new Date()) }));
    byId("told").textContent = `Levels of revision ${told.revision}.`;
    tellIn(told.units_told);
    showUnits();
    return told.pegs;
  } catch (trouble) {
    if (!(trouble instanceof TypeError)) throw trouble;
    const old = kept();
    byId("told").textContent = old ? `The laptop is out of reach. Levels as fetched at ${old.when}.` : "The laptop is out of reach, and no pegs are kept here.";
    return old?.pegs ?? [];
  }
}

/** @param {any[]} pegs @param {number} place */
function show(pegs, place) {
  const peg = pegs[place];
  const below = peg.dug[peg.dug.length - 1];
  byId("peg").textContent = `Peg ${peg.number}`;
  byId("at").textContent = `at ${metres(peg.chainage)} ${unit("m")}`;
  byId("count").textContent = `${place + 1} of ${pegs.length}`;
  byId("down").textContent = metres(Math.abs(below.below));
  byId("way").textContent = below.below < 0 ? "up, not down" : peg.dug.length > 1 ? "down, downstream side" : "down";
  byId("other").textContent = peg.dug.length > 1 ? `${metres(peg.dug[0].below)} on the upstream side` : below.lift < 0 ? `fill ${metres(-below.lift)} first` : "";
  byId("hand").hidden = peg.by_hand.length === 0;
  byId("hand-why").textContent = peg.by_hand.join(", ");
  byId("left").textContent = metres(peg.left.offset);
  byId("right").textContent = metres(Math.abs(peg.right.offset));
  byId("places").textContent = peg.places.length ? `Here: ${peg.places.join(", ")}.` : "";
  for (const [id, other] of /** @type {const} */ ([["before", pegs[place - 1]], ["after", pegs[place + 1]]])) {
    byId(id).toggleAttribute("disabled", !other);
    byId(`${id}-name`).textContent = other ? `Peg ${other.number}` : "";
  }
  history.replaceState(null, "", `/slope/${peg.number}`);
}

const pegs = await fetchPegs();
if (pegs.length > 0) {
  const wanted = Number(location.pathname.split("/").pop());
  let place = Math.max(0, pegs.findIndex((/** @type {any} */ peg) => peg.number === wanted));
  const go = (/** @type {number} */ way) => {
    place = Math.min(Math.max(place + way, 0), pegs.length - 1);
    show(pegs, place);
  };
  byId("before").addEventListener("click", () => go(-1));
  byId("after").addEventListener("click", () => go(1));
  document.addEventListener("keydown", (event) => go({ ArrowLeft: -1, ArrowRight: 1 }[event.key] ?? 0));
  go(0);
}
