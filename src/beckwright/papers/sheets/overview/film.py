"""The film on paper: distance against time over the reservoir's level against time, after the railway timetable graph.

Story beside story on one ruler of distance and one dip stick; below, what each asks of the reservoir, beside what the
rules of thumb would have made of it.
"""

from collections.abc import Iterator

import numpy as np

from beckwright.base.findings import Finding
from beckwright.base.quantities import Duration, FloatArray, Length, Level
from beckwright.base.values import value
from beckwright.base.words import (
    METRIC,
    flow,
    grouped,
    headed,
    litres,
    number_in,
    opening,
    outward,
    reads,
    short_height,
    unit_called,
    unit_word,
)
from beckwright.base.words import band as rounded
from beckwright.compose import Design
from beckwright.film import Film, Works, in_bands, rules_of_thumb
from beckwright.film.tell import clock, clock_band, litres_band
from beckwright.film.values import NEVER, Story
from beckwright.job.model import Pool
from beckwright.papers import fonts, pens
from beckwright.papers.drawing import (
    A3_FLAT,
    BLACK,
    RED,
    WHITE,
    Across,
    Circle,
    Mark,
    Millimetres,
    Pen,
    Point,
    Polyline,
    Sheet,
    Text,
    rectangle,
)
from beckwright.papers.filmed import Filmed
from beckwright.papers.labels import paragraph
from beckwright.papers.sheets.shared.fitted import fitted
from beckwright.papers.sheets.shared.frame import LEFT, LOW, RIGHT, TOP, SheetTitle, bullet, frame, heading
from beckwright.papers.sheets.shared.table import table
from beckwright.stages.water.beds import MIDDLE

COURSE_TOP, COURSE_LOW = TOP - 22.0, TOP - 94.0
TAPE_TOP, TAPE_LOW = COURSE_LOW - 1.5, COURSE_LOW - 8.0
PIT_TOP, PIT_LOW = TAPE_LOW - 11.0, TAPE_LOW - 65.0
TABLES = PIT_LOW - 17.5
PANELS_LEFT, PANELS_RIGHT, GAP = LEFT + 48.0, RIGHT - 6.0, 7.0
SHARES: dict[Story, float] = {"first fill": 0.38, "restart": 0.28, "stop": 0.34}
TITLES: dict[Story, tuple[str, str]] = {
    "first fill": ("First fill", "pools and stones dry, hose empty"),
    "restart": ("Morning restart", "pools full, stones drained"),
    "stop": ("Stop", "pump off, what runs back"),
    "change": ("Change of flow", "running steadily before"),
}
RULES_LEFT = RIGHT - 118.0
SHEET_MOST = 0.75
"""Share of the stations of all runs from which a flow is said to run as a sheet, by the middle law."""

_NOISE = 1e-3
"""Of 5 mm: a level this near to a step is on it."""

PALE, MID = "#D9D9D9", "#A6A6A6"
WATER = Pen(width=0.7)
DRYING = Pen(width=0.7, dash=(2.2, 1.1))
TOPPED = Pen(width=0.5, dash=(0.0, 1.1), colour=RED)
OVERFLOW = Pen(width=0.35, dash=(1.6, 0.8))
LEAST = Pen(width=0.5, dash=(4.0, 1.5), colour=RED)


@value
class Panel:
    """One story's column: where it lies on the paper, what seconds and chainages it spans."""

    left: Millimetres
    width: Millimetres
    span: Duration
    length: Length
    bottom: Level
    top: Level

    @property
    def right(self) -> Millimetres:
        """Its right edge."""
        return self.left + self.width

    def across(self, seconds: FloatArray) -> FloatArray:
        """Millimetres from the sheet's left for seconds, held at the panel's right edge."""
        return self.left + self.width * np.clip(np.asarray(seconds) / self.span, 0.0, 1.0)

    def along(self, chainage: FloatArray) -> FloatArray:
        """Height on the paper of places along the course, source on top."""
        return COURSE_TOP - (COURSE_TOP - COURSE_LOW) * np.asarray(chainage) / self.length

    def up(self, level: FloatArray) -> FloatArray:
        """Height on the paper of levels of the reservoir."""
        share = (np.asarray(level) - self.bottom) / (self.top - self.bottom)
        return PIT_LOW + (PIT_TOP - PIT_LOW) * np.clip(share, 0.0, 1.0)


