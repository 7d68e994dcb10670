"""What was measured, in plan: every tape and offset as an observation with its weight."""

from collections.abc import Mapping
from typing import Literal

import numpy as np

from beckwright.base.errors import JobError, Problem
from beckwright.base.quantities import FloatArray, Length, Level
from beckwright.base.values import value
from beckwright.equations.taping import level_length, tape_sigma
from beckwright.job.wording.sentences import shown
from beckwright.survey.quantities import row_problem
from beckwright.survey.tapes import Tape, Tapes
from beckwright.tables.levelling import OFFSET_SIGMA, TAPE_READING, TAPE_STRETCH

Measure = Literal["tape", "along", "offset"]


@value
class Observation:
    """One measured number.

    measure  a tape between two points, or along or off the line between two points to a third
    points   the two of a tape; start and end of the line and the point of an offset
    amount   m in plan; an offset is positive to the left
    sigma    m, one standard deviation
    line     of the tape book
    """

    measure: Measure
    points: tuple[str, ...]
    amount: Length
    sigma: Length
    line: int


def observations(tapes: Tapes, levels: Mapping[str, Level] | None, sigma: Length | None) -> tuple[Observation, ...]:
    """Every tape reduced to plan, every offset as two numbers.

    JobError where a slope cannot be reduced.
    """
    problems = [problem for tape in tapes.tapes for problem in _unreduced(tapes.file, tape, levels)]
    if problems:
        raise JobError(problems)
    taped = [_taped(tape, levels or {}, sigma) for tape in tapes.tapes]
    offsets = [
        Observation(
            measure=measure,
            points=(offset.start, offset.end, offset.point),
            amount=amount,
            sigma=OFFSET_SIGMA.amount,
            line=offset.line,
        )
        for offset in tapes.offsets
        for measure, amount in _two(offset.along, offset.left)
    ]
    return (*taped, *offsets)


def _two(along: Length, left: Length) -> tuple[tuple[Measure, Length], tuple[Measure, Length]]:
    return ("along", along), ("offset", left)


def _taped(tape: Tape, levels: Mapping[str, Level], sigma: Length | None) -> Observation:
    plan = level_length(tape.length, _fall(tape, levels)) if tape.slope else tape.length
    return Observation(
        measure="tape",
        points=(tape.start, tape.end),
        amount=plan,
        sigma=sigma or tape_sigma(TAPE_READING.amount, TAPE_STRETCH.amount, tape.length),
        line=tape.line,
    )


def _fall(tape: Tape, levels: Mapping[str, Level]) -> Length:
    return tape.fall if tape.fall is not None else levels[tape.start] - levels[tape.end]


def _unreduced(file: str, tape: Tape, levels: Mapping[str, Level] | None) -> list[Problem]:
    if not tape.slope or tape.fall is not None:
        return []
    missing = [shown(point) for point in (tape.start, tape.end) if point not in (levels or {})]
    if missing:
        found = f"the tape lies on a slope and the level of {' and '.join(missing)} is not known"
        rule = "A slope is reduced to plan by the levels of its ends"
        return [row_problem(file, tape.line, found, rule, "Write fall_m, or give the level book along with the tapes")]
    fall = _fall(tape, levels or {})
    if abs(fall) >= tape.length:
        found = f"the levels differ by {abs(fall):.3f} m over a tape of {tape.length:.3f} m"
        return [row_problem(file, tape.line, found, "A tape is longer than its fall", "Mend the tape or the levels")]
    return []


def computed(observation: Observation, places: FloatArray) -> Length:
    """What an observation would be between places, (2, 2) or (3, 2)."""
    base = places[1] - places[0]
    length = float(np.hypot(*base))
    if observation.measure == "tape":
        return length
    reach = places[2] - places[0]
    if observation.measure == "along":
        return float(reach @ base) / length
    return float(base[0] * reach[1] - base[1] * reach[0]) / length


def slopes(observation: Observation, places: FloatArray) -> FloatArray:
    """How an observation grows as each of its places moves, shape of ``places``."""
    base = places[1] - places[0]
    length = float(np.hypot(*base))
    ahead = base / length
    left = np.array([-ahead[1], ahead[0]])
    if observation.measure == "tape":
        return np.array([-ahead, ahead])
    reach = places[2] - places[0]
    # The line turns as its ends move: what is far along then moves sideways, what is far off moves along.
    if observation.measure == "along":
        moved, turned = ahead, left * (reach @ left) / length
    else:
        moved, turned = left, -left * (reach @ ahead) / length
    return np.array([-moved - turned, turned, moved])
