"""Spots and the tapes that find them from fixed marks."""

from collections.abc import Sequence
from itertools import combinations

import numpy as np

from beckwright.base.quantities import Angle, FloatArray, Length, Levels, Points
from beckwright.job.model import Mark
from beckwright.stages.ground import Ground, inside, level_at
from beckwright.stages.setting_out.values import Spot, Tape, Tapes

SHARPEST: Angle = float(np.radians(30.0))
"""Two tapes that meet at less, or at more than the rest of a half turn, fix a spot badly (common practice): at 30
degrees an error of 10 mm in a tape moves the spot 20 mm."""

TAPE: Length = 30.0
"""Longest tape on a small site, m (common practice)."""


def spots(points: Points, ground: Ground, otherwise: Levels, marks: tuple[Mark, ...]) -> tuple[Spot, ...]:
    """Spots at ``points`` (n, 2); where the survey does not reach, the ground stands at ``otherwise`` (n,)."""
    on = inside(ground, points)
    levels = np.array(otherwise, dtype=float)
    levels[on] = level_at(ground, points[on])
    return tuple(
        Spot(at=(float(x), float(y)), ground=float(level), surveyed=bool(known), tapes=tapes_to((x, y), marks))
        for (x, y), level, known in zip(points, levels, on, strict=True)
    )


def tapes_to(at: tuple[Length, Length], marks: tuple[Mark, ...]) -> Tapes | None:
    """Tapes from the two marks that meet nearest to square, good pairs first; None below two marks."""
    if len(marks) < 2:
        return None
    ways = np.array([mark.at for mark in marks]) - at
    lengths = np.hypot(*ways.T)
    # Rounded, so that a turned job whose pairs tie does not swap them.
    first, second = max(combinations(range(len(marks)), 2), key=lambda pair: _merit(ways, lengths, pair))
    angle = _angle(ways[first], ways[second])
    rest = [number for number in np.argsort(lengths, kind="stable") if number not in (first, second)]
    names = [short_name(mark, marks) for mark in marks]
    one, other, *others = (Tape(mark=names[n], length=float(lengths[n])) for n in (first, second, *rest))
    base = ways[second] - ways[first]
    return Tapes(
        first=one,
        second=other,
        check=others[0] if others else None,
        angle=angle,
        on_left=bool(base[1] * ways[first][0] > base[0] * ways[first][1]),
        good=SHARPEST <= angle <= np.pi - SHARPEST and max(one.length, other.length) <= TAPE,
    )


def short_name(mark: Mark, marks: Sequence[Mark]) -> str:
    """What stands before the comma of a mark's name, where that is nobody else's."""
    short = mark.name.split(",")[0].strip()
    alike = [other for other in marks if other.name.split(",")[0].strip() == short]
    return short if len(alike) == 1 else mark.name


def _merit(ways: FloatArray, lengths: FloatArray, pair: tuple[int, int]) -> tuple[bool, bool, float]:
    """A good pair before a long one, a long one before a flat one: a flat one finds nothing."""
    angle = _angle(ways[pair[0]], ways[pair[1]])
    sharp = SHARPEST <= angle <= np.pi - SHARPEST
    within = bool(max(lengths[pair[0]], lengths[pair[1]]) <= TAPE)
    return sharp and within, sharp, round(float(np.sin(angle)), 9)


def _angle(one: FloatArray, other: FloatArray) -> Angle:
    return float(abs(np.arctan2(one[0] * other[1] - one[1] * other[0], one @ other)))


def flatness(tapes: Tapes) -> Angle:
    """How far from lying along each other two tapes are: at most a quarter turn."""
    return min(tapes.angle, float(np.pi) - tapes.angle)
