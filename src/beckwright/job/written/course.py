"""The sections of job.toml about the stream: source, course, beds, layers."""

from typing import Annotated, Literal

from pydantic import Field

from beckwright.job.model import Laid, LipKind
from beckwright.job.written.fields import Line, Name, Pair, Section, level, metres, millimetres, number, told


class SourceWritten(Section):
    """The outlet box at the top."""

    lip_level_m: float = level("level of the lip the water leaves the box over")
    lip_width_mm: float = millimetres("width of that lip", 50, 10_000)
    lip: LipKind = told("how that lip is made")
    box_depth_mm: float = millimetres("inside depth of the box below its lip", 50, 3000)
    box_length_mm: float = millimetres("inside length of the box along the stream", 50, 5000)
    hose_outlet_above_lip_mm: float = millimetres(
        "height of the hose's end above the lip; below it the stream can siphon back", -3000, 3000
    )


class RunWritten(Section):
    """A sloping stony stretch."""

    kind: Literal["run"] = told("run")
    name: Name | None = told("name of the run; by default run 1, run 2 in order", default=None)
    length_m: float | None = metres(
        "length along the course; one run may leave it out and takes up what is left of the line",
        0.1,
        1000,
        default=None,
    )
    fall_mm: float = millimetres("fall of the bed from its head to its end", 0, 20_000)
    width_mm: float = millimetres("width of the bed between its sides", 50, 10_000)
    bed: Name = told("name of its make-up under [beds]")
    sills_m: list[float] = told(
        "distances from its head at which a sill forces the hidden water up",
        default=[],
        max_length=200,
        json_schema_extra={"unit": "m"},
    )


class StepWritten(Section):
    """A drop over a lip."""

    kind: Literal["step"] = told("step")
    name: Name | None = told("name of the lip; by default lip 1, lip 2 in order", default=None)
    drop_mm: float = millimetres("height from the lip to the bed below it", 20, 5000)
    lip_width_mm: float = millimetres("width of the lip", 50, 10_000)
    lip: LipKind = told("how the lip is made")


class PoolWritten(Section):
    """Standing water behind a rim."""

    kind: Literal["pool"] = told("pool")
    name: Name | None = told("name of the pool; by default pool 1, pool 2 in order", default=None)
    length_m: float = metres("length along the course", 0.1, 100)
    width_mm: float = millimetres("width of the water at the rim", 50, 20_000)
    depth_mm: float = millimetres("depth from the rim to the floor", 20, 3000)


ReachWritten = Annotated[RunWritten | StepWritten | PoolWritten, Field(discriminator="kind")]


class EdgeWritten(Section):
    """A stretch where the edge of the lining stands higher or lower than elsewhere."""

    from_m: float = metres("chainage where the stretch begins", 0, 2000)
    to_m: float = metres("chainage where it ends", 0, 2000)
    side: Literal["left", "right", "both"] = told("which bank, looking downstream")
    above_bed_mm: float = millimetres("height of the edge above the bed", 0, 3000)


class CourseWritten(Section):
    """The stream from the source to the reservoir."""

    line_m: Line = told("points of the course, source first, a list of [x, y]", json_schema_extra={"unit": "m"})
    end_level_m: float | None = level("level of the bed at the lower end; a check on the falls", default=None)
    side_slope: float = number("horizontal distance for each 1 up of the channel's sides; 0 is upright", "1", 0, 10)
    edge_above_bed_mm: float = millimetres("height of the lining's edge above the bed", 20, 3000)
    freeboard_wanted_mm: float = millimetres("height wanted of the edge above the running water", 0, 1000, default=100)
    settlement_percent: float = number("how much the fill under the edges will settle", "%", 0, 50)
    reaches: list[ReachWritten] = told("runs, steps and pools in order downstream", min_length=1, max_length=300)
    edges: list[EdgeWritten] = told("stretches whose edge differs", default=[], max_length=300)


class BedWritten(Section):
    """A bed make-up: the stones over the lining."""

    depth_mm: float = millimetres("depth of the stones; 0 is a bare face", 0, 2000)
    size_mm: Pair = told("smallest and largest stone as sold", json_schema_extra={"unit": "mm"})
    voids: float = number("share of the stones' volume that water can fill", "1", 0.01, 0.99)
    retained: float | None = number(
        "share of the volume that stays wet when the stones drain; by default the house value for their size",
        "1",
        0,
        0.5,
        default=None,
    )
    laid: Laid = told("how the stones are laid")
    manning_n: float | None = number(
        "roughness, only when you insist on one: it is otherwise worked out", "s/m^(1/3)", 0.008, 0.5, default=None
    )


class LayersWritten(Section):
    """What lies between the stones and the dug ground."""

    fleece_over_mm: float = millimetres("thickness of what protects the lining from above", 0, 200)
    lining_mm: float = millimetres("thickness of the lining", 0.3, 10)
    fleece_under_mm: float = millimetres("thickness of the fleece under the lining", 0, 100)
    blinding_mm: float = millimetres("thickness of sand under the fleece", 0, 500)
    lining_kg_m2: float = number("weight of the lining", "kg/m2", 0.2, 20)
    edge_allowance_mm: float = millimetres("spare lining beyond the edge, each side", 0, 2000)
    lap_mm: float = millimetres("overlap where two sheets meet", 0, 2000)
