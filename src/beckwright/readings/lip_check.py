"""A lip checked across with a staff: out of level by how much, what that does to the water, and what to shim."""

from collections.abc import Mapping

import numpy as np

from beckwright.base.quantities import FloatArray, Length
from beckwright.base.values import value
from beckwright.compose import Design
from beckwright.equations.lips import HEAD_ADDITION
from beckwright.readings.rows import Row
from beckwright.readings.typed import Typed, level, staff_reading
from beckwright.stages.falls import share_left
from beckwright.tables.levelling import READING_SIGMAS
from beckwright.tables.notebook import LEAST_TILT

ENDS = ("left", "middle", "right")
_TWO = 2.0**0.5
"""A difference of two readings is less sure than one of them by this (propagation of error, JCGM 100, 5.1.2)."""


@value
class LipCheck:
    """One lip read across.

    typed       left, middle, right as typed; None where nothing was
    tilt        how far its right end stands over its left, m; None where both were not read
    sigma       of the tilt, one standard deviation, m
    bow         how far its middle stands over the line from end to end; None where it was not read
    share_left  (2, k) least and largest share of each flow over its left half: band of the head, and of the tilt
    twice       (3, k) tilt at which the lower half carries twice what the higher one does
    shimmed     end to be shimmed up, or empty; ``shim`` by how much
    asked       all that a person is asked about it
    """

    row: Row
    lip: str
    typed: Mapping[str, Typed]
    tilt: Length | None
    sigma: Length
    bow: Length | None
    share_left: FloatArray
    twice: FloatArray
    shimmed: str
    shim: Length
    asked: tuple[str, ...]


def lip_check(row: Row, designed: Design) -> LipCheck:
    """Read one check. Staff readings need no set-up: only their differences count, and less means higher."""
    as_level = row.text("given") == "level"
    typed = {end: _typed(row, end, designed, as_level=as_level) for end in ENDS if row.text(end).strip()}
    sign = 1.0 if as_level else -1.0
    high = {end: sign * each.amount for end, each in typed.items() if each.amount is not None}
    tilt = high["right"] - high["left"] if {"left", "right"} <= set(high) else None
    bow = high["middle"] - (high["left"] + high["right"]) / 2 if tilt is not None and "middle" in high else None
    sigma = READING_SIGMAS["level"].amount * _TWO
    fall = next((each for each in designed.falls if each.lip.name == row.text("lip")), None)
    shimmed = "" if tilt is None or abs(tilt) < LEAST_TILT.amount else "left" if tilt > 0 else "right"
    return LipCheck(
        row=row,
        lip=row.text("lip"),
        typed=typed,
        tilt=tilt,
        sigma=sigma,
        bow=bow,
        share_left=_shares(designed, row.text("lip"), tilt, sigma),
        twice=np.zeros((3, 0)) if fall is None else fall.tilt.twice,
        shimmed=shimmed,
        shim=abs(tilt) if shimmed and tilt is not None else 0.0,
        asked=_asked(row, typed, known=fall is not None),
    )


def _typed(row: Row, end: str, designed: Design, *, as_level: bool) -> Typed:
    if as_level:
        return level(row.text(end), designed.job.datum.level, measure=row.measure)
    return staff_reading(row.text(end), measure=row.measure)


def _shares(designed: Design, name: str, tilt: Length | None, sigma: Length) -> FloatArray:
    lip = next((each for each in designed.water.lips if each.name == name), None)
    if tilt is None or lip is None:
        return np.zeros((2, 0))
    tilts = np.array([tilt - sigma, tilt, tilt + sigma])
    shares = np.array([share_left(lip.head + HEAD_ADDITION, np.array(each)) for each in tilts])
    return np.array([shares.min(axis=(0, 1)), shares.max(axis=(0, 1))])


def _asked(row: Row, typed: Mapping[str, Typed], *, known: bool) -> tuple[str, ...]:
    if row.struck:
        return ()
    unusable = [f"{end}: {each.asked}" for end, each in typed.items() if each.amount is None]
    doubtful = [f"{end}: {each.asked}" for end, each in typed.items() if each.amount is not None and each.asked]
    if not {"left", "right"} <= set(typed):
        unusable.append("One end was not read. What does the staff show there?")
    if not known:
        unusable.append(f'"{row.text("lip")[:20]}" is no lip of this course. Which one was it?')
    return (*unusable, *(() if row.agreed else (*doubtful, *((row.asked,) if row.asked else ()))))
