"""The sections of job.toml about ground work: marks, foundations, seen water, digging, heaps, tolerances."""

from beckwright.job.model import Holds, Placed
from beckwright.job.written.fields import FURTHEST, Line, Name, Section, Text, level, metres, millimetres, number, told
from beckwright.tables.practice import (
    BANK_SLOPE,
    BANK_TOP,
    DIG_TOLERANCE,
    HEAP_HEIGHT,
    STONE_TOLERANCE,
    SURVEY_TOLERANCE,
    TRENCH_DEPTH,
    TRENCH_WIDTH,
    WORKING_SPACE,
)

_MM = 1000.0


class MarkWritten(Section):
    """A fixed mark that survives the works: tapes are held to it."""

    name: Name = told("what it is called on the setting-out sheet")
    x_m: float = metres("easting", -FURTHEST, FURTHEST)
    y_m: float = metres("northing", -FURTHEST, FURTHEST)
    level_m: float | None = level("its level, if it has been shot", default=None)


class FoundationWritten(Section):
    """A footing that a dig nearby could undermine."""

    name: Name = told("what stands on it")
    line_m: Line = told("its outer face in plan, a list of [x, y]", json_schema_extra={"unit": "m"})
    depth_mm: float | None = millimetres(
        "underside of the footing below the ground; leave out when nobody knows", 0, 10_000, default=None
    )
    note: Text = told("remark", default="")


class RunoffWritten(Section):
    """Where water was seen to run in rain: an arrow on the plan."""

    name: Name = told("where it comes from")
    line_m: Line = told("its way in plan, the way it runs, a list of [x, y]", json_schema_extra={"unit": "m"})
    note: Text = told("remark", default="")


class HeapWritten(Section):
    """Where a heap of soil is to lie. Without any, places are proposed."""

    name: Name = told("what it is called on the dig sheet")
    holds: Holds = told("topsoil or subsoil: they never share a heap")
    x_m: float = metres("easting of its middle", -FURTHEST, FURTHEST)
    y_m: float = metres("northing of its middle", -FURTHEST, FURTHEST)


class EarthworksWritten(Section):
    """How the ground is dug and filled."""

    fill: Placed = told("how the banks are made: rammed in layers, or tipped and left to settle", default="rammed")
    bank_top_mm: float = millimetres(
        "width of a bank's top beyond the edge of the lining", 50, 5000, default=BANK_TOP.amount * _MM
    )
    bank_slope: float = number(
        "horizontal distance for each 1 down of a bank's outer side", "1", 0.5, 20, default=BANK_SLOPE.amount
    )
    batter: float | None = number(
        "horizontal distance for each 1 up of the pit's sides; by default what the soil stands at",
        "1",
        0,
        10,
        default=None,
    )
    working_space_mm: float = millimetres(
        "room round the fill on the floor of the pit", 0, 3000, default=WORKING_SPACE.amount * _MM
    )
    trench_width_mm: float = millimetres("width of the hose trench", 50, 2000, default=TRENCH_WIDTH.amount * _MM)
    trench_depth_mm: float = millimetres("depth of the hose trench", 50, 3000, default=TRENCH_DEPTH.amount * _MM)
    heap_height_mm: float = millimetres("greatest height of a heap", 200, 5000, default=HEAP_HEIGHT.amount * _MM)
    digger_width_mm: float | None = millimetres("width of the digger at its widest", 300, 5000, default=None)
    digger_reach_m: float | None = metres("how far its bucket reaches from its middle", 0.5, 20, default=None)
    load_t: float | None = number("what one lorry or skip takes away", "t", 0.1, 40, default=None)
    load_price: float | None = number("what taking away one load costs", "currency", 0, 1e6, default=None)


class TolerancesWritten(Section):
    """How far off each level may be: what one standard of work leaves, either way."""

    survey_mm: float = millimetres("levels of the survey", 0, 500, default=SURVEY_TOLERANCE.amount * _MM)
    dig_mm: float = millimetres("levels as dug and blinded", 0, 500, default=DIG_TOLERANCE.amount * _MM)
    stone_mm: float = millimetres("levels of stones as bedded", 0, 500, default=STONE_TOLERANCE.amount * _MM)
