"""The sections of job.toml about electrics: the supply, lights, and the places they are seen from."""

from math import degrees
from typing import Annotated, Literal

from pydantic import Field

from beckwright.job.model.electrics import Insulation
from beckwright.job.written.fields import FURTHEST, Line, Name, Point, Section, level, metres, millimetres, number, told
from beckwright.tables.electrics import COVER, FLAT_FACE, LIGHTS_DROP, PUMP_POWER_FACTOR

VoltAmperes = Annotated[float, Field(ge=5, le=5000, json_schema_extra={"unit": "VA"})]


class ElectricsWritten(Section):
    """The supply to pump and lights. Give line_m, length_m, or both."""

    board: Name = told("where the supply comes from, such as consumer unit in the hall")
    line_m: Line | None = told(
        "line of the buried cable from the board to where the pump is connected, a list of [x, y]",
        default=None,
        json_schema_extra={"unit": "m"},
    )
    length_m: float | None = metres(
        "length of the route as measured, where it is not the line's", 0.5, 5000, default=None
    )
    laid: bool = told("true when the cable lies there already", default=False)
    phases: Literal[1, 3] = told("phases at the board; the sums here are single-phase, one for each pump", default=1)
    voltage_v: float = number("voltage of the supply to neutral", "V", 100, 260, default=230)
    insulation: Insulation = told("PVC for 70 °C, XLPE for 90 °C as in most armoured cable", default="XLPE")
    cable_mm2: float = number("nominal size of the supply cable", "mm2", 1, 16)
    power_factor: float = number("power factor of the pump", "1", 0.3, 1, default=PUMP_POWER_FACTOR.amount)
    other_w: float = number("watts of whatever else hangs on the cable", "W", 0, 20_000, default=0)
    cover_mm: float = millimetres("cover of the buried cable", 0, 3000, default=COVER.amount * 1000)
    connection_m: Point | None = told(
        "place of the socket or box the pump is connected at; leave out for the end of the line",
        default=None,
        json_schema_extra={"unit": "m"},
    )
    transformer_m: Point | None = told(
        "place of the transformer of the lights; leave out for the connection",
        default=None,
        json_schema_extra={"unit": "m"},
    )
    light_v: float = number("voltage of lights that tell none of their own", "V", 5, 50, default=12)
    light_cable_mm2: float = number("nominal size of the light cable", "mm2", 1, 10, default=2.5)
    light_drop_percent: float = number(
        "drop to the last light that you would accept", "%", 0.5, 20, default=LIGHTS_DROP.amount * 100
    )
    transformers_va: list[VoltAmperes] = told(
        "ratings of transformers on offer; leave out for the usual ones",
        default=[],
        max_length=40,
        json_schema_extra={"unit": "VA"},
    )


class LightWritten(Section):
    """A lamp. Give x_m and y_m, or the lip it sits under."""

    name: Name = told("what it is called on the plan")
    watts: float = number("power of the lamp", "W", 0.1, 500)
    volts: float | None = number("its voltage; leave out for electrics.light_v", "V", 5, 50, default=None)
    x_m: float | None = metres("easting", -FURTHEST, FURTHEST, default=None)
    y_m: float | None = metres("northing", -FURTHEST, FURTHEST, default=None)
    lip: Name | None = told("lip it sits under, such as lip 1", default=None)
    across_mm: float = millimetres("along the lip from the middle of the stream, left positive", -5000, 5000, default=0)
    height_mm: float = millimetres(
        "height over the ground, or over the crest of its lip: below 0 it sits under it", -5000, 10_000
    )
    aims_m: Point | None = told(
        "point it is turned to; leave out at a lip: down at the landing", default=None, json_schema_extra={"unit": "m"}
    )
    aims_height_mm: float = millimetres("height of that point over the ground there", -5000, 30_000, default=0)
    beam_deg: float = number("whole angle of its beam", "°", 2, 180)
    hood_deg: float = number(
        "angle off its axis from which its face cannot be seen; 90 for a bare flat face",
        "°",
        5,
        180,
        default=degrees(FLAT_FACE.amount),
    )
    cable_m: float | None = metres(
        "cable from the light before it, or from the transformer; leave out for the straight line and a tenth",
        0.05,
        500,
        default=None,
    )


class ViewWritten(Section):
    """A place that should see no lamp."""

    name: Name = told("who looks, such as chair on the terrace")
    x_m: float = metres("easting", -FURTHEST, FURTHEST)
    y_m: float = metres("northing", -FURTHEST, FURTHEST)
    eye_mm: float = millimetres("height of the eye over the ground there", 0, 50_000)
    ground_level_m: float | None = level("level of the ground there, where the survey does not reach", default=None)
