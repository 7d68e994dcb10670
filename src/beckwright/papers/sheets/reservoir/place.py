"""Where things stand in the pit, in its own axes: metres along its length and across it from its low corner."""

from itertools import product

import numpy as np

from beckwright.base.quantities import FloatArray, Length, Points
from beckwright.base.values import value
from beckwright.compose import Design
from beckwright.job.model import Reservoir
from beckwright.stages.crates import CrateLayout, Layer, Placed
from beckwright.stages.earthworks.pit import shape_of

CLOSE: Length = 1e-6


@value
class Standing:
    """Chamber, sump, hose and overflow in the pit.

    chamber   its outside; None where its size is not told, it is larger than the pit, or the pit itself is the chamber
    pump      (2,) where the pump stands
    sump      (4, 2) as the dig sheets sink it; empty where there is none
    hose      (n, 2) its line, from the pump; empty where nobody told it
    leaves    (2,) where the hose crosses the pit's side; None where it does not
    overflow  (2,) middle of the end of the pit that lies away from the stream
    outward   which way that end faces along the pit: -1 or 1
    """

    chamber: Placed | None
    pump: FloatArray
    sump: Points
    hose: Points
    leaves: FloatArray | None
    overflow: FloatArray
    outward: int

    @property
    def hose_elsewhere(self) -> bool:
        """Whether the hose's line starts outside the chamber drawn here."""
        if self.chamber is None or len(self.hose) == 0:
            return False
        low, high = _ends(self.chamber)
        return not bool(((self.hose[0] >= low) & (self.hose[0] <= high)).all())

    @property
    def sump_elsewhere(self) -> bool:
        """Whether the dig sheets sink a sump that the chamber drawn here does not fit into."""
        if self.chamber is None or len(self.sump) == 0:
            return False
        low, high = _ends(self.chamber)
        within = (self.sump.min(axis=0) <= low + CLOSE) & (self.sump.max(axis=0) >= high - CLOSE)
        return not bool(within.all())


def standing(design: Design, layout: CrateLayout | None) -> Standing:
    """Place everything; the chamber in the corner where the fewest crates give way, near the hose's way out."""
    job, pit = design.job, design.job.reservoir
    shape = shape_of(job, design.reservoir.pit)
    stream = shape.along(design.course.stations.points[-1]) + shape.fill
    hose = np.array([shape.along(np.array(at)) + shape.fill for at in job.route.line]).reshape(-1, 2)
    leaves = _crossing(hose, pit)
    sump = shape.along(shape.sump) + shape.fill
    corners = [] if layout is None else _corners(job.chamber.inside, job.chamber.wall, pit)
    towards = stream if leaves is None else leaves
    chamber = _fewest(layout, corners, towards) if layout is not None and corners else None
    ends = np.array([(0.0, pit.width / 2), (pit.length, pit.width / 2)])
    far = int(np.argmax(np.hypot(*(ends - stream).T)))
    return Standing(
        chamber=chamber,
        pump=sump.mean(axis=0) if chamber is None else middle_of(chamber),
        sump=sump if pit.sump > 0 else np.zeros((0, 2)),
        hose=hose,
        leaves=leaves,
        overflow=ends[far],
        outward=2 * far - 1,
    )


def on_site(design: Design, points: Points) -> Points:
    """Points (n, 2) of the pit's own axes on the site."""
    shape = shape_of(design.job, design.reservoir.pit)
    placed: Points = shape.middle + (points - shape.fill) @ shape.axes
    return placed


def layers_of(layout: CrateLayout) -> tuple[Layer, ...]:
    """Every layer from the floor up: the lower and the upper in turn."""
    return tuple((layout.lower, layout.upper)[number % 2] for number in range(layout.layers))


def gives_way(crate: Placed, chamber: Placed | None) -> bool:
    """Whether a crate is left out because the chamber stands in its place."""
    if chamber is None:
        return False
    (low, high), (near, far) = _ends(crate), _ends(chamber)
    return bool(((near < high - CLOSE) & (low < far - CLOSE)).all())


def middle_of(placed: Placed) -> FloatArray:
    """Middle (2,) of a crate or chamber."""
    return np.asarray(np.mean(_ends(placed), axis=0))


def outline_of(placed: Placed, wall: Length = 0.0) -> FloatArray:
    """Corners (4, 2) of a crate or chamber, ``wall`` inside its rim."""
    (left, low), (right, high) = _ends(placed)
    left, low, right, high = left + wall, low + wall, right - wall, high - wall
    return np.array([(left, low), (right, low), (right, high), (left, high)])


def _ends(placed: Placed) -> tuple[FloatArray, FloatArray]:
    low = np.array([placed.along, placed.across])
    return low, low + np.array([placed.length, placed.width])


def _corners(inside: tuple[Length, Length] | None, wall: Length, pit: Reservoir) -> list[Placed]:
    """Every way to stand the chamber in a corner of the pit."""
    if inside is None:
        return []
    one, other = (side + 2 * wall for side in inside)
    return [
        Placed(along=right * (pit.length - length), across=far * (pit.width - width), length=length, width=width)
        for (length, width), right, far in product(((one, other), (other, one)), (0, 1), (0, 1))
        if length <= pit.length + CLOSE and width <= pit.width + CLOSE
    ]


def _fewest(layout: CrateLayout, corners: list[Placed], towards: FloatArray) -> Placed:
    """The corner where as many crates give way as were counted, the nearest to ``towards`` of those."""

    def cost(chamber: Placed) -> tuple[int, float]:
        taken = sum(gives_way(crate, chamber) for layer in layers_of(layout) for crate in layer.crates)
        return abs(taken - layout.taken), float(np.hypot(*(middle_of(chamber) - towards)))

    return min(corners, key=cost)


def _crossing(hose: Points, pit: Reservoir) -> FloatArray | None:
    """Where the hose first crosses the pit's side."""
    from shapely import LineString, box, get_coordinates

    if len(hose) < 2:
        return None
    line = LineString(hose)
    met = get_coordinates(line.intersection(box(0.0, 0.0, pit.length, pit.width).exterior))
    if len(met) == 0:
        return None
    return np.asarray(met[np.argmin(np.hypot(*(met - hose[0]).T))])
