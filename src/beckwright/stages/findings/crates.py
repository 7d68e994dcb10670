"""Crates that do not fill their pit, what must not come onto them, and a chamber nobody can get at."""

from collections.abc import Iterator

from beckwright.base.figures import dotted
from beckwright.base.findings import Finding, Severity
from beckwright.base.quantities import Pressure
from beckwright.base.words import band, kilopascals, litres, metres, millimetres, number_in, opening, with_unit
from beckwright.job.model import Job
from beckwright.stages.crates.values import ChamberFit, CrateLayout, Screened
from beckwright.stages.findings.pit import ENGINEER
from beckwright.tables.crates import LID_BEARS, LID_PIECE, NOBODY_IN, PUMP_ROOM, SLOT_VELOCITY
from beckwright.tables.partial_factors import COVER_LEAST, CRATE_LONG_TERM, CRATE_MATERIAL_FACTOR, REST_COEFFICIENT

SPREAD = "EN 1990 factors, load spread 2 down to 1 out"
DIVIDED = f"strength over {CRATE_MATERIAL_FACTOR.amount:g}"


def crate_findings(job: Job, layout: CrateLayout) -> tuple[Finding, ...]:
    """Findings on the crates. What the person says stands on them is judged with the pit."""
    return (
        *_gap(job, layout),
        *_thin(job, layout),
        *_digger(job, layout),
        *_stone(layout),
        *_side(job, layout),
        *_creep(layout),
        *_if_someone_drives(layout),
    )


def chamber_findings(job: Job, chamber: ChamberFit) -> tuple[Finding, ...]:
    """Findings on the pump's chamber."""
    return (
        *_children(job),
        *_nobody_in(job, chamber),
        *_heavy_lid(job, chamber),
        *_stuck(chamber),
        *_fast(chamber),
        *_untold(job, chamber),
    )


def _gap(job: Job, layout: CrateLayout) -> Iterator[Finding]:
    if layout.suits:
        return
    pit, other = job.reservoir, layout.nearest
    fill = f"fill the gap with {with_unit(layout.gap * pit.fill_depth, 'm³'):.2f} of washed stone"
    make = (
        f"Make the pit {metres(other.length)} by {metres(other.width)}, {other.crates} crates to a layer; or {fill}."
        if other
        else f"{opening(fill)}."
    )
    yield Finding(
        severity=Severity.CAUTION,
        code="crates-leave-gap",
        place=f"Pit of {metres(pit.length)} by {metres(pit.width)}",
        says=f"{len(layout.lower.crates)} whole crates to a layer leave {with_unit(layout.gap, 'm²'):.2f} of "
        f"{with_unit(pit.length * pit.width, 'm²'):.2f}; filled with stone it holds "
        f"{litres(layout.lost)} less than counted.",
        cure=make,
        source="every arrangement cut straight through tried, both ways round, none cut",
        figure="crates.gap",
    )


def _thin(job: Job, layout: CrateLayout) -> Iterator[Finding]:
    depth = job.reservoir.cover_depth
    thin = [load for load in layout.loads if load.comes in {"told", "stone"} and depth < load.least]
    if thin:
        worst = max(thin, key=lambda load: (load.least, load.force))
        row = next(row for row in COVER_LEAST.values() if row.amount == worst.least)
        yield Finding(
            severity=Severity.CAUTION,
            code="cover-thin",
            place=f"Cover under {worst.name}",
            says=f"{millimetres(depth)} of cover; {millimetres(worst.least)} wanted.",
            cure=f"Deepen it by {millimetres(worst.least - depth)}, or keep {worst.name} off. {ENGINEER}.",
            source=f"common practice: {row.place}",
            figure=_figure(worst),
        )


def _digger(job: Job, layout: CrateLayout) -> Iterator[Finding]:
    """Often the heaviest load there ever is: the machine that fills in round the crates."""
    for load in layout.loads:
        if load.comes != "digger" or (load.use is not None and load.use <= 1):
            continue
        against = _against(load)
        yield Finding(
            severity=Severity.CAUTION if load.use is None else Severity.FAIL,
            code="digger-on-crates",
            place="Crates while they are filled in",
            says=f"One track of a {load.name} presses {kilopascals(load.design)} through the whole "
            f"{millimetres(job.reservoir.cover_depth)} of cover {against}; through less it is more.",
            cure=f"Keep it beside the pit, fill by bucket and rake, fence the cover off{_or_ask(load)}. {ENGINEER}.",
            source=f"{SPREAD}; assumed: three quarters of its weight on half of one track",
            figure=_figure(load),
        )


