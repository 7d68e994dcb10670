"""The sections of job.toml about the place: title, datum, site, trees, services, boundaries, climate."""

import datetime
from typing import Literal

from beckwright.job.written.fields import FURTHEST, Line, Name, Section, Text, level, metres, millimetres, number, told

Units = Literal["metric", "us"]
Language = Literal["en", "de"]
Soil = Literal["sand", "gravel", "loam", "clay", "silt", "made ground", "common earth"]


class TitleWritten(Section):
    """What the sheets say about the job."""

    title: Name = told("name of the job, printed on every sheet")
    client: Text = told("who the stream is for", default="")
    revision: Text = told("letter or number of this version of the design", default="A")
    date: datetime.date = told("date of this version, such as 2026-09-01, without quotes")
    drawn_by: Text = told("who made this version", default="")
    units: Units = told(
        "the units its papers and findings are told in where nobody asks for others; the keys of this file stay metric",
        default="metric",
    )
    language: Language = told("the language its papers are told in where nobody asks for another", default="en")
    invented: bool = told("true when the data are made up: every sheet then says so", default=False)
    doubts: list[Name] = told(
        "the doubt list: keys of this file, such as site.groundwater_winter_m, or files that nobody has measured yet",
        default=[],
        max_length=200,
    )


class DatumWritten(Section):
    """The one fixed mark all levels are told from."""

    name: Name = told("where the mark is, such as a nail in the house step")
    level_m: float = level("level given to the mark")


class SiteWritten(Section):
    """The ground and the way to it."""

    soil: Soil = told("the soil that will be dug")
    topsoil_mm: float = millimetres("depth of topsoil to strip", 0, 1500)
    groundwater_winter_m: float | None = metres("depth of groundwater below the ground in winter", 0, 50, default=None)
    groundwater_summer_m: float | None = metres("depth of groundwater below the ground in summer", 0, 50, default=None)
    access_width_m: float = metres("narrowest clear width on the way in", 0.3, 50)
    latitude_deg: float | None = number(
        "latitude, north positive, for the sun of days of weather; leave out where there are none",
        "°",
        -66,
        66,
        default=None,
    )
    altitude_m: float | None = metres("height above the sea, for the same", -430, 5000, default=None)
    notes: list[Text] = told("remarks for the people on site, a sentence each", default=[], max_length=100)


class TreeWritten(Section):
    """A tree that stays. Give stem_mm, or stems_mm for a tree with several stems."""

    name: Name = told("number or name of the tree on the plan")
    species: Text = told("species", default="")
    x_m: float = metres("easting of the stem", -FURTHEST, FURTHEST)
    y_m: float = metres("northing of the stem", -FURTHEST, FURTHEST)
    stem_mm: float | None = millimetres("stem diameter at 1.5 m above the ground", 10, 5000, default=None)
    stems_mm: list[float] | None = told(
        "diameter of each stem at 1.5 m above the ground",
        default=None,
        min_length=2,
        max_length=60,
        json_schema_extra={"unit": "mm"},
    )
    protected: bool = told("true when a preservation order or other rule protects it", default=False)


class ServiceWritten(Section):
    """A pipe or cable in the ground."""

    name: Name = told("what it is called on the plan")
    kind: Name = told("water, gas, electricity, drain, telephone or what it is")
    line_m: Line = told("its line in plan, a list of [x, y]", json_schema_extra={"unit": "m"})
    depth_mm: float | None = millimetres("depth to its top; leave out when nobody knows", 0, 10_000, default=None)
    clearance_mm: float = millimetres("distance the digging machine keeps from it", 0, 10_000, default=500)
    note: Text = told("remark", default="")


class BoundaryWritten(Section):
    """A fence, wall or building line the works keep off."""

    name: Name = told("what it is called on the plan")
    line_m: Line = told("its line in plan, a list of [x, y]", json_schema_extra={"unit": "m"})
    clearance_mm: float = millimetres("distance the works keep from it", 0, 20_000, default=0)
    damp_proof_level_m: float | None = level("level of the damp-proof course in the wall", default=None)


class ClimateWritten(Section):
    """Which rows of climate.csv hold here."""

    station: Name | None = told("station in climate.csv; leave out when there is none", default=None)
    water_temperature_c: float = number("usual temperature of the running water", "°C", 0, 40, default=10)
