// What is put in and taken out at the picked thing, and what is turned, resized or set: every value stands before it is pressed.

import { ask } from "../shared/ask.js";
import { pointAt, stationAt } from "../drawing/course.js";
import { chainageOf, named } from "./picking.js";
import { hoseMiddle, onHose, stretchOf } from "./hose.js";
import { fieldset, press } from "./fields.js";
import { waiting } from "../shared/queue.js";
import { make } from "../shared/svg.js";
import { flowing, metres, unit } from "../shared/words.js";

const PUTS = /** @type {const} */ (["step", "pool", "sill"]);
const byId = (/** @type {string} */ id) => /** @type {HTMLElement} */ (document.getElementById(id));

export class Shaping {
  /** @param {any} desk */
  constructor(desk) {
    this.desk = desk;
    this.drawn = "";
    this.panel = byId("shapes");
    this.toggle = byId("reshape");
    this.toggle.addEventListener("click", () => (this.panel.hidden ? this.open() : this.close()));
    byId("shapes-close").addEventListener("click", () => this.close());
  }

  open() {
    this.panel.hidden = false;
    this.toggle.setAttribute("aria-expanded", "true");
    this.paint();
    byId("shapes-title").focus({ preventScroll: false });
  }

  close() {
    if (this.panel.hidden) return;
    const inside = this.panel.contains(document.activeElement);
    this.panel.hidden = true;
    this.toggle.setAttribute("aria-expanded", "false");
    if (inside) this.toggle.focus();
  }

  /** Built again only when it would say something else: what is typed in it stays. */
  paint() {
    const { picked, chainage, flow, link, hand } = this.desk;
    if (this.panel.hidden || hand.draft || !link.state) return;
    const told = JSON.stringify([picked, picked.kind === "peg" ? chainage : 0, flow, link.state.revision]);
    if (told === this.drawn) return;
    this.drawn = told;
    const at = picked.kind === "peg" ? ` at ${metres(chainage)} ${unit("m")}` : "";
    byId("shapes-title").textContent = `${named(link.state, picked)}${at}`;
    const inside = byId("shapes-here").contains(document.activeElement);
    byId("shapes-here").replaceChildren(...this.here());
    byId("shapes-flow").replaceChildren(this.flow());
    // The press that was under the keyboard is gone: its place is the title above it.
    if (inside) byId("shapes-title").focus({ preventScroll: true });
  }

  /** @returns {Node[]} */
  here() {
    const { picked, link: { state } } = this.desk;
    const number = Number(picked.id);
    switch (picked.kind) {
      case "peg": return this.atPeg();
      case "point": return this.atPoint(number);
      case "lip": return picked.id === "source" ? [make("p", "second", "The outlet box stays. Raise or lower its lip.")]
        : [this.takes(state.course.reaches.findIndex((/** @type {any} */ reach) => reach.kind === "step" && reach.name === picked.id))];
      case "end": return [this.takes(number)];
      case "pool": return [this.pool(number), this.takes(number)];
      case "sill": return [this.takesSill()];
      case "reservoir": return [...this.beginsHose(), this.reservoir()];
      case "foot": return [make("p", "second", "Raise or lower it. The last fall takes it up; everything above stays.")];
      case "place": return [press("Put a point of the hose in here", () => this.addHosePoint(picked.id))];
      default: return picked.id === "" ? this.atHose() : this.atHosePoint(number);
    }
  }

  /** @param {number} i */
  atPoint(i) {
    const { course } = this.desk.link.state;
    const name = `point ${i + 1}`;
    const made = [];
    if (i + 1 < course.line.length) {
      const [from, to] = [i, i + 1].map((id) => chainageOf(this.desk.link.state, { kind: "point", id: String(id) }));
      made.push(press("Add a point after it", () => this.addPoint(i, (from + to) / 2)));
    }
    if (course.line.length > 2) {
      made.push(press("Take this point out", () => this.desk.reshape([{ do: "take point", point: i }], `Taken out: ${name}.`, true)));
    }
    return made;
  }

  /** @param {number} after @param {number} chainage */
  addPoint(after, chainage) {
    const [x, y] = pointAt(this.desk.link.state.course, chainage).map((at) => Math.round(at * 1000) / 1000);
    this.desk.reshape([{ do: "add point", after, x_m: x, y_m: y }], `Point added after point ${after + 1}, at ${metres(chainage)} ${unit("m")}.`, true);
  }

  atHose() {
    const middle = hoseMiddle(this.desk.link.state);
    return [make("p", "second", "Pick one of its points to move it, or press it on the plan where a point is to go in."),
      press("Put a point in half-way", () => this.addHosePoint(middle))];
  }

  /** @param {number} i */
  atHosePoint(i) {
    const { line } = this.desk.link.state.hose;
    const made = i + 1 < line.length ? [press("Add a point after it", () => this.addHosePoint(`${i} 0.5`))] : [];
    if (line.length > 2) {
      made.push(press("Take this point out", () =>
        this.desk.reshape([{ do: "take hose point", point: i }], `Taken out: hose point ${i + 1}.`, true, { kind: "hose", id: "" })));
    }
    return made;
  }

  /**
   * The new point is picked, to be moved at once.
   * @param {string} place
   */
  addHosePoint(place) {
    const after = stretchOf(place)[0];
    const [x_m, y_m] = onHose(this.desk.link.state, place).map((at) => Math.round(at * 1000) / 1000);
    this.desk.reshape([{ do: "add hose point", after, x_m, y_m }], `Hose point ${after + 2} added.`, true, { kind: "hose", id: String(after + 1) });
  }