def film_sheet(design: Design, taken: Filmed, number: int, of: int) -> Sheet:
    """The films of one flow on A3; only the first band of each story is drawn."""
    films = taken.films
    bands = in_bands(films)
    shown = {band[0].story: band for band in reversed(bands) if not band[0].note and band[0].story in SHARES}
    panels = _panels(design, shown)
    title = SheetTitle(
        title="Start and stop",
        reader="for the switch-on, the crew and the owner",
        scale="not to scale",
        number=number,
        of=of,
    )
    any_film = films[0]
    amount = max(float(each.pumped.max()) for each in films)
    marks: list[Mark] = [
        *frame(design.job, title),
        heading((LEFT + 6, TOP - 9), opening(any_film.flow), 5.0),
        Text(at=(LEFT + 6, TOP - 14), words=f"up to {flow(amount)}", height=2.2),
        *_course_on_end(design, next(iter(panels.values()))),
        *_dip_stick(design, next(iter(panels.values()))),
    ]
    for story, panel in panels.items():
        topped = next((band for band in bands if band[0].story == story and band[0].topped_up), ())
        marks += _panel(design, panel, shown[story], topped)
    marks += _tables(design, bands, taken.works)
    shows, top = _shows(design)
    marks += shows
    marks += _said(taken.findings, top + 6.0)
    return Sheet(
        name="start-and-stop",
        title=f"{design.job.title.name}: start and stop at {any_film.flow}",
        paper=A3_FLAT,
        marks=tuple(marks),
        description="For the first fill, a morning restart and a stop: when the water comes past each place of the "
        "course, how far the reservoir sinks or rises, and how large it has to be.",
    )


def _panels(design: Design, shown: dict[Story, tuple[Film, ...]]) -> dict[Story, Panel]:
    pit = design.reservoir.pit
    stories = [story for story in SHARES if story in shown]
    room = PANELS_RIGHT - PANELS_LEFT - GAP * (len(stories) - 1)
    whole = sum(SHARES[story] for story in stories)
    panels: dict[Story, Panel] = {}
    left = PANELS_LEFT
    for story in stories:
        width = room * SHARES[story] / whole
        panels[story] = Panel(
            left=left,
            width=width,
            span=_span(shown[story]),
            length=design.course.length,
            bottom=min(pit.floor, pit.sump_floor),
            top=pit.floor + np.ceil((max(pit.overflow, pit.rested) - pit.floor) * 10 + 0.2) / 10,
        )
        left += width + GAP
    return panels


def _span(band: tuple[Film, ...]) -> Duration:
    """Long enough for what matters of every end of the band, and never longer than the film."""
    times = [time for each in band for time in (each.steady, each.back_half, *each.cut_outs[:1]) if 0.0 < time < NEVER]
    longest = max(float(each.seconds[-1]) for each in band)
    return min(1.2 * max(times, default=longest), longest) or 1.0


def _panel(design: Design, panel: Panel, band: tuple[Film, ...], topped: tuple[Film, ...]) -> Iterator[Mark]:
    title, subtitle = TITLES[band[0].story]
    yield heading((panel.left, TOP - 9), title, 3.5)
    yield Text(at=(panel.left, TOP - 15), words=subtitle, height=2.2)
    yield from _timetable(design, panel, band)
    yield from _tape(panel)
    yield from _levels(design, panel, band, topped)
    yield from _captions(design, panel, band, topped)


