"""What one film makes of its water while it is marched: its time, its next step, what it switches, and its frames."""

from collections.abc import Callable
from typing import NamedTuple

import numpy as np

from beckwright.base.quantities import Duration, FloatArray, Flow, Ratio, Volume
from beckwright.base.values import value
from beckwright.film.nodes import Nodes
from beckwright.film.pump import Pumping

CUT_OUTS_AT_MOST = 6
"""A pump that has cut out this often goes on doing so: the film ends there."""

Progress = Callable[[Duration], None]
"""Told the seconds of the film now and then; may raise to stop it."""

_FIRST_STEP, _LEAST_STEP = 0.05, 1e-7
_TELL_EVERY = 25
_REACHED = 1e-7
"""A volume this near to what switches is there, m3: a tenth of a millilitre."""

_SMALL = 0.01
"""An error is measured against what a node holds, and this depth over its plan, m."""

_SETTLED = 5e-3
"""Steady when every node hands on what is pumped, but for this share."""

_DRAINED = 1e-4
"""Drained when all that still moves is less than this share of the flow."""

_STALLED = 0.02
"""A pump that gives less than this share of what it gave at the rest level, and sinks still, has stalled."""

HOSE, BOX, FOOT, RESERVOIR, SPILT = 0, 1, -3, -2, -1
"""Places among the nodes."""


@value
class Rules:
    """How a march is to go.

    running    whether the pump is switched on
    endless    it never cuts out
    tolerance  error a step may make in a node, as share of what it holds
    until      seconds after which the film ends whatever happens
    """

    running: bool
    endless: bool
    tolerance: Ratio
    until: Duration


@value
class Taken:
    """The film as taken, step by step.

    seconds   (t,)
    held      (t, m) water in every node, m3
    flow      (t, m) out of every node, m3/s
    pumped    (t,) by the pump, m3/s
    highest   (m,) highest wetted depth among the stones, m
    cut_outs  seconds at which the pump ran out of water
    ended     why, in words
    """

    seconds: FloatArray
    held: FloatArray
    flow: FloatArray
    pumped: FloatArray
    highest: FloatArray
    cut_outs: tuple[Duration, ...]
    ended: str


class Scene(NamedTuple):
    """A film as it is to be taken, from how the water lies at its start.

    held      water in every node (m,), m3
    highest   highest wetted depths among the stones (m,), m
    progress  told the seconds of the film now and then
    """

    nodes: Nodes
    pumping: Pumping
    held: FloatArray
    highest: FloatArray
    rules: Rules
    progress: Progress | None = None


