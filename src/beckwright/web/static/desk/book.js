// The book page at the right: the stream cut across at the picked peg, its eight levels, answers, what needs you.

import { stationAt } from "../drawing/course.js";
import { LINES, sample } from "../drawing/levels.js";
import { numbered } from "../drawing/plan.js";
import { straight } from "../drawing/scale.js";
import { become, label, sketch, written } from "../shared/sketch.js";
import { make, through } from "../shared/svg.js";
import { metres, millimetres, spoken, unit } from "../shared/words.js";

/**
 * The stream cut across, looking downstream.
 * @param {any} state @param {number} chainage @param {string} flow @param {number} width @param {number} height
 */
export function across(state, chainage, flow, width, height) {
  const { stations } = state.course;
  const i = stationAt(state.course, chainage);
  const [left, right] = [stations.edge_left[i], stations.edge_right[i]];
  const half = stations.width[i] / 2;
  const [outLeft, outRight] = [stations.to_left[i], stations.to_right[i]];
  const tops = [left, right, stations.ground[i], stations.water[flow].high[i]];
  const level = straight([Math.min(stations.dig[i], stations.ground[i]) - 0.06, Math.max(...tops) + 0.1], [height, 14]);
  const reach = Math.max(outLeft, outRight) + 0.35;
  const x = straight([-reach, reach], [0, width]);
  const at = (/** @type {number} */ off, /** @type {number} */ up) => /** @type {[number, number]} */ ([x.to(off), level.to(up)]);
  const cup = [at(-outLeft, left), at(-half, stations.liner[i]), at(half, stations.liner[i]), at(outRight, right)];
  const dug = [at(-outLeft, left), at(-half, stations.dig[i]), at(half, stations.dig[i]), at(outRight, right)];
  const flat = (/** @type {number} */ up, /** @type {string} */ kind) => sketch("path", { d: through([at(-half, up), at(half, up)]), class: `line ${kind}` });
  const high = stations.water[flow].high[i];
  return sketch("g", {},
    sketch("path", { d: through([at(-reach, stations.ground[i]), at(-outLeft - 0.2, left), ...dug, at(outRight + 0.2, right),
      at(reach, stations.ground[i]), at(reach, level.low), at(-reach, level.low)], true), class: "earth-fill" }),
    sketch("path", { d: through([at(-half, high), at(half, high), at(half, stations.bed[i]), at(-half, stations.bed[i])], true), class: "water-fill" }),
    flat(high, "running"), flat(stations.bed[i], "bed"), flat(stations.dig[i], "dig"),
    sketch("path", { d: through([at(-reach, stations.ground[i]), at(reach, stations.ground[i])]), class: "line ground" }),
    sketch("path", { d: through(cup), class: "line liner" }),
    side("L", stations.water[flow].left[i], state, 0, level.to(left) - 6, "start"),
    side("R", stations.water[flow].right[i], state, width, level.to(right) - 6, "end"));
}

/**
 * Freeboard left at one side, once settled.
 * @param {string} name @param {number} board @param {any} state @param {number} x @param {number} y @param {string} from
 */
function side(name, board, state, x, y, from) {
  const short = board < state.course.freeboard_wanted - 1e-6;
  const words = `${name}, ${millimetres(board)} ${unit("mm")} left${short ? ", short" : ""}`;
  return label(x, y, words, `label strong ${from} ${short ? "short-words" : "edge"}`);
}

/**
 * The eight levels at a peg, and how far each lies below the mark all levels are told from: pegs have nails of their own.
 * @param {any} state @param {number} chainage @param {string} flow
 */
export function eight(state, chainage, flow) {
  const { stations } = state.course;
  const i = stationAt(state.course, chainage);
  const pool = state.course.reaches[stations.reach[i]].kind === "pool";
  const mark = state.datum.level;
  const rows = LINES.map(([name, key, kind]) => {
    const level = key === "water" ? stations.water[flow].high[i] : key === "still" && !stations.held[i] ? null : stations[key][i];
    const words = key === "water" ? `running, ${flow}, high` : key === "bed" && pool ? "bed, floor of the pool" : name;
    const below = level !== null ? millimetres(mark - level, 5) : "";
    return written("tr", "", written("td", "", sample(kind)), written("th", { scope: "row" }, words), written("td", "level", metres(level)), written("td", "below", below));
  });
  return rows;
}

/**
 * A link to how a figure was worked.
 * @param {string} figure its dotted name @param {string} words @param {Object<string, string>} [more]
 */
const why = (figure, words, more = {}) => written("a", { ...more, href: `/why/${encodeURIComponent(figure)}` }, words);

/** @param {any[]} answers */
export const answered = (answers) =>
  answers.map((answer) => written("div", "answer", why(answer.name, answer.label), written("strong", `grade ${answer.grade}`, answer.words)));

const FIRST = /^(supply\.flow|water\..*\.shown|freeboard\..*|reservoir\.level\.lowest|supply\.year\.cost)$/;

/**
 * The few answers that stand open, and the others.
 * @param {any[]} answers @param {string} flow
 */
export function parted(answers, flow) {
  const here = answers.filter((answer) => answer.flow === flow || answer.flow === "");
  return { first: here.filter(({ name }) => FIRST.test(name)), others: here.filter(({ name }) => !FIRST.test(name)) };
}

/** @type {WeakMap<Element, string[]>} what each list was told last */
const TOLD = new WeakMap();

/**
 * Let a list hold what needs the person, or the notes behind one press. What is told as before is not looked at again:
 * while a hand moves, few of many change.
 * @param {HTMLElement} list @param {any[]} findings
 * @param {(item: Element) => boolean} stays whether one may stay that is told as before
 * @returns {boolean} whether anything is told otherwise
 */
export function needs(list, findings, stays) {
  const [before, told] = [TOLD.get(list), findings.map((finding) => JSON.stringify(finding))];
  const stood = before ?? [];
  if (before && told.length === stood.length && told.every((each, place) => each === stood[place] && stays(list.children[place]))) return false;
  become(list, ...findings.map((finding, place) => {
    const item = list.children[place];
    return item && told[place] === stood[place] && stays(item) ? item : need(finding, place);
  }));
  TOLD.set(list, told);
  return true;
}

/** @param {any} finding @param {number} place */
function need(finding, place) {
  const sign = sketch("svg", { viewBox: "-11 -11 22 22", width: 22, height: 22, class: "sign", "aria-hidden": "true" },
    numbered(place + 1, finding.severity, 0, 0));
  const says = written("span", "", written("b", "", `${finding.place}. `), `${finding.says} `, written("u", "", finding.cure));
  const more = finding.figure ? [why(finding.figure, "How it is worked", { class: "why", "aria-label": `How it is worked: ${finding.place}` })] : [];
  return written("li", finding.severity, written("button", { class: "finding", type: "button" }, sign, says), ...more);
}

/** @param {string[]} doubts */
export const doubted = (doubts) => doubts.map((key) => make("li", "doubt", spoken(key)));

/**
 * Findings worth a decision, the heaviest first; notes apart.
 * @param {any[]} findings
 */
export function sorted(findings) {
  return {
    wanted: findings.filter((finding) => finding.severity !== "note"),
    notes: findings.filter((finding) => finding.severity === "note"),
  };
}

/**
 * Problems that stopped an edit, all at once.
 * @param {any[]} problems
 */
export const stopped = (problems) =>
  problems.map((problem) => make("li", "fail", make("b", "", `${problem.place}: ${problem.found}. `), `${problem.rule}. `, make("u", "", problem.remedy)));