def _timetable(design: Design, panel: Panel, band: tuple[Film, ...]) -> Iterator[Mark]:
    """Distance against time: the band of when water comes past, its middle, and every lip."""
    low, middle, high = band[0], band[len(band) // 2], band[-1]
    stop = low.story == "stop"
    for stretch in design.course.stretches:
        if isinstance(stretch.reach, Pool):
            top, foot = panel.along(np.array([stretch.start, stretch.end]))
            yield _area(rectangle((panel.left, float(foot)), (panel.width, float(top - foot))), PALE)
    earliest = np.minimum.reduce([each.reached for each in band])
    latest = np.maximum.reduce([each.reached for each in band])
    outline = np.vstack([_line(panel, low, earliest), _line(panel, low, latest)[::-1]])
    yield _area(outline, MID)
    inside = middle.reached <= panel.span
    if inside.sum() > 1:
        points = _line(panel, middle, middle.reached)[inside]
        yield Polyline(points=points, layer="water", pen=DRYING if stop else WATER)
    yield Polyline(
        points=rectangle((panel.left, COURSE_LOW), (panel.width, COURSE_TOP - COURSE_LOW)),
        layer="ruling",
        pen=pens.MEDIUM,
        closed=True,
    )
    for here, lip in enumerate(middle.lips):
        if 0.0 < lip.chainage < design.course.length:
            times = tuple(_passed(each, here) for each in (low, middle, high))
            yield from _lip(panel, times, lip.chainage, f"{'dry at' if stop else 'over'} {lip.name}")


def _passed(film: Film, number: int) -> Duration:
    """When the water is half there at a lip; at a stop, when it is all but gone."""
    lip = film.lips[number]
    return float(film.reached[np.searchsorted(film.chainage, lip.chainage)]) if film.story == "stop" else lip.half


def _line(panel: Panel, film: Film, reached: FloatArray) -> FloatArray:
    return np.column_stack([panel.across(reached), panel.along(film.chainage)])


def _lip(panel: Panel, times: tuple[Duration, ...], chainage: Length, name: str) -> Iterator[Mark]:
    y = float(panel.along(np.array([chainage]))[0])
    yield _rule((panel.left, y), (panel.right, y), pens.MEDIUM)
    middle = times[len(times) // 2]
    if middle == NEVER:
        yield Text(at=(panel.right - 1.5, y + 1.2), words=f"never {name}", height=2.0, across="right", halo=0.4)
        return
    x = float(panel.across(np.array([middle]))[0])
    words = f"{name}, {clock_band(min(times), max(times))}"
    at, across = _beside(panel, x, fonts.width(words, 2.2, weight=600))
    yield Circle(at=(x, y), radius=1.1, layer="water", pen=pens.MEDIUM, fill=WHITE)
    yield Text(at=(at, y + 1.3), words=words, height=2.2, weight=600, across=across, halo=0.3)


def _beside(panel: Panel, x: Millimetres, wide: Millimetres) -> tuple[Millimetres, Across]:
    """Where words as wide as that stand beside ``x``: right of it if they fit, else left, else against the edge."""
    if x + 2.0 + wide < panel.right - 1.0:
        return x + 2.0, "left"
    return (x - 2.0, "right") if x - 2.0 - wide > panel.left + 1.0 else (panel.right - 1.0, "right")


def _tape(panel: Panel) -> Iterator[Mark]:
    """A tape of minutes, or of seconds where the story is short."""
    steps = (10, 20, 30, 60, 120, 300, 600, 1200, 1800, 3600, 7200, 14400)
    step = next((each for each in steps if panel.width * each / panel.span >= 13.0), steps[-1])
    unit, word = (1, "s") if step < 60 else (60, "min")
    yield Polyline(
        points=rectangle((panel.left, TAPE_LOW), (panel.width, TAPE_TOP - TAPE_LOW)),
        layer="ruling",
        pen=pens.MEDIUM,
        closed=True,
    )
    for number in range(int(panel.span / step * 5) + 1):
        x = float(panel.across(np.array([number * step / 5]))[0])
        whole = number % 5 == 0
        yield _rule((x, TAPE_TOP), (x, TAPE_TOP - (2.6 if whole else 1.3)), pens.THIN)
        if whole and number > 0 and x < panel.right - 4.0:
            told = grouped(number // 5 * step / unit)
            yield Text(at=(x, TAPE_LOW + 1.1), words=told, height=2.0, weight=600, across="middle")
    yield Text(at=(panel.left + 1.0, TAPE_LOW + 1.1), words=f"0 {word}", height=2.0, weight=600)


def _levels(design: Design, panel: Panel, band: tuple[Film, ...], topped: tuple[Film, ...]) -> Iterator[Mark]:
    """The reservoir's level against time: band, middle, overflow and the pump's least."""
    pit, moments = design.reservoir.pit, np.linspace(0.0, panel.span, 160)
    levels = [np.interp(moments, each.seconds, each.level) for each in band]
    across = panel.across(moments)
    low, high = (panel.up(pick.reduce(levels)) for pick in (np.minimum, np.maximum))
    yield _area(np.vstack([np.column_stack([across, low]), np.column_stack([across, high])[::-1]]), MID)
    yield Polyline(
        points=np.column_stack([across, panel.up(levels[len(levels) // 2])]), layer="reservoir level", pen=WATER
    )
    for each in topped[-1:]:
        over = np.interp(moments, each.seconds, each.level)
        yield Polyline(points=np.column_stack([across, panel.up(over)]), layer="topped up", pen=TOPPED)
    for level, pen in ((pit.overflow, OVERFLOW), (pit.pump_minimum, LEAST)):
        y = float(panel.up(np.array([level]))[0])
        yield _rule((panel.left, y), (panel.right, y), pen)
    yield Polyline(
        points=rectangle((panel.left, PIT_LOW), (panel.width, PIT_TOP - PIT_LOW)),
        layer="ruling",
        pen=pens.MEDIUM,
        closed=True,
    )


def _captions(design: Design, panel: Panel, band: tuple[Film, ...], topped: tuple[Film, ...]) -> Iterator[Mark]:
    """What a person with a stick and a stopwatch is to find, above and below the levels."""
    above, big, small = _told(design, band, topped)
    wide = panel.right - panel.left + 4.0
    yield fitted((panel.left, TAPE_LOW - 6.0), above, wide, 2.5, weight=600)
    yield Text(at=(panel.left, PIT_LOW - 5.5), words=big, height=3.5, weight=700, narrow=True)
    yield fitted((panel.left, PIT_LOW - 10.0), small, wide, 2.2)


def _told(design: Design, band: tuple[Film, ...], topped: tuple[Film, ...]) -> tuple[str, str, str]:
    pit = design.reservoir.pit
    backs = [each.back_half for each in band]
    if band[0].story == "stop":
        times = [each.steady for each in band]
        kept = max(float(each.pools[-1]) for each in band)
        over = tuple(float(each.spilt[-1]) for each in topped)
        spilt = f"topped up while running: {litres_band(over)} over" if topped and max(over) > 1e-3 else ""
        return (
            f"nine tenths back after {clock_band(min(times), max(times))}; pools keep {litres(kept)}",
            f"highest {_heights(design, [each.highest for each in band])}",
            spilt or f"{_height(design, pit.overflow)} {unit_called('mm')} is the overflow",
        )
    out = [each for each in band if each.runs_dry]
    if out:
        firsts = [each.cut_outs[0] for each in out]
        after = f"after {clock_band(min(firsts), max(firsts))}" if max(firsts) > 0 else "at once"
        return f"the pump runs out of water {after}", f"down to {_heights(design, [each.lowest for each in band])}", ""
    if any(each.ended == "stalls" for each in band):
        return "the pump stalls", f"down to {_heights(design, [each.lowest for each in band])}", ""
    whens = [each.lowest_at for each in band]
    left = min(each.lowest for each in band) - pit.pump_minimum
    return (
        f"back in the reservoir {clock_band(min(backs), max(backs))}",
        f"lowest {_heights(design, [each.lowest for each in band])}",
        (
            f"at {clock_band(min(whens), max(whens))}; at least "
            f"{short_height(float(np.floor(left * 200)) * 0.005)} above the pump's least"
        ),
    )


def _height(design: Design, level: Level) -> str:
    return f"{number_in((level - design.reservoir.pit.floor) * 1000, 'mm'):,.0f}"


def _heights(design: Design, levels: list[Level]) -> str:
    """A band of levels as a dip stick reads it, rounded outward to 5 mm."""
    floor = design.reservoir.pit.floor
    low, high = ((end - floor) * 1000 for end in (min(levels), max(levels)))
    return outward(low, high, 5, "mm", close=_NOISE)


def _course_on_end(design: Design, panel: Panel) -> Iterator[Mark]:
    """The course from above, stood on end beside its timetable."""
    middle, half = LEFT + 20.0, 3.0
    yield Text(at=(LEFT + 6, COURSE_TOP + 2.4), words=headed("The course", "m"), height=2.0)
    yield Polyline(
        points=rectangle((middle - half, COURSE_LOW), (2 * half, COURSE_TOP - COURSE_LOW)),
        layer="course",
        pen=pens.THIN,
        closed=True,
        hatch=pens.STONES,
    )
    for stretch in design.course.stretches:
        if isinstance(stretch.reach, Pool):
            top, foot = (float(y) for y in panel.along(np.array([stretch.start, stretch.end])))
            box = rectangle((middle - 1.8 * half, foot), (3.6 * half, top - foot))
            yield Polyline(points=box, layer="course", pen=pens.MEDIUM, closed=True, fill=MID)
    for lip in design.water.lips[1:]:
        y = float(panel.along(np.array([lip.chainage]))[0])
        yield _rule((middle - 1.8 * half, y), (middle + 1.8 * half, y), pens.LINER)
    marks = [(0.0, "source"), *((lip.chainage, lip.name) for lip in design.water.lips[1:])]
    for chainage, name in marks:
        y = float(panel.along(np.array([chainage]))[0])
        yield Text(at=(middle + 2.1 * half, y), words=name, height=2.0, weight=600, up="middle")
        yield Text(
            at=(middle - 2.1 * half, y),
            words=f"{number_in(chainage, 'm'):.1f}",
            height=2.0,
            across="right",
            up="middle",
        )


def _dip_stick(design: Design, panel: Panel) -> Iterator[Mark]:
    """The pit in section at its own height, with the stick in its chamber."""
    pit, left, right = design.reservoir.pit, LEFT + 6.0, LEFT + 32.0
    yield Text(at=(left, PIT_TOP + 5.4), words="The reservoir,", height=2.0)
    yield Text(at=(left, PIT_TOP + 1.8), words=f"{unit_word('mm')} over the {_floor_word(design)}", height=2.0)

    def up(level: Level) -> float:
        return float(panel.up(np.array([level]))[0])

    box = rectangle((left, up(pit.floor)), (right - left, up(min(pit.fill_top, panel.top)) - up(pit.floor)))
    fill = pens.CRATES if design.job.reservoir.fill == "crates" else pens.STONES
    yield _area(rectangle((left, up(pit.floor)), (right - left, up(pit.rested) - up(pit.floor))), PALE)
    yield Polyline(points=box, layer="reservoir", pen=pens.THIN, closed=True, hatch=fill)
    shaft = rectangle((right - 8.0, up(pit.sump_floor)), (6.0, PIT_TOP - up(pit.sump_floor)))
    yield Polyline(points=shaft, layer="reservoir", pen=pens.MEDIUM, closed=True, fill=WHITE)
    yield _rule((right - 5.0, up(pit.sump_floor)), (right - 5.0, PIT_TOP), pens.LINER)
    for level in np.arange(0.0, panel.top - pit.floor + 1e-9, _ruling(panel)):
        y = up(pit.floor + float(level))
        yield _rule((right + 1.0, y), (right + 2.5, y), pens.THIN)
        yield Text(
            at=(panel.left - 1.5, y),
            words=f"{number_in(level * 1000, 'mm'):,.0f}",
            height=1.8,
            across="right",
            up="middle",
        )
    for level, words, colour in ((pit.overflow, "overflow", BLACK), (pit.pump_minimum, "pump's least", RED)):
        told = f"{words} {_height(design, level)}"
        lines = fonts.wrap(told, panel.left - left - 9.0, 1.8, weight=600)
        for row, line in enumerate(reversed(lines)):
            at = (left, up(level) + 0.8 + 2.6 * row)
            yield Text(at=at, words=line, height=1.8, weight=600, colour=colour, halo=0.4)


def _ruling(panel: Panel) -> Length:
    high = panel.top - panel.bottom
    steps = (0.05, 0.1, 0.2, 0.5, 1.0, 2.0) if reads() is METRIC else (0.0508, 0.1016, 0.2032, 0.508, 1.016, 2.032)
    return next(step for step in steps if (PIT_TOP - PIT_LOW) * step / high >= 5.0)


def _floor_word(design: Design) -> str:
    return "crate floor" if design.job.reservoir.fill == "crates" else "floor"


def _tables(
    design: Design, bands: tuple[tuple[Film, ...], ...], works: tuple[tuple[str, Works], ...]
) -> Iterator[Mark]:
    left = LEFT + 6.0
    widths = (64, 30, 30, 34, 34, 34)
    head = ("story", "water back", "steady", headed("level", "mm"), "lent, or back", "goes over")
    rows = [head, *(_row(design, band) for band in bands)]
    yield heading((left, TABLES + 1.5), "What each story comes to", 2.5)
    drawn, _ = table((left, TABLES), widths, rows, height=2.0, step=4.4)
    yield from drawn
    yield heading((RULES_LEFT, TABLES + 1.5), "Water between the pump's least and the rest level", 2.5)
    drawn, _ = table(
        (RULES_LEFT, TABLES), (76, 36), list(_sizes(design, works, bands[0][0].flow)), height=2.0, step=4.0, heads=1
    )
    yield from drawn


def _row(design: Design, band: tuple[Film, ...]) -> tuple[str, ...]:
    first, stop = band[0], band[0].story == "stop"
    name = "; ".join(filter(None, (TITLES[first.story][0], first.note)))
    backs, steady = [each.back_half for each in band], [each.steady for each in band]
    levels = [each.highest if stop else each.lowest for each in band]
    moved = tuple(each.returned if stop else each.borrowed for each in band)
    over = tuple(float(each.spilt[-1]) for each in band)
    return (
        name,
        "stops" if stop else clock_band(min(backs), max(backs)),
        clock_band(min(steady), max(steady)) if max(steady) < NEVER else _ending(band),
        _heights(design, levels).removesuffix(f" {unit_called('mm')}"),
        litres_band(moved),
        litres_band(over) if max(over) >= 1e-3 else "nothing",
    )


def _ending(band: tuple[Film, ...]) -> str:
    worst = next(each for each in band if each.steady == NEVER)
    return f"dry at {clock(worst.cut_outs[0], up=False)}" if worst.runs_dry else worst.ended


def _sizes(design: Design, works: tuple[tuple[str, Works], ...], at: str) -> Iterator[tuple[str, str]]:
    yield "computed", "just works with"
    for story, size in works:
        yield story, litres_band(size.ends)
    yield "this reservoir has", litres(design.reservoir.useful)
    for rule in rules_of_thumb(design, at):
        yield f"rule of thumb: {rule.name}", litres(rule.volume)


def _shows(design: Design) -> tuple[list[Mark], Millimetres]:
    """What a person sees at each flow, along the foot of the sheet; gives back the height it reaches."""
    water = design.water
    rows = [("flow", "in view, least", headed("deepest", "mm"), "over the stones", headed("over the lips", "mm"))]
    for number, name in enumerate(water.names):
        shown, depth, sheet = (
            np.concatenate([values[:, number, run.stations] for run in water.runs], axis=1)
            for values in (water.shown, water.depth, water.sheet)
        )
        least, deepest = shown.min(axis=1), depth.max(axis=1)
        heads = np.concatenate([lip.head[:, number] for lip in water.lips])
        rows.append(
            (
                f"{name}, {flow(float(water.flows[number]))}",
                rounded(least.min(), least.max(), 1, "%", scale=100),
                _bare_band(deepest),
                _lies(float(sheet[MIDDLE].mean())),
                _bare_band(heads),
            )
        )
    top = LOW + 4.0 + len(rows) * 4.2
    drawn, _ = table((LEFT + 6.0, top), (60, 38, 38, 52, 38), rows, height=2.0, step=4.2)
    return [heading((LEFT + 6.0, top + 1.5), "What shows at each flow", 2.5), *drawn], top


def _bare_band(lengths: FloatArray) -> str:
    """A band in the reader's millimetres, to stand below a head that has the unit."""
    told = rounded(float(lengths.min()), float(lengths.max()), 1, "mm", scale=1000)
    return told.removesuffix(f" {unit_called('mm')}")


def _lies(share: float) -> str:
    if share > SHEET_MOST:
        return "a sheet"
    return "threads between them" if share < 1 - SHEET_MOST else "partly a sheet"


def _said(findings: tuple[Finding, ...], foot: Millimetres) -> Iterator[Mark]:
    """What the films show, under the table, as far as there is room; the rest stands on the plan and in the check."""
    left, down = LEFT + 6.0, TABLES - 34.0
    for finding in findings:
        rows = paragraph((left + 4.0, down), str(finding), RIGHT - 160.0 - left, 2.0)
        if rows[-1].at[1] < foot:
            break
        yield from bullet((left + 1.2, down + 0.8), finding.severity)
        yield from rows
        down = rows[-1].at[1] - 4.4


def _area(points: FloatArray, colour: str) -> Polyline:
    return Polyline(points=points, layer="water", closed=True, fill=colour)


def _rule(start: Point, end: Point, pen: Pen) -> Polyline:
    return Polyline(points=np.array([start, end]), layer="ruling", pen=pen)
