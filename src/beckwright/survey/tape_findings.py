"""What fixed points have to say: a tape the others speak against, points nothing checks, tapes that meet too flat."""

import math
from collections.abc import Iterator

from beckwright.base.findings import Finding, Severity
from beckwright.survey.fixing import FixedPoints
from beckwright.survey.observed import Observation
from beckwright.tables.levelling import TEST_LIMIT, WEAK_ANGLE
from beckwright.tables.sources import SOURCES

PRACTICE = "common practice"


def tape_findings(fixed: FixedPoints) -> tuple[Finding, ...]:
    """The findings of a tape survey, the gravest first."""
    return (*_against(fixed), *_unchecked(fixed), *_weak(fixed), *_base(fixed))


def observation_in_words(one: Observation) -> str:
    """``tape A to P``, or ``offset of P from A to B``."""
    if one.measure == "tape":
        return f"tape {one.points[0]} to {one.points[1]}"
    return f"{one.measure} of {one.points[2]} from {one.points[0]} to {one.points[1]}"


def _against(fixed: FixedPoints) -> Iterator[Finding]:
    if not fixed.suspects:
        return
    size = max(abs(fixed.standardized))
    lines = sorted({fixed.observations[row].line for row in fixed.suspects})
    told = [_one_against(fixed, row) for row in fixed.suspects]
    several = " One of them is wrong, and these tapes cannot tell which." if len(told) > 1 else ""
    chance = f"residuals are up to {size:.1f} times what chance leaves, {TEST_LIMIT.amount:g} are allowed"
    yield Finding(
        severity=Severity.FAIL,
        code="tape-against-others",
        place=f"{fixed.file} line{'s' if len(lines) > 1 else ''} {', '.join(map(str, lines))}",
        says=f"{'; '.join(told)}: {chance}.{several}",
        cure="Look for a slip in the row, or tape it again; then put the others to the test again.",
        source=SOURCES["baarda-1968"].reference,
    )


def _one_against(fixed: FixedPoints, row: int) -> str:
    one, gross = fixed.observations[row], float(fixed.gross[row])
    way = "long" if gross * (one.amount if one.measure != "tape" else 1) > 0 else "short"
    words = observation_in_words(one)
    return f"{words[:1].upper()}{words[1:]}, {abs(one.amount):.3f} m, is {abs(gross):.3f} m too {way} for the others"


def _unchecked(fixed: FixedPoints) -> Iterator[Finding]:
    if fixed.unchecked:
        yield Finding(
            severity=Severity.CAUTION,
            code="points-unchecked",
            place=f"{fixed.file} {', '.join(fixed.unchecked)}",
            says="Nothing is to spare here: a slip in one of these tapes would not show.",
            cure="Tape each of them once more, from another point.",
            source=PRACTICE,
        )


def _weak(fixed: FixedPoints) -> Iterator[Finding]:
    limit = math.degrees(WEAK_ANGLE.amount)
    for name, angle in fixed.weak:
        yield Finding(
            severity=Severity.CAUTION,
            code="tapes-meet-flat",
            place=f"{fixed.file} {name}",
            says=f"Its tapes meet at {math.degrees(angle):.0f}° at best, {limit:.0f} to {180 - limit:.0f}° are wanted.",
            cure="Tape it from a point that lies squarer to the others.",
            source=PRACTICE,
        )


def _base(fixed: FixedPoints) -> Iterator[Finding]:
    if fixed.base:
        first, second = fixed.base
        yield Finding(
            severity=Severity.NOTE,
            code="own-grid",
            place=fixed.file,
            says=f"No marks were given: {first} lies at 0, 0, and x runs from there to {second}.",
            cure="Give two known marks with x_m and y_m if the survey has to lie on another grid.",
            source="the tape book",
        )
