"""The march through time: a Rosenbrock method of second order, its steps as long as the water allows.

Each step solves three times with one banded matrix and needs no iteration (the pair of Shampine and Reichelt 1997;
L-stable, so stones that drain to all but level do not shorten it). Every flow leaves one node and enters the next, in
the matrix too, so water is kept to rounding error whatever the tolerance. What switches (hose full or empty, cut-out,
restart) ends a step exactly there.
"""

from collections.abc import Callable

import numpy as np

from beckwright.base.give_way import give_way
from beckwright.base.quantities import Duration, FloatArray, Flow, Ratio
from beckwright.base.values import value
from beckwright.film.nodes import Nodes
from beckwright.film.pump import Pumping
from beckwright.film.rates import Rates, Water

STEPS_AT_MOST = 200_000
CUT_OUTS_AT_MOST = 6
"""A pump that has cut out this often goes on doing so: the film ends there."""

Progress = Callable[[Duration], None]
"""Told the seconds of the film now and then; may raise to stop it."""

_DIAGONAL = 1.0 / (2.0 + 2.0**0.5)
_THIRD = 6.0 + 2.0**0.5
_FIRST_STEP, _LEAST_STEP = 0.05, 1e-7
_TELL_EVERY = 25
_REACHED = 1e-7
"""A volume this near to what switches is there, m3: a tenth of a millilitre."""

_SMALL, _LARGE = 0.01, 0.05
"""An error is measured against what a node holds, but no more than ``_LARGE``, m3, and this depth over its plan, m."""

_SETTLED = 5e-3
"""Steady when every node hands on what is pumped, but for this share."""

_DRAINED = 1e-4
"""Drained when all that still moves is less than this share of the flow."""

_STALLED = 0.02
"""A pump that gives less than this share of what it gave at the rest level, and sinks still, has stalled."""

_HOSE, _BOX, _FOOT, _RESERVOIR, _SPILT = 0, 1, -3, -2, -1


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


def march(
    nodes: Nodes,
    pumping: Pumping,
    held: FloatArray,
    highest: FloatArray,
    rules: Rules,
    progress: Progress | None = None,
) -> Taken:
    """Take the film from the water held (m,) and the highest wetted depths among the stones (m,) at its start.

    Raises ArithmeticError where it needs too many steps, and whatever ``progress`` raises.
    """
    return _March(nodes, pumping, held, highest, rules, progress).take()


