// The film page: distance against time over level against time, and a time peg that cuts the stream at a moment.

import { ask } from "../shared/ask.js";
import { draw, label, make, through } from "../shared/svg.js";
import { straight } from "../drawing/scale.js";
import { flowing, grouped, metres, millimetres, unit } from "../shared/words.js";
import { ruledBy } from "../drawing/strip.js";

/** @typedef {Array<[number, number]>} Points */
/** @typedef {{to: (at: number) => number, from: (px: number) => number, each: number, low: number, high: number}} Scale */

/** @type {Array<[string, string, string]>} */
const STORIES = [
  ["first fill", "First fill", "pools and stones dry, hose empty"],
  ["restart", "Morning restart", "pools full, stones drained"],
  ["stop", "Stop", "pump off, what runs back"],
];
const STEPS = [10, 20, 30, 60, 120, 300, 600, 1200, 1800, 3600, 7200, 14400];
const PLAY_SECONDS = 20;
// Pixels for a letter of a label; one that is said in another language may be half as long again.
const LETTER = document.documentElement.lang === "en" ? 6.4 : 9.6;
const still = matchMedia("(prefers-reduced-motion: reduce)");

const by = (/** @type {string} */ id) => /** @type {HTMLElement} */ (document.getElementById(id));
const input = /** @type {HTMLInputElement} */ (by("seconds"));
const graph = by("graph");

class FilmPage {
  constructor() {
    /** @type {any} */ this.loop = null;
    /** @type {any} */ this.film = null;
    this.story = "first fill";
    this.flow = "";
    this.at = 0;
    this.playing = 0;
    this.turn = 0;
    /** @type {Scale} */ this.time = straight([0, 1], [0, 1]);
    /** @type {Map<string, any>} */ this.kept = new Map();
    this.listen();
  }

  listen() {
    by("timed").addEventListener("submit", (event) => { event.preventDefault(); this.move(Number(input.value)); });
    by("earlier").addEventListener("click", () => this.move(this.at - this.step()));
    by("later").addEventListener("click", () => this.move(this.at + this.step()));
    by("play").addEventListener("click", () => this.play());
    const point = (/** @type {PointerEvent} */ event) => this.move(this.time.from(event.clientX - graph.getBoundingClientRect().left));
    graph.addEventListener("pointerdown", (event) => { graph.setPointerCapture(event.pointerId); point(event); });
    graph.addEventListener("pointermove", (event) => { if (event.buttons) point(event); });
    document.addEventListener("keydown", (event) => this.key(event));
    still.addEventListener("change", () => this.mayPlay());
    new ResizeObserver(() => this.paint()).observe(graph);
  }

  /** @param {KeyboardEvent} event */
  key(event) {
    if (event.target instanceof HTMLInputElement || event.ctrlKey || event.altKey || event.metaKey) return;
    const way = event.key === "ArrowLeft" ? -1 : event.key === "ArrowRight" ? 1 : 0;
    if (!way) return;
    event.preventDefault();
    this.move(this.at + way * this.step() * (event.shiftKey ? 5 : 1));
  }

  step() { return this.film ? Math.max(1, Math.round(this.film.span / 60)) : 1; }

  async load() {
    const { answer, problems } = await ask("GET", "/api/film/loop");
    if (!answer) return tell(problems);
    this.loop = answer;
    const wanted = new URLSearchParams(location.search);
    const flows = answer.flows.map((/** @type {any} */ each) => each.name);
    this.flow = flows.includes(wanted.get("flow")) ? String(wanted.get("flow")) : flows[Math.min(1, flows.length - 1)];
    this.story = STORIES.some(([name]) => name === wanted.get("story")) ? String(wanted.get("story")) : this.story;
    this.choices();
    await this.show();
  }

