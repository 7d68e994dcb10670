"""What is not sure about a survey: asked with the choices, never guessed. Units, axes, place, stray levels."""

from collections.abc import Iterator

import numpy as np

from beckwright.base.quantities import BoolArray, FloatArray, Length, Points
from beckwright.base.values import value
from beckwright.base.words import grouped
from beckwright.survey.counted import counted
from beckwright.survey.units import UNITS, WORDS

FAR: Length = 10_000.0
"""Coordinates beyond this are a national grid's: long to type, and the digits of a drawing go to its number."""
ROUND: Length = 1000.0
"""A shift is whole kilometres, so that the last digits stay those the surveyor reads aloud."""
BROAD: Length = 1000.0
"""A garden wider than this is more likely in millimetres, m."""
NARROW: Length = 0.5
"""A survey narrower than this is in another unit, or in degrees, m."""
HIGHEST, DEEPEST = 9000.0, -1000.0
TALL = 1.0
"""Difference of level over width of plan beyond which the ground is steeper than ground is."""
STRAY: Length = 1.5
"""A level this far off those around it is looked at: higher than a garden wall."""
STRAY_TIMES = 10.0
"""And this many times what the levels of the site differ from those around them as a rule."""
NEIGHBOURS = 8


@value
class Question:
    """One thing that was not sure.

    says     what was seen and why it is not sure
    choices  the option to type and what it would mean, for each choice
    """

    about: str
    says: str
    choices: tuple[tuple[str, str], ...]


def unit_doubts(places: FloatArray) -> Iterator[Question]:
    """Look at places (n, 3) that were taken for metres, nobody having said so. One question at most."""
    (wide, _), _ = spread(places)
    if wide > BROAD:
        says = f"Taken for metres the survey would be {grouped(wide)} m wide. Which unit is it in?"
        yield Question(about="unit", says=says, choices=_unit_choices(wide))
    elif wide < NARROW:
        says = (
            f"Taken for metres the survey would be {grouped(wide * 1000)} mm wide: in degrees, or in another unit? "
            "Degrees must be turned into a grid in metres first."
        )
        yield Question(about="unit", says=says, choices=_unit_choices(wide))


def level_doubts(places: FloatArray, unit: str) -> Iterator[Question]:
    """Look at levels that were taken for the unit of the plan. ``places`` (n, 3) are in metres."""
    (wide, _), tall = spread(places)
    if tall <= TALL * wide and DEEPEST <= float(np.median(places[:, 2])) <= HIGHEST:
        return
    low, high = places[:, 2].min(), places[:, 2].max()
    says = (
        f"The levels run from {grouped(low, 2)} to {grouped(high, 2)} m on a site {grouped(wide, 1)} m wide. "
        "Are they in another unit than the plan?"
    )
    here = UNITS[unit]
    others = [other for other in ("mm", "cm", "m") if other != unit]
    choices = [
        (f"--level-unit {other}", f"{WORDS[other]}: {grouped(tall * UNITS[other] / here, 2)} m of fall")
        for other in others
    ]
    choices.append((f"--level-unit {unit}", f"{WORDS[unit]}, as they stand"))
    yield Question(about="level unit", says=says, choices=tuple(choices))


def _unit_choices(wide: float) -> tuple[tuple[str, str], ...]:
    each = ("mm", "cm", "ft", "m")
    return tuple((f"--unit {unit}", f"{WORDS[unit]}: {grouped(wide * UNITS[unit], 1)} m wide") for unit in each)


def axis_doubts(places: FloatArray) -> Iterator[Question]:
    """Notice a level that stands in the place of x or y: the ground would stand on its edge."""
    (wide, narrow), tall = spread(places)
    if wide > BROAD or tall <= narrow or tall < 0.5 * wide or narrow > 0.25 * wide:
        return
    which = "x" if np.ptp(places[:, 0]) < np.ptp(places[:, 1]) else "y"
    says = (
        f"{which} ranges over {grouped(narrow, 2)} m and z over {grouped(tall, 2)} m: "
        f"has the level changed places with {which}?"
    )
    turned = "zyx" if which == "x" else "xzy"
    choices = ((f"--axes {turned}", f"yes, {which} and z change places"), ("--axes xyz", "no, as they stand"))
    yield Question(about="axes", says=says, choices=choices)


