// The flow switch: one lip for each named flow, its water drawn thicker where more runs.

import { draw, make } from "../shared/svg.js";
import { flowing } from "../shared/words.js";

/** @param {any[]} flows @param {(name: string) => void} choose */
export function flowSwitch(flows, choose) {
  const most = Math.max(...flows.map((flow) => flow.l_h));
  return flows.map((flow) => {
    const button = make("button", "flow", lip(flow.l_h / most),
      make("span", "", make("b", "", flow.name), make("small", "", flowing(flow.l_h))));
    button.setAttribute("type", "button");
    button.dataset.flow = flow.name;
    button.addEventListener("click", () => choose(flow.name));
    return button;
  });
}

/**
 * Show which flow runs.
 * @param {Element} among the switches @param {string} chosen
 */
export function running(among, chosen) {
  for (const button of among.children) button.setAttribute("aria-pressed", String(/** @type {HTMLElement} */ (button).dataset.flow === chosen));
}

/** @param {number} share of the largest flow */
function lip(share) {
  const thick = 1.5 + 8 * share;
  return draw("svg", { viewBox: "0 0 40 34", width: 40, height: 34, "aria-hidden": "true" },
    draw("path", { d: "M2 12H24V34M24 14V34", class: "lip-stone" }),
    draw("path", { d: `M2 ${10 - thick / 2}H24C31 ${10 - thick / 2} 34 16 34 33`, class: "lip-water", "stroke-width": thick.toFixed(1) }));
}
