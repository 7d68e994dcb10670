"""What pump and hose give at every level in the reservoir, tabled once before the march."""

from bisect import bisect_right
from collections.abc import Callable

import numpy as np

from beckwright.base.errors import JobError, Problem
from beckwright.base.quantities import FloatArray, Flow, Flows, Length, Level, Levels, Ratio, Volume
from beckwright.base.values import value
from beckwright.compose import Design
from beckwright.equations.pipe import pipe_volume
from beckwright.equations.pump import head_at_speed, static_lift
from beckwright.equations.water import water_viscosity
from beckwright.stages.reservoir import Pit
from beckwright.stages.supply import LaidHose, PumpCurve, curve_of, lay, speed_for
from beckwright.stages.water.beds import MIDDLE

FLAT_OUT = "flat out"
_ROWS = 129
_DEEP = 1000.0
"""An endless reservoir is the real one drawn down this far, m."""


@value
class Pumping:
    """Pump, hose and reservoir as the march asks for them.

    levels, held  of the reservoir, rising together: level against water held
    flow          given at each of those levels; below the pump's least level what it gives there
    hose          water in a full hose
    drains        flow at which a hose without a check valve empties into the reservoir at a stop; 0 with one
    least, restart, overflow, rested  water held when the pump cuts out, may start again, spills, and stands at rest
    stall         level at which the head with nothing flowing is used up by the lift alone
    """

    name: str
    levels: Levels
    held: FloatArray
    flow: Flows
    hose: Volume
    drains: Flow
    least: Volume
    restart: Volume
    overflow: Volume
    rested: Volume
    stall: Level

    def at(self, water: Volume) -> Flow:
        """Flow while the reservoir holds ``water``."""
        return self.reader()(water)

    def reader(self) -> Callable[[Volume], Flow]:
        """``at`` for who asks often: the table laid out once, so that a question takes less than a microsecond."""
        held, flow = self.held.tolist(), self.flow.tolist()
        last = len(held) - 1

        def at(water: Volume) -> Flow:
            row = min(max(bisect_right(held, water), 1), last)
            part = min(max((water - held[row - 1]) / (held[row] - held[row - 1]), 0.0), 1.0)
            given: Flow = flow[row - 1] + part * (flow[row] - flow[row - 1])
            return given

        return at

    def level(self, water: FloatArray) -> Levels:
        """Levels at which the reservoir holds ``water``, same shape."""
        levels: Levels = np.interp(water, self.held, self.levels)
        return levels


def pumping_of(design: Design, flow: str, restart_rise: Length, larger: Ratio = 1.0) -> Pumping:
    """Slow the chosen pump to a named flow (or leave it flat out) and table what it gives.

    flow          name of a flow, or ``flat out``; one the pump cannot give runs flat out
    restart_rise  how far the reservoir must rise over the pump's least level before the pump may start again
    larger        the reservoir's plan is so many times the one designed
    The hose's own filling is taken at the same flow: a start at Withy Lane was logged so, and it is the slower way.
    Raises JobError where no flow has that name.
    """
    job, pit = design.job, design.reservoir.pit
    curve, together = curve_of(job.pumps.chosen), job.pumps.together
    laid = lay(job.route.chosen, job.route, water_viscosity(job.water_temperature))
    speed, held_back = _setting(design, flow, curve, laid, larger)
    flows = np.linspace(0.0, 1.0, _ROWS) * speed * curve.flows[-1] * together
    lost = np.array([0.0, *(laid.head_lost(float(each)) for each in flows[1:])])
    heads = np.array([head_at_speed(curve.head(float(each) / speed / together), speed) for each in flows])
    reach = np.maximum.accumulate(job.source.hose_outlet - (heads - lost - held_back * flows**2))
    levels = _levels(pit)
    given = np.interp(np.maximum(levels, pit.pump_minimum), reach, flows, left=0.0)
    lift = job.source.hose_outlet - pit.rested
    return Pumping(
        name=flow,
        levels=levels,
        held=larger * _held(pit, levels),
        flow=given,
        hose=float(pipe_volume(job.route.chosen.bore, job.route.length)),
        drains=0.0 if stays_full(design) else float(np.interp(lift / 2, lost, flows)),
        least=larger * pit.held(pit.pump_minimum),
        restart=larger * pit.held(pit.pump_minimum + restart_rise),
        overflow=larger * pit.held(pit.overflow),
        rested=larger * pit.held(pit.rested),
        stall=float(reach[0]),
    )


def stays_full(design: Design) -> bool:
    """Whether a check valve keeps the hose full while the pump is off."""
    return any(name == "check valve" and count > 0 for name, count in design.job.route.fittings)


def _levels(pit: Pit) -> Levels:
    """Levels from far below the sump to the cover, with every level at which the pit's width of voids changes."""
    breaks = [pit.floor - _DEEP, pit.floor, pit.fill_top, pit.pump_minimum]
    spread = np.linspace(min(pit.sump_floor, pit.pump_minimum), pit.cover, _ROWS)
    return np.unique(np.round(np.concatenate([breaks, spread]), 9))


def _held(pit: Pit, levels: Levels) -> FloatArray:
    """Water held at levels, straight between those at which the voids change."""
    breaks = np.unique([levels[0], pit.floor, pit.fill_top, levels[-1]])
    held: FloatArray = np.interp(levels, breaks, [pit.held(float(level)) for level in breaks])
    return held


def _setting(design: Design, flow: str, curve: PumpCurve, laid: LaidHose, larger: Ratio) -> tuple[Ratio, float]:
    """Speed of the pump, and the loss of a valve for each flow squared where the speed cannot go low enough, s2/m5.

    Set as the supply stage sets it, for the running level, in the reservoir of that size.
    """
    if flow == FLAT_OUT:
        return 1.0, 0.0
    names, pit = design.water.names, design.reservoir.pit
    if flow not in names:
        raise JobError([_unknown(flow, names)])
    number, together = design.water.number(flow), design.job.pumps.together
    wanted = float(design.water.flows[number])
    running = pit.level_of(pit.held(pit.rested) - float(design.reservoir.lent[MIDDLE, number]) / larger)
    lift = static_lift(design.job.source.hose_outlet, max(running, pit.pump_minimum))
    head = lift + laid.head_lost(wanted)
    speed = speed_for(curve, wanted / together, head)
    if speed > 1:
        return 1.0, 0.0
    slowed = max(speed, curve.pump.slowest)
    spare = head_at_speed(curve.head(wanted / together / slowed), slowed) - head
    return slowed, max(spare, 0.0) / wanted**2


def _unknown(flow: str, names: tuple[str, ...]) -> Problem:
    return Problem(
        place="job.toml flows",
        found=f"no flow is called {flow}",
        rule=f"A film is of one of {', '.join((*names, FLAT_OUT))}",
        remedy="Name one of them, or add the flow to the job",
    )
