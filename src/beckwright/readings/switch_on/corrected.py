"""A new job with what the readings taught: input to a new design. The old one is what it was."""

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from beckwright.base.quantities import Flow, Ratio
from beckwright.job.edit import Edit, SetFlow, SetValue
from beckwright.job.model import BedMakeUp, Job, NamedFlow, Pump, Reach, Run
from beckwright.readings.switch_on.model import DRAINED, FLOW, HEAD, HOSE, RESTED, VOIDS, WATTS
from beckwright.readings.switch_on.morning import Learned, Morning
from beckwright.tables.switch_on import NARROWED

_MIDDLE = 1
_STEP: Flow = 10e-3 / 3600
"""Flows are told to 10 L/h: a bucket knows no better."""


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
    """The part of it that job.toml has keys for: flows that were run, and the reservoir's voids.

    The hose's loss and the pump's table lie in hoses.csv and pumps.csv, which a maker gave: told, not rewritten.
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
    if not isinstance(reach, Run) or times == 1.0:
        return reach
    bed: BedMakeUp = reach.bed
    drains = times * (bed.voids - bed.retained)
    # What drains more than it did clings less; where nothing is left to cling, the voids are larger.
    retained = max(bed.voids - drains, 0.0)
    return replace(reach, bed=replace(bed, retained=retained, voids=max(drains, bed.voids - retained) + retained))


def _times(told: dict[str, Learned], name: str) -> Ratio:
    return float(told[name].band[1, _MIDDLE]) if name in told else 1.0


def _added(told: dict[str, Learned], name: str) -> float:
    return float(told[name].band[1, _MIDDLE]) if name in told else 0.0
