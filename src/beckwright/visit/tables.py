"""The tables of a sketch: ground that falls evenly from source to foot, one hose, one pump that is yet to be chosen."""

from itertools import pairwise

import numpy as np

from beckwright.base.quantities import Flow, Length, Points, Power
from beckwright.equations.pump import hydraulic_power
from beckwright.job.model import Hose, Pump, Survey
from beckwright.job.units import LITRE_PER_HOUR, MILLIMETRE
from beckwright.tables.hoses import LOSS_FACTORS, ROUGHNESS_BIOFILM
from beckwright.visit.sketch import GROUND_AT_FOOT, Sketch, pit_depth
from beckwright.visit.values import Prices

POINTS_ALONG = 7
PIT_SHARE = 0.15
"""Room for the pit below the foot, for each metre of stream: no pit of these is so long."""
BESIDE: Length = 6.0
"""The ground is told this far left and right of the line."""
BEYOND: Length = 3.0
"""And this far beyond the source."""
BENDS = ((0.0, 0.0), (0.25, 0.05), (0.5, -0.03), (0.75, 0.04), (1.0, 0.0))
"""Shape of the line from the foot up: along and beside, in lengths of the line as the crow flies."""
PUMP = "to be chosen"
CURVE = ((0.0, 1.0), (0.5, 0.94), (1.0, 0.75), (1.5, 0.44), (2.0, 0.0))
"""Shape of the curve: flow over the flow wanted, head over the head with nothing flowing."""
SLOWEST = 0.3
DULLEST: Power = 5.0


def course_points(sketch: Sketch) -> Points:
    """Points of the line, source first, as long as the stream and gently bent, (n, 2)."""
    shape = np.array(BENDS)
    long = sum(float(np.hypot(*(after - before))) for before, after in pairwise(shape))
    points: Points = np.round(shape[::-1] * sketch.length * 1.001 / long, 3)
    return points


def pit_centre(sketch: Sketch) -> tuple[Length, Length]:
    """Just below the foot."""
    return round(-0.3 - sketch.pit[0] / 2, 3), 0.0


def hose_line(sketch: Sketch) -> tuple[tuple[Length, Length], ...]:
    """Up beside the stream: from the pit aside, up the slope, and in to the source."""
    foot, aside = pit_centre(sketch), round(-1.2 - sketch.pit[1] / 2, 3)
    top_x, top_y = course_points(sketch)[0].tolist()
    return foot, (foot[0], aside), (top_x, aside), (top_x, top_y)


def survey_of(sketch: Sketch) -> Survey:
    """Ground that falls evenly from the source to the foot and is level below it."""
    crow = float(course_points(sketch)[0, 0])
    below = BEYOND + PIT_SHARE * sketch.length
    along = np.round([-below, *np.linspace(0.0, crow, POINTS_ALONG), crow + BEYOND], 2)
    slope = sketch.fall / crow
    rows = [(x, y, GROUND_AT_FOOT + slope * max(x, 0.0)) for x in along.tolist() for y in (-BESIDE, 0.0, BESIDE)]
    points = np.array(rows)
    levels = np.round(points[:, 2], 3)
    return Survey(points=points[:, :2], levels=levels, codes=("GL",) * len(rows), breaklines=())


def hose_of(sketch: Sketch) -> Hose:
    """A ribbed hose of the bore the flow wants."""
    return Hose(
        name=f"{sketch.bore / MILLIMETRE:.0f} mm",
        bore=round(sketch.bore / MILLIMETRE, 3) * MILLIMETRE,
        roughness=ROUGHNESS_BIOFILM.amount,
        wall="spiral",
        loss_factor=LOSS_FACTORS["spiral"].amount,
        price_per_length=None,
    )


def pump_of(sketch: Sketch) -> Pump:
    """A pump that gives the flow with room to spare: a place holder until one is chosen by its maker's curve."""
    # Ten per cent of the hose and half a metre for fittings: twice what is lost at the speed the bore is chosen for.
    shut = 1.6 * (sketch.fall + pit_depth() + 0.5 + 0.1 * sketch.hose)
    flows = np.round([share * flow_l_h(sketch.flow) for share, _ in CURVE])
    heads = np.round([share * shut for _, share in CURVE], 2)
    watts = [
        max(hydraulic_power(flow * LITRE_PER_HOUR, head) / sketch.pump, DULLEST)
        for flow, head in zip(flows.tolist(), heads.tolist(), strict=True)
    ]
    return Pump(name=PUMP, flows=flows * LITRE_PER_HOUR, heads=heads, watts=np.round(watts, 1), slowest=SLOWEST)


def flow_l_h(flow: Flow) -> float:
    """A flow in whole litres an hour, as it is written."""
    return float(round(flow / LITRE_PER_HOUR))


def survey_csv(survey: Survey) -> str:
    """The ground as survey.csv."""
    rows = [
        f"P{number:02},{x:g},{y:g},{z:.3f},GL"
        for number, ((x, y), z) in enumerate(zip(survey.points.tolist(), survey.levels.tolist(), strict=True), 1)
    ]
    head = "# Not shot: ground that falls evenly from the source to the foot. Put your own survey in its place."
    return "\n".join([head, "id,x_m,y_m,z_m,code", *rows, ""])


def hoses_csv(hose: Hose) -> str:
    """The hose as hoses.csv."""
    head = "# By its bore: the smallest the flow does not rush through. Measure the one you buy."
    return f"{head}\nhose,bore_mm,wall\n{hose.name},{hose.bore / MILLIMETRE:g},{hose.wall}\n"


def pumps_csv(pump: Pump) -> str:
    """The pump as pumps.csv."""
    rows = [
        f"{pump.name},{flow / LITRE_PER_HOUR:.0f},{head:.2f},{watts:.1f},{100 * pump.slowest:g}"
        for flow, head, watts in zip(pump.flows.tolist(), pump.heads.tolist(), pump.watts.tolist(), strict=True)
    ]
    head = "# No pump anybody sells: a place holder that gives the flow. Copy the curve of the maker of yours."
    return "\n".join([head, "pump,flow_l_h,head_m,power_w,slowest_percent", *rows, ""])


def prices_csv(sketch: Sketch, prices: Prices) -> str:
    """The person's own prices as prices.csv; empty where none of them is for building."""
    price = prices.of
    told: list[tuple[str, str, float]] = []
    if (stone := price("stone")) is not None:
        told += [
            (key, "t", stone) for key in ("stone.edge", "stone.bed.*", "stone.cover", "stone.lip_mass", "stone.cheek")
        ]
    if (lining := price("lining")) is not None:
        told += [("lining.course", "m2", lining), ("lining.pit", "m2", lining), ("lining.fleece", "m2", 0.0)]
    if (crates := price("crates")) is not None:
        told += [("crates.volume", "m3", crates)]
    if (day := price("day")) is not None:
        told += [("labour.own_crew", "day", 2 * day)]
    if (digger := price("digger")) is not None and sketch.machine != "by hand":
        told += [("hire.digger", "day", digger)]
    lines = [f"{item},{unit},{amount:.10g},told at the first visit" for item, unit, amount in told]
    head = (
        "# Your own prices as told at the first visit. Two people a day of the crew; fleece in the price of the lining."
    )
    return "\n".join([head, "item,unit,price,source", *lines, ""]) if lines else ""