  choices() {
    const press = (/** @type {string} */ name, /** @type {string} */ big, /** @type {string} */ small, /** @type {boolean} */ chosen, /** @type {() => void} */ choose) => {
      const button = make("button", "", make("b", "", big), make("small", "", small));
      button.setAttribute("type", "button");
      button.dataset.name = name;
      button.setAttribute("aria-pressed", String(chosen));
      button.addEventListener("click", choose);
      return button;
    };
    by("flows").replaceChildren(...this.loop.flows.map((/** @type {any} */ each) =>
      press(each.name, each.name, flowing(each.l_h), each.name === this.flow, () => { this.flow = each.name; this.show(); })));
    by("stories").replaceChildren(...STORIES.map(([name, title, under]) =>
      press(name, title, under, name === this.story, () => { this.story = name; this.show(); })));
  }

  async show() {
    this.stopPlaying();
    for (const [group, name] of [["flows", this.flow], ["stories", this.story]]) {
      for (const button of by(group).querySelectorAll("button")) button.setAttribute("aria-pressed", String(button.dataset.name === name));
    }
    history.replaceState(null, "", `?${new URLSearchParams({ story: this.story, flow: this.flow })}`);
    const key = `${this.story}/${this.flow}`;
    const turn = (this.turn += 1);
    if (!this.kept.has(key)) {
      by("told").textContent = "Taking the film.";
      const { answer, problems } = await ask("GET", `/api/film?${new URLSearchParams({ story: this.story, flow: this.flow })}`);
      if (!answer) return tell(problems);
      this.kept.set(key, answer);
    }
    if (turn !== this.turn) return;
    this.film = this.kept.get(key);
    this.at = Math.min(this.at || this.film.span / 3, this.film.span);
    const [, title, under] = STORIES.find(([name]) => name === this.story) ?? STORIES[0];
    by("graph-title").textContent = `${title} at ${this.flow}`;
    by("graph-told").textContent = `${under}. The band lies between the laws that give the least and the most depth; the line is the middle one. Times are minutes and seconds.`;
    const [first, level, last] = this.film.captions;
    by("captions").replaceChildren(make("b", "", level), make("span", "", `${first}; ${last}`));
    by("thinned").textContent = `Shown: ${this.film.thinned}. ${this.loop.invented ? "Invented demonstration job." : ""}`;
    by("told").textContent = `Revision ${this.film.revision}.`;
    this.lists();
    this.mayPlay();
    this.paint();
  }

  lists() {
    const { happens, findings } = this.film;
    by("happens").replaceChildren(...happens.map((/** @type {any} */ event) => {
      if (event.never) return make("li", "second", event.says);
      const button = make("button", "", event.says);
      button.setAttribute("type", "button");
      button.addEventListener("click", () => this.move(event.seconds));
      return make("li", "", button);
    }));
    by("found").hidden = findings.length === 0;
    by("findings").replaceChildren(...findings.map((/** @type {any} */ each) =>
      make("li", each.severity, make("b", "", `${each.place}. `), `${each.says} `, make("i", "", each.cure))));
  }

  /** @param {number} seconds */
  move(seconds) {
    if (!this.film || !Number.isFinite(seconds)) return;
    this.at = Math.min(Math.max(seconds, 0), this.film.span);
    this.cut();
  }

  mayPlay() {
    by("play").hidden = still.matches;
    if (still.matches) this.stopPlaying();
  }

  play() {
    if (this.playing) return this.stopPlaying();
    if (still.matches || !this.film) return;
    by("play").textContent = "Stop";
    if (this.at >= this.film.span) this.at = 0;
    let before = performance.now();
    const on = (/** @type {number} */ now) => {
      this.move(this.at + ((now - before) / 1000) * (this.film.span / PLAY_SECONDS));
      before = now;
      if (this.at < this.film.span) this.playing = requestAnimationFrame(on);
      else this.stopPlaying();
    };
    this.playing = requestAnimationFrame(on);
  }

  stopPlaying() {
    cancelAnimationFrame(this.playing);
    this.playing = 0;
    by("play").textContent = "Play";
  }

