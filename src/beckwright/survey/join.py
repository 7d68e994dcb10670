"""Levels and positions joined by point into the survey of a job."""

import csv
import io
from pathlib import Path

from beckwright.base.errors import JobError, Problem
from beckwright.base.quantities import Length, Level
from beckwright.base.values import value
from beckwright.job.tables import SURVEY
from beckwright.survey.fixing import FixedPoints
from beckwright.survey.levelled import point_levels
from beckwright.survey.new_file import write_new
from beckwright.survey.reduction import ReducedBook

HEADS = tuple(column.name for column in SURVEY)
DECIMALS = 3


@value
class SurveyPoint:
    """One row of survey.csv, with how sure it is: ``place_sigma`` the half long axis of its error ellipse."""

    point: str
    x: Length
    y: Length
    level: Level
    code: str
    breakline: str
    level_sigma: Length
    place_sigma: Length


@value
class Joined:
    """The points that have both, in the order of the level book, and the names of those that lack one."""

    points: tuple[SurveyPoint, ...]
    without_place: tuple[str, ...]
    without_level: tuple[str, ...]


def join(reduced: ReducedBook, fixed: FixedPoints) -> Joined:
    """Join a level book and a tape book by the names of their points.

    JobError if the levels do not close or a tape speaks against the others: what is wrong must not reach the ground.
    """
    problems = []
    if reduced.refused:
        rule, remedy = "Only levels that close are joined", f"Run survey levels on {reduced.book.file} and mend the row"
        problems.append(Problem(place=reduced.book.file, found="a line does not close", rule=rule, remedy=remedy))
    if fixed.suspects:
        rule, remedy = "Only tapes that agree are joined", f"Run survey tapes on {fixed.file} and mend the row"
        found = "a tape is against the others"
        problems.append(Problem(place=fixed.file, found=found, rule=rule, remedy=remedy))
    if problems:
        raise JobError(problems)
    places = {name: row for row, name in enumerate(fixed.names)}
    levels = point_levels(reduced)
    points = tuple(
        SurveyPoint(
            point=one.point,
            x=float(fixed.places[places[one.point], 0]),
            y=float(fixed.places[places[one.point], 1]),
            level=one.level,
            code=one.code,
            breakline=one.breakline,
            level_sigma=one.sigma,
            place_sigma=fixed.ellipses[places[one.point]].major,
        )
        for one in levels
        if one.point in places
    )
    levelled = {one.point for one in levels}
    return Joined(
        points=points,
        without_place=tuple(one.point for one in levels if one.point not in places),
        without_level=tuple(name for name in fixed.names if name not in levelled),
    )


def write_joined(joined: Joined, path: Path) -> None:
    """Write survey.csv. JobError if there is a file already, which is left alone, or if it cannot be written."""
    write_new(joined_csv(joined), path)


def joined_csv(joined: Joined) -> str:
    """The text of survey.csv, to the millimetre."""
    text = io.StringIO()
    rows = csv.writer(text, lineterminator="\n")
    rows.writerow(HEADS)
    rows.writerows(_cells(one) for one in joined.points)
    return text.getvalue()


def _cells(one: SurveyPoint) -> tuple[str, ...]:
    numbers = (f"{number:.{DECIMALS}f}" for number in (one.x, one.y, one.level))
    return (one.point, *numbers, one.code, one.breakline)
