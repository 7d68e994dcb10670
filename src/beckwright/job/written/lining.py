"""The section of job.toml about how the lining is sold, joined and laid."""

from typing import Annotated

from pydantic import Field

from beckwright.job.model.lining import Join
from beckwright.job.written.fields import Section, metres, number, told
from beckwright.tables.lining import PLEATED, SEAM_AS_SHEET

RollWidth = Annotated[float, Field(ge=0.3, le=30, json_schema_extra={"unit": "m"})]


class LiningWritten(Section):
    """How the lining is sold, joined and laid."""

    rolls_m: list[RollWidth] = told(
        "widths of roll on offer; left out, one sheet is drawn by need alone",
        default=[],
        max_length=20,
        json_schema_extra={"unit": "m"},
    )
    roll_length_m: float | None = metres("longest piece a roll gives; left out, any length", 1, 1000, default=None)
    join: Join = told("how sheets meet: bonded, or loose with the upper over the lower", default="bonded")
    seam_counts_m2_m: float = number(
        "area of sheet that a metre of bonded seam is worth to you, tape and time together",
        "m2/m",
        0,
        50,
        default=SEAM_AS_SHEET.amount,
    )
    pleated_percent: float = number(
        "most of a bank's length that may be taken up in pleats at bends; 0 cuts everything flat",
        "%",
        0,
        30,
        default=PLEATED.amount * 100,
    )
    under_box: bool = told("whether the lining runs on under the outlet box", default=True)
    fleece_rolls_m: list[RollWidth] = told(
        "widths of fleece on offer", default=[], max_length=20, json_schema_extra={"unit": "m"}
    )
