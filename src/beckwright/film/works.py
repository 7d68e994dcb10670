"""The reservoir that just works, story by story, and what the trade's rules of thumb would have made it."""

from typing import Unpack

from beckwright.base.quantities import Volume
from beckwright.base.values import value
from beckwright.compose import Design
from beckwright.film.pump import FLAT_OUT
from beckwright.film.stories import Besides, film_band
from beckwright.film.values import Story
from beckwright.stages.water.beds import MIDDLE
from beckwright.tables.practice import HOUR_SHARE, IN_MOTION_MULTIPLES

_HOUR = 3600.0


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

    It is the most that is ever borrowed from a reservoir in which the pump never cuts out, plus what was missing before
    the start. The pump's speed is that which gives the flow at this reservoir's running level; in one just large enough
    it is set anew for the least level, and the flow, so what is borrowed, is the same.
    At a stop it is the room the returning water needs; ``besides`` as for ``film``.
    """
    endless: Besides = {**besides, "endless": True}
    band = film_band(design, story, flow, **endless)
    low, middle, high = (each.returned if story == "stop" else each.borrowed + each.missing for each in band)
    return Works(story=story, low=low, middle=middle, high=high)


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
