"""The sections of job.toml about how stone is set, lifted and brought, and about the pump's chamber."""

from typing import Annotated

from pydantic import Field, Strict

from beckwright.job.model.stonework import ChartOf, Joint
from beckwright.job.written.fields import Module, Name, Pair, Section, millimetres, number, told
from beckwright.tables.crates import CHAMBER_WALL
from beckwright.tables.stonework import BULK_BAG, EDGE_VOIDS, LIP_BEARING, LIP_DEPTH, LIP_THICKNESS, SHAPE, WASTE

_MM = 1000.0

ReachedM = Annotated[float, Field(gt=0, le=30, json_schema_extra={"unit": "m"})]
LiftedKg = Annotated[float, Field(gt=0, le=100_000, json_schema_extra={"unit": "kg"})]
ChartRow = Annotated[tuple[ReachedM, LiftedKg], Strict(strict=False)]


class StoneWorkWritten(Section):
    """How stone is set, lifted and brought."""

    courses: int | None = number(
        "courses of edge stone on each bank; left out, one where edge stone is told",
        "1",
        0,
        20,
        default=None,
    )
    course_height_mm: float | None = millimetres(
        "height of one course; by default the smallest edge stone", 10, 3000, default=None
    )
    course_depth_mm: float | None = millimetres(
        "a course from the water's side to its back; by default the middle of the edge stones' sizes",
        10,
        5000,
        default=None,
    )
    edge_voids: float = number("share of the courses that is not stone", "1", 0, 0.8, default=EDGE_VOIDS.amount)
    shape: float = number("share of a boulder's box that is stone", "1", 0.3, 1, default=SHAPE.amount)
    lip_bearing_mm: float = millimetres(
        "how far a lip stone reaches under the cheeks on each side", 0, 1000, default=LIP_BEARING.amount * _MM
    )
    lip_depth_mm: float = millimetres("lip stone along the stream", 20, 3000, default=LIP_DEPTH.amount * _MM)
    lip_thickness_mm: float = millimetres("thickness of a lip stone", 5, 2000, default=LIP_THICKNESS.amount * _MM)
    cheek_mm: Module | None = told(
        "longest, middle and shortest size of the stones beside a lip; by default the largest edge stone, if any",
        default=None,
        json_schema_extra={"unit": "mm"},
    )
    pools_bed: Name | None = told("bed make-up whose stone covers the floors of pools", default=None)
    on_cover_mm: Module | None = told(
        "longest, middle and shortest size of the heaviest stone that stands on the reservoir's cover",
        default=None,
        json_schema_extra={"unit": "mm"},
    )
    waste_percent: float = number("stone ordered over what is drawn", "%", 0, 100, default=WASTE.amount * 100)
    lorry_t: float | None = number("stone that one lorry brings", "t", 0.1, 40, default=None)
    bulk_bag_kg: float = number("stone in one bulk bag", "kg", 50, 2000, default=BULK_BAG.amount)
    joint: Joint = told("what steers the water at the joints; the lining seals", default="foam")
    joint_m_per_container: float | None = number(
        "joint that one can or bag fills; by default what the trade tells", "m", 0.1, 100, default=None
    )
    lift_chart: list[ChartRow] = told(
        "what the machine lifts, a list of [reach in m, kg], the nearest first", default=[], max_length=50
    )
    lift_chart_of: ChartOf = told(
        "whether that chart gives rated loads, or loads that tip it or that its cylinders hold", default="rated"
    )
    lift_gear_kg: float = number(
        "bucket, hitch, chains and sling on the arm, where the chart is for a bare one", "kg", 0, 5000, default=0
    )


class ChamberWritten(Section):
    """The lidded shaft that holds the pump."""

    inside_mm: Pair | None = told(
        "its two sides inside, or its bore twice", default=None, json_schema_extra={"unit": "mm"}
    )
    wall_mm: float = millimetres("thickness of its wall", 0, 500, default=CHAMBER_WALL.amount * _MM)
    pump_mm: Module | None = told(
        "length, width and height of the pump", default=None, json_schema_extra={"unit": "mm"}
    )
    slots_cm2: float | None = number("area of all its slots under water", "cm2", 1, 1e6, default=None)
    lid_kg: float | None = number("mass of the whole lid", "kg", 0.1, 5000, default=None)
    lid_pieces: int = number("pieces that the lid is lifted in", "1", 1, 20, default=1)
    lid_bears_kg: float | None = number("what lid and grille were told to bear", "kg", 0, 50_000, default=None)
    lid_locks: bool | None = told("whether the lid locks", default=None)
    grille: bool | None = told("whether a grille lies under the lid", default=None)
    lifts_out: bool | None = told("whether the pump comes out by its rope with nobody climbing in", default=None)