  paint() {
    if (!this.film) return;
    const { film, loop } = this;
    const { width, height } = graph.getBoundingClientRect();
    if (width < 50) return;
    graph.setAttribute("viewBox", `0 0 ${width} ${height}`);
    const narrow = width < 600;
    const [left, right] = [narrow ? 78 : 190, width - 8];
    const [top, foot] = [14, height * 0.55];
    const [pitTop, pitFoot] = [foot + 62, height - 12];
    this.time = straight([0, film.span], [left, right]);
    const along = straight([0, loop.length], [top, foot]);
    const up = straight([loop.pit.bottom, loop.pit.top], [pitFoot, pitTop]);
    const frame = (/** @type {number} */ y, /** @type {number} */ bottom, /** @type {string} */ kind) =>
      draw("rect", { x: left, y, width: right - left, height: bottom - y, class: kind });
    this.pegLayer = draw("g", {});
    graph.replaceChildren(
      frame(top, foot, "face"), ...pools(loop, along, left, right), ...ways(film, this.time, along, left, right), frame(top, foot, "box"),
      ...lips(film, this.time, along, left, right), ...courseOnEnd(loop, along, left, narrow), ...tape(film.span, this.time, left, right, foot + 5),
      frame(pitTop, pitFoot, "face"), ...levels(film, this.time, up, right), frame(pitTop, pitFoot, "box"), ...limits(loop, up, left, right), this.pegLayer,
    );
    this.pit = { up, left, narrow, pitTop, pitFoot, foot, top };
    this.cut();
  }

  /** Cut the stream at the peg: the line through both graphs, the dip stick, the words, the long section. */
  cut() {
    if (!this.film || !this.pegLayer || !this.pit) return;
    const { film, loop } = this;
    const { up, left, narrow, pitTop, pitFoot, foot, top } = this.pit;
    const frame = near(film.seconds, this.at);
    const x = this.time.to(this.at);
    this.pegLayer.replaceChildren(
      draw("path", { d: `M${x.toFixed(1)} ${top}V${pitFoot}`, class: "peg-line" }),
      draw("rect", { x: x - 9, y: foot + 7, width: 18, height: 24, class: "peg-head" }),
      draw("circle", { cx: x, cy: foot + 15, r: 2.5, class: "tick" }),
      ...dipStick(loop, up, left, narrow, pitTop, film.level[1][frame]),
    );
    if (document.activeElement !== input) input.value = String(Math.round(this.at * 10) / 10);
    const past = film.happens.filter((/** @type {any} */ event) => !event.never && event.seconds <= this.at + 0.05);
    const [next] = film.happens.filter((/** @type {any} */ event) => !event.never && event.seconds > this.at + 0.05);
    const last = past[past.length - 1];
    by("moment").textContent = `${clock(this.at)}: reservoir at ${film.level_words[frame]} over the ${loop.pit.over}. ${last ? `${last.says}.` : ""}`;
    by("next").textContent = next ? `Next: ${next.says}.` : "Nothing more happens in what is drawn.";
    by("waters").replaceChildren(...film.outside_words[frame].map((/** @type {string} */ words) => make("li", "", words)));
    const marks = [...by("happens").children];
    const now = last ? film.happens.indexOf(last) : -1;
    marks.forEach((mark, number) => (number === now ? mark.setAttribute("aria-current", "step") : mark.removeAttribute("aria-current")));
    longSection(by("section"), film, loop, this.at);
  }
}

/** @param {any} loop @param {Scale} along @param {number} left @param {number} right */
const pools = (loop, along, left, right) => loop.pools.map((/** @type {number[]} */ [start, end]) =>
  draw("rect", { x: left, y: along.to(start), width: right - left, height: along.to(end) - along.to(start), class: "pool-band" }));

/**
 * When water comes past each place: the fan between the laws, and the middle.
 * @param {any} film
 * @param {Scale} time
 * @param {Scale} along
 * @param {number} left
 * @param {number} right
 */
