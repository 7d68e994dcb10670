"""The dig, its sides, its heaps, its banks, and what the machine can do."""

import math
from collections.abc import Iterator

import numpy as np

from beckwright.base.figures import dotted
from beckwright.base.findings import Finding, Severity
from beckwright.base.quantities import BoolArray, Length
from beckwright.base.tabled import Tabled
from beckwright.base.words import band, chainages, metres, millimetres, number_in, opening, share, tonnes, with_unit
from beckwright.job.model import Job, Tree
from beckwright.stages.course import SetOutCourse
from beckwright.stages.earthworks.values import Groundwork, Heap, SoilBalance
from beckwright.stages.levels import places
from beckwright.stages.surroundings import radius_of
from beckwright.tables.practice import (
    BANK_SLOPE,
    SETTLEMENT_RAMMED,
    SETTLEMENT_TIPPED,
    SPOIL_CLEARANCE,
)
from beckwright.tables.soils import FILL_OVER_ROOTS, LIP_ON_FILL, STANDS, WALKED_INTO

COMPETENT = "Someone competent looks at it before each shift and after rain; local rules come first"
JOIN: Length = 1.0
"""Stretches of fill this near each other are told as one."""


def earthworks_findings(job: Job, course: SetOutCourse, groundwork: Groundwork) -> tuple[Finding, ...]:
    """Findings on the ground work, each kind once where it can be."""
    return (
        *_sides(job, groundwork),
        *_water_in_pit(job, groundwork),
        *_heaps(job, groundwork),
        *_lips(job, groundwork),
        *_settlement(job, groundwork),
        *_over_roots(job, course, groundwork),
        *_bank_slope(job, groundwork),
        *_balance(job, groundwork),
        *_unsure(groundwork),
    )


def _sides(job: Job, groundwork: Groundwork) -> Iterator[Finding]:
    """Never that a side is safe: only how it compares, and who has to look."""
    pit, stands = groundwork.pit, STANDS[job.site.soil]
    steep, deep = pit.batter < stands.amount - 1e-9, pit.depth > WALKED_INTO.amount
    if not (steep or deep):
        return
    sides = "upright sides" if pit.batter == 0 else f"sides of 1 up to {pit.batter:g} out"
    limit = f"{job.site.soil} is told to stand at 1 up to {stands.amount:g} out"
    batter = f"Batter the sides 1 up to {stands.amount:g} out, or support them."
    yield Finding(
        severity=Severity.FAIL if steep and deep else Severity.CAUTION,
        code="pit-sides",
        place="Reservoir pit",
        says=f"{metres(pit.depth)} deep with {sides}; {limit}. No depth is free of risk.",
        cure=f"{f'{batter} ' if steep else ''}{COMPETENT}.",
        source=f"{stands.place} ({stands.jurisdiction}); {WALKED_INTO.place} ({WALKED_INTO.jurisdiction})",
        figure="earthworks.pit.depth",
    )


def _water_in_pit(job: Job, groundwork: Groundwork) -> Iterator[Finding]:
    pit, levels = groundwork.pit, (job.site.groundwater_summer, job.site.groundwater_winter)
    known = [(season, depth) for season, depth in zip(("summer", "winter"), levels, strict=True) if depth is not None]
    standing = [(season, pit.depth - depth) for season, depth in known if pit.depth > depth]
    if not standing:
        return
    told = " and ".join(f"{millimetres(depth)} deep in {season}" for season, depth in standing)
    dry = next((season for season, depth in known if pit.depth <= depth), None)
    wait = f"Dig in {dry}, or pump" if dry else "Pump"
    yield Finding(
        severity=Severity.CAUTION,
        code="water-in-pit",
        place="Reservoir pit",
        says=f"Its floor lies {metres(pit.depth)} down; ground water would stand in it {told}.",
        cure=f"{wait} from a hole beside the floor until the fill and cover hold it down. Wet sides stand flatter.",
        source="levels of ground water told in job.toml site",
        figure="earthworks.pit.depth",
    )


def _heaps(job: Job, groundwork: Groundwork) -> Iterator[Finding]:
    """Each wished heap by itself; of those nobody wished, one finding for each soil."""
    near = [heap for heap in groundwork.heaps if heap.clear < 0]
    for heap in near:
        if heap.wished:
            cure = f"Move it {millimetres(_up(-heap.clear), up=True)} away from {heap.of}, or part it in two."
            yield _too_near(heap, f"Its {with_unit(heap.loose, 'm³'):.1f} of loose {heap.holds} lie", cure)
    for balance in groundwork.balances:
        homeless = [heap for heap in near if heap.holds == balance.holds and not heap.wished]
        if homeless:
            loose = sum(heap.loose for heap in homeless)
            parts = len([heap for heap in groundwork.heaps if heap.holds == balance.holds])
            what = (
                "In one heap there is no clear place for it: it lies"
                if parts == 1
                else (f"In {parts} heaps there is no clear place for all of them: this one lies")
            )
            yield _too_near(
                min(homeless, key=lambda heap: heap.clear),
                what,
                f"Cart {with_unit(loose, 'm³'):.1f} away as it is dug, heap it off the survey, or "
                "raise earthworks.heap_height_mm.",
            )


