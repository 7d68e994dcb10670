"""From readings to points: one level for each, however often it was shot."""

from beckwright.base.quantities import Length, Level
from beckwright.base.values import value
from beckwright.survey.reduction import ReducedBook


@value
class PointLevel:
    """The level of one point.

    sigma   m, one standard deviation; zero for a level known before
    spread  m, between the highest and the lowest level it was shot at
    shots   how often it was reached; zero where it was only the start of a run
    """

    point: str
    level: Level
    sigma: Length
    spread: Length
    shots: int
    code: str
    breakline: str


def point_levels(reduced: ReducedBook) -> tuple[PointLevel, ...]:
    """Every point of a book once, in the order it first stands there.

    A known level is kept as known. A point shot again has the mean of its levels, and is as sure as the surest of
    them: shots from one bench mark share its errors, so that more of them promise nothing.
    """
    book, rows = reduced.book, dict[str, list[int]]()
    for row, point in enumerate(book.points):
        rows.setdefault(point, []).append(row)
    return tuple(_point(reduced, point, here) for point, here in rows.items())


def levels_by_point(reduced: ReducedBook) -> dict[str, Level]:
    """The level of every point, m."""
    return {one.point: one.level for one in point_levels(reduced)}


def _point(reduced: ReducedBook, point: str, rows: list[int]) -> PointLevel:
    book, known = reduced.book, reduced.book.known_levels
    reached = [row for row in rows if book.kinds[row] != "back"]
    levels, sigmas = reduced.adjusted[reached], reduced.sigmas[reached]
    every = [*levels, known[point]] if point in known else list(levels)
    return PointLevel(
        point=point,
        level=known[point] if point in known else float(levels.mean()),
        sigma=0.0 if point in known else float(sigmas.min()),
        spread=float(max(every) - min(every)),
        shots=len(reached),
        code=next((book.codes[row] for row in rows if book.codes[row]), ""),
        breakline=next((book.breaklines[row] for row in rows if book.breaklines[row]), ""),
    )