function ways(film, time, along, left, right) {
  const held = (/** @type {number | null} */ seconds) => Math.min(right, Math.max(left, seconds === null ? right : time.to(seconds)));
  const every = film.chainage.map((/** @type {number} */ at, /** @type {number} */ number) => {
    const times = film.reached.map((/** @type {Array<number | null>} */ law) => held(law[number]));
    return { y: along.to(at), low: Math.min(...times), high: Math.max(...times), middle: film.reached[1][number] };
  });
  const fan = /** @type {Points} */ ([...every.map((/** @type {any} */ one) => [one.low, one.y]), ...every.map((/** @type {any} */ one) => [one.high, one.y]).reverse()]);
  const line = /** @type {Points} */ (every.filter((/** @type {any} */ one) => one.middle !== null && one.middle <= film.span).map((/** @type {any} */ one) => [time.to(one.middle), one.y]));
  return [draw("path", { d: through(fan, true), class: "fan" }), draw("path", { d: through(line), class: film.story === "stop" ? "way drying" : "way" })];
}

/** @param {any} film @param {Scale} time @param {Scale} along @param {number} left @param {number} right */
function lips(film, time, along, left, right) {
  return film.lips.slice(1).flatMap((/** @type {any} */ lip) => {
    const y = along.to(lip.chainage);
    const when = lip.seconds[1];
    const x = when === null ? right : Math.min(time.to(when), right);
    const words = label(x, y - 7, lip.words, "strong");
    const rightwards = x + 8 + lip.words.length * LETTER < right;
    const leftwards = x - 8 - lip.words.length * LETTER > left;
    words.setAttribute("x", (rightwards ? x + 8 : leftwards ? Math.min(x - 8, right - 6) : right - 6).toFixed(1));
    words.setAttribute("text-anchor", rightwards ? "start" : "end");
    const drawn = [draw("path", { d: `M${left} ${y.toFixed(1)}H${right}`, class: "lip-line" })];
    if (when !== null && x < right) drawn.push(draw("circle", { cx: x, cy: y, r: 5, class: "passed" }));
    return [...drawn, words];
  });
}

/** @param {any} loop @param {Scale} along @param {number} left @param {boolean} narrow */
function courseOnEnd(loop, along, left, narrow) {
  const middle = left - (narrow ? 58 : 112);
  const drawn = [draw("rect", { x: middle - 7, y: along.to(0), width: 14, height: along.to(loop.length) - along.to(0), class: "stones" })];
  for (const [start, end] of loop.pools) drawn.push(draw("rect", { x: middle - 14, y: along.to(start), width: 28, height: along.to(end) - along.to(start), class: "in-pit" }));
  for (const lip of loop.lips) {
    const y = along.to(lip.chainage);
    drawn.push(draw("path", { d: `M${middle - 14} ${y.toFixed(1)}h28`, class: "liner-line" }));
    if (!narrow) drawn.push(anchored(label(middle - 22, y + 4, metres(lip.chainage, 1), "far"), "end"));
    drawn.push(label(middle + 18, y + 4, lip.name, "strong"));
  }
  drawn.push(label(middle + 18, along.to(loop.length) + 4, narrow ? "" : `${metres(loop.length, 1)} ${unit("m")}`, "far"));
  return drawn;
}

/** @param {number} span @param {Scale} time @param {number} left @param {number} right @param {number} y */
function tape(span, time, left, right, y) {
  const step = STEPS.find((each) => each * time.each >= 48) ?? STEPS[STEPS.length - 1];
  const unit = step < 60 ? 1 : 60;
  const drawn = [draw("rect", { x: left, y, width: right - left, height: 28, class: "tape" })];
  for (let number = 0; (number * step) / 5 <= span; number += 1) {
    const x = time.to((number * step) / 5);
    drawn.push(draw("path", { d: `M${x.toFixed(1)} ${y}v${number % 5 ? 5 : 10}`, class: "tick" }));
    if (number % 5 === 0 && number > 0 && x < right - 16) drawn.push(anchored(label(x, y + 23, grouped((number / 5) * (step / unit)), "on-tape"), "middle"));
  }
  drawn.push(label(left + 4, y + 23, unit === 1 ? "0 s" : "0 min", "on-tape"));
  return drawn;
}

