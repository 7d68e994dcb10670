"""Pump, hose and reservoir for many might-have-beens at once: the flow at a level, and the level as it falls."""

from collections.abc import Callable

import numpy as np

from beckwright.base.quantities import FloatArray, Flow, IntArray, Level, Ratio, Volume
from beckwright.base.values import value
from beckwright.compose import Design
from beckwright.equations.water import water_viscosity
from beckwright.film import FLAT_OUT
from beckwright.stages.supply import curve_of, lay

Gives = Callable[[FloatArray], FloatArray]
"""Flow (s,) by the level (s,) the pump draws from."""

_ROWS = 73
_TRICKLE: Flow = 1e-8
_MANY = 96


@value
class Setting:
    """How the pump is set for one flow: share of full speed; what a valve holds back for each flow squared, s2/m5."""

    speed: Ratio
    held_back: float
    meant: Flow


@value
class Fitted:
    """How pump, hose and pit are, (s,) each.

    speed        share of full speed
    head, flow, watts  over the pump's table
    hose         loss over as reckoned
    held_back    by a valve or a blocked cage, s2/m5; chamber is the cage's part of it
    voids        of the reservoir over as drawn; rested its level at rest
    """

    speed: FloatArray
    head: FloatArray
    flow: FloatArray
    watts: FloatArray
    hose: FloatArray
    held_back: FloatArray
    chamber: FloatArray
    voids: FloatArray
    rested: FloatArray


@value
class Loop:
    """Tables of pump, hose and pit.

    share        (m,) of the pump's largest flow, ``most`` for all pumps together; heads, watts there at full speed
    flows, lost  (r,) loss of the hose as reckoned
    levels, held (l,) of the pit
    """

    outlet: Level
    share: FloatArray
    heads: FloatArray
    watts: FloatArray
    most: Flow
    flows: FloatArray
    lost: FloatArray
    levels: FloatArray
    held: FloatArray
    least: Level
    overflow: Level
    floor: Level
    hose: Volume
    settings: dict[str, Setting]

    def given(self, fitted: Fitted) -> Gives:
        """Flow (s,) by the level (s,) the pump draws from."""
        flows = (fitted.speed * fitted.flow)[:, None] * self.most * self.share
        heads = (fitted.head * fitted.speed**2)[:, None] * self.heads
        lost = fitted.hose[:, None] * np.interp(flows, self.flows, self.lost) + fitted.held_back[:, None] * flows**2
        reach = np.maximum.accumulate(self.outlet - (heads - lost), axis=1)
        rows = np.arange(len(flows))

        def at(level: FloatArray) -> FloatArray:
            above = np.clip(_lower_than(reach, level), 1, flows.shape[1] - 1)
            low, high = reach[rows, above - 1], reach[rows, above]
            part = np.clip((level - low) / np.where(high > low, high - low, 1.0), 0.0, 1.0)
            read = flows[rows, above - 1] + part * (flows[rows, above] - flows[rows, above - 1])
            given: FloatArray = np.maximum(read, _TRICKLE)
            return given

        return at

    def drawn(self, flow: FloatArray, fitted: Fitted) -> FloatArray:
        """Watts (s,) at flows (s,)."""
        share = flow / (fitted.speed * fitted.flow * self.most)
        read: FloatArray = fitted.watts * fitted.speed**3 * np.interp(share, self.share, self.watts)
        return read

    def holds(self, level: FloatArray, fitted: Fitted) -> FloatArray:
        """Water (s,) held up to levels (s,)."""
        held: FloatArray = fitted.voids * np.interp(level, self.levels, self.held)
        return held

    def level_of(self, held: FloatArray, fitted: Fitted) -> FloatArray:
        """Level (s,) at which the pit holds ``held`` (s,)."""
        level: FloatArray = np.interp(held / fitted.voids, self.held, self.levels)
        return level


