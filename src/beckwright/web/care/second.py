"""A second feature weighed at once: nothing of it is kept."""

from typing import Annotated

import numpy as np
from pydantic import BaseModel, ConfigDict, Field

from beckwright.base.errors import JobError, Problem
from beckwright.base.quantities import FloatArray
from beckwright.base.words import band, millimetres, understood, unit_called
from beckwright.care import Normal, Second, second_feature, second_findings
from beckwright.care.years import second_said
from beckwright.compose import Design
from beckwright.job.units import LITRE, LITRE_PER_HOUR
from beckwright.web.care.charts import LEFT, RIGHT, WIDE
from beckwright.web.desk.state import Told, finding_told

Words = Annotated[str, Field(max_length=40)]
RULE = "A number stands alone or with its unit"
BOUNDS = {"flow": (1.0, 1e6), "lift": (0.0, 100.0), "least": (0.1, 1e5)}
"""What is taken, in L/h, m and L."""
BAR, STEP, HEAD = 26.0, 48.0, 24.0


class SecondBody(BaseModel):
    """The feature as typed: its flow, lift, and the water it holds while it runs; ``most`` may be left empty."""

    model_config = ConfigDict(extra="forbid")

    flow: Words
    lift: Words
    least: Words
    most: Words = ""


def second_told(design: Design, normal: Normal, body: SecondBody) -> Told:
    """What it does to the level and the pump, and the findings with their cures. Raises JobError with every problem."""
    flow, lift, stored = _typed(body)
    second = second_feature(design, normal, flow, lift, stored)
    found = tuple(second_findings(second, normal))
    return {
        "rows": [{"name": name, "says": words} for name, words in second_said(second)],
        "findings": [finding_told(each) for each in found],
        "none": "" if found else NONE,
        "stick": _stick(second, normal),
    }


NONE = "Nothing in these sums speaks against both on one reservoir: levels at start, running and stop, and the pump."


def units() -> Told:
    """What the fields are called to who reads now."""
    return {"flow": unit_called("L/h"), "lift": unit_called("m"), "holds": unit_called("L")}


def _typed(body: SecondBody) -> tuple[float, float, tuple[float, float]]:
    problems: list[Problem] = []
    flow = _one("flow", "flow", body.flow, "L/h", problems)
    lift = _one("lift", "lift", body.lift, "m", problems)
    least = _one("least", "water in motion, least", body.least, "L", problems)
    most = _one("least", "water in motion, most", body.most, "L", problems) if body.most.strip() else least
    if not problems and most < least:
        rule, remedy = "The most is no less than the least", "Change the two"
        found = f"{body.most.strip()} is less than {body.least.strip()}"
        problems.append(Problem(place="water in motion, most", found=found, rule=rule, remedy=remedy))
    if problems:
        raise JobError(problems)
    return flow * LITRE_PER_HOUR, lift, (least * LITRE, most * LITRE)


def _one(key: str, place: str, text: str, unit: str, problems: list[Problem]) -> float:
    read = understood(text, unit)
    if read.amount is None:
        problems.append(Problem(place=place, found=read.found, rule=RULE, remedy=read.remedy))
        return 0.0
    low, high = BOUNDS[key]
    if not low <= read.amount <= high:
        rule = f"It lies from {band(low, high, 0.1 if low % 1 else 1, unit)}"
        problems.append(Problem(place=place, found=f"it is {text.strip()}", rule=rule, remedy="Type it again"))
    return read.amount


def _stick(second: Second, normal: Normal) -> Told:
    """Levels from the lid down as bars along a stick, with the pump's least across them."""
    rows: list[tuple[str, FloatArray]] = [
        ("running, this stream alone", second.alone),
        ("running, both", second.running),
        ("lowest at the start of both", second.lowest),
    ]
    far = max(float(normal.least), *(float(each[-1]) for _, each in rows)) * 1.08

    def across(dip: float) -> float:
        return round(LEFT + float(np.clip(dip / far, 0.0, 1.0)) * (RIGHT - LEFT), 1)

    foot = HEAD + STEP * len(rows)
    bars = [
        {
            "name": name,
            "at": HEAD + STEP * place + 18.0,
            "from": across(float(ends[0])),
            "to": across(float(ends[-1])),
            "says": band(float(ends[0]), float(ends[-1]), 5, "mm", scale=1000),
        }
        for place, (name, ends) in enumerate(rows)
    ]
    return {
        "wide": WIDE,
        "high": foot + 44.0,
        "bar": BAR,
        "bars": bars,
        "rested": {"at": across(normal.rested), "foot": foot, "words": f"rest {millimetres(normal.rested)}"},
        "least": {
            "at": across(normal.least),
            "foot": foot + 20.0,
            "words": f"pump's least {millimetres(normal.least)}",
        },
        "ends": [LEFT, RIGHT],
        "says": "; ".join(f"{bar['name']} {bar['says']} from the lid" for bar in bars),
    }
