"""The reservoir at start, at stop, empty in winter, and under a wheel."""

from collections.abc import Iterator

import numpy as np

from beckwright.base.figures import dotted
from beckwright.base.findings import Finding, Severity
from beckwright.base.words import kilopascals, litres, metres, millimetres
from beckwright.job.model import Job
from beckwright.stages.course import SetOutCourse
from beckwright.stages.reservoir import FilledReservoir, Pressed, Uplift
from beckwright.stages.water.beds import HIGH
from beckwright.tables.practice import LAST_FALL

ENGINEER = "Have an engineer and the maker look at it: this is only a screening"


def pit_findings(job: Job, course: SetOutCourse, filled: FilledReservoir) -> Iterator[Finding]:
    """Findings on the pit's levels, ground water and loads."""
    yield from _levels(filled)
    yield from _stop(job, filled)
    yield from _last_fall(course, filled)
    yield from map(_floats, (uplift for uplift in filled.uplifts if uplift.use > 1))
    if job.reservoir.fill == "crates":
        yield from _pressed(filled)


def _levels(filled: FilledReservoir) -> Iterator[Finding]:
    pit = filled.pit
    if filled.lowest < pit.pump_minimum:
        missing = pit.held(pit.pump_minimum) - pit.held(filled.lowest)
        yield Finding(
            severity=Severity.FAIL,
            code="runs-dry-at-start",
            place="Reservoir, morning restart",
            says=f"The stream borrows more than the pump can spare: {litres(missing)} short at the high end.",
            cure=f"Add {litres(missing)} of usable water, or run less.",
            source="volumes at steady flow",
            figure="reservoir.level.lowest",
        )
    first = float(filled.first_fill.min())
    if first < pit.pump_minimum:
        missing = pit.held(pit.pump_minimum) - pit.held(first)
        yield Finding(
            severity=Severity.CAUTION,
            code="first-fill",
            place="Reservoir, first fill",
            says=f"Dry pools and stones take up {litres(float(filled.kept.max()))} for good: "
            f"{litres(missing)} more than the reservoir can spare.",
            cure="Fill the pools and wet the stones from a hose before the first start.",
            source="volumes at steady flow",
            figure="reservoir.level.first_fill",
        )


def _stop(job: Job, filled: FilledReservoir) -> Iterator[Finding]:
    pit = filled.pit
    if pit.rested > pit.overflow:
        yield Finding(
            severity=Severity.FAIL,
            code="overflows-at-stop",
            place="Reservoir, at stop",
            says=f"At rest it stands {millimetres(pit.rested - pit.overflow)} over the overflow.",
            cure="Lower the rest level to the overflow or below.",
            source="levels",
            figure="reservoir.level.rested",
        )
    lent = float(filled.lent[HIGH].max())
    room = pit.held(pit.overflow) - pit.held(pit.rested)
    spilt = lent - room
    if spilt > 0 and filled.lowest >= pit.pump_minimum:
        name = job.flows[int(np.argmax(filled.lent[HIGH]))].name
        running = float(filled.running[HIGH].min())
        yield Finding(
            severity=Severity.NOTE,
            code="float-level",
            place="Top-up",
            says=f"Topped up to the rest level while {name} runs, {litres(spilt)} go over at stop.",
            cure=f"Set a float to shut at {metres(running)} or lower, {millimetres(pit.rested - running)} below rest.",
            source="volumes at steady flow",
            figure="reservoir.level.lowest",
        )


def _last_fall(course: SetOutCourse, filled: FilledReservoir) -> Iterator[Finding]:
    above = course.end_level - filled.pit.cover
    if course.end_level <= filled.pit.overflow:
        below = millimetres(filled.pit.overflow - course.end_level)
        yield Finding(
            severity=Severity.FAIL,
            code="end-below-overflow",
            place="Lower end of the course",
            says=f"Its bed lies {below} below the overflow: the stream backs up.",
            cure="Lower the reservoir or raise the end of the course.",
            source="levels",
            chainage=(course.length, course.length),
        )
    elif above > LAST_FALL.amount:
        yield Finding(
            severity=Severity.NOTE,
            code="last-fall",
            place="Lower end of the course",
            says=f"The bed ends {millimetres(above)} above the reservoir's cover.",
            cure="Draw a last fall or a ramp of stones there.",
            source=f"common practice: {LAST_FALL.place}",
            chainage=(course.length, course.length),
        )


def _floats(uplift: Uplift) -> Finding:
    return Finding(
        severity=Severity.CAUTION,
        code="may-float",
        place=f"Pit: {uplift.state}",
        says=f"Winter water stands {millimetres(uplift.head)} over its floor and lifts with "
        f"{kilopascals(uplift.uplift)}; {kilopascals(uplift.weight)} hold it down.",
        cure=f"Keep the water down while building, do not empty in winter. {ENGINEER}.",
        source="EN 1997-1 UPL, UK factors 1.1 and 0.9",
        figure=dotted("reservoir", "uplift", uplift.state, "pressure"),
    )


def _pressed(filled: FilledReservoir) -> Iterator[Finding]:
    for pressed in filled.pressed:
        if pressed.use is None:
            yield _unknown_strength(pressed)
        elif pressed.use > 1:
            yield Finding(
                severity=Severity.FAIL,
                code="crates-overloaded",
                place=f"Crates under {pressed.load.name}",
                says=f"{kilopascals(pressed.design)} against {kilopascals(pressed.strength or 0.0)} they bear.",
                cure=f"Keep it off with a bollard, or deepen the cover. {ENGINEER}.",
                source="EN 1990 factors, load spread 2 down to 1 out",
                figure=dotted("reservoir", "load", pressed.load.name),
            )


def _unknown_strength(pressed: Pressed) -> Finding:
    return Finding(
        severity=Severity.CAUTION,
        code="strength-unknown",
        place=f"Crates under {pressed.load.name}",
        says=f"{kilopascals(pressed.design)} to carry, and nobody gave the crates' strength.",
        cure="Ask the supplier for the long-term strength from above and from the side.",
        source="EN 1990 factors, load spread 2 down to 1 out",
        figure=dotted("reservoir", "load", pressed.load.name),
    )