  /** A hose whose line nobody has drawn may begin with a straight one. */
  beginsHose() {
    if (this.desk.link.state.hose.line.length > 0) return [];
    return [press("Draw the hose straight to the source", () => this.desk.reshape([{ do: "begin hose line" }], "Hose drawn straight from reservoir to source."))];
  }

  /** What may be put in at a place: a point of the line, and what the server offers there. */
  atPeg() {
    const { chainage, link: { state } } = this.desk;
    const [puts, around] = [make("div", "puts"), this.around(chainage)];
    this.offer(puts, chainage);
    if (around < 0) return [puts];
    return [press("Put a point of the line in here", () => this.addPoint(around, chainage)), puts].filter(() => state !== null);
  }

  /**
   * The point just above a place; -1 where it is as good as on one.
   * @param {number} chainage
   */
  around(chainage) {
    const { state } = this.desk.link;
    const all = state.course.line.map((/** @type {any} */ _, /** @type {number} */ i) => chainageOf(state, { kind: "point", id: String(i) }));
    const after = all.findLastIndex((/** @type {number} */ at) => at < chainage);
    return after + 1 < all.length && all.every((/** @type {number} */ at) => Math.abs(at - chainage) >= 0.05) ? after : -1;
  }

  /** @param {HTMLElement} into @param {number} chainage */
  async offer(into, chainage) {
    const { course } = this.desk.link.state;
    const at = course.stations.chainage[stationAt(course, chainage)];
    const { answer, problems } = await ask("GET", `/api/puts?at=${at}`);
    if (!into.isConnected) return;
    if (answer?.why) into.replaceChildren(make("p", "second", answer.why));
    else into.replaceChildren(...(answer ? PUTS.map((kind) => this.put(kind, answer)) : problems.map(({ found, remedy }) => make("p", "second", `${found}. ${remedy}.`))));
  }

  /** @param {"step" | "pool" | "sill"} kind @param {any} offered */
  put(kind, offered) {
    const act = async (/** @type {Record<string, any>} */ values) => {
      const { answer, problems } = await ask("POST", "/api/puts", { kind, at: offered.at, values });
      if (answer) this.desk.reshape(answer.edits, `A ${kind} put in at ${metres(offered.at)} ${unit("m")}.`, true);
      else this.desk.book.tell(problems.map(({ found, remedy }) => `${found}. ${remedy}.`).join(" "));
    };
    return fieldset(`A ${kind}`, offered.fields[kind], `Put a ${kind} in`, act);
  }

  /** @param {number} reach */
  takes(reach) {
    const { name } = this.desk.link.state.course.reaches[reach];
    return press(`Take ${name} out`, () => this.desk.reshape([{ do: "take reach", reach }], `Taken out: ${name}.`, true));
  }

  takesSill() {
    const [reach, sill] = this.desk.picked.id.split(".").map(Number);
    const { name, start, sills } = this.desk.link.state.course.reaches[reach];
    const sills_m = sills.filter((/** @type {any} */ _, /** @type {number} */ i) => i !== sill).map((/** @type {number} */ at) => Math.round((at - start) * 1000) / 1000);
    return press("Take this sill out", () => {
      if (waiting().length > 0) this.desk.book.tell("What was changed before is not answered yet. Wait for it, then take the sill out.");
      else this.desk.reshape([{ do: "change reach", reach, keys: { sills_m } }], `A sill of ${name} taken out.`, true);
    });
  }

  /** @param {number} reach */
  pool(reach) {
    const { name, start, end, width, depth } = this.desk.link.state.course.reaches[reach];
    const fields = [["length_m", "long", end - start, 1, "m"], ["width_mm", "wide", width, 1000, "mm"], ["depth_mm", "deep", depth, 1000, "mm"]].map(valued);
    return fieldset("Its size", fields, "Set its size", (_, keys) => {
      if (Object.keys(keys).length > 0) this.desk.reshape([{ do: "change reach", reach, keys }], `${name} resized.`);
    });
  }

  reservoir() {
    const { length, width, turned, levels } = this.desk.link.state.reservoir;
    const fields = [["length_m", "long", length, 1, "m"], ["width_m", "wide", width, 1, "m"], ["turned_deg", "turned", turned, 180 / Math.PI, "degrees"],
      ["cover_level_m", "cover level", levels.cover, 1, "m"]].map(valued);
    return fieldset("Its size and its turn", fields, "Set reservoir", (_, keys) => {
      const edits = Object.entries(keys).map(([key, value]) => ({ do: "set value", key: `reservoir.${key}`, value }));
      if (edits.length > 0) this.desk.reshape(edits, "Reservoir set.");
    });
  }

  flow() {
    const { flow, link: { state } } = this.desk;
    const fields = [{ key: "l_h", label: unit("L/h"), unit: "L/h", value: state.flows.find((/** @type {any} */ each) => each.name === flow)?.l_h }];
    return fieldset(`Water running: ${flow}`, fields, "Set flow", ({ l_h }) => {
      if (l_h !== fields[0].value) this.desk.reshape([{ do: "set flow", name: flow, l_h }], `${flow} is ${flowing(l_h)} now.`);
    });
  }
}

/** @param {any[]} row key, what it is called, amount in SI, what one of it is in the unit of the key, that unit */
const valued = ([key, words, amount, each, metric]) =>
  ({ key, label: `${words}, ${unit(metric)}`, unit: metric === "degrees" ? "" : metric, value: Math.round(amount * each * 1000) / 1000 });
