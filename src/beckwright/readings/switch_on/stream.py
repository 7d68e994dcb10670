"""The stream in tables: what it holds and how high it runs, by flow, place in the band, hidden share and drained share.

Every question costs a few readings of a table, so that thousands of might-have-beens are worked out in a second. Where
more water is hidden by some amount, the bed shows what it would show at a flow less by that amount: the stones carry
what they can, whatever runs above them.
"""

import numpy as np

from beckwright.base.quantities import BoolArray, Duration, FloatArray, Flow, Flows, Length, Ratio, Volume
from beckwright.base.values import value
from beckwright.compose import Design
from beckwright.film import Story, film
from beckwright.job.model import NamedFlow
from beckwright.stages.water import run_water
from beckwright.stages.water.beds import BANDS, MIDDLE

_GRID = np.geomspace(0.03, 1.8, 16)
_CELL: Length = 0.5
_TOLERANCE: Ratio = 0.02
"""A coarse film: lips within 2 % of the fine one, far inside what stones as they lie do to it."""

_TRICKLE: Flow = 1e-9


@value
class Held:
    """How a stream is made, one entry a might-have-been, (s,) each.

    band     place between the laws: 0 low depth, 1 middle, 2 high
    hidden   flow between the stones over the middle one
    drained  share of the stones that drains, over as reckoned
    """

    band: FloatArray
    hidden: FloatArray
    drained: FloatArray


@value
class Stream:
    """Tables of the steady stream; k flows, n stations.

    flows              (k,)
    film, pores, rest  (3, k) water over the beds, among the stones, and in pools and box
    carried            (3,) what the stones carry, mean along the runs; at (3, n) each station
    level              (3, k, n) running water
    still              (n,) at rest
    """

    flows: Flows
    film: FloatArray
    pores: FloatArray
    rest: FloatArray
    carried: FloatArray
    at: FloatArray
    level: FloatArray
    still: FloatArray
    stations: FloatArray

    def in_motion(self, flow: FloatArray, held: Held) -> FloatArray:
        """Water lent at a start at flows (s,), (s,) m3; without the hose's."""
        shows = self._shows(flow, held, self.carried)
        film, pores = self._read(self.film, shows, held), self._read(self.pores, shows, held)
        total: FloatArray = (
            film + held.drained * pores + self._read(self.rest, np.broadcast_to(flow, (BANDS, len(flow))), held)
        )
        return total

    def water_level(self, chainage: Length, flow: FloatArray, held: Held) -> FloatArray:
        """Level of the running water at a chainage, (s,) m."""
        station = self.station(chainage)
        return self._read(self.level[:, :, station], self._shows(flow, held, self.at[:, station]), held)

    def shown(self, flow: FloatArray, held: Held) -> FloatArray:
        """Share of the flow in view, mean along the runs, (s,)."""
        share: FloatArray = np.clip(1.0 - held.hidden * self.carried[MIDDLE] / flow, 0.0, 1.0)
        return share

    def station(self, chainage: Length) -> int:
        """The station nearest to a chainage."""
        return int(np.argmin(np.abs(self.stations - chainage)))

    def _shows(self, flow: FloatArray, held: Held, carried: FloatArray) -> FloatArray:
        """Flow at which the tables of each end show what is shown now, (3, s)."""
        shows: FloatArray = np.maximum(flow - held.hidden * carried[MIDDLE] + carried[:, None], _TRICKLE)
        return shows

    def _read(self, table: FloatArray, flow: FloatArray, held: Held) -> FloatArray:
        ends = np.array([np.interp(flow[end], self.flows, table[end]) for end in range(BANDS)])
        return between(ends, held.band)


def between(ends: FloatArray, band: FloatArray) -> FloatArray:
    """Read between the three ends of a band (3, s) at places (s,); a little beyond them straight on."""
    upper = band > MIDDLE
    one, other = np.where(upper, ends[1], ends[0]), np.where(upper, ends[2], ends[1])
    read: FloatArray = one + (band - np.where(upper, 1.0, 0.0)) * (other - one)
    return read


def stream_of(design: Design) -> Stream:
    """Lay the tables out: the steady stage asked at a few flows about those of the job."""
    most = float(design.water.flows.max())
    if design.supply.chosen.flat_out is not None:
        most = max(most, design.supply.chosen.flat_out.flow)
    flows = tuple(NamedFlow(name=f"{each:.4f}", flow=float(each)) for each in most * _GRID)
    water = run_water(design.course, design.job.source, flows, design.job.water_temperature)
    at, stored = design.course.stations, water.stored
    stony: BoolArray = np.isin(at.reach, [run.number for run in water.runs])
    length = np.gradient(at.chainage)[stony]
    full = water.hidden[:, -1]
    return Stream(
        flows=most * _GRID,
        film=stored.film,
        pores=stored.pores,
        rest=stored.pools + stored.box,
        carried=full[:, stony] @ length / length.sum(),
        at=full,
        level=water.level,
        still=water.still,
        stations=at.chainage,
    )


@value
class Arrivals:
    """Water the pump has to give until it passes, (3,) m3 each: over every lip by name, and at the reservoir."""

    half: dict[str, FloatArray]
    back: FloatArray
    soonest: Duration


def arrivals_of(design: Design, flow: str, *, dry: bool) -> Arrivals:
    """Take a coarse film at each end of the band, of a start that never runs dry; read what was pumped until then."""
    story: Story = "first fill" if dry else "restart"
    films = [film(design, story, flow, end=end, endless=True, cell=_CELL, tolerance=_TOLERANCE) for end in range(BANDS)]

    def pumped(each: int, seconds: Duration) -> Volume:
        taken = films[each]
        sum_so_far = np.append(0.0, np.cumsum(np.diff(taken.seconds) * (taken.pumped[1:] + taken.pumped[:-1]) / 2))
        return float(np.interp(min(seconds, taken.seconds[-1]), taken.seconds, sum_so_far))

    half = {
        lip.name: np.array([pumped(end, films[end].lips[number].half) for end in range(BANDS)])
        for number, lip in enumerate(films[MIDDLE].lips)
    }
    back = np.array([pumped(end, films[end].back_half) for end in range(BANDS)])
    return Arrivals(half={**half, "reservoir": back}, back=back, soonest=min(each.back_first for each in films))
