"""Soil as it is dug, tipped and rammed. Volumes are counted as in the ground before digging (bank measure)."""

from beckwright.base.published import Grade
from beckwright.base.tabled import Tabled


def _quoted(low: float, amount: float, high: float, place: str) -> Tabled:
    return Tabled(
        amount=amount,
        low=low,
        high=high,
        unit="1",
        grade=Grade.PUBLISHED,
        source="peurifoy",
        place=f"table 4-1, {place}",
    )


def _assumed(like: Tabled, place: str) -> Tabled:
    return Tabled(
        amount=like.amount,
        low=like.low,
        high=like.high,
        unit=like.unit,
        grade=Grade.ASSUMED,
        source="",
        place=place,
    )


def _handbook(low: float, high: float, place: str) -> Tabled:
    return Tabled(
        amount=(low + high) / 2,
        low=low,
        high=high,
        unit="1",
        grade=Grade.PRACTICE,
        source="",
        place=f"handbook page, {place}",
    )


_SAND_OR_GRAVEL = _quoted(0.05, 0.12, 0.15, "clean sand or gravel; middle from an engineer's table")
_LOAM = _quoted(0.10, 0.25, 0.35, "loamy soil; middle from an engineer's table")
_COMMON_EARTH = _quoted(0.20, 0.325, 0.45, "common earth; middle of its range")

BULKING: dict[str, Tabled] = {
    "sand": _SAND_OR_GRAVEL,
    "gravel": _SAND_OR_GRAVEL,
    "topsoil": _quoted(0.10, 0.175, 0.25, "topsoil; middle of its range"),
    "loam": _LOAM,
    "silt": _assumed(_LOAM, "as loam: no figure for silt found"),
    "common earth": _COMMON_EARTH,
    "made ground": _assumed(_COMMON_EARTH, "as common earth: made ground may be anything"),
    "clay": _quoted(0.30, 0.40, 0.60, "clay; middle from an engineer's table"),
    "rock": _quoted(0.50, 0.65, 0.80, "solid rock; middle of its range"),
}
"""How much dug soil grows: loose volume over bank volume, less 1."""

_RAMMED_LOAM = _handbook(0.82, 0.88, "loam")

RAMMED: dict[str, Tabled] = {
    "sand": _handbook(0.88, 0.92, "sand"),
    "gravel": _handbook(0.88, 0.93, "gravel and sand"),
    "loam": _RAMMED_LOAM,
    "silt": _assumed(_RAMMED_LOAM, "as loam: no figure for silt found"),
    "common earth": _assumed(_RAMMED_LOAM, "as loam: no figure for common earth found"),
    "made ground": _assumed(_RAMMED_LOAM, "as loam: made ground may be anything"),
    "clay": _handbook(0.78, 0.85, "heavy clay"),
}
"""How far dug soil shrinks when rammed: rammed volume over bank volume."""
