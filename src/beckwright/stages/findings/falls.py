"""Lips out of level, sheets that land beside or beyond their pool, pools too small for a fall, drops that splash."""

from collections.abc import Callable, Iterator

import numpy as np

from beckwright.base.figures import dotted
from beckwright.base.findings import Finding, Severity
from beckwright.base.quantities import FloatArray
from beckwright.base.words import band, millimetres, opening, retold, share
from beckwright.equations.drops import nappe_length
from beckwright.stages.falls import Fall, Sheet
from beckwright.stages.water import Water
from beckwright.stages.water.beds import HIGH, LOW, MIDDLE
from beckwright.tables.falls import DROP_SPLASHES, LIP_TILTS, SPLASH

Fallen = tuple[Fall, Sheet]

_SKIMS = {"between": "may skim", "skimming": "skims"}

DROP_LAWS = "Rand 1955, with the band for small falls"


def fall_findings(water: Water, falls: tuple[Fall, ...]) -> Iterator[Finding]:
    """Findings on every lip and its fall, each kind once, with the worst of them and its number."""
    fallen = [(fall, fall.sheet) for fall in falls if fall.sheet is not None]
    yield _out_of_level(water, falls)
    for worst_of in (_drowned, _wide, _beyond, _short, _shallow, _splashing, _skimming, _untested):
        yield from worst_of(water, fallen)


def _out_of_level(water: Water, falls: tuple[Fall, ...]) -> Finding:
    """How far a small tilt draws the water aside, where it draws it farthest."""
    number = int(np.argmin(water.flows))
    worst = max(falls, key=lambda fall: float(fall.tilt.low_half[MIDDLE, 0, number]))
    rows = list(zip(LIP_TILTS, worst.tilt.low_half[MIDDLE, :, number], worst.tilt.dry[MIDDLE, :, number], strict=True))
    told = [_parts(name, float(low), float(dry)) for name, low, dry in rows[1:]]
    twice = millimetres(float(worst.tilt.twice[MIDDLE, number]))
    return Finding(
        severity=Severity.NOTE,
        code="lip-level",
        place=f"{opening(worst.lip.name)} out of level across, at {water.names[number]}",
        says=f"If it is {'; '.join(told)}. From {twice} the lower half carries twice the other.",
        cure="Level every lip across with the water on; shim its lower end by what it is out.",
        source="head over the lip summed along a sloping crest",
        chainage=(worst.lip.chainage, worst.lip.chainage),
        figure=dotted("fall", worst.lip.name, water.names[number], f"tilt {rows[1][0]}", "low share"),
    )


def _parts(tilt: str, low: float, dry: float) -> str:
    parts = round(100 * low)
    told = f"{retold(f'[{tilt}]')} out: {parts} parts over the lower half, {100 - parts} over the other"
    return f"{told}, {share(dry)} of the lip dry" if dry > 0 else told


def _worst(
    fallen: list[Fallen], over: Callable[[Fall, Sheet], FloatArray | float]
) -> tuple[list[Fallen], Fallen, int] | None:
    """Those where something is over its limit, the worst of them, and the number of its worst flow."""
    over_by = [np.atleast_1d(over(*each)) for each in fallen]
    found = [each for each, amount in zip(fallen, over_by, strict=True) if amount.max() > 0]
    if not found:
        return None
    place = max(range(len(fallen)), key=lambda at: float(over_by[at].max()))
    return found, fallen[place], int(np.argmax(over_by[place]))


def _names(found: list[Fallen]) -> str:
    names = [fall.lip.name for fall, _ in found]
    listed = names[0] if len(names) == 1 else ", ".join(names[:-1]) + " and " + names[-1]
    return listed[0].upper() + listed[1:]


def _at(fall: Fall) -> tuple[float, float]:
    return fall.lip.chainage, fall.lip.chainage


def _drowned(water: Water, fallen: list[Fallen]) -> Iterator[Finding]:
    if (worst := _worst(fallen, lambda fall, _: fall.lip.tailwater[HIGH])) is None:
        return
    found, (fall, _), number = worst
    lip = fall.lip
    free, drowned = (
        band(float(head[LOW, number]), float(head[HIGH, number]), 1, "mm", scale=1000) for head in (lip.free, lip.head)
    )
    yield Finding(
        severity=Severity.CAUTION,
        code="lip-drowned",
        place=_names(found),
        says=f"At {water.names[number]} the water below may stand {millimetres(float(lip.tailwater[HIGH, number]))} "
        f"over the crest of {lip.name}: {drowned} of head on it, {free} if it were free. "
        "Start and stop are worked with it free.",
        cure=f"Raise the lip over its drop of {millimetres(lip.drop)}, or lower the bed below it.",
        source="Villemonte 1947; levels at the high end",
        chainage=_at(fall),
        figure=dotted("fall", lip.name, water.names[number], "water_below"),
    )


def _wide(_: Water, fallen: list[Fallen]) -> Iterator[Finding]:
    if (worst := _worst(fallen, lambda fall, sheet: fall.lip.width - sheet.width)) is None:
        return
    found, (fall, sheet), _number = worst
    yield Finding(
        severity=Severity.CAUTION,
        code="lip-wide",
        place=_names(found),
        says=f"{opening(fall.lip.name)} is {millimetres(fall.lip.width)} wide and what it falls into "
        f"{millimetres(sheet.width)}: water lands on the edges.",
        cure=f"Narrow the lip to {millimetres(sheet.width)}, or widen the landing to {millimetres(fall.lip.width)}.",
        source="job.toml course.reaches",
        chainage=_at(fall),
    )


