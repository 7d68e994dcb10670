// The language switch at the foot of the list of pages: chosen once, kept in this browser.

import { ask } from "./ask.js";

for (const press of document.querySelectorAll("button[data-language]")) {
  press.addEventListener("click", async () => {
    const { answer } = await ask("POST", "/api/language", { language: press.getAttribute("data-language") });
    if (answer) location.reload();
  });
}
