"""The reservoir that just works, story by story, and what the trade's rules of thumb would have made it."""

from typing import Unpack

from beckwright.base.quantities import Volume
from beckwright.base.values import value
from beckwright.compose import Design
from beckwright.film.pump import FLAT_OUT
from beckwright.film.stories import Besides, film, film_band
from beckwright.film.values import Story
from beckwright.stages.water.beds import BANDS, MIDDLE
from beckwright.tables.practice import HOUR_SHARE, IN_MOTION_MULTIPLES

_HOUR = 3600.0
_TURNS, _CLOSE = 8, 0.003
"""How often a size is worked again at most, and the share below which it stays."""


@value
class Works:
    """Water the reservoir must be able to lend (at a stop: take) in one story, by the low, middle and high law, m3."""

    story: Story
    low: Volume
    middle: Volume
    high: Volume

    @property
    def ends(self) -> tuple[Volume, Volume, Volume]:
        """All three."""
        return self.low, self.middle, self.high


@value
class Rule:
    """A rule of thumb and the reservoir it makes, m3."""

    name: str
    volume: Volume


def reservoir_that_works(design: Design, story: Story, flow: str | None = None, **besides: Unpack[Besides]) -> Works:
    """Usable water with which a story just works: between the pump's least level and the rest level, m3.

    The most that is ever borrowed from a reservoir in which the pump never cuts out, plus what was missing before the
    start; worked again in a reservoir of that size, the pump set anew for it, until the size stays. Where the pump
    would stall in that one, or this one rests below the pump's least level, the last size before stands.
    At a stop it is the room the returning water needs; ``besides`` as for ``film``.
    """
    if story == "stop":
        low, middle, high = (each.returned for each in film_band(design, story, flow, **besides))
    else:
        low, middle, high = (_needed(design, story, flow, end, besides) for end in range(BANDS))
    return Works(story=story, low=low, middle=middle, high=high)


def _needed(design: Design, story: Story, flow: str | None, end: int, besides: Besides) -> Volume:
    endless: Besides = {**besides, "endless": True}
    missing, useful = besides.get("missing", 0.0), design.reservoir.useful
    needed = film(design, story, flow, end=end, **endless).borrowed + missing
    if useful <= 0:
        return needed
    for _ in range(_TURNS):
        sized: Besides = {**endless, "larger": needed / useful}
        again = film(design, story, flow, end=end, **sized)
        before, needed = needed, again.borrowed + missing if again.ended == "steady" else needed
        if abs(needed - before) <= _CLOSE * needed:
            break
    return needed


def rules_of_thumb(design: Design, flow: str | None = None) -> tuple[Rule, ...]:
    """What the trade's rules make of the reservoir at a flow (the largest named one where not told).

    They multiply the water in motion, here the middle of the steady water, or take a share of an hour's flow: each
    answers another story without saying which.
    """
    water = design.flat_out if flow == FLAT_OUT else design.water
    number = int(water.flows.argmax()) if flow is None else water.number(flow)
    moving = float(water.stored.in_motion[MIDDLE, number])
    multiples = [Rule(name=name, volume=row.amount * moving) for name, row in IN_MOTION_MULTIPLES.items()]
    hourly = HOUR_SHARE.amount * float(water.flows[number]) * _HOUR
    return (*multiples, Rule(name="a third of an hour's flow", volume=hourly))
