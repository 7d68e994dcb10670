"""Two surveys held against each other: what changed in the ground, point by point, in words."""

from collections import Counter
from collections.abc import Callable
from math import dist

from beckwright.base.quantities import Length
from beckwright.base.values import value
from beckwright.base.words import metres, millimetres
from beckwright.job.tables import SURVEY
from beckwright.job.tables.columns import Table, read_table_text
from beckwright.job.tables.files import text_in
from beckwright.survey.counted import counted

NAME = "survey.csv"
MILLIMETRES = 3
"""Digits of a metre: points nearer than that in every way lie where they lay."""

Shot = tuple[str, float, float, float, str, str]
"""Name, x, y, level, m, code and breakline."""
Key = Callable[[Shot], object]
"""What two points must have in common to be one point that was moved."""


@value
class Moved:
    """How one ground differs from another.

    before, after   how many points each has
    added, removed  points only the new one has, and only the old one
    moved           points of one name, or of one place, that lie elsewhere or at another level
    across, upright by how much at most, in plan and in level
    marked          points that lie where they lay under another code or on another breakline
    """

    before: int
    after: int
    added: int
    removed: int
    moved: int
    across: Length
    upright: Length
    marked: int

    def __str__(self) -> str:
        counts = ((self.added, "added"), (self.removed, "taken out"))
        told = [f"{counted(count, 'point')} {what}" for count, what in counts if count]
        if self.moved:
            by = [(self.across, "in plan"), (self.upright, "in level")]
            most = " and ".join(f"{_length(each)} {way}" for each, way in by if round(each, MILLIMETRES))
            told.append(f"{counted(self.moved, 'point')} moved, by {most} at most")
        if self.marked:
            told.append(f"{counted(self.marked, 'point')} under another code or breakline")
        return ", ".join(told) or "the same points"


def against(old: bytes, new: bytes) -> Moved | None:
    """Hold what two survey.csv hold against each other; None where one of them is no survey."""
    before, after = _shots(old), _shots(new)
    if before is None or after is None:
        return None
    stayed = Counter(map(_spot, before)) & Counter(map(_spot, after))
    marks = Counter(map(_mark, before)) & Counter(map(_mark, after))
    gone, come = _without(before, stayed), _without(after, stayed)
    pairs = [*_pairs(gone, come, by=lambda shot: shot[0]), *_pairs(gone, come, by=lambda shot: _spot(shot)[:2])]
    return Moved(
        before=len(before),
        after=len(after),
        added=len(come),
        removed=len(gone),
        moved=len(pairs),
        across=max((dist(was[1:3], now[1:3]) for was, now in pairs), default=0.0),
        upright=max((abs(was[3] - now[3]) for was, now in pairs), default=0.0),
        marked=stayed.total() - marks.total(),
    )


def points_in(raw: bytes) -> str:
    """How many points a survey.csv holds, in words; empty where it is none."""
    shots = _shots(raw)
    return "" if shots is None else counted(len(shots), "point")


def lines_against(old: bytes, new: bytes) -> str:
    """What differs between two tables of any kind, in words: lines only the new one has, and only the old one."""
    was, now = (Counter(each.splitlines()) for each in (old, new))
    counts = (((now - was).total(), "added"), ((was - now).total(), "taken out"))
    return ", ".join(f"{counted(count, 'line')} {what}" for count, what in counts if count) or "lines in another order"


def lines_in(raw: bytes) -> str:
    """How many lines a table has, in words."""
    return counted(len(raw.splitlines()), "line")


def _shots(raw: bytes) -> list[Shot] | None:
    text = text_in(raw, NAME, [])
    table: Table | None = None if text is None else read_table_text(NAME, text, SURVEY, [])
    if table is None:
        return None
    texts, numbers = table.texts, table.numbers
    columns = (texts["id"], numbers["x_m"], numbers["y_m"], numbers["z_m"], texts["code"], texts["breakline"])
    return list(zip(*columns, strict=True))


def _spot(shot: Shot) -> tuple[float, ...]:
    return tuple(round(each, MILLIMETRES) for each in shot[1:4])


def _mark(shot: Shot) -> tuple[object, ...]:
    return (*_spot(shot), *shot[4:])


def _without(shots: list[Shot], stayed: Counter[tuple[float, ...]]) -> list[Shot]:
    """Those that do not lie where one of the other survey lies."""
    left, others = Counter(stayed), []
    for shot in shots:
        if left[_spot(shot)] > 0:
            left[_spot(shot)] -= 1
        else:
            others.append(shot)
    return others


def _pairs(gone: list[Shot], come: list[Shot], by: Key) -> list[tuple[Shot, Shot]]:
    """Take out of both lists the points that have something in common, and return them in pairs."""
    waits = {by(shot): shot for shot in gone}
    pairs = []
    for now in list(come):
        was = waits.pop(by(now), None)
        if was is not None:
            pairs.append((was, now))
    for side, place in ((gone, 0), (come, 1)):
        taken = {id(pair[place]) for pair in pairs}
        side[:] = [shot for shot in side if id(shot) not in taken]
    return pairs


def _length(length: Length) -> str:
    return millimetres(length, up=True) if length < 1 else metres(length, up=True)
