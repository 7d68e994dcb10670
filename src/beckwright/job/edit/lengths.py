"""How reaches give and take length and fall, so that the sums along the course stay what they were."""

from beckwright.job.checks.course import SHORTEST
from beckwright.job.convert import reach_lengths, reach_names
from beckwright.job.edit.refuse import refuse_at
from beckwright.job.edit.rewrite import Put, Rewrite
from beckwright.job.written.course import CourseWritten, RunWritten, StepWritten

REACHES = ("course", "reaches")
SAME = 1e-9
"""Two sums of lengths or falls closer than this are one, m or mm."""
DECIMALS = 3
"""Metres are written to the millimetre, millimetres to a thousandth: no finer than anybody builds, and no dust."""

FINEST = 4


def tidy(number: float) -> float:
    """A number without what binary arithmetic left behind."""
    return round(number, DECIMALS) + 0.0


def as_given(number: float) -> float:
    """A place or level as it was typed, m, to a tenth of a millimetre: 21 ft 6 in is 6.5532 m."""
    return round(number, FINEST) + 0.0


def longer(course: CourseWritten, place: int, by: float) -> list[Rewrite]:
    """Make a run or pool longer by metres, below 0 shorter; one with open length needs nothing written.

    Raises ``JobError`` where it would be shorter than a reach may be.
    """
    reach, length = course.reaches[place], reach_lengths(course)[place] + by
    if tidy(length) < SHORTEST:
        found = f"{reach_names(course)[place]} would be {length:.2f} m long"
        remedy = f"Leave {SHORTEST - length:.2f} m more for it, or take it out"
        refuse_at((*REACHES, place, "length_m"), found, f"A reach is at least {SHORTEST:g} m long", remedy)
    if isinstance(reach, StepWritten) or reach.length_m is None or abs(by) < SAME:
        return []
    return [Put(path=(*REACHES, place, "length_m"), held=tidy(length))]


def falls_more(course: CourseWritten, place: int, by: float) -> list[Rewrite]:
    """Let a run or step fall more by millimetres, below 0 less.

    Raises ``JobError`` where it would rise.
    """
    reach = course.reaches[place]
    key = "fall_mm" if isinstance(reach, RunWritten) else "drop_mm"
    fall = tidy(getattr(reach, key) + by)
    if fall < 0:
        found = f"{reach_names(course)[place]} would rise by {-fall:g} mm"
        refuse_at((*REACHES, place, key), found, "Water runs down", f"Leave {-fall:g} mm more for it to fall")
    return [Put(path=(*REACHES, place, key), held=fall)]


def nearest_run(course: CourseWritten, place: float) -> int | None:
    """Number of the run nearest to a place among the reaches, not that at the place; of two, the one upstream."""
    away = {
        number: abs(number - place)
        for number, reach in enumerate(course.reaches)
        if isinstance(reach, RunWritten) and number != place
    }
    return min(away, key=lambda number: away[number], default=None)


def open_run(course: CourseWritten) -> int | None:
    """Number of the run whose length is left open."""
    for place, reach in enumerate(course.reaches):
        if isinstance(reach, RunWritten) and reach.length_m is None:
            return place
    return None
