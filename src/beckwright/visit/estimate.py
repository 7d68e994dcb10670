"""The answers of a first visit: a few dozen streams designed within what is known, and the least and most of them."""

from collections.abc import Mapping

import numpy as np

from beckwright.visit.designed import Made, Outcome
from beckwright.visit.sketch import machine_for, pit_depth, sketch_at
from beckwright.visit.values import PRICE_NAMES, Moves, Pit, Range, Visit, VisitAnswers

DRAWN = 12
"""Streams with every unknown somewhere in its band: in each twelfth of each band there is one (a Latin square)."""
SEED = 8341
LIGHT = frozenset({"pump", "hours", "pace", "access"})
"""What no level, pit or stone hangs on: they need no other design."""
BUILDS = frozenset(PRICE_NAMES) - {"energy"}
ON_SITE = frozenset({"length", "fall", "width", "water", "access", "stones", "edges", "hose", "soil"})
"""What a person can measure or choose there and then."""
ASKED_OF = ("flow", "fill", "dug", "power", "energy", "days", "build")
"""Answers whose ranges the next measurement is to narrow."""
Places = Mapping[str, float]


def estimate(visit: Visit) -> VisitAnswers:
    """Design the stream in the middle, each unknown alone at both ends, and ``DRAWN`` of them anywhere."""
    middle = Made(sketch_at(visit, {}), visit)
    centre = middle.told(middle.sketch)
    ends = {
        each.key: tuple(_told(visit, {each.key: place}, middle) for place in (0.0, 1.0))
        for each in visit.unknowns
        if each.is_open
    }
    drawn = [Made(sketch_at(visit, places), visit) for places in squares(visit)]
    told = [made.told(made.sketch) for made in drawn]
    every = [centre, *(outcome for pair in ends.values() for _, outcome in pair), *told]
    made = [middle, *(held for pair in ends.values() for held, _ in pair if held is not middle), *drawn]
    ranges = tuple(_range(key, centre, every, ends) for key in centre)
    priced = tuple(name for name in PRICE_NAMES if name in BUILDS and visit.prices.of(name) is not None)
    return VisitAnswers(
        visit=visit,
        ranges=ranges,
        pits=_pits(made, middle),
        machines=_machines(visit),
        designed=len(made),
        next=_next(ranges),
        priced=priced,
        unpriced=tuple(name for name in PRICE_NAMES if name in BUILDS and name not in priced),
    )


def squares(visit: Visit) -> list[Places]:
    """Places of the streams drawn, the same for every visit, so that a changed answer moves nothing but itself."""
    from numpy.random import default_rng

    draw = default_rng(SEED)
    columns = [(draw.permutation(DRAWN) + 0.5) / DRAWN for _ in visit.unknowns]
    keys = [each.key for each in visit.unknowns]
    return [dict(zip(keys, row, strict=True)) for row in np.stack(columns, axis=1).tolist()]


def _told(visit: Visit, places: Places, middle: Made) -> tuple[Made, Outcome]:
    sketch = sketch_at(visit, places)
    made = middle if LIGHT.issuperset(places) else Made(sketch, visit)
    return made, made.told(sketch)


def _range(
    key: str, centre: Outcome, every: list[Outcome], ends: Mapping[str, tuple[tuple[Made, Outcome], ...]]
) -> Range:
    amounts = [outcome[key] for outcome in every]
    moves = [
        Moves(key=unknown, low=min(pair), high=max(pair))
        for unknown, ((_, low), (_, high)) in ends.items()
        for pair in [(low[key], high[key])]
    ]
    felt = sorted((move for move in moves if move.swing > 1e-9 * abs(centre[key])), key=lambda move: -move.swing)
    return Range(key=key, low=min(amounts), middle=centre[key], high=max(amounts), moves=tuple(felt))


def _next(ranges: tuple[Range, ...]) -> str | None:
    """The unknown with the largest share of the ranges asked for: its swing squared over that of all, added up."""
    shares: dict[str, float] = {}
    for each in ranges:
        whole = sum(move.swing**2 for move in each.moves)
        for move in each.moves if each.key in ASKED_OF else ():
            shares[move.key] = shares.get(move.key, 0.0) + move.swing**2 / whole
    return max(ON_SITE & shares.keys(), key=lambda key: shares[key], default=None)


def _pits(made: list[Made], middle: Made) -> tuple[Pit, Pit, Pit]:
    by_area = sorted((each.sketch.pit for each in made), key=lambda pit: pit[0] * pit[1])
    smallest, centre, largest = (
        Pit(length=pit[0], width=pit[1], depth=pit_depth()) for pit in (by_area[0], middle.sketch.pit, by_area[-1])
    )
    return smallest, centre, largest


def _machines(visit: Visit) -> tuple[str, ...]:
    access = visit.of("access")
    return tuple(dict.fromkeys(machine_for(end) for end in (access.low, access.middle, access.high)))