def order_doubts(plan: Points, marks: Points | None) -> Iterator[Question]:
    """Notice x and y that have changed places, when marks of the job are known in plan (m, 2)."""
    if marks is None or not len(marks):
        return
    as_read, turned = _covered(plan, marks), _covered(plan[:, ::-1], marks)
    if turned > as_read:
        says = (
            f"{turned} of the {counted(len(marks), 'mark')} of the job lie in the survey if x and y change places, "
            f"{as_read} as they stand."
        )
        choices = (("--axes yxz", "x and y change places"), ("--axes xyz", "as they stand"))
        yield Question(about="axes", says=says, choices=choices)


def _covered(plan: Points, marks: Points) -> int:
    """How many marks lie in the rectangle of the survey."""
    inside = (marks >= plan.min(axis=0)) & (marks <= plan.max(axis=0))
    return int(inside.all(axis=1).sum())


def place_doubts(plan: Points, marks: Points | None) -> Iterator[Question]:
    """Offer a shift to a survey far from its grid's zero, unless the job's own marks lie there too."""
    if np.abs(plan).max() <= FAR or (marks is not None and _covered(plan, marks)):
        return
    east, north = (float(np.floor(low / ROUND) * ROUND) for low in plan.min(axis=0))
    says = (
        f"The survey lies at x {grouped(plan[:, 0].min())}, y {grouped(plan[:, 1].min())} m, "
        "as on a national grid. Shorter numbers are easier to type and to set out with."
    )
    choices = (
        (f"--shift {east:.0f},{north:.0f}", "taken off every x and y; the file will say so"),
        ("--shift none", "leave the numbers as they are"),
    )
    yield Question(about="place", says=says, choices=choices)


def stray_levels(places: FloatArray) -> BoolArray:
    """Which levels lie far off those around them: (n,). A level left at zero is the usual one."""
    from scipy.spatial import cKDTree

    if len(places) <= NEIGHBOURS:
        return left_at_zero(places[:, 2])
    # A place shot twice is no neighbour of itself: its other level would speak for it.
    near = np.asarray(cKDTree(places[:, :2]).query(places[:, :2], k=NEIGHBOURS + 1)[1])[:, 1:]
    apart = np.abs(places[near, 2] - places[:, 2:])
    off = np.abs(np.median(places[near, 2], axis=1) - places[:, 2])
    usual = 1.4826 * float(np.median(off))
    # At the top of a wall a point is far off most of those around, but not alone up there.
    stray: BoolArray = (off > max(STRAY, STRAY_TIMES * usual)) & (apart.min(axis=1) > STRAY)
    return stray | left_at_zero(places[:, 2])


def left_at_zero(levels: FloatArray) -> BoolArray:
    """Which levels (n,) are zero where the others are far from it: nobody filled them in."""
    zero: BoolArray = levels == 0.0
    others = levels[~zero]
    if not len(others) or min(abs(others.min()), abs(others.max())) < 2 * STRAY or others.min() < 0 < others.max():
        return np.zeros(len(levels), dtype=bool)
    return zero


def stray_question(places: FloatArray, stray: BoolArray, named: tuple[str, ...]) -> Question:
    """Ask what to do with levels far off those around them."""
    rows = np.flatnonzero(stray)
    first = ", ".join(f"{named[row]} at {grouped(places[row, 2], 2)} m" for row in rows[:4])
    more = f" and {len(rows) - 4} more" if len(rows) > 4 else ""
    says = f"{counted(len(rows), 'level lies', 'levels lie')} far off those around: {first}{more}."
    choices = (("--outliers leave-out", "leave them out"), ("--outliers keep", "they are right"))
    return Question(about="levels", says=says, choices=choices)


def twice_question(count: int, worst: Length, named: str) -> Question:
    """Ask which level holds where one place was shot more than once with different levels."""
    says = (
        f"{counted(count, 'place was', 'places were')} shot more than once with different levels, "
        f"by up to {grouped(worst * 1000)} mm ({named})."
    )
    choices = (
        ("--duplicates first", "the level that stands first in the file"),
        ("--duplicates lowest", "the lowest"),
        ("--duplicates highest", "the highest"),
        ("--duplicates middle", "the middle of them"),
    )
    return Question(about="duplicates", says=says, choices=choices)


def spread(places: FloatArray) -> tuple[tuple[Length, Length], Length]:
    """Wider and narrower extent in plan, and of level, a few stray points apart."""
    edge = 2.0 if len(places) >= 50 else 0.0
    low, high = np.percentile(places, [edge, 100.0 - edge], axis=0)
    x, y, z = (high - low).tolist()
    return (max(x, y), min(x, y)), z
