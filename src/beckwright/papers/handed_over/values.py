"""What is handed over, as values.

Eastings, northings and levels in metres on the site's own grid, as the survey gave them.
"""

from typing import Literal

from beckwright.base.quantities import FloatArray, Length, Lengths, Level, Levels, Points
from beckwright.base.values import value
from beckwright.job.model import Datum, Title
from beckwright.stages.earthworks.values import CrossSection, Surface

UPRIGHT: Length = 1e-3
"""A step has no length and a profile must rise in station: how far apart its two levels are set, m."""

Code = Literal["PEG", "DIG", "EDGE", "LIP", "PIT", "MARK"]
Kind = Literal[
    "course",
    "edge left",
    "edge right",
    "lip",
    "pool",
    "works outline",
    "reservoir",
    "pit floor",
    "pit top",
    "hose trench",
    "hose",
    "service",
    "boundary",
    "foundation",
    "runoff",
    "contour",
]
Fact = tuple[str, str | float | bool | None]
"""What else is known of a thing. The unit stands in the name, as in ``width_m``."""


@value
class Point:
    """A point to set out, to check against, or to stand on.

    number  fit for an instrument: letters, digits and hyphens, no two alike
    name    the same in words
    level   None where nobody shot one
    """

    number: str
    name: str
    code: Code
    at: tuple[Length, Length]
    level: Level | None


@value
class Line:
    """A line through ``points`` (n, 2), or an area's outline where ``closed``: its first point is not repeated.

    levels  (n,), or None where nobody knows them
    """

    kind: Kind
    name: str
    points: Points
    levels: Levels | None
    closed: bool = False
    facts: tuple[Fact, ...] = ()


@value
class Round:
    """A thing known by its middle and a radius: a tree with its root protection circle, a heap."""

    kind: Literal["tree", "heap"]
    name: str
    at: tuple[Length, Length]
    radius: Length
    facts: tuple[Fact, ...]


@value
class Net:
    """A surface of flat triangles, and the lines no triangle crosses: each (n, 3) easting, northing, level."""

    name: str
    surface: Surface
    breaklines: tuple[FloatArray, ...] = ()


@value
class Profile:
    """Levels along the axis at its stations. ``designed`` is False for the ground as it is."""

    name: str
    levels: Levels
    designed: bool


@value
class Axis:
    """The course in plan as straight pieces, and what was worked out along it.

    points    (m, 2)
    along     (m,) distance along the pieces
    stretch   metres of axis for each metre of the course's own chainage
    stations  (n,) along the axis; each rises: the second of two at one step stands a millimetre downstream
    """

    points: Points
    along: Lengths
    stretch: float
    stations: Lengths
    profiles: tuple[Profile, ...]
    sections: tuple[CrossSection, ...]


@value
class HandedOver:
    """Everything the files for other programs hold."""

    title: Title
    datum: Datum
    nets: tuple[Net, ...]
    axis: Axis
    points: tuple[Point, ...]
    lines: tuple[Line, ...]
    rounds: tuple[Round, ...]
