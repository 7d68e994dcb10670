"""Points fixed by tape: where they lie, how sure that is, and which tape the others speak against."""

import math
from collections.abc import Mapping
from itertools import combinations

import numpy as np

from beckwright.base.errors import JobError
from beckwright.base.quantities import Angle, BoolArray, FloatArray, Length, Lengths, Level, Points, Ratios
from beckwright.base.values import value
from beckwright.equations.taping import ellipse_major, ellipse_minor, ellipse_turn
from beckwright.job.wording.sentences import shown
from beckwright.survey.adjustment import Adjusted, adjust
from beckwright.survey.against import UNCHECKED, suspects, tested
from beckwright.survey.observed import Observation, observations
from beckwright.survey.quantities import row_problem
from beckwright.survey.starting import left_of, starting_places
from beckwright.survey.tapes import Tapes
from beckwright.tables.levelling import OFFSET_SIGMA, TEST_LIMIT, WEAK_ANGLE


@value
class Ellipse:
    """Standard error ellipse: half axes, m, and the direction of the long one, anticlockwise from the x axis."""

    major: Length
    minor: Length
    turn: Angle


@value
class FixedPoints:
    """p points and n observations.

    places         (p, 2), m
    marks          p, which were known before
    errors         (p, 2), m, standard errors of x and y: by the stated standard deviations, or larger if the residuals
                   are
    ellipses       one a point
    observations   the tapes and offsets, in plan
    residuals      n, m, adjusted less measured
    redundancies   n, share of each that the others check
    standardized   n, residual over its own standard deviation; zero where nothing checks it
    gross          n, m, by how much each would be too long if it alone were wrong; zero where nothing checks it
    freedom        observations to spare; ``sigma0`` their standard deviation of unit weight
    unchecked      points no measurement is to spare for
    weak           points whose tapes meet at a poor angle, with the best angle, rad
    suspects       numbers of the observations the others speak against; several where they cannot be told apart
    base           first and second point of the system where no marks were known; else empty
    """

    file: str
    names: tuple[str, ...]
    places: Points
    marks: BoolArray
    errors: Points
    ellipses: tuple[Ellipse, ...]
    observations: tuple[Observation, ...]
    residuals: Lengths
    redundancies: Ratios
    standardized: Ratios
    gross: Lengths
    freedom: int
    sigma0: float
    unchecked: tuple[str, ...]
    weak: tuple[tuple[str, Angle], ...]
    suspects: tuple[int, ...]
    base: tuple[str, ...]


def fix_points(
    tapes: Tapes, levels: Mapping[str, Level] | None = None, *, tape_sigma: Length | None = None
) -> FixedPoints:
    """Fix every point of a tape book by least squares, and test every tape against the others.

    levels      level of points, for tapes pulled along a slope without their fall
    tape_sigma  m, one standard deviation of a taped length; by its length unless stated

    JobError where a slope cannot be reduced, where tapes do not meet, where a side is not known or not as it was said,
    or where a point is left free.
    """
    observed = observations(tapes, levels, tape_sigma)
    starts = starting_places(tapes, observed)
    names = tuple(starts)
    known = {mark.point for mark in tapes.marks}
    base = () if known else names[:2]
    marks = np.array([name in known for name in names])
    held = np.column_stack([marks, marks])
    if base:
        held[0], held[1, 1] = True, True
    adjusted = adjust(tapes.file, names, np.array([starts[name] for name in names]), held, observed)
    _refuse_wrong_sides(tapes, names, adjusted.places)
    errors, ellipses = _precision(adjusted)
    standardized, gross = tested(observed, adjusted)
    spoiling = suspects(tapes.file, names, held, observed, adjusted.places, standardized)
    gross[list(spoiling)] = list(spoiling.values())
    return FixedPoints(
        file=tapes.file,
        names=names,
        places=adjusted.places,
        marks=marks,
        errors=errors,
        ellipses=ellipses,
        observations=observed,
        residuals=adjusted.residuals,
        redundancies=adjusted.redundancies,
        standardized=standardized,
        gross=gross,
        freedom=adjusted.freedom,
        sigma0=adjusted.sigma0,
        unchecked=_unchecked(names, held, observed, adjusted),
        weak=_weak(names, marks, observed, adjusted.places, base),
        suspects=tuple(spoiling),
        base=base,
    )


