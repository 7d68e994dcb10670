"""How long the lining's cutting plan takes, beside two plain ways to work out the same.

Run ``python benchmarks/lining.py``. The peers take every part between two possible laps by itself: one asks shapely for
its least rectangle, the other also hands all of them to the solver of mixed integer programmes, which then picks the
cheapest that join up. Neither knows rolls of several widths.
"""

import time
from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from shapely import MultiPoint, minimum_rotated_rectangle

from beckwright import Design, design, read_job
from beckwright.stages.lining import Lining, line
from beckwright.stages.lining.breaks import break_places
from beckwright.stages.lining.plan import Search, best_plan, search_of

ROOT = Path(__file__).parents[1]
TARGETS = {"hazel_bank": 0.05, "fennymoor_park": 0.5}
REPEATS = 5
LONGEST_PART = 12.0
"""The peers are spared parts longer than this, m."""
Result = TypeVar("Result")


def main() -> None:
    """Print the seconds of the whole stage, of its search, and of the peers on the same laps."""
    for name, target in TARGETS.items():
        designed = design(read_job(ROOT / "examples" / name))
        wall, work, lining = timed(lambda designed=designed: planned(designed))  # type: ignore[misc]
        search = search_for(designed)
        alone, alone_work, plan = timed(lambda search=search: best_plan(search))  # type: ignore[misc]
        print(f"{name}, {len(search.laps)} places for laps, {len(search.fan.turns)} turns, {len(search.widths)} widths")
        told = f"target {target * 1e3:.0f} ms; {len(lining.pieces)} pieces"
        print(f"  whole stage  {wall * 1e3:7.1f} ms wall {work * 1e3:7.1f} ms process  {told}")
        counts = "no plan" if plan is None else f"counts {plan.counted:.1f} m2"
        print(f"  search alone {alone * 1e3:7.1f} ms wall {alone_work * 1e3:7.1f} ms process  {counts}")
        beside(search, alone)


def planned(designed: Design) -> Lining:
    """The stage as the design calls it."""
    return line(designed.job, designed.course, designed.water, designed.falls, designed.reservoir.pit)


def search_for(designed: Design) -> Search:
    """The search of the stage, made ready."""
    strip = planned(designed).strip
    return search_of(designed.job, strip, break_places(designed.job, designed.course, designed.falls, strip))


def beside(search: Search, alone: float) -> None:
    """Shapely's rectangles, then the solver over them."""
    starts, ends = search.starts, search.ends
    pairs = [
        (first, last)
        for first in range(len(starts))
        for last in range(first, len(ends))
        if ends[last] - starts[first] <= LONGEST_PART
    ]
    begun = time.perf_counter()
    areas = [rectangle_area(search, starts[first], ends[last]) for first, last in pairs]
    rectangles = time.perf_counter() - begun
    begun = time.perf_counter()
    counted = picked(search, pairs, areas)
    solver = time.perf_counter() - begun
    print(f"  shapely's least rectangle of {len(pairs)} parts {rectangles:6.2f} s, {rectangles / alone:5.0f} times")
    print(f"  and milp over them {solver:6.2f} s; sheet cut to need and seams count {counted:.1f} m2")


def rectangle_area(search: Search, start: float, end: float) -> float:
    """Area of the least rectangle round one part."""
    return float(minimum_rotated_rectangle(MultiPoint(search.traced.part(start, end))).area)


def picked(search: Search, pairs: list[tuple[int, int]], areas: list[float]) -> float:
    """The cheapest chain of parts: at every lap as many end as begin."""
    count = len(search.laps)
    joins = np.zeros((count + 2, len(pairs)))
    for column, (first, last) in enumerate(pairs):
        joins[first, column] += 1.0
        joins[last + 1, column] -= 1.0
    joined = search.joined()
    seams = [joined[last] for _, last in pairs]
    wanted = np.zeros(count + 2)
    wanted[0], wanted[-1] = 1.0, -1.0
    found = milp(
        np.array(areas) + seams,
        constraints=LinearConstraint(joins, wanted, wanted),
        integrality=np.ones(len(pairs)),
        bounds=Bounds(0.0, 1.0),
    )
    return float(found.fun)


def timed(work: Callable[[], Result]) -> tuple[float, float, Result]:
    """Least wall and process seconds of a few runs, and what the last made: other jobs stretch the wall time alone."""
    pairs = []
    for _ in range(REPEATS):
        wall, process = time.perf_counter(), time.process_time()
        made = work()
        pairs.append((time.perf_counter() - wall, time.process_time() - process))
    walls, processes = zip(*pairs, strict=True)
    return min(walls), min(processes), made


if __name__ == "__main__":
    main()