class _March:
    """What changes while the film is taken; the only thing in this room that does."""

    def __init__(
        self,
        nodes: Nodes,
        pumping: Pumping,
        held: FloatArray,
        highest: FloatArray,
        rules: Rules,
        progress: Progress | None,
    ) -> None:
        from scipy.linalg.lapack import dgttrf, dgttrs

        self.factor, self.solve = dgttrf, dgttrs
        self.pumping, self.rules, self.progress = pumping, rules, progress
        self.rates, self.given = Rates(nodes, pumping.overflow), pumping.reader()
        self.most, self.small = self.given(pumping.rested), _SMALL * nodes.length * nodes.width
        self.held, self.highest = held, highest
        self.running, self.dry = rules.running, False
        self.full = self._hose_is_full()
        self.seconds, self.step, self.steps = 0.0, _FIRST_STEP, 0
        self.cut_outs: list[Duration] = []
        self.frames: list[tuple[Duration, FloatArray, FloatArray, Flow]] = []

    def take(self) -> Taken:
        """March until something ends it."""
        now = self.rates.water(self.held, self.highest)
        while True:
            self._keep(now)
            if self._switch():
                self._keep(now)
            gains = self._gains(now.flow, self.held)
            ended = self._ended(now.flow, gains)
            if ended:
                return self._taken(ended)
            if self.steps % _TELL_EVERY == 0:
                give_way()
                if self.progress:
                    self.progress(self.seconds)
            now = self._advance(now, gains)

    def _gains(self, flow: FloatArray, held: FloatArray) -> FloatArray:
        """What every node gains in a second, m3/s."""
        gains = -flow
        gains[1:] += flow[:-1]
        moved = self._pumped(held) if self.running else -self.pumping.drains * (held[_HOSE] > _REACHED)
        gains[_BOX if self.running and self.full else _HOSE] += moved
        gains[_RESERVOIR] -= moved
        return gains

    def _pumped(self, held: FloatArray) -> Flow:
        return self.given(held[_RESERVOIR]) if self.running else 0.0

    def _advance(self, now: Water, gains: FloatArray) -> Water:
        """One step that keeps the tolerance; gives back the water at its end."""
        longest, changes = self._longest(gains), self.rates.changes(now, self.held)
        while True:
            self.steps += 1
            if self.steps > STEPS_AT_MOST:
                message = f"the film needs more than {STEPS_AT_MOST} steps; it had come to {self.seconds:.1f} s"
                raise ArithmeticError(message)
            step = min(self.step, longest)
            after, later, error = self._try(step, changes, gains)
            worst = self._worst(after, error)
            longer = step * min(5.0, max(0.2, 0.8 * max(worst, 1e-9) ** (-1.0 / 3.0)))
            if worst <= 1.0 or step <= _LEAST_STEP:
                # A step cut short by a switch says nothing against the longer one planned.
                self.step = max(longer, self.step) if step < self.step else longer
                self.seconds, self.held = self.seconds + step, after
                self.highest = np.maximum(self.highest, later.wetted)
                return later
            self.step = longer

    def _try(
        self, step: Duration, changes: tuple[FloatArray, FloatArray], gains: FloatArray
    ) -> tuple[FloatArray, Water, FloatArray]:
        """The water held after a step, how it stands, and an estimate of the error."""
        own, following = (step * _DIAGONAL * change for change in changes)
        diagonal = 1.0 + own
        diagonal[1:] -= following
        *factors, _ = self.factor(-own[:-1], diagonal, following)
        first = self.solve(*factors, gains)[0]
        middle = self.held + 0.5 * step * first
        at_middle = self._gains(self.rates.water(middle, self.highest).flow, middle)
        second = self.solve(*factors, at_middle - first)[0] + first
        after = self.held + step * second
        later = self.rates.water(after, self.highest)
        at_end = self._gains(later.flow, after)
        third = self.solve(*factors, at_end - _THIRD * (second - at_middle) - 2.0 * (first - gains))[0]
        return after, later, step / 6.0 * np.abs(first - 2.0 * second + third)

    def _worst(self, after: FloatArray, error: FloatArray) -> Ratio:
        """The largest error of a node over what it may be. Hose and spilt water follow from the rest."""
        allowed = self.rules.tolerance * (self.small + np.minimum(np.abs(after), _LARGE))
        return float((error / allowed)[_BOX:_SPILT].max())

    def _longest(self, gains: FloatArray) -> Duration:
        """Time to the next switch at the present rates, or to the end."""
        pumping, hose, reservoir = self.pumping, float(self.held[_HOSE]), float(self.held[_RESERVOIR])
        times = [self.rules.until - self.seconds]
        filling, rising = float(gains[_HOSE]), float(gains[_RESERVOIR])
        if filling > 0.0:
            times.append((pumping.hose - hose) / filling)
        if filling < 0.0:
            times.append(hose / -filling)
        if self.running and not self.rules.endless and rising < 0.0:
            times.append((reservoir - pumping.least) / -rising)
        if self.dry and rising > 0.0:
            times.append((pumping.restart - reservoir) / rising)
        return max(min(times), _LEAST_STEP)

    def _hose_is_full(self) -> bool:
        return bool(self.held[_HOSE] >= self.pumping.hose - _REACHED)

    def _switch(self) -> bool:
        """Turn what has been reached: True where anything changed."""
        reservoir, before = self.held[_RESERVOIR], (self.running, self.full)
        if self.running and not self.rules.endless and reservoir <= self.pumping.least + _REACHED:
            self.running, self.dry = False, True
            self.cut_outs.append(self.seconds)
        elif self.dry and reservoir >= self.pumping.restart - _REACHED:
            self.running, self.dry = True, False
        self.full = self._hose_is_full() if self.running else False
        changed = (self.running, self.full) != before
        if changed:
            self.step = min(self.step, 1.0)
        return changed

    def _ended(self, flow: FloatArray, gains: FloatArray) -> str:
        """Why the film is over, or nothing."""
        if self.running:
            pumped = self._pumped(self.held)
            if pumped <= _STALLED * self.most and gains[_RESERVOIR] <= 0.0:
                return "stalls"
            if self.full and self._settled(flow, pumped):
                return "steady"
        elif np.abs(gains[:_SPILT]).sum() <= _DRAINED * self.most:
            return "stays off" if self.dry else "drained"
        if len(self.cut_outs) >= CUT_OUTS_AT_MOST:
            return "cuts out again and again"
        return "time is up" if self.seconds >= self.rules.until - _LEAST_STEP else ""

    def _settled(self, flow: FloatArray, pumped: Flow) -> bool:
        """Whether all nodes hand on what is pumped; the foot, last to do so, is asked first."""
        allowed = _SETTLED * pumped
        return bool(abs(flow[_FOOT] - pumped) <= allowed and np.abs(flow[_BOX:_FOOT] - pumped).max() <= allowed)

    def _keep(self, now: Water) -> None:
        self.frames.append((self.seconds, self.held, now.flow, self._pumped(self.held)))

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