/** @param {any} film @param {Scale} time @param {Scale} up @param {number} right */
function levels(film, time, up, right) {
  const shown = film.seconds.map((/** @type {number} */ at, /** @type {number} */ number) => ({ x: Math.min(time.to(at), right), number })).filter((/** @type {any} */ one) => film.seconds[one.number] <= film.span + 1e-6);
  const edge = (/** @type {(...all: number[]) => number} */ pick) => shown.map((/** @type {any} */ one) => [one.x, up.to(pick(...film.level.map((/** @type {number[]} */ law) => law[one.number])))]);
  const line = (/** @type {number[]} */ law) => /** @type {Points} */ (shown.map((/** @type {any} */ one) => [one.x, up.to(law[one.number])]));
  const drawn = [
    draw("path", { d: through([...edge(Math.min), ...edge(Math.max).reverse()], true), class: "fan" }),
    draw("path", { d: through(line(film.level[1])), class: "way" }),
  ];
  if (film.topped_up) drawn.push(draw("path", { d: through(line(film.topped_up)), class: "way topped" }));
  return drawn;
}

/** @param {any} loop @param {Scale} up @param {number} left @param {number} right */
function limits(loop, up, left, right) {
  const { pit } = loop;
  const rule = (/** @type {number} */ level, /** @type {string} */ kind) => draw("path", { d: `M${left} ${up.to(level).toFixed(1)}H${right}`, class: kind });
  return [
    rule(pit.overflow, "overflow"), label(left + 6, up.to(pit.overflow) + 15, `overflow ${pit.marks.overflow}`, "strong"),
    rule(pit.pump_minimum, "least"), label(left + 6, up.to(pit.pump_minimum) - 5, `pump's least ${pit.marks.pump_minimum}`, "strong stop"),
  ];
}

/** @param {any} loop @param {Scale} up @param {number} left @param {boolean} narrow @param {number} pitTop @param {number} level */
function dipStick(loop, up, left, narrow, pitTop, level) {
  const { pit } = loop;
  const [from, to] = [narrow ? 4 : 20, left - (narrow ? 34 : 50)];
  const box = (/** @type {number} */ x, /** @type {number} */ wide, /** @type {number} */ high, /** @type {number} */ low, /** @type {string} */ kind) =>
    draw("rect", { x, y: up.to(high), width: wide, height: Math.max(0, up.to(low) - up.to(high)), class: kind });
  const drawn = [label(from, pitTop - 8, narrow ? unit("mm") : `${unit("mm")} over ${pit.over}`, "far"), box(from, to - from, level, pit.bottom, "in-pit"), box(from, to - from, Math.min(pit.fill_top, pit.top), pit.floor, "crate-line")];
  drawn.push(draw("rect", { x: to - 22, y: pitTop, width: 16, height: up.to(pit.bottom) - pitTop, class: "stick-face" }), box(to - 22, 16, level, pit.bottom, "in-pit"));
  drawn.push(draw("path", { d: `M${to - 14} ${pitTop}V${up.to(pit.bottom).toFixed(1)}`, class: "stick" }));
  const apart = ruledBy(-up.each);
  for (let mark = 0; mark * apart <= pit.top - pit.floor + 1e-3; mark += 1) {
    const y = up.to(pit.floor + mark * apart);
    drawn.push(draw("path", { d: `M${to} ${y.toFixed(1)}h5`, class: "tick" }));
    if (up.each * -apart > 13 || mark % 2 === 0) drawn.push(anchored(label(left - 4, y + 4, millimetres(mark * apart), "far"), "end"));
  }
  return drawn;
}

