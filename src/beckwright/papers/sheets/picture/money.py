"""Money as a client asks for it: what a year costs with which hose, what building it costs, what is in it."""

from collections.abc import Iterator

from beckwright.base.words import ends_outward
from beckwright.compose import Design
from beckwright.papers import fonts, pens
from beckwright.papers.drawing import Mark, Millimetres, Point, Polyline, rectangle
from beckwright.papers.labels import paragraph
from beckwright.papers.sheets.money.words import between, whole
from beckwright.papers.sheets.picture.colours import WATER_PALE
from beckwright.papers.sheets.shared.fitted import fitted, ruled
from beckwright.papers.sheets.shared.frame import heading
from beckwright.stages.money import Estimate, HoseYear, RunningCost

HEIGHT: Millimetres = 2.9
ROW: Millimetres = 7.6
NAMES: Millimetres = 30.0
MOST_NAMED = 6
"""Things without a price that are named; the rest are counted."""
JOB_STEP = 1000.0
"""What a whole job costs is told to this."""


def running_marks(
    design: Design, running: RunningCost | None, at: Point, room: Millimetres
) -> tuple[list[Mark], float]:
    """A bar for each hose on one ruler, one sentence under it; gives back its lower end."""
    marks: list[Mark] = [heading(at, "What a year of running costs", 4.0)]
    if running is None:
        said = paragraph(
            (at[0], at[1] - 7.0), "Not told: no price of energy, or no hours of running, were given.", room, HEIGHT
        )
        return [*marks, *said], said[-1].at[1]
    most = max((_most(each) for each in running.hoses), default=0.0)
    right, wide = at[0] + NAMES, room - NAMES - 42.0
    down = at[1] - 5.0
    for each in running.hoses:
        down -= ROW
        strong = each.chosen
        marks.append(fitted((at[0], down + 1.5), each.hose.name, NAMES - 2.0, HEIGHT, weight=600 if strong else 400))
        if each.year is not None and most > 0.0:
            box = rectangle((right, down), (wide * each.year / most, ROW - 2.2))
            pen = pens.HEAVY if strong else pens.THIN
            marks.append(Polyline(points=box, layer="chart", closed=True, pen=pen, fill=WATER_PALE))
        words = year_words(design, each)
        marks.append(fitted((right + wide + 2.0, down + 1.5), words, 40.0, HEIGHT, weight=600 if strong else 400))
    marks.append(ruled((right, at[1] - 5.0), (right, down - 1.0), pens.MEDIUM, "chart"))
    said = paragraph((at[0], down - 6.5), _one_sentence(design, running), room, HEIGHT)
    return [*marks, *said], said[-1].at[1]


def _most(each: HoseYear) -> float:
    return each.year or 0.0


def year_words(design: Design, each: HoseYear) -> str:
    """What a year costs with one hose."""
    currency = design.job.prices.currency
    if each.year is None or each.least is None:
        return "cannot give all of it"
    if each.most is None:
        return f"{currency} {whole(each.least)} to {whole(each.year)} or more"
    return f"{currency} {between(each.least, each.most)}"


def _one_sentence(design: Design, running: RunningCost) -> str:
    chosen = next((each for each in running.hoses if each.chosen), None)
    if chosen is None or chosen.year is None:
        return "The pump cannot give all that is to run through the hose chosen."
    return f"Run as you told us, a year costs {year_words(design, chosen)} through the hose chosen, {chosen.hose.name}."


def building_marks(estimate: Estimate, at: Point, room: Millimetres, low: Millimetres) -> tuple[list[Mark], float]:
    """What it costs as a range, and what is and what is not in it, no lower than ``low``."""
    marks: list[Mark] = [heading(at, "What building it costs", 4.0)]
    chance = estimate.chance
    down = at[1] - 2.0
    if estimate.works[2] > 0.0:
        low_end, high_end = ends_outward(chance.p50, chance.p90, JOB_STEP, "")
        down -= 10.0
        marks.append(fitted((at[0], down), f"{estimate.currency} {low_end} to {high_end}", room, 6.0, weight=700))
    for words in _sums(estimate):
        rows = paragraph((at[0], down - 7.0), words, room, HEIGHT)
        marks += rows
        down = rows[-1].at[1]
    down -= 8.0
    for title, words in in_and_out(estimate):
        said = _within(f"{title} {words}", room, down - low)
        rows = paragraph((at[0], down), said, room, HEIGHT)
        marks += rows
        down = rows[-1].at[1] - 6.0
    return marks, down


def _within(words: str, room: Millimetres, tall: Millimetres) -> str:
    """Words cut at a name where there is no room for all of them."""
    most = max(int(tall / (1.25 * fonts.size(HEIGHT))) + 1, 1)
    names = words.split(", ")
    while len(names) > 1 and len(fonts.wrap(", ".join([*names, "and more"]), room, HEIGHT)) > most:
        names.pop()
    return words if ", ".join(names) == words else ", ".join([*names, "and more"])


def _sums(estimate: Estimate) -> Iterator[str]:
    """What the range is, and what is reckoned with."""
    if estimate.works[2] <= 0.0:
        yield "No prices were given yet: what it costs is not told."
        return
    tax = f", {estimate.tax_name} in it" if estimate.tax is not None else ", no tax in it"
    yield f"Half of many tries stay under the first, nine in ten under the second{tax}."
    yield (
        f"The designer reckons with {estimate.currency} {whole(estimate.total)}, of which "
        f"{whole(estimate.contingency)} is kept for what the ground may bring."
    )


def in_and_out(estimate: Estimate) -> Iterator[tuple[str, str]]:
    """What is in the sum and what is not, by the estimate's own groups and lines."""
    held = [group.group for group in estimate.groups if group.missing == 0]
    none = [line.item.name for line in estimate.lines if line.cost is None]
    part = [group.group for group in estimate.groups if group.missing]
    if len(none) == len(estimate.lines):
        yield "To be priced:", f"{', '.join(part)}."
        return
    if held:
        yield "In it:", f"{', '.join(held)}."
    if none:
        named = ", ".join(none[:MOST_NAMED])
        more = f", and {len(none) - MOST_NAMED} more" if len(none) > MOST_NAMED else ""
        yield "Not in it, for nobody gave a price:", f"{named}{more}."
    if part:
        yield "Only partly in it:", f"{', '.join(part)}."