def _lower_than(reach: FloatArray, level: FloatArray) -> IntArray:
    """How many of each row of rising numbers (s, m) lie below its level (s,): halved in where there are many rows."""
    if len(reach) < _MANY:
        counted: IntArray = (reach < level[:, None]).sum(axis=1)
        return counted
    rows = np.arange(len(reach))
    first, beyond = np.zeros(len(reach), dtype=int), np.full(len(reach), reach.shape[1])
    for _ in range(reach.shape[1].bit_length()):
        middle = (first + beyond) // 2
        below = (first < beyond) & (reach[rows, np.minimum(middle, reach.shape[1] - 1)] < level)
        first, beyond = np.where(below, middle + 1, first), np.where(below, beyond, middle)
    return first


@value
class DrawDown:
    """The reservoir from a start until the first water comes back, (s,) each.

    Between the rest level and the pump's least the flow is taken to fall evenly with the water taken out, which is
    within 0.2 % of the film: ``W = q (exp(a t) - 1) / a``.
    """

    flow: FloatArray
    fades: FloatArray
    full: FloatArray
    useful: FloatArray

    def out(self, seconds: FloatArray | float) -> FloatArray:
        """Water taken out after so many seconds."""
        taken: FloatArray = self.flow * np.expm1(self.fades * seconds) / self.fades
        return taken

    def time(self, out: FloatArray) -> FloatArray:
        """Seconds until so much is taken out; a fading pump never gives more than it can."""
        time: FloatArray = np.log1p(np.maximum(self.fades * out / self.flow, -1 + 1e-9)) / self.fades
        return time


def draw_down(loop: Loop, fitted: Fitted, at: Gives | None = None) -> DrawDown:
    """Start from rest, the pump drawing from the chamber; ``at`` is what the loop gives, where it is known already."""
    at, least = at or loop.given(fitted), np.full_like(fitted.rested, loop.least)
    first, last = at(fitted.rested), at(least)
    full = loop.holds(fitted.rested, fitted)
    useful = np.maximum(full - loop.holds(least, fitted), 1e-6)
    fades = np.minimum((last - first) / useful, -1e-9)
    return DrawDown(flow=first, fades=fades, full=full, useful=useful)


def loop_of(design: Design) -> Loop:
    """Lay out pump, hose and pit of a design, each named flow set as the supply stage sets it."""
    job, pit = design.job, design.reservoir.pit
    curve, together = curve_of(job.pumps.chosen), job.pumps.together
    laid = lay(job.route.chosen, job.route, water_viscosity(job.water_temperature))
    most = curve.flows[-1]
    # The table bends at the rows its maker gave, and nowhere else.
    share = np.unique(np.append(np.linspace(0.0, 1.0, _ROWS), np.array(curve.flows) / most))
    flows = np.linspace(0.0, 1.3 * most * together, 5 * _ROWS)
    levels = np.unique(np.append(np.linspace(pit.floor - 3.0, pit.cover + 0.5, 400), [pit.floor, pit.fill_top]))
    return Loop(
        outlet=job.source.hose_outlet,
        share=share,
        heads=np.array([curve.head(float(each) * most) for each in share]),
        watts=together * np.array([curve.power(float(each) * most) for each in share]),
        most=most * together,
        flows=flows,
        lost=np.array([0.0, *(laid.head_lost(float(each)) for each in flows[1:])]),
        levels=levels,
        held=np.array([pit.held(float(each)) for each in levels]) + 1e-12 * np.arange(len(levels)),
        least=pit.pump_minimum,
        overflow=pit.overflow,
        floor=pit.floor,
        hose=float(design.reservoir.hose),
        settings=_settings(design),
    )


def _settings(design: Design) -> dict[str, Setting]:
    curve, together = curve_of(design.job.pumps.chosen), design.job.pumps.together
    settings = {}
    for given in design.supply.chosen.flows:
        duty = given.duty
        if duty is None:
            settings[given.name] = Setting(speed=1.0, held_back=0.0, meant=given.wanted)
            continue
        spare = duty.speed**2 * curve.head(given.wanted / together / duty.speed) - duty.head
        settings[given.name] = Setting(
            speed=duty.speed, held_back=max(spare, 0.0) / given.wanted**2, meant=given.wanted
        )
    flat_out = design.supply.chosen.flat_out
    if flat_out is not None:
        settings[FLAT_OUT] = Setting(speed=1.0, held_back=0.0, meant=flat_out.flow)
    return settings
