"""The sections of job.toml about planting: how, and the pockets along the course."""

from typing import Literal

from beckwright.job.model.planting import Light, Pattern, Place
from beckwright.job.written.fields import Name, Section, metres, millimetres, number, told
from beckwright.tables.planting import DRY_GAP, LOSS


class PlantWritten(Section):
    """A plant in a pocket."""

    plant: Name = told("botanical name such as Carex remota, a synonym, or an English name")
    share_percent: float = number("its share of the pocket's ground", "%", 1, 100)
    spacing_mm: float | None = millimetres(
        "distance between plants; leave out for the table's", 50, 10_000, default=None
    )


class PocketWritten(Section):
    """A planting hole along one side of the course."""

    name: Name = told("what it is called")
    from_m: float = metres("chainage where it begins", 0, 10_000)
    to_m: float = metres("chainage where it ends", 0, 10_000)
    side: Literal["left", "right"] = told("side of the stream, looking downstream")
    inside: bool = told("true inside the lining, where the stream waters it; false in ordinary soil outside")
    width_mm: float = millimetres("width square to the stream", 50, 20_000)
    gap_mm: float = millimetres(
        "gap to its near side: from the edge of the bed where inside (below 0 it stands in the channel), from the edge "
        "of the lining where outside",
        -5000,
        20_000,
        default=DRY_GAP.amount * 1000,
    )
    above_bed_mm: float | None = millimetres(
        "height of its soil over the bed, inside the lining; leave out for 50 mm under the edge of the lining",
        -500,
        2000,
        default=None,
    )
    soil_mm: float | None = millimetres(
        "depth of soil put in; leave out for 300 inside and 75 of compost outside", 20, 1500, default=None
    )
    light: Light = told("sun, part shade or shade")
    plants: list[PlantWritten] = told("what grows in it", min_length=1, max_length=40)


class PlantingWritten(Section):
    """How the whole job is planted."""

    pattern: Pattern = told("how plants stand: in triangles or in squares", default="triangles")
    loss_percent: float = number("share ordered beyond what is planted", "%", 0, 100, default=LOSS.amount * 100)
    jurisdiction: Place = told("whose lists of invasive plants hold", default="England")