def _too_near(heap: Heap, what: str, cure: str) -> Finding:
    return Finding(
        severity=Severity.CAUTION,
        code="heap-too-near",
        place=f"{opening(heap.name)} at ({number_in(heap.at[0], 'm'):.1f}, {number_in(heap.at[1], 'm'):.1f})",
        says=f"{what} {metres(2 * heap.radius)} across and {metres(heap.height)} high, "
        f"{millimetres(-heap.clear)} too near {heap.of}.",
        cure=cure,
        source=f"common practice: {SPOIL_CLEARANCE.place} {metres(SPOIL_CLEARANCE.amount)}; clearances of job.toml",
        figure=dotted("earthworks", "heaps", heap.name, "radius"),
    )


def _lips(job: Job, groundwork: Groundwork) -> Iterator[Finding]:
    deep = [lip for lip in groundwork.settling.lips if lip.fill > LIP_ON_FILL.amount]
    if not deep:
        return
    worst = max(deep, key=lambda lip: lip.fill)
    fill = SETTLEMENT_TIPPED if job.earthworks.fill == "tipped" else SETTLEMENT_RAMMED
    others = [lip.name for lip in deep if lip is not worst]
    also = f" So do {', '.join(others)}." if len(others) > 1 else f" So does {others[0]}." if others else ""
    yield Finding(
        severity=Severity.CAUTION,
        code="lip-on-fill",
        place=f"{opening(worst.name)} at {with_unit(worst.chainage, 'm'):.1f}",
        says=f"Its stone stands on {millimetres(worst.fill)} of made ground, over {millimetres(LIP_ON_FILL.amount)}: "
        f"{job.earthworks.fill} fill sinks by {_sinks(fill, worst.fill)}.{also}",
        cure=(
            f"Found it {millimetres(_up(worst.fill), up=True)} deeper, on firm ground, or shift the step into the cut."
        ),
        source=f"assumed: {LIP_ON_FILL.place}; common practice: {fill.place}",
        chainage=(worst.chainage, worst.chainage),
        figure=dotted("earthworks", "lips", worst.name, "fill"),
    )


def _settlement(job: Job, groundwork: Groundwork) -> Iterator[Finding]:
    """The designer's share against what such fill loses."""
    settling = groundwork.settling
    deepest = float(np.maximum(settling.fill_left, settling.fill_right).max())
    fill = SETTLEMENT_TIPPED if job.earthworks.fill == "tipped" else SETTLEMENT_RAMMED
    told = job.course.settlement
    if deepest <= 0 or job.course.measured_edges is not None or told >= fill.low:
        return
    yield Finding(
        severity=Severity.CAUTION,
        code="settlement-small",
        place=f"Banks on up to {millimetres(deepest)} of fill",
        says=f"{share(told)} told for settling; {job.earthworks.fill} fill loses {share(fill.low)} to "
        f"{share(fill.high)}, {_sinks(fill, deepest)} there.",
        cure=f"Write settlement_percent = {fill.amount * 100:g}, and build the banks that much higher.",
        source=f"common practice: {fill.place}",
        figure="earthworks.fill.deepest",
    )


def _over_roots(job: Job, course: SetOutCourse, groundwork: Groundwork) -> Iterator[Finding]:
    """How deep soil is raised inside root circles, banks and all: the worst tree, and the others by name."""
    raised = [(*_raised_over(tree, groundwork), tree) for tree in job.site.trees]
    deep = [row for row in raised if row[0] > FILL_OVER_ROOTS.amount]
    if not deep:
        return
    depth, where, tree = max(deep, key=lambda row: (row[2].protected, row[0]))
    others = ", ".join(f"{other.name} {millimetres(over)}" for over, _, other in deep if other is not tree)
    (start, end), *_ = places(where, course.stations.chainage, JOIN)
    yield Finding(
        severity=Severity.FAIL if tree.protected else Severity.CAUTION,
        code="fill-over-roots",
        place=f"Root circle of {tree.name}, {tree.species}, {chainages(start, end)}",
        says=f"The banks raise the ground by up to {millimetres(depth)} over its roots; "
        f"{millimetres(FILL_OVER_ROOTS.amount)} are borne.{f' Also: {others}.' if others else ''}",
        cure="Lower the edges there by "
        f"{millimetres(_up(depth - FILL_OVER_ROOTS.amount), up=True)}, or hold the bank back "
        "with a wall outside the circle.",
        source=f"BS 5837:2012 (UK); assumed: {FILL_OVER_ROOTS.place}",
        chainage=(start, end),
        figure=dotted("trees", tree.name, "root_radius"),
    )


