// Whether another revision stands than the one on the page: asked every few seconds, and only while somebody looks.

import { exchange, outOfReach } from "../shared/ask.js";

const PAUSE = 3000;

/**
 * @typedef {Object} Onlooker a page that wants to know
 * @property {() => number | null} seen the revision it shows; null where it does not want to know just now
 * @property {(told: {number: number, why: string, origin: string, says: string, fresh: boolean}) => void} moved another one stands; said at every look for as long as it does, ``fresh`` the first time
 * @property {(problems: import("../shared/ask.js").Trouble[]) => void} refused job.toml cannot be read as it is now
 * @property {() => void} lost the laptop is out of reach
 */

/**
 * Keep looking for as long as the page is there.
 * @param {Onlooker} page
 */
export function watch(page) {
  let timer = 0;
  let heard = "";
  /**
   * Whether a thing is heard for the first time.
   * @param {any} told
   */
  const fresh = (told) => {
    const before = heard;
    heard = JSON.stringify(told);
    return heard !== before;
  };
  const look = async () => {
    window.clearTimeout(timer);
    const seen = document.visibilityState === "visible" ? page.seen() : null;
    if (seen !== null) {
      try {
        const { response, told } = await exchange("GET", `/api/stands?seen=${seen}`);
        // The page may have moved on by itself while the answer was under way.
        const still = page.seen() === seen;
        if (!response.ok) { if (fresh(told)) page.refused(told.problems ?? []); }
        else if (told.number === seen) heard = "";
        else if (still) page.moved({ ...told, fresh: fresh(told) });
      } catch (trouble) {
        if (!outOfReach(trouble)) throw trouble;
        page.lost();
      }
    }
    window.clearTimeout(timer);
    timer = window.setTimeout(look, PAUSE);
  };
  document.addEventListener("visibilitychange", () => { if (document.visibilityState === "visible") look(); });
  timer = window.setTimeout(look, PAUSE);
}