def _stone(layout: CrateLayout) -> Iterator[Finding]:
    for load in layout.loads:
        if load.comes == "stone" and (load.use is None or load.use > 1):
            yield Finding(
                severity=Severity.CAUTION if load.use is None else Severity.FAIL,
                code="stone-on-crates",
                place="Crates under the heaviest stone",
                says=f"{kilopascals(load.design)} for good, with the cover, {_against(load)}.",
                cure=f"Stand it beside the pit on firm ground{_or_ask(load)}. {ENGINEER}.",
                source=f"{SPREAD}, counted as permanent",
                figure=_figure(load),
            )


def _against(load: Screened) -> str:
    return (
        "and nobody gave their strength" if load.strength is None else f"against {kilopascals(load.strength)} they bear"
    )


def _or_ask(load: Screened) -> str:
    if load.cover is not None:
        return f", or lay {millimetres(load.cover)} of cover"
    return f", or ask for crates of {_up(load.wanted)} short-term"


def _side(job: Job, layout: CrateLayout) -> Iterator[Finding]:
    side = layout.side
    if side.use is not None and side.use[-1] <= 1:
        return
    low, _, high = side.design
    presses = band(low, high, 1, "kPa", scale=1e-3)
    water = f", {millimetres(side.head)} of winter water" if side.head > 0 else ""
    against = "and nobody gave their strength from the side"
    if side.strength is not None and job.reservoir.strength_lateral is not None:
        given = kilopascals(job.reservoir.strength_lateral)
        against = f"against {kilopascals(side.strength)}, the {given} given over {CRATE_MATERIAL_FACTOR.amount:g}"
    yield Finding(
        severity=Severity.CAUTION,
        code="crates-pressed-sideways",
        place=f"Side of the crates, {metres(side.depth)} down",
        says=f"Ground{water} and what stands beside the pit press {presses} on empty crates {against}.",
        cure=f"Ask for a long-term side strength of {_up(float(high))}, or a short-term one of "
        f"{_up(float(high) * CRATE_MATERIAL_FACTOR.amount)}. {ENGINEER}.",
        source=f"Terzaghi and Peck, {REST_COEFFICIENT.place}; EN 1990 factors, {DIVIDED}",
        figure="crates.side",
    )


def _creep(layout: CrateLayout) -> Iterator[Finding]:
    creep = layout.creep
    if creep.strength is not None and creep.use is not None and creep.use > 1:
        told = "as given" if creep.given else f"if they keep {CRATE_LONG_TERM.low:g} of their short-term strength"
        yield Finding(
            severity=Severity.FAIL,
            code="crates-creep",
            place="Crates under their cover",
            says=f"{kilopascals(creep.standing)} stand on them for decades, "
            f"against {kilopascals(creep.strength[0])} {told}.",
            cure=f"Lay a thinner cover, or ask for a long-term strength of {_up(creep.standing)}. {ENGINEER}.",
            source=f"EN 1990 factors; assumed: {CRATE_LONG_TERM.place}",
            figure="crates.standing",
        )


def _if_someone_drives(layout: CrateLayout) -> Iterator[Finding]:
    feet = COVER_LEAST["feet"].amount
    told = max((load.design for load in layout.loads if load.comes == "told"), default=0.0)
    heavier = [
        load
        for load in layout.loads
        if load.comes == "typical" and load.least > feet and load.design > told and (load.use is None or load.use > 1)
    ]
    if not heavier:
        return
    presses = ", ".join(f"a {load.name} {kilopascals(load.design)}" for load in heavier)
    strength = heavier[0].strength
    against = "no strength was given" if strength is None else f"they bear {kilopascals(strength)}"
    yield Finding(
        severity=Severity.NOTE,
        code="if-someone-drives",
        place="Crates, if someone drives there",
        says=f"Through this cover presses {presses}; {against}.",
        cure="Set bollards or boulders on firm ground so that nothing drives there, and put a sign in the handover.",
        source=f"{SPREAD}; assumed: loads that come to gardens",
        figure=_figure(heavier[-1]),
    )


def _children(job: Job) -> Iterator[Finding]:
    chamber = job.chamber
    faults = [
        words
        for words, found in (
            ("the lid does not lock", chamber.locked is False),
            ("no grille lies under it", chamber.grille is False),
            (
                f"lid and grille bear {with_unit(chamber.lid_bears or 0.0, 'kg'):.0f}",
                chamber.lid_bears is not None and chamber.lid_bears < LID_BEARS.amount,
            ),
        )
        if found
    ]
    if faults:
        yield Finding(
            severity=Severity.CAUTION if faults == ["the lid does not lock"] and chamber.grille else Severity.FAIL,
            code="child-at-chamber",
            place="Lid of the chamber",
            says=f"{opening('; '.join(faults))}: a child can fall in and drown in what stands there.",
            cure="Fit a lid that locks, and under it a grille fixed with a tool; "
            f"each bears {with_unit(LID_BEARS.amount, 'kg'):.0f} or more.",
            source=f"assumed: {LID_BEARS.place}",
            figure="chamber.depth",
        )


