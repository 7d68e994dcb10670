"""What a film tells: frozen values, and the same as plain dictionaries and rows for files."""

from typing import Literal

from beckwright.base.quantities import (
    Duration,
    FloatArray,
    Flows,
    Length,
    Lengths,
    Level,
    Levels,
    Ratio,
    Volume,
)
from beckwright.base.values import value

Story = Literal["first fill", "restart", "stop", "change"]
STORIES: tuple[Story, ...] = ("first fill", "restart", "stop", "change")

NEVER: Duration = float("inf")
"""The time of what does not happen within the film."""


@value
class LipTime:
    """When water comes over one lip (at a stop: leaves it).

    first  1 % of the flow: the very first water, which depends on the grid
    half   half of the flow: what a person with a stopwatch calls the water's arrival
    """

    name: str
    chainage: Length
    first: Duration
    half: Duration


@value
class RunWave:
    """How far the wave of a run is from needing inertia.

    number  kinematic wave number; infinite where all water is hidden. Above 20 the wave runs without inertia
    """

    name: str
    number: Ratio


@value
class Film:
    """The loop second by second through one story at one flow, at one end of the band of the laws. t frames.

    story       first fill, restart, stop, or change (from ``flow`` to ``then``)
    end         0 low, 1 middle, 2 high depth
    pools_filled, topped_up, missing, larger  what was asked besides; see ``film``
    seconds     (t,) from switching; not even, two frames where something switches
    level       (t,) of the reservoir
    pumped      (t,) by the pump; back (t,) into the reservoir
    film, pools, pores, box, hose  (t,) water over the beds, in the pools, among the stones, in the outlet box, in the
                hose; spilt (t,) over the overflow
    chainage    (f,) places along the course
    reached     (f,) when half of the flow passes; at a stop, when only a tenth does
    lips        source and steps
    back_first, back_half  1 % and half of the flow at the lower end
    steady      when 95 % of what is pumped comes back for good; at a stop, when 90 % of what comes back has
    lowest, highest  of the reservoir; lowest_at, highest_at  when it has come all but a hundredth of the way there
    borrowed    most that was ever taken out of the reservoir, less what it started with
    cut_outs    when the pump ran out of water
    stall       level at which the pump, at its speed, lifts nothing
    added       water put in from a tap before the film begins so that it could run, or to the rest level
    turnover    all that passed the pump; lost: water not accounted for at the end
    ended       why
    waves       of the runs, at the flow
    """

    story: Story
    flow: str
    then: str
    end: int
    pools_filled: bool
    topped_up: bool
    missing: Volume
    larger: Ratio
    cell: Length
    seconds: FloatArray
    level: Levels
    pumped: Flows
    back: Flows
    film: FloatArray
    pools: FloatArray
    pores: FloatArray
    box: FloatArray
    hose: FloatArray
    spilt: FloatArray
    chainage: Lengths
    reached: FloatArray
    lips: tuple[LipTime, ...]
    back_first: Duration
    back_half: Duration
    steady: Duration
    lowest: Level
    lowest_at: Duration
    highest: Level
    highest_at: Duration
    borrowed: Volume
    cut_outs: tuple[Duration, ...]
    stall: Level
    added: Volume
    turnover: Volume
    lost: Volume
    ended: str
    waves: tuple[RunWave, ...]

    @property
    def note(self) -> str:
        """What is out of the ordinary, in words."""
        told = ["pools filled first"] * self.pools_filled + ["topped up while running"] * self.topped_up
        return ", ".join(told + ["after a dry spell"] * (self.missing > 0))

    @property
    def returned(self) -> Volume:
        """Water that has come back into the reservoir or gone over it from the start to the end; below 0 if lent."""
        return float(self.course[0] - self.course[-1])

    @property
    def course(self) -> FloatArray:
        """Water outside reservoir and overflow, (t,) m3."""
        total: FloatArray = self.film + self.pools + self.pores + self.box + self.hose
        return total

    @property
    def runs_dry(self) -> bool:
        """Whether the pump ran out of water."""
        return bool(self.cut_outs)


def in_bands(films: tuple[Film, ...]) -> tuple[tuple[Film, ...], ...]:
    """Films that differ only in the end of the band, together, low end first; the bands in the order they come."""
    bands: dict[tuple[str, ...], list[Film]] = {}
    for each in films:
        bands.setdefault((each.story, each.flow, each.then, each.note), []).append(each)
    return tuple(tuple(sorted(band, key=lambda film: film.end)) for band in bands.values())
