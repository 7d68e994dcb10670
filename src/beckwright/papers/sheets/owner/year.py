"""The year on one page: what is normal month by month as a chart, what is filled up, and when what is due."""

from collections.abc import Iterator

from beckwright.base.quantities import FloatArray
from beckwright.base.values import value
from beckwright.base.words import ends_outward, unit_called
from beckwright.care import CareTask, Normal
from beckwright.figures.care import by_month
from beckwright.job.model import Job
from beckwright.papers import fonts, pens
from beckwright.papers.drawing import RED, Circle, Mark, Millimetres, Pen, Polyline, Text, rectangle
from beckwright.papers.labels import paragraph
from beckwright.papers.sheets.owner.frame import BODY_LOW, BODY_TOP, LEFT, RIGHT, WIDE, block, headed
from beckwright.papers.sheets.shared.fitted import fitted, ruled
from beckwright.stages.season import MONTHS

BAND = "#DDDDDD"
NAMED = 40.0
COLUMN = (WIDE - 8 - NAMED) / 12
BARS_HIGH = 42.0
_ALL = 1e-6
"""A bar nearer to the pump's least than this takes all there is."""
ROOM_PEN = Pen(width=0.5, dash=(4.5, 1.5), colour=RED)
SIZES = (2.1, 2.0, 1.9, 1.8)


@value
class _Bars:
    """Bands by month, (2, 12), in the metric unit they are told in; ``most`` where the chart ends."""

    ends: FloatArray
    unit: str
    step: float
    most: float


def through_the_year(job: Job, normal: Normal, tasks: tuple[CareTask, ...]) -> Iterator[Mark]:
    """Chart of the drop, chart of the filling up, calendar."""
    down = BODY_TOP - 2.0
    if normal.season is not None:
        week = by_month(job, normal, "week_down") * 1000
        room = (normal.least - normal.rested) * 1000
        chart = _Bars(ends=week[[0, 2]], unit="mm", step=1.0, most=min(float(week[2].max()), room) * 1.05)
        head = f"Down in a dry week, at rest, nothing filled up, {unit_called('mm')} on the stick"
        marks, down = _chart(chart, head, down, room if room <= chart.most else None)
        yield from marks
        litres = by_month(job, normal, "topped_week")[[0, 2]] * 1000
        chart = _Bars(ends=litres, unit="L", step=1.0, most=max(float(litres.max()), 1.0) * 1.05)
        marks, down = _chart(chart, f"Filled up in a week, usual rain taken off, {unit_called('L')}", down, None)
        yield from marks
        low, high = (float(end @ normal.season.days) / 7 for end in litres)
        year = ends_outward(low, high, 100, "L")
        said = (
            f"In a year {year[0]} to {year[1]} {unit_called('L')} are filled "
            "up. Low end: dull and still; high end: hot and windy, and what "
            "splashes. A test of the losses narrows it."
        )
        rows, down = block((LEFT + 4, down), said, WIDE - 8, 2.1)
        yield from rows
    else:
        rows, down = block(
            (LEFT + 4, down), "Nobody gave a climate table: what a dry day takes is not told.", WIDE - 8, 2.4
        )
        yield from rows
    yield from _calendar(tasks, down - 2.0)


def _left(month: int) -> Millimetres:
    return LEFT + 4 + NAMED + month * COLUMN


def _chart(chart: _Bars, head: str, top: Millimetres, room: float | None) -> tuple[tuple[Mark, ...], float]:
    drawn, down = headed((LEFT + 4, top), head, WIDE - 8)
    marks: list[Mark] = list(drawn)
    low = down - BARS_HIGH

    def up(amount: float) -> Millimetres:
        return low + min(amount / chart.most, 1.0) * BARS_HIGH

    for month in range(12):
        least, most = (float(end) for end in chart.ends[:, month])
        box = rectangle((_left(month) + 2.0, up(least)), (COLUMN - 4.0, max(up(most) - up(least), 0.6)))
        marks.append(Polyline(points=box, layer="chart", closed=True, fill=BAND, pen=pens.MEDIUM))
    marks.append(ruled((_left(0), low), (_left(12), low), pens.MEDIUM, "chart"))
    if room is not None:
        marks.append(ruled((_left(0), up(room)), (_left(12), up(room)), ROOM_PEN, "chart"))
        marks.append(
            fitted(
                (_left(0) - 2, up(room) - 1), "the pump's least", NAMED - 4, 2.1, weight=600, across="right", colour=RED
            )
        )
    return (*marks, *_below(chart, low, room)), low - 15.5


def _below(chart: _Bars, low: Millimetres, room: float | None) -> Iterator[Mark]:
    """Under the bars the month and both ends, in numbers."""
    for row, name in enumerate(("", "least", "most")):
        at = low - 3.6 - 4.2 * row
        yield Text(at=(_left(0) - 2, at), words=name, height=2.1, across="right")
    for month in range(12):
        middle = _left(month) + COLUMN / 2
        yield fitted((middle, low - 3.6), MONTHS[month][:3], COLUMN - 1, 2.1, weight=600, across="middle")
        low_end, high_end = (float(end) for end in chart.ends[:, month])
        least, most = ends_outward(low_end, high_end, chart.step, chart.unit)
        over = room is not None and float(chart.ends[1, month]) >= room - _ALL
        yield fitted((middle, low - 7.8), least, COLUMN - 1, 2.1, across="middle")
        yield fitted((middle, low - 12.0), "all" if over else most, COLUMN - 1, 2.1, across="middle")


def _calendar(tasks: tuple[CareTask, ...], top: Millimetres) -> Iterator[Mark]:
    drawn, down = headed((LEFT + 4, top), "When what is due", WIDE - 8)
    yield from drawn
    for month in range(12):
        yield fitted(
            (_left(month) + COLUMN / 2, down - 2.6), MONTHS[month][:3], COLUMN - 1, 2.1, weight=600, across="middle"
        )
    down -= 4.0
    size, step = _fit(tasks, down - BODY_LOW - 4.0)
    for task in tasks:
        lines = fonts.wrap(task.title, NAMED - 2, size)
        high = step * len(lines) + 1.2
        yield ruled((LEFT + 4, down), (RIGHT - 4, down), pens.THIN)
        yield from paragraph((LEFT + 4, down - step * 0.85), task.title, NAMED - 2, size)
        for month in task.months:
            at = (_left(month) + COLUMN / 2, down - high / 2)
            if task.weekly:
                yield Polyline(
                    points=rectangle((at[0] - COLUMN / 2 + 1, at[1] - 1), (COLUMN - 2, 2)),
                    layer="due",
                    closed=True,
                    fill="#000000",
                )
            else:
                yield Circle(
                    at=at, radius=1.3, layer="due", fill="#000000" if task.by == "you" else None, pen=pens.MEDIUM
                )
        down -= high
    yield ruled((LEFT + 4, down), (RIGHT - 4, down), pens.THIN)
    yield fitted((LEFT + 4, down - 3.4), KEY, WIDE - 8, 1.9)


KEY = (
    "Disc: you. Ring: whoever built it, or a licensed electrician. "
    "Bar: every week. Edges are shot in the first two years."
)


def _fit(tasks: tuple[CareTask, ...], room: Millimetres) -> tuple[Millimetres, Millimetres]:
    for size in SIZES:
        step = 1.25 * fonts.size(size)
        if sum(step * len(fonts.wrap(task.title, NAMED - 2, size)) + 1.2 for task in tasks) <= room:
            return size, step
    return SIZES[-1], 1.25 * fonts.size(SIZES[-1])
