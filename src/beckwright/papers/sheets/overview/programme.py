"""The programme sheet: a bar for every task against the days, what may wait, and how sure the end is."""

from collections.abc import Iterator
from datetime import date, timedelta

import numpy as np

from beckwright.base.words import grouped, opening, share
from beckwright.compose import Design
from beckwright.papers import pens
from beckwright.papers.drawing import A3_FLAT, Mark, Millimetres, Pen, Polyline, Sheet, Text, rectangle
from beckwright.papers.labels import paragraph
from beckwright.papers.sheets.shared.frame import LEFT, LOW, RIGHT, TITLE_HIGH, TOP, SheetTitle, frame, heading, notes
from beckwright.papers.sheets.shared.table import cell
from beckwright.stages.programme import Dated, Programme

NAMES = 100.0
"""Room for the names and dates of the tasks, mm."""
BARS = (LEFT + NAMES + 6.0, RIGHT - 8.0)
HEAD = TOP - 34.0
FOOT = LOW + TITLE_HIGH + 46.0
TALLEST = 8.0
"""A row is no taller than this, mm."""


MAY_WAIT = Pen(width=0.25, dash=(0.6, 0.8))
WAIT = Pen(width=0.25, dash=(1.6, 0.8))
CHANCE = Pen(width=0.5, dash=(3.0, 1.0))

_WEEKS = ("M", "T", "W", "T", "F", "S", "S")

CAUTIONS = (
    "Durations are guesses of the trade unless tasks.csv or a firm's own log stands behind them.",
    "Pits and trenches are looked over before each shift, after rain and after any fall of ground.",
    "Electrics are connected and tested by a licensed electrician before water runs.",
)


def programme_sheet(design: Design, programme: Programme, number: int, of: int) -> Sheet:
    """All tasks on one A3."""
    title = SheetTitle(
        title="Programme", reader="for the crew and the client", scale="not to scale", number=number, of=of
    )
    days = _Days(programme)
    marks = (
        *frame(design.job, title),
        heading((LEFT + 5, TOP - 9), "What when", 5.0),
        *_calendar(programme, days),
        *_rows(programme, days),
        *_ends(programme, days),
        *_below(programme),
    )
    return Sheet(
        name="programme",
        title=f"{design.job.title.name}: programme",
        paper=A3_FLAT,
        marks=marks,
        description=f"Programme of {design.job.title.name}: {len(programme.tasks)} tasks from "
        f"{_day(programme.start)} to {_day(programme.finish)} as it mostly goes; nine tries in ten end by "
        f"{_day(programme.p90)}.",
    )


class _Days:
    """Where the days stand on the paper."""

    def __init__(self, programme: Programme) -> None:
        last = max(programme.p90, programme.finish, *(dated.latest for dated in programme.tasks))
        self.first, self.count = programme.start, (last - programme.start).days + 2
        self.wide = (BARS[1] - BARS[0]) / self.count

    def left(self, day: date) -> Millimetres:
        return BARS[0] + (day - self.first).days * self.wide

    def right(self, day: date) -> Millimetres:
        return self.left(day) + self.wide


def _calendar(programme: Programme, days: _Days) -> Iterator[Mark]:
    """Days over the bars, the first of each week dated; a rule down where a week begins."""
    for place in range(days.count):
        day = days.first + timedelta(days=place)
        left = days.left(day)
        if day.weekday() == 0 or place == 0:
            yield Polyline(points=np.array([(left, FOOT), (left, HEAD + 9)]), layer="days", pen=pens.CONTOUR)
            if days.wide * 7 > 9 or day.isocalendar().week % 2 == 0:
                yield Text(at=(left + 0.8, HEAD + 5.5), words=f"{day.day} {day:%b}", height=1.8, narrow=True)
        if days.wide >= 2.6:
            letter = _WEEKS[day.weekday()]
            yield Text(at=(left + days.wide / 2, HEAD + 1.5), words=letter, height=1.8, across="middle")
    yield Polyline(points=np.array([(LEFT + 5, HEAD), (BARS[1], HEAD)]), layer="days", pen=pens.THIN)


def _rows(programme: Programme, days: _Days) -> Iterator[Mark]:
    step = min(TALLEST, (HEAD - FOOT) / max(len(programme.tasks), 1))
    yield from _heads()
    for row, dated in enumerate(programme.tasks):
        low = HEAD - (row + 1) * step
        yield from _words(dated, low + step * 0.3)
        yield from _bar(dated, days, low + step * 0.2, step * 0.6)
        yield Polyline(points=np.array([(LEFT + 5, low), (BARS[1], low)]), layer="days", pen=pens.CONTOUR)


