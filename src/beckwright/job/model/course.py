"""The stream: source, reaches, beds, edges, layers, flows."""

from typing import Literal

from beckwright.base.quantities import Flow, Length, Lengths, Level, Levels, MassPerArea, Points, Ratio
from beckwright.base.values import value

Laid = Literal["loose", "bedded flat", "with boulders", "smooth"]
LipKind = Literal["sharp edge", "flat slab", "round edge", "boulders"]


@value
class BedMakeUp:
    """Stones over the lining. ``size`` is the smallest and largest stone as sold; ``depth`` 0 is a bare face.

    manning  roughness if the person insists on one, else None
    """

    name: str
    depth: Length
    size: tuple[Length, Length]
    voids: Ratio
    retained: Ratio
    laid: Laid
    manning: float | None


@value
class Run:
    """A sloping stony stretch. ``sills`` are distances from its head where hidden water is forced up."""

    name: str
    length: Length
    fall: Length
    width: Length
    bed: BedMakeUp
    sills: tuple[Length, ...]


@value
class Step:
    """A drop over a lip."""

    name: str
    drop: Length
    lip_width: Length
    lip: LipKind


@value
class Pool:
    """Standing water; its bed level is the rim it spills over, its floor lies ``depth`` below."""

    name: str
    length: Length
    width: Length
    depth: Length


Reach = Run | Step | Pool


@value
class Edge:
    """Height of the lining's edge above the bed, one side of one stretch of the course."""

    start: Length
    end: Length
    side: Literal["left", "right", "both"]
    above_bed: Length


@value
class MeasuredEdges:
    """Edge levels shot on site, by chainage: they stand in place of the designed ones."""

    chainages: Lengths
    left: Levels
    right: Levels


@value
class Course:
    """The stream from source to reservoir.

    line       the designer's points, source first, shape (n, 2)
    reaches    runs, steps and pools in order downstream
    end        level of the bed at the lower end as the person gave it, or None
    side_slope horizontal for each 1 up of the channel's sides
    """

    line: Points
    reaches: tuple[Reach, ...]
    end: Level | None
    side_slope: Ratio
    edge_above_bed: Length
    edges: tuple[Edge, ...]
    measured_edges: MeasuredEdges | None
    freeboard_wanted: Length
    settlement: Ratio


@value
class Source:
    """The outlet box at the top."""

    lip_level: Level
    lip_width: Length
    lip: LipKind
    box_depth: Length
    box_length: Length
    hose_outlet: Level


@value
class Layers:
    """What lies between the stones and the dug ground, from the top: fleece, lining, fleece, blinding."""

    fleece_over: Length
    lining: Length
    fleece_under: Length
    blinding: Length
    lining_mass: MassPerArea
    edge_allowance: Length
    lap: Length


@value
class NamedFlow:
    """A flow the designer named."""

    name: str
    flow: Flow
