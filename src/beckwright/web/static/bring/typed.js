// Points typed by hand or pasted from a spreadsheet. What is typed stays in this browser until it is taken.

import { make } from "../shared/svg.js";
import { inTheirUnit } from "../shared/typed.js";
import { read, unit } from "../shared/words.js";

const COLUMNS = ["number", ...["east", "north", "level"].map((name) => `${name}, ${unit("m")}`), "code"];
// The heading says what a bare number is.
const HEADING = ["id", ...["x", "y", "z"].map((name) => `${name}_${unit("m")}`), "code"].join("\t");
export const NAME = "typed_points.txt";
const KEPT = `beckwright typed points ${location.host}`;
const AT_FIRST = 10;
const MOST = 1000;

export class Typed {
  /** @param {HTMLElement} body rows of the table */
  constructor(body) {
    this.body = body;
    this.add(AT_FIRST);
    this.recall();
    body.addEventListener("paste", (event) => this.paste(/** @type {ClipboardEvent} */ (event)));
    body.addEventListener("input", () => this.remember());
    body.addEventListener("keydown", (event) => this.step(/** @type {KeyboardEvent} */ (event)));
  }

  /** @param {number} count */
  add(count) {
    for (let i = 0; i < count && this.body.children.length < MOST; i += 1) this.body.append(this.row(this.body.children.length + 1));
  }

  /** @param {number} number */
  row(number) {
    const cells = COLUMNS.map((column, place) => {
      const input = /** @type {HTMLInputElement} */ (make("input"));
      input.setAttribute("aria-label", `row ${number}, ${column}`);
      input.autocomplete = "off";
      input.maxLength = 60;
      if (place > 0 && place < 4) input.inputMode = "text";
      return make("td", "", input);
    });
    return make("tr", "", ...cells);
  }

  /** @returns {HTMLInputElement[][]} */
  inputs() {
    return [...this.body.children].map((row) => [...row.querySelectorAll("input")]);
  }

  clear() {
    this.body.replaceChildren();
    this.add(AT_FIRST);
    this.mark([]);
    this.remember();
  }

  /** The list to send, and which row of the table each of its lines is. */
  list() {
    /** @type {number[]} */
    const rows = [0];
    const lines = [HEADING];
    for (const [place, inputs] of this.inputs().entries()) {
      const cells = inputs.map((input) => input.value.replace(/[\t\r\n"]+/g, " ").trim());
      if (cells.every((cell) => !cell)) continue;
      cells[0] = cells[0].replace(/^#+/, "") || String(place + 1);
      rows.push(place);
      lines.push(cells.join("\t"));
    }
    return { text: `${lines.join("\n")}\n`, rows };
  }

  /**
   * Rows that are wrong.
   * @param {number[]} wrong
   */
  mark(wrong) {
    for (const [place, row] of [...this.body.children].entries()) {
      row.classList.toggle("wrong", wrong.includes(place));
      for (const input of row.querySelectorAll("input")) input.toggleAttribute("aria-invalid", wrong.includes(place));
    }
  }

  /**
   * Fill the cells from the one pasted into.
   * @param {ClipboardEvent} event
   */
  paste(event) {
    const text = event.clipboardData?.getData("text") ?? "";
    const lines = text.replace(/\r\n?/g, "\n").replace(/\n+$/, "").split("\n").slice(0, MOST);
    const apart = [/\t/, /;/, /,(?=\S*[.,\s])/, /\s+/].find((mark) => lines.some((line) => mark.test(line)));
    if (!apart || !(event.target instanceof HTMLInputElement) || (lines.length === 1 && !/\t/.test(text))) return;
    event.preventDefault();
    const by = apart.source.startsWith(",") ? /,/ : apart;
    const here = this.inputs().findIndex((inputs) => inputs.includes(/** @type {HTMLInputElement} */ (event.target)));
    const first = this.inputs()[here].indexOf(event.target);
    const rows = lines.map((line) => (by.source === "\\s+" ? line.trim() : line).split(by));
    const body = rows.filter((cells, row) => row > 0 || cells.some((cell) => /\d/.test(cell)));
    this.add(here + body.length - this.body.children.length);
    const inputs = this.inputs();
    for (const [row, cells] of body.entries())
      for (const [place, cell] of cells.slice(0, COLUMNS.length - first).entries()) if (inputs[here + row]) inputs[here + row][first + place].value = cell.trim().slice(0, 60);
    this.remember();
  }

  /**
   * Enter goes down the column, as on a spreadsheet.
   * @param {KeyboardEvent} event
   */
  step(event) {
    if (event.key !== "Enter" || !(event.target instanceof HTMLInputElement)) return;
    event.preventDefault();
    const inputs = this.inputs();
    const here = inputs.findIndex((row) => row.includes(/** @type {HTMLInputElement} */ (event.target)));
    if (here === inputs.length - 1) this.add(1);
    this.inputs()[here + 1]?.[inputs[here].indexOf(event.target)].focus();
  }

  remember() {
    const rows = this.inputs().map((inputs) => inputs.map((input) => input.value));
    try {
      localStorage.setItem(KEPT, JSON.stringify({ units: read(), rows: rows.filter((cells) => cells.some(Boolean)) }));
    } catch {
      // A browser that keeps nothing still sends what is typed.
    }
  }

  recall() {
    /** @type {any} */
    let told = [];
    try {
      told = JSON.parse(localStorage.getItem(KEPT) ?? "[]");
    } catch {
      return;
    }
    // A list of before there was a choice of units is in metres.
    const { units, rows: held } = Array.isArray(told) ? { units: "metric", rows: told } : told;
    if (!Array.isArray(held)) return;
    this.add(held.length - this.body.children.length);
    const inputs = this.inputs();
    for (const [row, cells] of held.slice(0, MOST).entries()) if (Array.isArray(cells)) for (const [place, cell] of cells.slice(0, 5).entries()) inputs[row][place].value = place > 0 && place < 4 ? inTheirUnit(String(cell), "m", units) : String(cell);
  }
}
