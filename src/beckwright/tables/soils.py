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


def _bank(low: float, amount: float, high: float, place: str) -> Tabled:
    return Tabled(
        amount=amount,
        low=low,
        high=high,
        unit="kg/m3",
        grade=Grade.PRACTICE,
        source="",
        place=f"{place}; ends recalled",
    )


_DAMP_EARTH = _bank(1700, 1839, 2050, "common earth, 3100 lb a cubic yard in a handbook's table")

DENSITY: dict[str, Tabled] = {
    "sand": _bank(1600, 1899, 2000, "sand and gravel, 3200 lb a cubic yard in a handbook's table"),
    "gravel": _bank(1700, 1899, 2150, "sand and gravel, 3200 lb a cubic yard in a handbook's table"),
    "topsoil": _bank(1200, 1400, 1600, "topsoil with its roots, recalled"),
    "loam": _bank(1450, 1600, 1900, "loam, damp, recalled"),
    "silt": _bank(1550, 1750, 1950, "silt, damp, recalled"),
    "common earth": _DAMP_EARTH,
    "made ground": _assumed(_DAMP_EARTH, "as common earth: made ground may be anything"),
    "clay": _bank(1650, 1780, 2050, "clay, 3000 lb a cubic yard in a handbook's table"),
}
"""Density of soil in the ground, damp as it is dug."""


def _stands(low: float, amount: float, high: float, place: str) -> Tabled:
    """Which soil is of which type is our reading: only a competent person on the spot can tell."""
    return Tabled(
        amount=amount,
        low=low,
        high=high,
        unit="1",
        grade=Grade.PRACTICE,
        source="",
        place=f"29 CFR 1926 subpart P, table B-1: {place}",
        jurisdiction="US",
    )


_TYPE_B = "type B, 1 to 1"
_TYPE_C = "type C, 1.5 to 1"

STANDS: dict[str, Tabled] = {
    "sand": _stands(1.5, 1.5, 1.5, _TYPE_C),
    "gravel": _stands(1.5, 1.5, 1.5, _TYPE_C),
    "loam": _stands(1.0, 1.0, 1.5, _TYPE_B),
    "silt": _stands(1.0, 1.0, 1.5, _TYPE_B),
    "common earth": _stands(1.0, 1.0, 1.5, _TYPE_B),
    "made ground": _stands(1.0, 1.5, 1.5, f"{_TYPE_C}; dug before and may be anything"),
    "clay": _stands(0.75, 1.0, 1.5, f"{_TYPE_B}; type A, 0.75 to 1, only where it is stiff and without fissures"),
}
"""Steepest side of an open dig less than 6 m deep, horizontal for each 1 up; flatter where water comes in."""

_LOOSE_EARTH = Tabled(
    amount=1.5, low=1.2, high=2.1, unit="1", grade=Grade.PRACTICE, source="", place="loose earth, 25 to 40 degrees"
)

REPOSE: dict[str, Tabled] = {
    "sand": _assumed(_LOOSE_EARTH, "as loose earth; dry sand is told to lie at 34 degrees"),
    "gravel": _assumed(_LOOSE_EARTH, "as loose earth; loose gravel is told to lie at 30 to 45 degrees"),
    **dict.fromkeys(("topsoil", "loam", "silt", "common earth", "made ground"), _LOOSE_EARTH),
    "clay": _assumed(_LOOSE_EARTH, "as loose earth; lumps of dry clay are told to lie at 25 to 40 degrees"),
}
"""Side of a heap of loose soil, horizontal for each 1 up."""


def _judged(low: float, amount: float, high: float, unit: str, place: str, *, jurisdiction: str = "") -> Tabled:
    return Tabled(
        amount=amount,
        low=low,
        high=high,
        unit=unit,
        grade=Grade.ASSUMED,
        source="",
        place=place,
        jurisdiction=jurisdiction,
    )


TOPSOIL_SPREAD = _judged(0.95, 1.0, 1.1, "1", "topsoil spread and trodden lies about as it did before it was stripped")
LIP_ON_FILL = _judged(0.10, 0.15, 0.15, "m", "one rammed layer: under more than that a lip's stone tilts as it settles")
SUMP_SIDE = _judged(0.5, 0.6, 0.8, "m", "square in plan, for a pump chamber of about 0.55 m")
FILL_OVER_ROOTS = _judged(0.0, 0.05, 0.10, "m", "soil over roots keeps the air from them; a thin dressing is borne")
WALKED_INTO = _judged(
    1.2,
    1.2,
    1.2,
    "m",
    "often told as the depth from which a dig needs support; no depth is free of risk",
    jurisdiction="UK",
)
SANE_SHIFT = _judged(0.5, 0.5, 0.5, "m", "moved farther than this it is another design")
