"""The sections of job.toml about the works: reservoir, hose, pump, running, prices, materials."""

from beckwright.job.model import FillKind
from beckwright.job.written.fields import (
    Line,
    Module,
    Name,
    Pair,
    Point,
    Section,
    Text,
    level,
    metres,
    millimetres,
    number,
    told,
)


class LoadWritten(Section):
    """Something that may stand on the cover. Give wheel_kn, or person_kg."""

    name: Name = told("what stands there")
    wheel_kn: float | None = number("weight on its heaviest wheel", "kN", 0.1, 200, default=None)
    person_kg: float | None = number(
        "weight of a person with what they carry, on one foot", "kg", 10, 500, default=None
    )
    contact_mm: Pair = told(
        "length and width of the patch that wheel or foot presses on", json_schema_extra={"unit": "mm"}
    )
    dynamic: float = number("factor for movement: 1 for standing still", "1", 1, 3, default=1)


class ReservoirWritten(Section):
    """The covered pit."""

    cover_level_m: float = level("level of the finished top")
    centre_m: Point = told("its middle in plan, [x, y]", json_schema_extra={"unit": "m"})
    length_m: float = metres("inside length", 0.2, 100)
    width_m: float = metres("inside width", 0.2, 100)
    turned_deg: float = number("how far its length is turned anticlockwise from east", "°", -360, 360, default=0)
    fill: FillKind = told("what fills it: crates, stones, or open for a chamber")
    depth_mm: float | None = millimetres(
        "height of the fill; leave out for crates, whose layers give it", 50, 6000, default=None
    )
    voids: float = number("share of the fill's volume that water can fill; 1 for an open chamber", "1", 0.01, 1)
    crate_layers: int | None = number("layers of crates", "1", 1, 20, default=None)
    crate_mm: Module | None = told(
        "length, width and height of one crate as laid", default=None, json_schema_extra={"unit": "mm"}
    )
    crate_weight_kn_m3: float = number(
        "weight of the empty fill; 0, the cautious side against floating, when nobody knows", "kN/m3", 0, 30, default=0
    )
    cover_mm: float = millimetres("thickness of the cover over the fill", 0, 3000)
    cover_voids: float = number("share of the cover's volume that water can fill", "1", 0, 0.99)
    cover_kn_m3: float = number("weight of the cover, dry", "kN/m3", 0, 30)
    sump_mm: float = millimetres("depth of the pump's sump below the floor of the fill", 0, 2000)
    pump_depth_mm: float = millimetres("water the pump needs above the sump's floor", 10, 3000)
    overflow_below_cover_mm: float = millimetres("invert of the overflow below the finished top", 0, 3000)
    overflow_mm: float = millimetres("bore of the overflow pipe", 20, 1000)
    overflow_to: Text = told("where the overflow runs to")
    rested_below_overflow_mm: float = millimetres(
        "water level below the overflow when filled and at rest", 0, 3000, default=0
    )
    strength_vertical_kpa: float | None = number(
        "supplier's short-term vertical strength", "kPa", 1, 5000, default=None
    )
    strength_long_term_kpa: float | None = number(
        "supplier's long-term vertical strength", "kPa", 1, 5000, default=None
    )
    strength_lateral_kpa: float | None = number("supplier's lateral strength", "kPa", 1, 5000, default=None)
    loads: list[LoadWritten] = told("what may stand on the cover", default=[], max_length=50)


class HoseWritten(Section):
    """How the water gets back up."""

    chosen: Name = told("a hose of hoses.csv")
    length_m: float = metres("length from the pump to the outlet box", 0.5, 2000)
    line_m: Line | None = told(
        "its line in plan, pump first, a list of [x, y]", default=None, json_schema_extra={"unit": "m"}
    )
    fittings: dict[Name, int] = told(
        "how many of each fitting, by the names of the fittings table", default={}, max_length=50
    )


class PumpWritten(Section):
    """Which pump, and how many side by side."""

    chosen: Name = told("a pump of pumps.csv")
    together: int = number("how many run side by side into one hose", "1", 1, 8, default=1)


class RunningWritten(Section):
    """How long a flow runs."""

    flow: Name = told("a flow of [flows]")
    hours_per_day: float = number("hours on a day it runs", "h", 0, 24)
    days_per_year: float = number("days it runs in a year", "days", 0, 366)
    when: Text = told("the season or occasion, as it should be printed", default="")


class PricesWritten(Section):
    """What the person pays. A price is never assumed."""

    currency: Name = told("the currency's letters or sign")
    energy_per_kwh: float | None = number("price of electricity for one kWh", "currency/kWh", 0, 100, default=None)
    energy_source: Text = told("where that price comes from, and its date", default="")
    running_limit_per_year: float | None = number(
        "what the client will pay a year to run it", "currency/year", 0, 1e6, default=None
    )


class MaterialsWritten(Section):
    """Weights the quantities need."""

    stone_kg_m3: float = number("density of the stone itself", "kg/m3", 1500, 4000)
    edge_stone_kg_m: float = number("edge stone for each metre of bank", "kg/m", 0, 5000)
    edge_stone_mm: Pair = told("smallest and largest edge stone", json_schema_extra={"unit": "mm"})