def _refuse_wrong_sides(tapes: Tapes, names: tuple[str, ...], places: Points) -> None:
    there: dict[str, FloatArray] = dict(zip(names, places, strict=True))
    said = [side for side in tapes.sides if {side.start, side.end, side.point} <= there.keys()]
    off = [left_of(side, there, there[side.point]) * (1 if side.left else -1) for side in said]
    may = TEST_LIMIT.amount * OFFSET_SIGMA.amount
    wrong = [side for side, right_way in zip(said, off, strict=True) if right_way < -may]
    problems = [
        row_problem(
            tapes.file,
            side.line,
            f"{shown(side.point)} is said to lie {'left' if side.left else 'right'} of {shown(side.start)} to "
            f"{shown(side.end)}, and the tapes put it on the other side",
            "Word and tapes must agree",
            "See which is wrong: the side, the order of the two points, or a tape",
        )
        for side in wrong
    ]
    if problems:
        raise JobError(problems)


def _precision(adjusted: Adjusted) -> tuple[Points, tuple[Ellipse, ...]]:
    """Few tapes to spare may fit by luck: a unit weight below one makes nothing surer than it was stated."""
    covariance = adjusted.covariance * max(1.0, adjusted.sigma0) ** 2
    errors = np.sqrt(np.diag(covariance)).reshape(-1, 2)
    return errors, tuple(_ellipse(covariance[row : row + 2, row : row + 2]) for row in range(0, len(covariance), 2))


def _ellipse(block: FloatArray) -> Ellipse:
    x, y, both = float(block[0, 0]), float(block[1, 1]), float(block[0, 1])
    if x + y == 0:
        return Ellipse(major=0.0, minor=0.0, turn=0.0)
    return Ellipse(
        major=ellipse_major(x, y, both),
        minor=ellipse_minor(x, y, both) if x * y > both * both else 0.0,
        turn=float(ellipse_turn(x, y, both)),
    )


def _unchecked(
    names: tuple[str, ...], held: BoolArray, observed: tuple[Observation, ...], adjusted: Adjusted
) -> tuple[str, ...]:
    checked = {
        point
        for one, share in zip(observed, adjusted.redundancies, strict=True)
        for point in one.points
        if share > UNCHECKED
    }
    return tuple(name for name, fixed in zip(names, held, strict=True) if name not in checked and not fixed.all())


def _weak(
    names: tuple[str, ...], marks: BoolArray, observed: tuple[Observation, ...], places: Points, base: tuple[str, ...]
) -> tuple[tuple[str, Angle], ...]:
    """Points held by tapes alone, none of which meet at a fair angle."""
    squared = {one.points[2] for one in observed if one.measure == "offset"}
    weak = []
    for name, mark in zip(names, marks, strict=True):
        angles = [] if mark or name in squared or name in base else _angles(name, names, observed, places)
        best = min(angles, key=lambda angle: abs(angle - math.pi / 2), default=math.pi / 2)
        if not WEAK_ANGLE.amount <= best <= math.pi - WEAK_ANGLE.amount:
            weak.append((name, best))
    return tuple(weak)


def _angles(name: str, names: tuple[str, ...], observed: tuple[Observation, ...], places: Points) -> list[Angle]:
    here = places[names.index(name)]
    ends = {point for one in observed if one.measure == "tape" and name in one.points for point in one.points} - {name}
    rays = [(places[names.index(point)] - here) / math.dist(places[names.index(point)], here) for point in sorted(ends)]
    return [math.acos(max(-1.0, min(1.0, float(one @ other)))) for one, other in combinations(rays, 2)]