def _nobody_in(job: Job, chamber: ChamberFit) -> Iterator[Finding]:
    if chamber.depth > NOBODY_IN.amount and not job.chamber.lifts_out:
        yield Finding(
            severity=Severity.CAUTION,
            code="nobody-climbs-in",
            place=f"Chamber, {metres(chamber.depth)} deep",
            says="Nobody told that the pump lifts out; a shaft so deep is not climbed into.",
            cure="Hang the pump on a rope with a union near the top of its hose, and slack in hose and cable.",
            source=f"assumed: {NOBODY_IN.place}",
            figure="chamber.depth",
        )


def _heavy_lid(job: Job, chamber: ChamberFit) -> Iterator[Finding]:
    if chamber.piece is not None and job.chamber.lid is not None and chamber.piece > LID_PIECE.amount:
        pieces = int(-(-job.chamber.lid // LID_PIECE.amount))
        yield Finding(
            severity=Severity.CAUTION,
            code="lid-heavy",
            place="Lid of the chamber",
            says=f"One piece is {with_unit(chamber.piece, 'kg'):.0f}; "
            f"{with_unit(LID_PIECE.amount, 'kg'):.0f} is the most that one person is asked to lift.",
            cure=f"Part it in {pieces} pieces, or hang it on hinges with a stay.",
            source=f"common practice: {LID_PIECE.place}",
            figure="chamber.lid_piece",
        )


def _stuck(chamber: ChamberFit) -> Iterator[Finding]:
    if chamber.room is not None and chamber.room < PUMP_ROOM.amount:
        left = f"{millimetres(chamber.room)} are left"
        if chamber.room < 0:
            left = f"it is {millimetres(-2 * chamber.room)} too wide"
        yield Finding(
            severity=Severity.CAUTION if chamber.room >= 0 else Severity.FAIL,
            code="pump-stuck",
            place="Pump in its chamber",
            says=f"{opening(left)}; {millimetres(PUMP_ROOM.amount)} wanted on each side of it.",
            cure=f"Take a chamber {millimetres(2 * (PUMP_ROOM.amount - chamber.room))} wider, or a smaller pump.",
            source=f"assumed: {PUMP_ROOM.place}",
            figure="chamber.room",
        )


def _fast(chamber: ChamberFit) -> Iterator[Finding]:
    slots = chamber.slots
    if slots.velocity is not None and slots.area is not None and slots.velocity > SLOT_VELOCITY.amount:
        more = (slots.wanted[1] - slots.area) * 1e4
        yield Finding(
            severity=Severity.CAUTION if slots.velocity > SLOT_VELOCITY.high else Severity.NOTE,
            code="slots-fast",
            place="Slots of the chamber",
            says=f"At {slots.flow} water runs in at {with_unit(slots.velocity, 'm/s'):.3f}; "
            f"{number_in(SLOT_VELOCITY.low, 'm/s'):g} to {with_unit(SLOT_VELOCITY.high, 'm/s'):g} is the most.",
            cure=f"Cut {with_unit(more, 'cm²'):.0f} more of slots under the least level, or wrap more crates round it.",
            source=f"common practice: {SLOT_VELOCITY.place}",
            figure="chamber.slots.velocity",
        )


def _untold(job: Job, chamber: ChamberFit) -> Iterator[Finding]:
    given = job.chamber
    missing = [
        words
        for words, value in (
            ("its inside size", given.inside),
            ("the pump's size", given.pump),
            ("the area of its slots", given.slots),
            ("the lid's mass", given.lid),
            ("what the lid bears", given.lid_bears),
            ("whether it locks", given.locked),
        )
        if value is None
    ]
    if missing:
        least, most = (area * 1e4 for area in chamber.slots.wanted)
        yield Finding(
            severity=Severity.NOTE,
            code="chamber-untold",
            place="Chamber",
            says=f"Nobody told {', '.join(missing)}.",
            cure=f"Ask for slots of {band(least, most, 10, 'cm²')}, a lid in pieces of "
            f"{with_unit(LID_PIECE.amount, 'kg'):.0f} or "
            f"less that locks and bears {with_unit(LID_BEARS.amount, 'kg'):.0f}, and write it under chamber.",
            source=f"common practice: {SLOT_VELOCITY.place}",
            figure="chamber.slots.wanted",
        )


def _figure(load: Screened) -> str:
    return (
        dotted("reservoir", "load", load.name)
        if load.comes == "told"
        else dotted("crates", "load", load.comes, load.name)
    )


def _up(pressure: Pressure) -> str:
    """To the next whole kPa up: what is asked for is never rounded down."""
    return kilopascals(-(-pressure // 1000) * 1000, up=True)