def _beyond(water: Water, fallen: list[Fallen]) -> Iterator[Finding]:
    pools = [each for each in fallen if each[1].below == "pool"]
    if (worst := _worst(pools, lambda _, sheet: sheet.landed.far - sheet.basin.pool_length)) is None:
        return
    found, (fall, sheet), number = worst
    near, far = float(sheet.landed.near[number]), float(sheet.landed.far[number])
    yield Finding(
        severity=Severity.CAUTION,
        code="sheet-beyond-pool",
        place=_names(found),
        says=f"At {water.names[number]} the sheet of {fall.lip.name} lands "
        f"{band(near, far, 10, 'mm', scale=1000)} out; the pool is {millimetres(sheet.basin.pool_length)} long.",
        cure=f"Make the pool {_up(float(sheet.basin.length.max()))} long.",
        source=f"free fall from the brink, and {DROP_LAWS}",
        chainage=_at(fall),
        figure=dotted("fall", fall.lip.name, water.names[number], "landing"),
    )


def _short(water: Water, fallen: list[Fallen]) -> Iterator[Finding]:
    inside = [each for each in fallen if each[1].below == "pool" and _lands_inside(each[1])]
    if (worst := _worst(inside, lambda _, sheet: sheet.basin.length - sheet.basin.pool_length)) is None:
        return
    found, (fall, sheet), number = worst
    wanted = float(sheet.basin.length[number])
    yield Finding(
        severity=Severity.CAUTION,
        code="pool-short",
        place=f"Pool under {_lower(_names(found))}",
        says=f"At {water.names[number]} sheet and jump under {fall.lip.name} take up {_up(wanted)}; "
        f"the pool is {millimetres(sheet.basin.pool_length)} long.",
        cure=f"Make it {_up(wanted)} long, or pave {_up(wanted - sheet.basin.pool_length)} below it with fixed stones.",
        source=DROP_LAWS,
        chainage=_at(fall),
        figure=dotted("fall", fall.lip.name, water.names[number], "basin"),
    )


def _lands_inside(sheet: Sheet) -> bool:
    return bool(np.all(sheet.landed.far <= sheet.basin.pool_length))


def _shallow(water: Water, fallen: list[Fallen]) -> Iterator[Finding]:
    pools = [each for each in fallen if each[1].below == "pool"]
    if (worst := _worst(pools, lambda _, sheet: sheet.basin.tailwater_high - sheet.basin.pool_depth)) is None:
        return
    found, (fall, sheet), number = worst
    wanted, there = float(sheet.basin.tailwater_high[number]), float(sheet.basin.pool_depth[number])
    yield Finding(
        severity=Severity.CAUTION,
        code="pool-shallow",
        place=f"Pool under {_lower(_names(found))}",
        says=f"At {water.names[number]} {millimetres(there)} of water over its floor; "
        f"{millimetres(wanted)} hold the jump under {fall.lip.name}.",
        cure=f"Dig it {_up(wanted - there)} deeper, or fix its floor and the stones below it.",
        source=DROP_LAWS,
        chainage=_at(fall),
        figure=dotted("fall", fall.lip.name, water.names[number], "tailwater"),
    )


def _splashing(_: Water, fallen: list[Fallen]) -> Iterator[Finding]:
    if (worst := _worst(fallen, lambda fall, __: fall.lip.drop - DROP_SPLASHES.amount)) is None:
        return
    found, (fall, sheet), _number = worst
    low, high = (float(width) for width in sheet.splash)
    yield Finding(
        severity=Severity.CAUTION,
        code="drop-splashes",
        place=_names(found),
        says=f"{opening(fall.lip.name)} drops {millimetres(fall.lip.drop)}; "
        f"over {millimetres(DROP_SPLASHES.amount)} splashes.",
        cure=f"Carry the lining {millimetres(low)} out each side, {millimetres(high)} to windward, "
        "or make two drops of it.",
        source=f"common practice: {DROP_SPLASHES.place}; {SPLASH.place}",
        chainage=_at(fall),
        figure=dotted("fall", fall.lip.name, "splash"),
    )


def _skimming(water: Water, fallen: list[Fallen]) -> Iterator[Finding]:
    def over(_: Fall, sheet: Sheet) -> FloatArray:
        return np.where([regime != "nappe" for regime in sheet.steps.regimes], sheet.steps.relative, 0.0)

    if (worst := _worst(fallen, over)) is None:
        return
    found, (fall, sheet), number = worst
    yield Finding(
        severity=Severity.CAUTION,
        code="skims-steps",
        place=_names(found),
        says=f"At {water.names[number]} the water is {sheet.steps.relative[number]:.2f} drops deep at {fall.lip.name}: "
        f"it {_SKIMS[sheet.steps.regimes[number]]} over the step.",
        cure="Run less, make the drop higher, or the lip wider.",
        source="Chamani and Rajaratnam 1999; Chanson 1994",
        chainage=_at(fall),
        figure=dotted("fall", fall.lip.name, water.names[number], "relative"),
    )


def _untested(_: Water, fallen: list[Fallen]) -> Iterator[Finding]:
    least = nappe_length.limits["drop_number"][0]
    times = least / np.array([number for _, sheet in fallen for number in sheet.number])
    if not len(times) or times.max() <= 1:
        return
    yield Finding(
        severity=Severity.NOTE,
        code="drops-untested",
        place="Laws of the falls",
        says=f"Drop numbers lie {band(max(1.0, times.min()), times.max(), 1, 'times')} under the least the drop laws "
        "were measured at.",
        cure="Trust the bands, not their middle: find the landing with the water on before fixing stones.",
        source="limits given by the source",
    )


def _up(length: float) -> str:
    """A length rounded up to 10 mm: to dig or to lay."""
    return millimetres(float(np.ceil(length * 100 - 1e-6)) / 100, up=True)


def _lower(words: str) -> str:
    return words[0].lower() + words[1:]
