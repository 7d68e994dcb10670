"""A new job with what the readings taught: input to a new design. The old one is what it was."""

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from beckwright.base.quantities import Flow, Ratio
from beckwright.job.edit import Edit, SetFlow, SetValue
from beckwright.job.model import BedMakeUp, Job, NamedFlow, Pump, Reach, Run
from beckwright.readings.switch_on.morning import Learned, Morning
from beckwright.readings.switch_on.priors import DRAINED, FLOW, HEAD, HOSE, RESTED, VOIDS, WATTS
from beckwright.tables.switch_on import NARROWED

_MIDDLE = 1
_STEP: Flow = 10e-3 / 3600
"""Flows are told to 10 L/h: a bucket knows no better."""

_LEVEL_STEP, _SHARE_STEP = 0.003, 0.005
"""Less than this a level or a share is not moved."""


def corrected(job: Job, found: Morning) -> Job:
    """The job as read: flows that were run, losses of the hose, the pump's table, voids, the level at rest.

    Only what the readings narrowed moves, to the middle of what is left of its band. Where the bed lies between its
    laws, and what the stones hide, have no key of their own and stay.
    """
    told = {each.name: each for each in found.learned if each.left <= NARROWED.amount}
    hose = replace(job.route.chosen, loss_factor=job.route.chosen.loss_factor * _times(told, HOSE))
    pump = _pump(job.pumps.chosen, told)
    reservoir = replace(
        job.reservoir,
        voids=min(job.reservoir.voids * _times(told, VOIDS), 1.0),
        rested=min(job.reservoir.rested + _added(told, RESTED), job.reservoir.overflow),
    )
    reaches = tuple(_drained(each, _times(told, DRAINED)) for each in job.course.reaches)
    return replace(
        job,
        flows=tuple(NamedFlow(name=each.name, flow=_flow(each, found)) for each in job.flows),
        route=replace(
            job.route,
            chosen=hose,
            offered=tuple(hose if each.name == hose.name else each for each in job.route.offered),
        ),
        pumps=replace(
            job.pumps,
            chosen=pump,
            offered=tuple(pump if each.name == pump.name else each for each in job.pumps.offered),
        ),
        reservoir=reservoir,
        course=replace(job.course, reaches=reaches),
    )


def edits(job: Job, found: Morning) -> tuple[Edit, ...]:
    """The part of it that job.toml has keys for: flows that were run, the reservoir's voids and rest, beds that drain.

    The hose's loss and the pump's table lie in hoses.csv and pumps.csv, which a maker gave: ``proposals`` tells them.
    """
    return tuple(_edits(job, found))


def _edits(job: Job, found: Morning) -> Iterator[Edit]:
    for each in job.flows:
        flow = _flow(each, found)
        if abs(flow - each.flow) > _STEP / 2:
            yield SetFlow(name=each.name, l_h=round(flow * 3.6e6))
    told = {each.name: each for each in found.learned if each.left <= NARROWED.amount}
    voids = round(min(job.reservoir.voids * _times(told, VOIDS), 1.0), 3)
    if abs(voids - job.reservoir.voids) >= 0.005:
        yield SetValue(key="reservoir.voids", value=voids)
    rested = min(job.reservoir.rested + _added(told, RESTED), job.reservoir.overflow)
    if abs(rested - job.reservoir.rested) >= _LEVEL_STEP / 2:
        below = round((job.reservoir.overflow - rested) * 1000)
        yield SetValue(key="reservoir.rested_below_overflow_mm", value=below)
    for was in {each.bed.name: each.bed for each in job.course.reaches if isinstance(each, Run)}.values():
        yield from _bed_edits(was, _bed(was, _times(told, DRAINED)))


def _bed_edits(was: BedMakeUp, now: BedMakeUp) -> Iterator[Edit]:
    for key in ("retained", "voids"):
        before, after = round(getattr(was, key), 3), round(getattr(now, key), 3)
        if abs(after - before) >= _SHARE_STEP:
            yield SetValue(key=f"beds.{was.name}.{key}", value=after)


def proposals(job: Job, found: Morning) -> tuple[str, ...]:
    """What was found of hose and pump, whose figures lie in tables of makers: where each stands, and what to put there.

    Nothing while something is likely to be wrong: a kink is no property of a hose.
    """
    told = {each.name: each for each in found.learned if each.left <= NARROWED.amount}
    return () if found.wrong else tuple(_proposals(job, told))


def _proposals(job: Job, told: dict[str, Learned]) -> Iterator[str]:
    if HOSE in told:
        hose = job.route.chosen
        low, middle, high = (float(each) * hose.loss_factor for each in told[HOSE].band[1])
        yield (
            f"hoses.csv, {hose.name}, loss_factor: {middle:.2f}, between {low:.2f} and {high:.2f}; "
            f"now {hose.loss_factor:.2f}"
        )
    for name, column in ((HEAD, "heads"), (FLOW, "flows"), (WATTS, "watts")):
        if name in told:
            low, middle, high = (float(each) for each in told[name].band[1])
            yield (
                f"pumps.csv, {job.pumps.chosen.name}, {column}: {middle:.2f} times the table, "
                f"between {low:.2f} and {high:.2f}"
            )


def _flow(named: NamedFlow, found: Morning) -> Flow:
    """What a setting that was run really gives; any other stays as it was meant."""
    run = next((each for each in found.running if each.name == named.name and each.read), None)
    if run is None or run.flow[1, 2] - run.flow[1, 0] > NARROWED.amount * (run.flow[0, 2] - run.flow[0, 0]):
        return named.flow
    return float(np.round(run.flow[1, _MIDDLE] / _STEP) * _STEP)


def _pump(pump: Pump, told: dict[str, Learned]) -> Pump:
    return replace(
        pump,
        flows=pump.flows * _times(told, FLOW),
        heads=pump.heads * _times(told, HEAD),
        watts=pump.watts * _times(told, WATTS),
    )


def _drained(reach: Reach, times: Ratio) -> Reach:
    return replace(reach, bed=_bed(reach.bed, times)) if isinstance(reach, Run) else reach


def _bed(bed: BedMakeUp, times: Ratio) -> BedMakeUp:
    """What drains more than it did clings less; where nothing is left to cling, the voids are larger."""
    if times == 1.0:
        return bed
    drains = times * (bed.voids - bed.retained)
    retained = max(bed.voids - drains, 0.0)
    return replace(bed, retained=retained, voids=max(drains, bed.voids - retained) + retained)


def _times(told: dict[str, Learned], name: str) -> Ratio:
    return float(told[name].band[1, _MIDDLE]) if name in told else 1.0


def _added(told: dict[str, Learned], name: str) -> float:
    return float(told[name].band[1, _MIDDLE]) if name in told else 0.0
