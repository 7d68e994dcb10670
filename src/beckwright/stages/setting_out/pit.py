"""The pit set out: corners, diagonals, and pegs on the produced lines of its floor."""

from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from beckwright.base.quantities import BoolArray, Length, Level, Levels, Points
from beckwright.base.values import value
from beckwright.job.model import Job
from beckwright.stages.earthworks.values import PitDig
from beckwright.stages.ground import Ground, inside, level_at
from beckwright.stages.setting_out.clear import CLEAR, clear_of, nail_over
from beckwright.stages.setting_out.pegs import kept_from
from beckwright.stages.setting_out.tapes import spots
from beckwright.stages.setting_out.values import Corner, LinePeg, PitSetOut, Spot
from beckwright.stages.surroundings import Surroundings

if TYPE_CHECKING:
    from shapely import MultiPolygon, Polygon

CORNERS = "abcd"


def set_pit(
    job: Job,
    ground: Ground,
    around: Surroundings,
    pit: PitDig,
    guessed: tuple[str, ...],
    works: "Polygon | MultiPolygon",
) -> PitSetOut:
    """Corners on the floor and at the top of the batter; strings between eight pegs cross over the floor's corners."""
    from shapely import Polygon

    marks = job.site.marks
    floor, top = (spots(corners, ground, pit.top_levels, marks) for corners in (pit.floor, pit.top))
    ends = [_produced(pit, works, corner, other) for corner, other in _ENDS]
    places = spots(np.array([end.at for end in ends]), ground, np.full(8, pit.top_levels.max()), marks)
    nail = nail_over(max(float(pit.top_levels.max()), *(spot.ground for spot in places)), pit.floor_level)
    return PitSetOut(
        corners=tuple(
            Corner(name=name, floor=below, top=above) for name, below, above in zip(CORNERS, floor, top, strict=True)
        ),
        sides=(_side(pit, 0, 1), _side(pit, 1, 2), _side(pit, 2, 3), _side(pit, 3, 0)),
        diagonals=(_side(pit, 0, 2), _side(pit, 1, 3)),
        pegs=tuple(_line_peg(end, spot, nail) for end, spot in zip(ends, places, strict=True)),
        nail=nail,
        floor_level=pit.floor_level,
        below=nail - pit.floor_level,
        depth=pit.depth,
        by_hand=kept_from(Polygon(pit.rim), around),
        dig=pit,
        guessed=guessed,
    )


def whole_rim(pit: PitDig, ground: Ground) -> PitDig:
    """The pit with every corner of its top at ground level.

    Where the batter runs off the survey before it meets the ground, it is led on to the level of the last ground
    known under it; its rim is then the line from corner to corner.
    """
    known, low = _last_known(pit, ground)
    out = pit.top - pit.floor
    lengths = np.hypot(*out.T)
    way = out / np.where(lengths > 0, lengths, 1.0)[:, None]
    reach = np.sqrt(2.0) * pit.batter * (known - pit.floor_level)
    led_on = np.where(low[:, None], pit.floor + way * reach[:, None], pit.top)
    rim = led_on if low.any() else pit.rim
    return replace(pit, top=led_on, top_levels=np.where(low, known, pit.top_levels), rim=rim)


def guessed_corners(pit: PitDig, ground: Ground) -> tuple[str, ...]:
    """Corners whose batter runs off the survey before it meets the ground."""
    return tuple(name for name, low in zip(CORNERS, _last_known(pit, ground)[1], strict=True) if low)


def _last_known(pit: PitDig, ground: Ground) -> tuple[Levels, BoolArray]:
    """Ground at each corner of the top, and whether the batter ends below it; off the survey the batter's own level."""
    levels = np.array(pit.top_levels)
    on = inside(ground, pit.top)
    levels[on] = level_at(ground, pit.top[on])
    return levels, levels - pit.top_levels > _MET


_MET: Length = 0.01
"""A batter that ends this far under the ground has not met it."""

_ENDS = ((0, 1), (1, 0), (1, 2), (2, 1), (2, 3), (3, 2), (3, 0), (0, 3))
"""Corner and the other end of its side, for both ends of the four sides."""


@value
class _End:
    """Where a peg on a produced side stands: ``beyond`` its corner, before its nail."""

    corner: str
    other: str
    beyond: Length
    clear: bool
    at: Points


def _side(pit: PitDig, one: int, other: int) -> Length:
    return float(np.hypot(*(pit.floor[other] - pit.floor[one])))


def _produced(pit: PitDig, works: "Polygon | MultiPolygon", corner: int, other: int) -> _End:
    """The nearest place clear of everything dug on the line from ``other`` through ``corner``."""
    from shapely import LineString, Polygon

    start = pit.floor[corner]
    way = (start - pit.floor[other]) / _side(pit, corner, other)
    reach = LineString([start, start + way * float(np.ptp(pit.top, axis=0).sum())])
    beyond, clear = clear_of(works, start, way, reach.intersection(Polygon(pit.rim)).length + CLEAR)
    return _End(corner=CORNERS[corner], other=CORNERS[other], beyond=beyond, clear=clear, at=start + way * beyond)


def _line_peg(end: _End, spot: Spot, nail: Level) -> LinePeg:
    return LinePeg(
        name=f"{end.corner}{end.other}",
        line="".join(sorted((end.corner, end.other))),
        corner=end.corner,
        beyond=end.beyond,
        spot=spot,
        clear=end.clear,
        out=nail - spot.ground,
    )
