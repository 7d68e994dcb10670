// The choice of units at the foot of the list of pages: made once, kept in this browser.

import { ask } from "./ask.js";

for (const press of document.querySelectorAll("button[data-units]")) {
  press.addEventListener("click", async () => {
    const { answer } = await ask("POST", "/api/told", { units: press.getAttribute("data-units") });
    if (answer) location.reload();
  });
}
