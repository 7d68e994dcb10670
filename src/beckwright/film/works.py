"""The reservoir that just works, story by story, and what the trade's rules of thumb would have made it."""

from collections.abc import Callable
from dataclasses import replace
from typing import Unpack

from beckwright.base.quantities import Ratio, Volume
from beckwright.base.values import value
from beckwright.compose import Design
from beckwright.film.asked import CELL, ROUGHEST, TOLERANCE, Asked
from beckwright.film.nodes import Loop
from beckwright.film.pump import FLAT_OUT
from beckwright.film.stories import Besides, filming, filming_band
from beckwright.film.together import Once, Work, do
from beckwright.film.values import Story
from beckwright.stages.water import Water
from beckwright.stages.water.beds import BANDS, HIGH, LOW, MIDDLE
from beckwright.tables.practice import HOUR_SHARE, IN_MOTION_MULTIPLES

_HOUR = 3600.0
_TURNS, _CLOSE = 8, 0.01
"""How often a size is worked again at most, and the share below which the next one, by the secant, is the last."""

_LEANS_LEAST, _LEANS_MOST = -1.0, 0.5
"""By no more than this does a larger size ask for less or more: two sizes close together say little of it."""

_LEAST_SHARE = 1e-3
"""Over what is missing the least reservoir worked holds this share of the designed one."""

_ROUGHER = 5.0
"""Times the usual tolerance that do for a size: at 1e-2 what is borrowed lies within 0.1 % of that at 2e-3."""


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
    start; worked again in a reservoir of that size, the pump set anew for it, until the size stays (the films taken
    with a tolerance five times the usual, which moves it by 0.1 % at most). Where the pump would stall in that one, or
    this one rests below the pump's least level, the last size before stands.
    At a stop it is the room the returning water needs; ``besides`` as for ``film``.
    """
    return do(sizing(Loop(design), story, flow, **besides))


def sizing(loop: Loop, story: Story, flow: str | None = None, **besides: Unpack[Besides]) -> Work[Works]:
    """The work of ``reservoir_that_works``."""
    if story == "stop":
        back = [each.returned for each in (yield from filming_band(loop, story, flow, **besides))]
        return Works(story=story, low=back[LOW], middle=back[MIDDLE], high=back[HIGH])
    useful = loop.design.reservoir.useful
    middle = yield from _needed(_asking(loop, story, flow, MIDDLE, besides), useful)
    moving = _moving(loop.design, flow)
    low, high = yield tuple(
        _needed(_asking(loop, story, flow, end, besides), useful, _like(middle, moving[end] - moving[MIDDLE]))
        for end in (LOW, HIGH)
    )
    return Works(story=story, low=low.volume, middle=middle.volume, high=high.volume)


class Sizes:
    """The reservoirs that just work for one design, each worked out once: seconds of work that several ask for."""

    def __init__(self, loop: Loop) -> None:
        self.loop = loop
        self._asked: dict[tuple[Story, str | None, frozenset[tuple[str, object]]], Once[Works]] = {}

    def of(self, story: Story, flow: str | None = None, **besides: Unpack[Besides]) -> Works:
        """As ``reservoir_that_works`` tells it; what is asked as usual need not be said."""
        return do(self.finding(story, flow, **besides))

    def finding(self, story: Story, flow: str | None = None, **besides: Unpack[Besides]) -> Work[Works]:
        """The work of ``of``."""
        asked = (story, flow, frozenset(each for each in besides.items() if each not in _USUAL))
        if asked not in self._asked:
            self._asked[asked] = Once(sizing(self.loop, story, flow, **besides))
        works: Works = yield self._asked[asked]
        return works


_USUAL = {"then": "", "cell": CELL, "pools_filled": False, "missing": 0.0}.items()
"""What a film is asked for where nobody says otherwise."""


@value
class _Size:
    """A size of reservoir, m3, and how much more would be asked for in one larger by 1."""

    volume: Volume
    leans: Ratio = 0.0


_Asks = Callable[[Volume], Work[tuple[Volume, bool]]]
"""What a story asks of a reservoir of a size, m3, and whether the pump runs on in that one."""


def _asking(loop: Loop, story: Story, flow: str | None, end: int, besides: Besides) -> _Asks:
    useful, missing = loop.design.reservoir.useful, besides.get("missing", 0.0)
    rough = min(_ROUGHER * besides.get("tolerance", TOLERANCE), ROUGHEST)

    def asks(size: Volume) -> Work[tuple[Volume, bool]]:
        larger = max(size, missing + _LEAST_SHARE * useful) / useful if useful > 0 else 1.0
        asked: Besides = {**besides, "endless": True, "tolerance": rough, "larger": larger}
        progress = asked.pop("progress", None)
        taken, *_ = yield from filming(loop, flow, Asked(story=story, end=end, **asked), progress)  # type: ignore[misc]
        return taken.borrowed + missing, taken.ended != "stalls"

    return asks


def _needed(asks: _Asks, useful: Volume, like: _Size | None = None) -> Work[_Size]:
    """The size that asks for itself, by secants from the designed one, or from one ``like`` that of another end."""
    before, size = None, like or _Size(volume=useful)
    for _ in range(_TURNS):
        asked, runs = yield from asks(size.volume)
        if not runs and before:
            break
        if not runs and like:
            return (yield from _needed(asks, useful))
        leans = _leans(before, (size.volume, asked)) if before else size.leans
        before = (size.volume, asked)
        size = _Size(volume=size.volume + (asked - size.volume) / (1.0 - leans), leans=leans)
        if useful <= 0 or abs(size.volume - before[0]) <= _CLOSE * size.volume:
            break
    return size


def _leans(before: tuple[Volume, Volume], now: tuple[Volume, Volume]) -> Ratio:
    """How much more the second size asks for than the first, for each m3 it is larger; each a size and what it asks."""
    leans = (now[1] - before[1]) / (now[0] - before[0])
    return min(max(leans, _LEANS_LEAST), _LEANS_MOST)


def _like(middle: _Size, more: Volume) -> _Size:
    """What another end of the band should need: ``more`` than the middle, as so much more water is in motion."""
    return replace(middle, volume=max(middle.volume + more, middle.volume / 2))


def _moving(design: Design, flow: str | None) -> tuple[Volume, ...]:
    """Steady water in motion at a flow, by the low, middle and high law, m3; none where the pump lifts none."""
    water, number = _steady(design, flow)
    return tuple(float(each) for each in water.stored.in_motion[:, number]) if len(water.flows) else (0.0,) * BANDS


def _steady(design: Design, flow: str | None) -> tuple[Water, int]:
    """The steady water, and which of its flows is meant: the largest named one where not told."""
    if flow == FLAT_OUT:
        return design.flat_out, 0
    return design.water, int(design.water.flows.argmax()) if flow is None else design.water.number(flow)


def rules_of_thumb(design: Design, flow: str | None = None) -> tuple[Rule, ...]:
    """What the trade's rules make of the reservoir at a flow (the largest named one where not told).

    They multiply the water in motion, here the middle of the steady water, or take a share of an hour's flow: each
    answers another story without saying which.
    """
    water, number = _steady(design, flow)
    moving = float(water.stored.in_motion[MIDDLE, number])
    multiples = [Rule(name=name, volume=row.amount * moving) for name, row in IN_MOTION_MULTIPLES.items()]
    hourly = HOUR_SHARE.amount * float(water.flows[number]) * _HOUR
    return (*multiples, Rule(name="a third of an hour's flow", volume=hourly))