_COLUMNS = (5.0, 58.0, 72.0, 87.0, 102.0)


def _heads() -> Iterator[Mark]:
    words = ("task", "days", "from", "to")
    for column, word in zip(_COLUMNS, words, strict=False):
        yield Text(at=(LEFT + column, HEAD + 1.5), words=word, height=1.8, weight=600)


def _words(dated: Dated, low: Millimetres) -> Iterator[Mark]:
    cells = (opening(dated.task.name), grouped(dated.duration, 1), _day(dated.starts), _day(dated.ends))
    for column, end, words in zip(_COLUMNS, _COLUMNS[1:], cells, strict=False):
        yield cell((LEFT + column, low), words, end - column - 1.5, 2.2, "left", head=dated.critical)


def _bar(dated: Dated, days: _Days, low: Millimetres, tall: Millimetres) -> Iterator[Mark]:
    left, right = days.left(dated.starts), days.right(dated.ends)
    box = rectangle((left, low), (right - left, tall))
    if dated.task.crew == "nobody":
        yield Polyline(points=box, layer="bar", pen=WAIT, closed=True)
    else:
        pen, hatch = (pens.SHORT, pens.SHORT_HATCH) if dated.critical else (pens.MEDIUM, None)
        yield Polyline(points=box, layer="bar", pen=pen, closed=True, hatch=hatch, fill=None if hatch else "#C9D0BF")
    latest = days.right(dated.latest)
    if latest > right + 0.1:
        middle = low + tall / 2
        yield Polyline(points=np.array([(right, middle), (latest, middle)]), layer="bar", pen=MAY_WAIT)
        yield Polyline(points=np.array([(latest, low), (latest, low + tall)]), layer="bar", pen=pens.THIN)


def _ends(programme: Programme, days: _Days) -> Iterator[Mark]:
    """Where half, eight and nine in ten of the tries end."""
    for row, (words, day) in enumerate((("5", programme.p50), ("8", programme.p80), ("9", programme.p90))):
        at = days.right(day)
        top = HEAD + 20 - 4.2 * row
        yield Polyline(points=np.array([(at, FOOT), (at, top)]), layer="chance", pen=CHANCE)
        yield Text(
            at=(at - 1.0, top - 1.8),
            words=f"{words} tries in 10 end by {_day(day)}",
            height=2.2,
            weight=600,
            across="right",
            halo=0.4,
        )


def _below(programme: Programme) -> Iterator[Mark]:
    top = FOOT - 8
    yield heading((LEFT + 5, top), "How to read it")
    told, _ = notes((LEFT + 5, top - 5.5), tuple(_how(programme)), 120.0, 2.0)
    yield from told
    yield heading((LEFT + 145, top), "Hired, and in two places at once")
    clashes = tuple(_held(programme)) or ("Nothing is hired, no crew clashes.",)
    held, _ = notes((LEFT + 145, top - 5.5), clashes, 95.0, 2.0)
    yield from held
    yield heading((LEFT + 255, top), "Cautions")
    said, _ = notes((LEFT + 255, top - 5.5), CAUTIONS, RIGHT - LEFT - 262.0, 1.8)
    yield from said
    yield from paragraph(
        (LEFT + 5, LOW + 8),
        "Work rests on days off; curing, settling and tests go on. Durations include days the weather may take.",
        200.0,
        2.0,
    )


def _how(programme: Programme) -> Iterator[str]:
    yield "Red and hatched: the chain that makes the end. A dotted tail: how long a task may wait before the end moves."
    yield "Dashed outline: nobody is needed, but it takes its time."
    moves = max(programme.tasks, key=lambda dated: dated.criticality * (dated.task.longest - dated.task.shortest))
    yield (
        f"Moves the end most: {moves.task.name}, {grouped(moves.task.shortest, 1)} to "
        f"{grouped(moves.task.longest, 1)} days, in the way in {share(moves.criticality)} of the tries."
    )


def _held(programme: Programme) -> Iterator[str]:
    for hire in programme.hires:
        span = f"{_day(hire.starts)} to {_day(hire.ends)}"
        yield f"{opening(hire.what)}: {span}, {hire.days} days; hire is often by the week."
    for clash in programme.clashes:
        span = f"{_day(clash.starts)} to {_day(clash.ends)}"
        yield f"{opening(clash.crew)} in two places, {span}: {clash.one}, {clash.other}."


def _day(day: date) -> str:
    return f"{day.day} {day:%b}"