/**
 * The stream cut lengthways at a moment.
 * @param {HTMLElement} svg
 * @param {any} film
 * @param {any} loop
 * @param {number} at
 */
function longSection(svg, film, loop, at) {
  const { width, height } = svg.getBoundingClientRect();
  const { section } = film;
  const number = near(section.seconds, at);
  svg.setAttribute("viewBox", `0 0 ${width} ${height}`);
  const x = straight([0, loop.length], [12, width - 12]);
  const [low, high] = [Math.min(...section.floor), Math.max(...section.top)];
  const y = straight([low - 0.03, high + 0.14], [height - 6, 6]);
  const places = section.chainage.map((/** @type {number} */ each, /** @type {number} */ place) => ({
    x: x.to(each), floor: y.to(section.floor[place]), top: y.to(section.top[place]), level: y.to(section.level[number][place]), pool: section.pool[place],
  }));
  const wide = (/** @type {number[]} */ pool) => [x.to(pool[0]), x.to(pool[1])];
  const drawn = [];
  let pool = 0;
  /** @type {any[]} */ let run = [];
  const close = () => {
    if (run.length > 1) drawn.push(...runDrawn(run));
    run = [];
  };
  for (const [number_, place] of places.entries()) {
    if (place.pool) {
      close();
      const [start, end] = wide(loop.pools[pool]);
      pool += 1;
      drawn.push(
        draw("rect", { x: start, y: place.level, width: end - start, height: Math.max(0, place.floor - place.level), class: "seen-water" }),
        draw("path", { d: through([[start, place.top], [start, place.floor], [end, place.floor], [end, place.top]]), class: "liner-line" }),
      );
    } else if (number_ > 0) run.push(place);
    const lip = loop.lips.some((/** @type {any} */ each) => Math.abs(each.chainage - section.chainage[number_]) < 1e-3);
    if (lip) close();
  }
  close();
  for (const lip of loop.lips) drawn.push(anchored(label(Math.min(Math.max(x.to(lip.chainage), 26), width - 26), y.to(lip.crest) - 12, lip.name, "strong"), "middle"));
  svg.replaceChildren(...drawn);
}

/** @param {any[]} run */
function runDrawn(run) {
  const between = (/** @type {(one: any) => number} */ upper, /** @type {(one: any) => number} */ lower) =>
    through(/** @type {Points} */ ([...run.map((one) => [one.x, upper(one)]), ...run.map((one) => [one.x, lower(one)]).reverse()]), true);
  return [
    draw("path", { d: between((one) => one.top, (one) => one.floor), class: "stones" }),
    draw("path", { d: between((one) => Math.max(one.level, one.top), (one) => one.floor), class: "hidden-water" }),
    draw("path", { d: between((one) => Math.min(one.level, one.top), (one) => one.top), class: "seen-water" }),
    draw("path", { d: through(run.map((one) => [one.x, one.floor])), class: "liner-line" }),
    draw("path", { d: through(run.map((one) => [one.x, one.top])), class: "bed-line" }),
  ];
}

/** @param {SVGElement} text @param {string} how */
function anchored(text, how) {
  text.setAttribute("text-anchor", how);
  return text;
}

/**
 * The number of the moment nearest to one.
 * @param {number[]} moments
 * @param {number} at
 */
function near(moments, at) {
  let best = 0;
  for (let number = 1; number < moments.length; number += 1) if (Math.abs(moments[number] - at) < Math.abs(moments[best] - at)) best = number;
  return best;
}

/** @param {number} seconds */
const clock = (seconds) => `${Math.floor(seconds / 60)}:${String(Math.floor(seconds % 60)).padStart(2, "0")} min`;

/** @param {import("../shared/ask.js").Trouble[]} problems */
const tell = (problems) => by("told").replaceChildren(...problems.map((each) => make("span", "", `${each.place}: ${each.found}. ${each.rule}. ${each.remedy}. `)));

new FilmPage().load();
