"""The place: title, datum, survey, what stands on it and lies in it, climate."""

from beckwright.base.quantities import Angle, FloatArray, Length, Lengths, Level, Levels, Points
from beckwright.base.values import value
from beckwright.base.words import METRIC, Measure
from beckwright.job.model.ground import Foundation, Mark, Runoff


@value
class Title:
    """What the sheets say about the job itself.

    units, language  what it is told in where nobody asks for others
    """

    name: str
    client: str
    revision: str
    date: str
    drawn_by: str
    invented: bool
    units: Measure = METRIC
    language: str = "en"


@value
class Datum:
    """The one fixed mark all levels are told from."""

    name: str
    level: Level


@value
class Survey:
    """Points shot on the ground: ``points`` (n, 2), ``levels`` (n,), and ``breaklines`` as rows of point numbers."""

    points: Points
    levels: Levels
    codes: tuple[str, ...]
    breaklines: tuple[tuple[int, ...], ...]


@value
class Tree:
    """A tree with the diameters of its stems at 1.5 m above ground."""

    name: str
    species: str
    at: tuple[Length, Length]
    stems: tuple[Length, ...]
    protected: bool


@value
class Service:
    """A pipe or cable in the ground. ``depth`` is to its top; None where nobody knows."""

    name: str
    kind: str
    line: tuple[tuple[Length, Length], ...]
    depth: Length | None
    clearance: Length
    note: str


@value
class Boundary:
    """A fence, wall or building line that the works keep off. ``damp_proof`` is a damp-proof course level or None."""

    name: str
    line: tuple[tuple[Length, Length], ...]
    clearance: Length
    damp_proof: Level | None


@value
class Site:
    """The ground and what stands in it. ``latitude`` is positive in the north, ``altitude`` above the sea."""

    soil: str
    topsoil: Length
    groundwater_winter: Length | None
    groundwater_summer: Length | None
    access_width: Length
    trees: tuple[Tree, ...]
    services: tuple[Service, ...]
    boundaries: tuple[Boundary, ...]
    marks: tuple[Mark, ...]
    foundations: tuple[Foundation, ...]
    runoff: tuple[Runoff, ...]
    notes: tuple[str, ...]
    latitude: Angle | None = None
    altitude: Length | None = None


@value
class Climate:
    """Twelve months, January first: rain and open-water evaporation as depth in the month.

    frost_days  with frost in the air; None where the table does not say
    """

    station: str
    rain: Lengths
    evaporation: Lengths
    frost_days: FloatArray | None = None