def _raised_over(tree: Tree, groundwork: Groundwork) -> tuple[Length, BoolArray]:
    """Greatest rise of the ground at any mark of any section inside the circle, and at which stations there is one."""
    radius = radius_of(tree)
    stations = len(groundwork.sections)
    points = groundwork.formation.points[-8 * stations :].reshape(stations, 8, 2)
    raised = np.array([np.delete(section.formation - section.ground, 4) for section in groundwork.sections])
    inside = np.hypot(*(points - np.array(tree.at)).transpose(2, 0, 1)) < radius
    over = np.where(inside, raised, 0.0)
    return float(over.max()), over.max(axis=1) > FILL_OVER_ROOTS.amount


def _bank_slope(job: Job, groundwork: Groundwork) -> Iterator[Finding]:
    slope, banks = job.earthworks.bank_slope, [part for part in groundwork.parts if part.kind == "bank"]
    if slope >= BANK_SLOPE.amount or not any(part.fill > 0 for part in banks):
        return
    stone = slope >= BANK_SLOPE.low
    yield Finding(
        severity=Severity.CAUTION if stone else Severity.FAIL,
        code="bank-steep",
        place="Outer side of the banks",
        says=f"1 down to {slope:g} out: planted soil wants 1 to {BANK_SLOPE.amount:g}, stone stands at 1 to "
        f"{BANK_SLOPE.low:g}.",
        cure=f"{'Face them with stone, or write' if stone else 'Write'} bank_slope = {BANK_SLOPE.amount:g}.",
        source=f"common practice: {BANK_SLOPE.place}",
    )


def _balance(job: Job, groundwork: Groundwork) -> Iterator[Finding]:
    subsoil = groundwork.balances[-1]
    shift = groundwork.raised
    cure = ""
    if shift is not None and abs(shift) >= 0.5e-3:
        verb = "Raise" if shift > 0 else "Lower"
        cure = f"{verb} the course by {millimetres(abs(shift))} and no subsoil leaves the site or comes to it."
    for balance in groundwork.balances:
        if round(abs(balance.left), 1) > 0:
            yield _left(job, balance, cure if balance is subsoil else "")


def _left(job: Job, balance: SoilBalance, cure: str) -> Finding:
    low, _, high = sorted(abs(amount) for amount in balance.loose)
    short = balance.left < 0
    loads = "" if balance.loads is None else f" {balance.loads} load{'' if balance.loads == 1 else 's'}"
    price = "" if balance.price is None else f", {balance.price:,.0f} {job.prices.currency}"
    ask = "" if balance.loads is not None else " Write earthworks.load_t for the number of loads."
    verb = "Bring" if short else "Cart away"
    about = f"about {tonnes(abs(balance.mass))}"
    return Finding(
        severity=Severity.NOTE,
        code="soil-short" if short else "soil-left",
        place=f"{opening(balance.holds)} ({balance.soil})" if balance.soil != balance.holds else opening(balance.holds),
        says=f"{with_unit(balance.dug, 'm³'):.1f} dug, {with_unit(balance.wanted, 'm³'):.1f} "
        "wanted for what is filled: "
        f"{band(low, high, 0.1, 'm³')} loose {'short' if short else 'left over'}.",
        cure=cure or f"{verb} {f'{loads.strip()}, {about} in all' if loads else about}{price}.{ask}",
        source="volumes between the formation and the ground; bulking and ramming by table",
        figure=dotted("earthworks", "balance", balance.holds, "left"),
    )


def _unsure(groundwork: Groundwork) -> Iterator[Finding]:
    if groundwork.off_survey > 0.05:
        yield Finding(
            severity=Severity.CAUTION,
            code="works-off-survey",
            place="Edge of the survey",
            says=(
                f"{with_unit(groundwork.off_survey, 'm²'):.1f} of the works lie where nobody "
                "surveyed: that dig is not counted."
            ),
            cure="Shoot points beyond the banks and the pit.",
            source="outline of the survey",
        )
    if groundwork.folds:
        first = groundwork.folds[0]
        yield Finding(
            severity=Severity.NOTE,
            code="banks-meet",
            place="Inside of tight bends, " + ", ".join(chainages(*span) for span in groundwork.folds),
            says="The banks run into each other there: soil they share is counted once; no section shows the join.",
            cure="Set the toe of the bank out by eye there, or draw a wider bend.",
            source="geometry of the sections",
            chainage=first,
        )


def _sinks(fill: Tabled, depth: Length) -> str:
    return band(fill.low * depth, fill.high * depth, 1, "mm", scale=1000)


def _up(length: Length) -> Length:
    """A cure is rounded up, to 10 mm: it must cure."""
    return math.ceil(length * 100 - 1e-9) / 100
