"""Ground work: marks, footings, seen water, digging, heaps, tolerances."""

from typing import Literal

from beckwright.base.quantities import Length, Level, Money, Ratio
from beckwright.base.quantities import Mass as MassOf
from beckwright.base.values import value

Placed = Literal["rammed", "tipped"]
Holds = Literal["topsoil", "subsoil"]


@value
class Mark:
    """A fixed mark that survives the works. ``level`` is None where nobody shot it."""

    name: str
    at: tuple[Length, Length]
    level: Level | None


@value
class Foundation:
    """A footing. ``line`` is its outer face; ``depth`` of its underside below the ground, None where nobody knows."""

    name: str
    line: tuple[tuple[Length, Length], ...]
    depth: Length | None
    note: str


@value
class Runoff:
    """Where water was seen to run in rain, ``line`` the way it runs."""

    name: str
    line: tuple[tuple[Length, Length], ...]
    note: str


@value
class WishedHeap:
    """Where the designer wants a heap."""

    name: str
    holds: Holds
    at: tuple[Length, Length]


@value
class Earthworks:
    """How the ground is dug and filled.

    bank_top       width beyond the edge of the lining; ``bank_slope`` horizontal for each 1 down of the outer side
    batter         horizontal for each 1 up of the pit's sides; None for what the soil stands at
    working_space  round the fill on the floor of the pit
    digger_width, digger_reach, load, load_price  None where nobody said
    """

    fill: Placed
    bank_top: Length
    bank_slope: Ratio
    batter: Ratio | None
    working_space: Length
    trench_width: Length
    trench_depth: Length
    heap_height: Length
    digger_width: Length | None
    digger_reach: Length | None
    load: MassOf | None
    load_price: Money | None
    heaps: tuple[WishedHeap, ...]


@value
class Tolerances:
    """How far off each level may be, either way."""

    survey: Length
    dig: Length
    stone: Length
