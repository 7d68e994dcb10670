"""What real years tell beside the months: dry spells and whether the reserve outlasts them, storms, frost by date."""

import numpy as np

from beckwright.base.quantities import Area, BoolArray, FloatArray, IntArray, Lengths
from beckwright.stages.season.days import Days, Span
from beckwright.stages.season.march import Passed
from beckwright.stages.season.values import Frost, RealYear, RealYears, Spell, Storm
from beckwright.tables.season import DRY_DAY, HARD_FROST


def real_years_told(
    days: Days, lost: FloatArray, passed: Passed, catch: Area, spare: FloatArray, running: BoolArray
) -> RealYears:
    """Go through what each year held.

    lost     (3, n) each day: least, middle, most
    spare    (3,) what the reservoir lends from full before the pump draws air while it runs, least lost first
    running  (12,) months it runs in; dry spells are looked for in those, in all where it runs in none
    """
    spells = _spells(days.rain, running[days.month] if running.any() else np.ones(len(days.rain), dtype=bool))
    gained = days.rain * catch - lost
    band = np.broadcast_to(days.evaporation, lost.shape)
    years = tuple(
        RealYear(
            name=span.name,
            rain=float(days.rain[span.start : span.stop].sum()),
            evaporation=band[:, span.start : span.stop].sum(axis=1),
            topped=passed.topped[:, span.start : span.stop].sum(axis=1),
            spell=_longest(days, spells, span, gained, spare),
            storm=_storm(days, passed, span),
            frost=_frost(days, span),
        )
        for span in days.spans
    )
    # By what had to be filled up, middle of the band: it weighs rain, warmth and when the two came together.
    order = sorted(range(len(years)), key=lambda place: (float(years[place].topped[1]), -years[place].rain))
    return RealYears(file=days.file, years=years, driest=order[-1], middle=order[len(order) // 2], ways=days.ways)


def _spells(rain: Lengths, running: BoolArray) -> IntArray:
    """Days in a row without rain up to each day, itself among them, (n,)."""
    length, told = 0, []
    for fallen, on in zip(rain.tolist(), running.tolist(), strict=True):
        length = length + 1 if on and fallen < DRY_DAY.amount else 0
        told.append(length)
    return np.array(told, dtype=np.int64)


def _longest(days: Days, spells: IntArray, span: Span, gained: FloatArray, spare: FloatArray) -> Spell | None:
    """The longest that ended in a year, begun where it began; the first of several as long."""
    here = spells[span.start : span.stop]
    if here.max() == 0:
        return None
    last = span.start + int(np.argmax(here))
    first = last - int(spells[last]) + 1
    left = spare[:, np.newaxis] + np.cumsum(gained[:, first : last + 1], axis=1)
    empty = left < 0.0
    return Spell(
        first=int(days.numbers[first]),
        last=int(days.numbers[last]),
        out=tuple(int(days.numbers[first + int(np.argmax(row))]) if bool(row.any()) else None for row in empty),
        left=np.maximum(left[:, -1], 0.0),
    )


def _storm(days: Days, passed: Passed, span: Span) -> Storm:
    place = span.start + int(np.argmax(days.rain[span.start : span.stop]))
    return Storm(day=int(days.numbers[place]), rain=float(days.rain[place]), over=passed.over[:, place])


def _frost(days: Days, span: Span) -> Frost:
    """Frost of a year; its longest stretch without any parts the last frost of spring from the first of autumn."""
    cold = np.zeros(0) if days.coldest is None else days.coldest[span.start : span.stop]
    numbers = days.numbers[span.start : span.stop]
    frosty = np.flatnonzero(cold < 0.0)
    counted = np.bincount(days.month[span.start : span.stop][frosty], minlength=12).astype(float)
    if not len(frosty):
        return Frost(days=counted, first=None, hard=None, last=None)
    stretches = np.diff(np.concatenate((frosty, frosty[:1] + len(cold))))
    before = int(np.argmax(stretches))
    first = frosty[(before + 1) % len(frosty)]
    hard = np.flatnonzero(cold <= HARD_FROST.amount)
    # The year is taken as a ring: after the stretch comes the autumn, and the spring's frosts come last.
    hard = hard[np.argsort((hard - first) % len(cold))]
    return Frost(
        days=counted,
        first=int(numbers[first]),
        hard=int(numbers[hard[0]]) if len(hard) else None,
        last=int(numbers[frosty[before]]),
    )
