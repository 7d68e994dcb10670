"""Checks on how stone is set and lifted, and on the pump's chamber, as written."""

from collections.abc import Iterator
from itertools import pairwise

from beckwright.job.wording.fault import Fault, choose
from beckwright.job.written.course import BedWritten
from beckwright.job.written.stonework import ChamberWritten, StoneWorkWritten
from beckwright.job.written.works import ReservoirWritten

_MM = 1000.0
MOST_CRATES = 2000
"""To a layer."""


def chart_in_order(stonework: StoneWorkWritten) -> Iterator[Fault]:
    """Refuse a lift chart whose reach does not grow, or which lifts more farther out."""
    for place, ((near, heavy), (far, light)) in enumerate(pairwise(stonework.lift_chart), 1):
        path = ("stonework", "lift_chart", place)
        if far <= near:
            yield path, f"{far:g} m follows {near:g} m", "A lift chart reaches farther from row to row", "Sort its rows"
        elif light > heavy:
            found = f"{light:g} kg at {far:g} m, {heavy:g} kg at {near:g} m"
            yield path, found, "A machine lifts less the farther it reaches", "Look at the chart again"


def pools_bed_known(stonework: StoneWorkWritten, beds: dict[str, BedWritten]) -> Iterator[Fault]:
    """Refuse pools covered with a bed that is not of the job."""
    if stonework.pools_bed is not None and stonework.pools_bed not in beds:
        yield ("stonework", "pools_bed"), *choose("pools_bed", stonework.pools_bed, beds, "the beds under [beds]")


def stone_sizes_in_order(stonework: StoneWorkWritten) -> Iterator[Fault]:
    """Refuse a stone whose three sizes do not fall from longest to shortest."""
    for key in ("cheek_mm", "on_cover_mm"):
        sizes = getattr(stonework, key)
        if sizes is not None and not sizes[0] >= sizes[1] >= sizes[2]:
            found = f"a stone of {sizes[0]:g} by {sizes[1]:g} by {sizes[2]:g} mm"
            yield ("stonework", key), found, "The longest size comes first, the shortest last", "Sort the three"


def crates_countable(reservoir: ReservoirWritten) -> Iterator[Fault]:
    """Refuse crates so small that nobody could lay them."""
    if reservoir.crate_mm is None or reservoir.fill != "crates":
        return
    count = reservoir.length_m * reservoir.width_m * _MM**2 / (reservoir.crate_mm[0] * reservoir.crate_mm[1])
    if count > MOST_CRATES:
        found, rule = f"the pit takes {count:.0f} crates to a layer", f"A layer has {MOST_CRATES} crates at the most"
        yield ("reservoir", "crate_mm"), found, rule, "Write length, width and height of one crate, in mm"


def chamber_fits(chamber: ChamberWritten, reservoir: ReservoirWritten) -> Iterator[Fault]:
    """Refuse a chamber that is wider than the pit it stands in."""
    if chamber.inside_mm is None:
        return
    outside = sorted(side + 2 * chamber.wall_mm for side in chamber.inside_mm)
    pit = sorted(side * _MM for side in (reservoir.length_m, reservoir.width_m))
    if reservoir.fill != "open" and any(side > room for side, room in zip(outside, pit, strict=True)):
        found = f"the chamber is {outside[1]:g} by {outside[0]:g} mm outside, the pit {pit[1]:g} by {pit[0]:g} mm"
        rule, remedy = "The chamber stands in the pit", "Look at inside_mm and at the pit's length and width"
        yield ("chamber", "inside_mm"), found, rule, remedy
