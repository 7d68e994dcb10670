"""A pump as its maker tabulates it, read straight between the rows; at other speeds by the affinity laws.

Straight lines, because they can be followed by hand, never overshoot, and are what the public pipe-network engine
reads too; a smooth curve through the same rows differs by some 0.4 % in flow.
"""

from bisect import bisect_right
from collections.abc import Callable
from math import sqrt

from beckwright.base.quantities import Flow, Length, Power, Ratio
from beckwright.base.values import value
from beckwright.equations.pump import between_rows, total_head
from beckwright.job.model import Pump
from beckwright.stages.supply.hose import LaidHose, Losses

_TRICKLE = 1e-9
_CLOSE = 1e-10
"""Flows, m3/s: what counts as hardly any, and the same: a third of a millilitre in an hour."""


@value
class PumpCurve:
    """Rows of a maker's table as plain numbers, flow rising."""

    pump: Pump
    flows: tuple[Flow, ...]
    heads: tuple[Length, ...]
    watts: tuple[Power, ...]

    def head(self, flow: Flow) -> Length:
        """Head at full speed, within the table."""
        return self._read(flow, self.heads)

    def power(self, flow: Flow) -> Power:
        """Watts at full speed, within the table."""
        return self._read(flow, self.watts)

    def _read(self, flow: Flow, column: tuple[float, ...]) -> float:
        row = min(max(bisect_right(self.flows, flow), 1), len(self.flows) - 1)
        return between_rows(flow, self.flows[row - 1], self.flows[row], column[row - 1], column[row])


@value
class Duty:
    """Where pumps and hose agree.

    flow   all pumps together
    head   they give
    speed  share of full speed
    watts  all pumps together, from the wall
    """

    flow: Flow
    head: Length
    lift: Length
    losses: Losses
    speed: Ratio
    watts: Power


def curve_of(pump: Pump) -> PumpCurve:
    """The pump's table as plain numbers."""
    return PumpCurve(
        pump=pump,
        flows=tuple(pump.flows.tolist()),
        heads=tuple(pump.heads.tolist()),
        watts=tuple(pump.watts.tolist()),
    )


def duty_of(curve: PumpCurve, together: int, laid: LaidHose, lift: Length) -> Duty | None:
    """Where pumps and hose agree at full speed; None where the pump cannot lift the water at all.

    A pump that could give more than its last row gives the last row: no table is read beyond its end.
    """

    def spare(flow: Flow) -> Length:
        return curve.head(flow / together) - lift - laid.head_lost(flow)

    trickle, most = _TRICKLE, curve.flows[-1] * together
    if curve.heads[0] <= lift or spare(trickle) <= 0:
        return None
    flow = most if spare(most) >= 0 else _crossed(spare, trickle, most)
    losses = laid.losses_at(flow)
    return Duty(
        flow=flow,
        head=total_head(lift, losses.along, losses.fittings),
        lift=lift,
        losses=losses,
        speed=1.0,
        watts=together * curve.power(flow / together),
    )


def _crossed(spare: Callable[[Flow], Length], low: Flow, high: Flow) -> Flow:
    """Flow at which ``spare``, above 0 at ``low`` and below it at ``high``, crosses 0: false position, as Dowell and
    Jarratt (1971, from memory) mend it.

    An end that stays twice running counts half, so that it comes in too; where friction leaps from one law to the next
    the ends close in on the leap. Written here because reading a library of searches takes longer than all of them.
    """
    above, below = spare(low), spare(high)
    flow, stayed = low, 0
    while high - low > _CLOSE:
        flow = (low * below - high * above) / (below - above)
        found = spare(flow)
        if found == 0.0:
            break
        if found > 0:
            low, above, below = flow, found, below / 2 if stayed > 0 else below
            stayed = 1
        else:
            high, below, above = flow, found, above / 2 if stayed < 0 else above
            stayed = -1
    return flow


def speed_for(curve: PumpCurve, flow: Flow, head: Length) -> Ratio:
    """Share of full speed at which one pump gives ``flow`` at ``head``; above 1 where it cannot.

    On each straight piece ``H = a - b Q`` of the table the affinity laws give ``n**2 a - n b Q - head = 0``. A need
    beyond the last row at every speed is answered by the speed that carries the last row's flow that far.
    """
    for row in range(1, len(curve.flows)):
        start, end, upper, lower = curve.flows[row - 1], curve.flows[row], curve.heads[row - 1], curve.heads[row]
        fall = (upper - lower) / (end - start)
        top, pull = upper + fall * start, fall * flow
        speed = (pull + sqrt(pull * pull + 4 * top * head)) / (2 * top)
        if start <= flow / speed <= end:
            return speed
    return max(flow / curve.flows[-1], sqrt(head / curve.heads[0]))
