"""How long the ground takes: the surface and about fifty contour levels, beside scipy's bare Delaunay net.

Run ``python benchmarks/ground.py``; ``--million`` adds ten times as many survey points.
"""

import argparse
import time
from collections.abc import Callable
from typing import TypeVar

import numpy as np
from scipy.spatial import Delaunay

from beckwright.job.model import Survey
from beckwright.stages.ground import Ground, build_ground, contours, level_at

Result = TypeVar("Result")
SPACING = 1.0
TARGET = 2.0
STATIONS = 37
REPEATS = 200


def main() -> None:
    """Print seconds for 100,000 survey points, and the ratio to the bare net of the same points."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--million", action="store_true", help="add a run with 1,000,000 points")
    build_ground(hillside(100))  # Imports are not what is measured.
    report(100_000)
    if parser.parse_args().million:
        report(1_000_000)


def report(count: int) -> None:
    """Measure and print one size of survey."""
    survey = hillside(count)
    rise = float(np.ptp(survey.levels))
    net_time, _ = timed(lambda: Delaunay(survey.points - survey.points.mean(axis=0)))
    build_time, ground = timed(lambda: build_ground(survey))
    contour_time, lines = timed(lambda: contours(ground, rise / 50.0))
    total = build_time + contour_time
    print(f"{count:,} survey points, {len(ground.triangles):,} triangles")
    print(f"  surface             {build_time:7.2f} s")
    print(
        f"  contours            {contour_time:7.2f} s  {len({line.level for line in lines})} levels, {len(lines)} lines"
    )
    print(f"  together            {total:7.2f} s  (target for 100,000 points: {TARGET} s)")
    print(f"  scipy's net alone   {net_time:7.2f} s  (together / alone: {total / net_time:.2f})")
    print(f"  levels at {STATIONS} points {level_time(ground) * 1e3:7.3f} ms")


def hillside(count: int) -> Survey:
    """Random points about ``SPACING`` apart on a rolling slope, with the scatter of a staff on turf."""
    chance = np.random.default_rng(1)
    side = SPACING * np.sqrt(count)
    points = chance.uniform((412_000.0, 287_000.0), (412_000.0 + side, 287_000.0 + side), (count, 2))
    east, north = points.T
    rolling = 2.0 * np.sin(east / 20.0) * np.cos(north / 25.0)
    levels = 100.0 + 0.05 * north + rolling + chance.normal(0.0, 0.01, count)
    return Survey(points=points, levels=levels, codes=("GL",) * count, breaklines=())


def level_time(ground: Ground) -> float:
    """Mean seconds of one warm call for the stations of a course."""
    low, high = ground.hull.min(axis=0), ground.hull.max(axis=0)
    course = low + (high - low) * np.linspace(0.3, 0.7, STATIONS)[:, np.newaxis]
    seconds, _ = timed(lambda: [level_at(ground, course) for _ in range(REPEATS)])
    return seconds / REPEATS


def timed(work: Callable[[], Result]) -> tuple[float, Result]:
    """Seconds of ``work``, and what it made."""
    start = time.perf_counter()
    result = work()
    return time.perf_counter() - start, result


if __name__ == "__main__":
    main()
