"""Level over time in one test, with what evaporation alone would explain: a drawing as numbers, for a page to draw."""

import math

import numpy as np

from beckwright.base import words
from beckwright.base.quantities import FloatArray
from beckwright.compose import Design
from beckwright.readings.leak import Measured
from beckwright.web.desk.state import Told

WIDE, TALL = 360.0, 210.0
LEFT, RIGHT, TOP, FOOT = 70.0, 12.0, 10.0, 30.0
_STEPS = (1, 2, 5, 10, 20, 50, 100, 200, 500)


def chart(design: Design, each: Measured) -> Told:
    """Points, band and strokes in a box ``WIDE`` by ``TALL``, and the same in words for who cannot see it."""
    times = each.series.times - each.series.times[0]
    levels = each.series.levels
    low, high = _alone(design, each)
    bottom, top = min(float(low.min()), float(levels.min())), max(float(high.max()), float(levels.max()))
    up = _ticks(bottom * 1000, top * 1000)
    along = _ticks(0.0, float(times[-1]) / 3600)
    floor, ceiling = min(bottom, up[0] / 1000), max(top, up[-1] / 1000)

    def x(time: float) -> float:
        return round(LEFT + (WIDE - LEFT - RIGHT) * time / max(float(times[-1]), along[-1] * 3600), 1)

    def y(level: float) -> float:
        return round(TOP + (TALL - TOP - FOOT) * (ceiling - level) / max(ceiling - floor, 1e-4), 1)

    around = [*zip(times, high, strict=True), *reversed(list(zip(times, low, strict=True)))]
    return {
        "wide": WIDE,
        "tall": TALL,
        "band": "M" + "L".join(f"{x(float(time))} {y(float(level))}" for time, level in around) + "Z",
        "points": [[x(float(time)), y(float(level))] for time, level in zip(times, levels, strict=True)],
        "odd": [int(place) for place in each.loss.odd],
        "up": [[y(tick / 1000), words.millimetres(tick / 1000)] for tick in up],
        "along": [[x(tick * 3600), f"{tick:g} h"] for tick in along],
        "left": LEFT,
        "foot": TALL - FOOT,
        "says": (
            f"{each.series.name}: level {words.millimetres(float(levels[0]))} at first, "
            f"{words.millimetres(float(levels[-1]))} after {float(times[-1]) / 3600:.3g} h. Evaporation alone would "
            f"leave {words.band(float(low[-1]), float(high[-1]), 1, 'mm', scale=1000)}."
        ),
    }


def _alone(design: Design, each: Measured) -> tuple[FloatArray, FloatArray]:
    """Levels, (n,) low and high, had nothing left the water but what evaporated; rain and filling up as they were."""
    pit = design.reservoir.pit
    times = each.series.times - each.series.times[0]
    dry = each.held - each.given
    start = float(dry.mean() + each.loss.rate[1] * times.mean())
    ends = [start + each.given - rate * times for rate in (each.evaporation.max(), each.evaporation.min())]
    low, high = (np.array([pit.level_of(float(volume)) - pit.floor for volume in end]) for end in ends)
    return low, high


def _ticks(low: float, high: float) -> list[float]:
    """Three to six round numbers over a span."""
    step = next((step for step in _STEPS if (high - low) / step <= 4), math.ceil((high - low) / 4))
    return [step * place for place in range(math.floor(low / step), math.ceil(high / step) + 1)]
