"""Shots typed on the slope held against the design at once, one by one: how far off, and what to do."""

from collections.abc import Sequence

import numpy as np

from beckwright.base.errors import JobError, Problem
from beckwright.base.quantities import FloatArray, Length, Level
from beckwright.base.values import value
from beckwright.base.words import millimetres
from beckwright.compose import Design
from beckwright.readings.as_built import AsBuilt, Off, as_built
from beckwright.readings.staff import Staff, overtaken, shots_of
from beckwright.stages.course import JUST
from beckwright.tables.notebook import GROSS_LEVEL

LEAVE = "Leave it"
WHATS = {"left": "left edge", "middle": "bed", "right": "right edge", "dig": "dig level"}


@value
class Held:
    """One shot against the design.

    what       left edge, right edge, bed, dig level, or an end of a lip
    off        shot less drawn, m; None where the shot cannot be used
    freeboard  of an edge now, at each flow; empty for anything else, and for a shot that is not counted
    counted    whether it stands in the works as built: not where a later shot of the spot does, or it is asked about
    before     how far the shot that stood here lay from this one, m, and its level; None where it is the first
    asked      all that a person is asked about it
    cure       what to do, as an order
    """

    staff: Staff
    what: str
    drawn: Level | None
    off: Length | None
    allowed: Length
    freeboard: FloatArray
    counted: bool
    before: tuple[Length, Level] | None
    asked: tuple[str, ...]
    cure: str

    @property
    def to_do(self) -> bool:
        """Whether it stands in the works and something is to be done about it."""
        return self.counted and bool(self.cure) and not self.cure.startswith(LEAVE)


@value
class Against:
    """All shots, in the order they were typed, and the works as built with those that count.

    problems  why the works as built cannot be worked out with the lips as shot; empty where they can
    """

    held: tuple[Held, ...]
    built: AsBuilt
    problems: tuple[Problem, ...]


def against(designed: Design, staffs: Sequence[Staff], *, settled: bool = False) -> Against:
    """Hold shots against a design.

    A shot farther off than anybody builds is asked about first, and counts once a person has said that it is right.
    """
    over = overtaken(staffs)
    drawn = {each.row.key: drawn_level(designed, each) for each in staffs if each.usable}
    gross = {each.row.key for each in staffs if each.usable and _gross(each, drawn[each.row.key])}
    counted = [each for each in staffs if each.usable and each.row.key not in gross]
    built, problems = _built(designed, counted, settled=settled)
    stands = {each.row.key for each in counted} - set(over)
    held = tuple(
        _held(designed, each, staffs, drawn.get(each.row.key), built, each.row.key in stands, each.row.key in gross)
        for each in staffs
    )
    return Against(held=held, built=built, problems=problems)


def drawn_level(designed: Design, staff: Staff) -> Level:
    """The level drawn where a shot was taken."""
    if staff.lip:
        return next(lip.crest for lip in designed.water.lips if lip.name == staff.lip)
    at = designed.course.stations
    named = {"left": at.edge_left, "middle": at.bed, "right": at.edge_right, "dig": at.dig}[staff.side]
    return float(np.interp((staff.chainage or 0.0) - JUST, at.chainage, named))


def _gross(staff: Staff, drawn: Level) -> bool:
    return not staff.row.agreed and abs((staff.level or 0.0) - drawn) > GROSS_LEVEL.amount


def _built(designed: Design, counted: Sequence[Staff], *, settled: bool) -> tuple[AsBuilt, tuple[Problem, ...]]:
    """The works with all shots, or where their lips cannot run, with the others alone, and why."""
    try:
        return as_built(designed, shots_of(counted), settled=settled), ()
    except JobError as error:
        others = [each for each in counted if not each.lip]
        return as_built(designed, shots_of(others), settled=settled), error.problems


def _held(
    designed: Design,
    staff: Staff,
    staffs: Sequence[Staff],
    drawn: Level | None,
    built: AsBuilt,
    counted: bool,  # noqa: FBT001
    gross: bool,  # noqa: FBT001
) -> Held:
    allowed = designed.job.tolerances.dig if staff.side == "dig" else designed.job.tolerances.stone
    off = None if drawn is None or staff.level is None else staff.level - drawn
    edge = _edge(staff, built) if counted else None
    asked = staff.asked
    if gross and off is not None:
        asked = (*asked, f"It lies {_mm(off)} off its drawing. Is it read right, and at this place?")
    return Held(
        staff=staff,
        what=f"{staff.lip}, {staff.side}" if staff.lip else WHATS[staff.side],
        drawn=drawn,
        off=off,
        allowed=allowed,
        freeboard=np.array([]) if edge is None else edge.freeboard,
        counted=counted,
        before=_before(staff, staffs),
        asked=asked,
        cure="" if off is None or gross else _cure(staff, off, allowed, edge),
    )


def _edge(staff: Staff, built: AsBuilt) -> Off | None:
    if staff.lip or staff.side not in {"left", "right"}:
        return None
    here = (edge for edge in built.edges if edge.what == WHATS[staff.side])
    return next((edge for edge in here if edge.chainage == staff.chainage), None)


def _before(staff: Staff, staffs: Sequence[Staff]) -> tuple[Length, Level] | None:
    """The last shot of the same spot before this one."""
    if not staff.usable or staff.level is None:
        return None
    same = [each for each in staffs if each.usable and each.where == staff.where]
    place = next(number for number, each in enumerate(same) if each is staff)
    level = same[place - 1].level if place else None
    return None if level is None else (staff.level - level, level)


def _cure(staff: Staff, off: Length, allowed: Length, edge: Off | None) -> str:
    if edge is not None and edge.raised > 0:
        return f"Raise it {_mm(edge.raised)}."
    if abs(off) <= allowed:
        return f"{LEAVE}: within the tolerance."
    low, by = off < 0, _mm(off)
    if staff.lip:
        return f"{'Raise' if low else 'Lower'} it {by}."
    if staff.side == "dig":
        return f"Fill {by}, rammed in." if low else f"Dig {by} deeper."
    if staff.side == "middle":
        return f"Put {by} on." if low else f"Take {by} off."
    return f"Raise it {by}." if low else f"{LEAVE}: {by} high."


def _mm(length: Length) -> str:
    return millimetres(abs(length))
