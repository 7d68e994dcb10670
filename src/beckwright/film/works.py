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

    Found from one film with a pump that never cuts out, then corrected by a second one in a reservoir of that size:
    in a smaller reservoir the level sinks further, the pump gives less, and less is borrowed. Where it would stall in
    that one, or the reservoir rests below the pump's least level, the first number stands.
    Water missing before the start counts as needed. At a stop it is the room the returning water needs; ``besides`` as
    for ``film``.
    """
    if story == "stop":
        low, middle, high = (each.returned for each in film_band(design, story, flow, **besides))
    else:
        low, middle, high = (_needed(design, story, flow, end, besides) for end in range(BANDS))
    return Works(story=story, low=low, middle=middle, high=high)


def _needed(design: Design, story: Story, flow: str | None, end: int, besides: Besides) -> Volume:
    missing = besides.get("missing", 0.0)
    endless: Besides = {**besides, "endless": True}
    first = film(design, story, flow, end=end, **endless).borrowed + missing
    if design.reservoir.useful <= 0:
        return first
    fitting: Besides = {**endless, "larger": first / design.reservoir.useful}
    second = film(design, story, flow, end=end, **fitting)
    return second.borrowed + missing if second.ended == "steady" else first


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
