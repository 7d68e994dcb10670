"""Shots as they are typed on the slope: a staff reading under a set-up, or a level, at a place of the works."""

from collections.abc import Iterable, Iterator, Mapping
from typing import Literal, get_args

from beckwright.base.quantities import Length, Level
from beckwright.base.values import value
from beckwright.base.words import with_unit
from beckwright.compose import Design
from beckwright.equations.levelling import collimation_height, level_from_collimation
from beckwright.readings.rows import Row
from beckwright.readings.shots import Shot, lip_places
from beckwright.readings.typed import Typed, level, number, staff_reading

Side = Literal["left", "middle", "right", "dig"]
SIDES: tuple[Side, ...] = get_args(Side)
NO_SETUP = "It hangs on no set-up that stands. Write it anew under one."
_TWICE: Length = 5e-4
"""Two chainages this near are one place, m; as the reader of as_built.csv has it."""


@value
class SetUp:
    """One standing of the level.

    collimation  level of the line of sight; None where its numbers cannot be used
    """

    row: Row
    level: Typed
    reading: Typed
    collimation: Level | None

    @property
    def asked(self) -> tuple[str, ...]:
        """All that a person is asked about it."""
        if self.row.struck or (self.row.agreed and self.collimation is not None):
            return ()
        return tuple(each for each in (self.level.asked, self.reading.asked, self.row.asked) if each)


@value
class Staff:
    """One shot.

    place     chainage or lip as typed; ``chainage`` and ``lip`` what it is, None and empty where the course has no such
    level     what was shot; None where it cannot be used
    """

    row: Row
    place: str
    chainage: Length | None
    lip: str
    side: Side
    typed: Typed
    level: Level | None
    asked: tuple[str, ...]

    @property
    def usable(self) -> bool:
        """Whether it is a level at a place of the course that stands."""
        return self.level is not None and self.chainage is not None and not self.row.struck

    @property
    def where(self) -> tuple[float, str, Side]:
        """What two shots of one spot have in common."""
        return (round((self.chainage or 0.0) / _TWICE), self.lip, self.side)


def set_ups(rows: Iterable[Row], datum: Level) -> tuple[SetUp, ...]:
    """Read the standings of the level: what the staff showed on a mark of known level."""
    return tuple(_set_up(row, datum) for row in rows)


def staff_shots(rows: Iterable[Row], standings: Iterable[SetUp], designed: Design) -> tuple[Staff, ...]:
    """Read shots in the order they were typed, each under the set-up it names, as that stands now."""
    known = {key: each for each in standings for key in each.row.keys}
    return tuple(_staff(row, known, designed) for row in rows)


def shots_of(staffs: Iterable[Staff]) -> tuple[Shot, ...]:
    """Shots as the works are held against them: all sides of a place together, the last shot of each side."""
    rows: dict[tuple[float, str], dict[str, Staff]] = {}
    for each in staffs:
        if each.usable:
            rows.setdefault(each.where[:2], {})[each.side] = each
    shots = (_shot(sides) for sides in rows.values())
    return tuple(sorted(shots, key=lambda shot: (shot.chainage, shot.lip)))


def overtaken(staffs: Iterable[Staff]) -> Mapping[str, Staff]:
    """By the key of a shot, the later one of the same spot that stands in its place."""
    last: dict[tuple[float, str, Side], Staff] = {}
    every = [each for each in staffs if each.usable]
    for each in every:
        last[each.where] = each
    return {each.row.key: last[each.where] for each in every if last[each.where] is not each}


def collimation_of(set_up: SetUp | None) -> Level | None:
    """The line of sight of a set-up that stands."""
    return None if set_up is None or set_up.row.struck else set_up.collimation


def _set_up(row: Row, datum: Level) -> SetUp:
    known = level(row.text("level"), datum, measure=row.measure)
    reading = staff_reading(row.text("typed"), hung=row.content.get("hung") is True, measure=row.measure)
    collimation = None
    if known.amount is not None and reading.amount is not None:
        collimation = collimation_height(known.amount, reading.amount)
    return SetUp(row=row, level=known, reading=reading, collimation=collimation)


def _staff(row: Row, known: Mapping[str, SetUp], designed: Design) -> Staff:
    place, datum = row.text("place"), designed.job.datum.level
    lips = lip_places(designed.course)
    lip = place if place in lips else ""
    chainage = lips[lip] if lip else number(place.removesuffix("m"))
    on_course = chainage is not None and 0.0 <= chainage <= designed.course.length
    typed, shot, unfounded = _level(row, known, datum)
    return Staff(
        row=row,
        place=place,
        chainage=chainage if on_course else None,
        lip=lip,
        side=_side(row),
        typed=typed,
        level=shot,
        asked=tuple(_asked(row, place, designed, typed, unfounded, on_course=on_course)),
    )


def _level(row: Row, known: Mapping[str, SetUp], datum: Level) -> tuple[Typed, Level | None, str]:
    """What was typed, the level it comes to, and what is missing for it."""
    if row.text("given") == "level":
        typed = level(row.text("typed"), datum, measure=row.measure)
        return typed, typed.amount, ""
    typed = staff_reading(row.text("typed"), hung=row.content.get("hung") is True, measure=row.measure)
    collimation = collimation_of(known.get(row.text("set_up")))
    if collimation is None or typed.amount is None:
        return typed, None, NO_SETUP if collimation is None else ""
    return typed, level_from_collimation(collimation, typed.amount), ""


def _asked(row: Row, place: str, designed: Design, typed: Typed, unfounded: str, *, on_course: bool) -> Iterator[str]:
    if row.struck:
        return
    if not on_course:
        ends = f"0 to {with_unit(designed.course.length, 'm'):g}"
        yield f'"{place[:20]}" is no place of this course: {ends}, or a lip. Where was it?'
    if unfounded:
        yield unfounded
    if typed.asked and (typed.amount is None or not row.agreed):
        yield typed.asked
    if row.asked and not row.agreed:
        yield row.asked


def _side(row: Row) -> Side:
    return next((side for side in SIDES if side == row.text("side")), "middle")


def _shot(sides: Mapping[str, Staff]) -> Shot:
    one = next(iter(sides.values()))
    left, middle, right, dig = (sides[side].level if side in sides else None for side in SIDES)
    notes = "; ".join(note for each in sides.values() if (note := each.row.text("note")))
    return Shot(chainage=one.chainage or 0.0, lip=one.lip, left=left, middle=middle, right=right, dig=dig, note=notes)