class Reel:
    """What one film makes of its water: its time, its next step, what it has switched, and the frames kept."""

    def __init__(self, scene: Scene, told: Callable[[Taken], None]) -> None:
        self.nodes, self.pumping, self.held, self.highest, self.rules, self.progress = scene
        self.told, self.over = told, False
        self.given = self.pumping.reader()
        self.most, self.small = self.given(self.pumping.rested), _SMALL * self.nodes.length * self.nodes.width
        self.running, self.dry = self.rules.running, False
        self.full = self._is_full(self.held[HOSE])
        self.seconds, self.step, self.steps, self.longest = 0.0, _FIRST_STEP, 0, 0.0
        self.cut_outs: list[Duration] = []
        self.frames: list[tuple[Duration, FloatArray, FloatArray, Flow]] = []

    @property
    def fills(self) -> int:
        """The node that the pump fills, or that drains."""
        return BOX if self.running and self.full else HOSE

    def moved(self, hose: Volume, reservoir: Volume) -> Flow:
        """Moved from the reservoir: pumped, or run back out of the hose."""
        return self.given(reservoir) if self.running else -self.pumping.drains * (hose > _REACHED)

    def planned(self) -> Duration:
        """Length of the next step; counts it."""
        self.steps += 1
        return min(self.step, self.longest)

    def keeps(self, step: Duration, worst: Ratio) -> bool:
        """Whether a step that was tried stands, and how long the next is to be."""
        longer = step * min(5.0, max(0.2, 0.8 * max(worst, 1e-9) ** (-1.0 / 3.0)))
        if worst > 1.0 and step > _LEAST_STEP:
            self.step = longer
            return False
        # A step cut short by a switch says nothing against the longer one planned.
        self.step = max(longer, self.step) if step < self.step else longer
        self.seconds += step
        return True

    def plan(self, hose: Volume, reservoir: Volume, filling: Flow, rising: Flow) -> None:
        """Time to the next switch at the present rates, or to the end: no step is longer."""
        if self.progress and self.steps % _TELL_EVERY == 0:
            self.progress(self.seconds)
        pumping, times = self.pumping, [self.rules.until - self.seconds]
        if filling > 0.0:
            times.append((pumping.hose - hose) / filling)
        if filling < 0.0:
            times.append(hose / -filling)
        if self.running and not self.rules.endless and rising < 0.0:
            times.append((reservoir - pumping.least) / -rising)
        if self.dry and rising > 0.0:
            times.append((pumping.restart - reservoir) / rising)
        self.longest = max(min(times), _LEAST_STEP)

    def _is_full(self, hose: Volume) -> bool:
        return bool(hose >= self.pumping.hose - _REACHED)

    def switch(self, hose: Volume, reservoir: Volume) -> bool:
        """Turn what has been reached: True where anything changed."""
        before = (self.running, self.full)
        if self.running and not self.rules.endless and reservoir <= self.pumping.least + _REACHED:
            self.running, self.dry = False, True
            self.cut_outs.append(self.seconds)
        elif self.dry and reservoir >= self.pumping.restart - _REACHED:
            self.running, self.dry = True, False
        self.full = self._is_full(hose) if self.running else False
        changed = (self.running, self.full) != before
        if changed:
            self.step = min(self.step, 1.0)
        return changed

    def ends(self, flow: FloatArray, gains: FloatArray, reservoir: Volume) -> bool:
        """Whether the film is over; its end is told then."""
        ended = self._ended(flow, gains, reservoir)
        if ended:
            self.over = True
            self.told(self._taken(ended))
        return self.over

    def _ended(self, flow: FloatArray, gains: FloatArray, reservoir: Volume) -> str:
        """Why the film is over, or nothing."""
        if self.running:
            pumped = self.given(reservoir)
            if pumped <= _STALLED * self.most and gains[RESERVOIR] <= 0.0:
                return "stalls"
            if self.full and self._settled(flow, pumped):
                return "steady"
        elif np.abs(gains[:SPILT]).sum() <= _DRAINED * self.most:
            return "stays off" if self.dry else "drained"
        if len(self.cut_outs) >= CUT_OUTS_AT_MOST:
            return "cuts out again and again"
        return "time is up" if self.seconds >= self.rules.until - _LEAST_STEP else ""

    def _settled(self, flow: FloatArray, pumped: Flow) -> bool:
        """Whether all nodes hand on what is pumped; the foot, last to do so, is asked first."""
        allowed = _SETTLED * pumped
        return bool(abs(flow[FOOT] - pumped) <= allowed and np.abs(flow[BOX:FOOT] - pumped).max() <= allowed)

    def keep(self, held: FloatArray, flow: FloatArray, reservoir: Volume) -> None:
        """Keep a frame."""
        self.frames.append((self.seconds, held, flow, self.given(reservoir) if self.running else 0.0))

    def _taken(self, ended: str) -> Taken:
        seconds, held, flow, pumped = (np.array(column) for column in zip(*self.frames, strict=True))
        return Taken(
            seconds=seconds,
            held=held,
            flow=flow,
            pumped=pumped,
            highest=self.highest,
            cut_outs=tuple(self.cut_outs),
            ended=ended,
        )
