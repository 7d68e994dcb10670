"""How long the ground work takes, beside a plain overlay by shapely, and how far end areas are off.

Run ``python -m benchmarks earthworks`` or ``python benchmarks/earthworks.py``.
"""

import time
from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

import numpy as np
import shapely

from beckwright.job.read import read_job
from beckwright.stages.course import set_out_course
from beckwright.stages.earthworks import Groundwork, dig, level_that_balances
from beckwright.stages.ground import Ground, build_ground
from beckwright.stages.reservoir import dig_pit
from beckwright.stages.surroundings import look_around

Result = TypeVar("Result")
EXAMPLES = Path(__file__).parents[1] / "examples"
TARGET = 20.0
REPEATS = 15


def main() -> None:
    """Print milliseconds for every example, the peer's for the course alone, and the volumes of three ways."""
    for folder in sorted(path.parent for path in EXAMPLES.glob("*/job.toml")):
        report(folder)


def report(folder: Path) -> None:
    """Measure and print one job."""
    job = read_job(folder)
    ground = build_ground(job.survey)
    course = set_out_course(job.course, job.source, job.layers, ground, job.site.topsoil)
    around, pit = look_around(job, course), dig_pit(job.reservoir)
    seconds, work = best(lambda: dig(job, course, ground, pit, around), REPEATS)
    balance, _ = best(lambda: level_that_balances(job, course, ground, pit), 1)
    peer, (cut, fill) = best(lambda: by_shapely(ground, work), 1)
    print(f"{folder.name}: {len(work.sections)} sections, {len(ground.triangles)} triangles of ground")
    print(f"  all of the ground work   {seconds * 1e3:8.1f} ms  (target for hazel_bank: {TARGET:.0f} ms)")
    print(f"  the balancing level      {balance * 1e3:8.1f} ms")
    print(f"  shapely, course alone    {peer * 1e3:8.1f} ms  ({peer / seconds:.0f} times as long)")
    rough_cut, rough_fill = by_end_areas(work)
    print(f"  with box, unstripped     exact: cut {cut:.3f} m3, fill {fill:.3f} m3")
    print(f"  without box          end areas: cut {rough_cut:.3f} m3, fill {rough_fill:.3f} m3")


def best(work: Callable[[], Result], repeats: int) -> tuple[float, Result]:
    """Least seconds of ``work``, and what it made; once before for what is only done once."""
    result, least = work(), np.inf
    for _ in range(repeats):
        start = time.perf_counter()
        result = work()
        least = min(least, time.perf_counter() - start)
    return float(least), result


def by_shapely(ground: Ground, work: Groundwork) -> tuple[float, float]:
    """Every two triangles that touch cut out of each other, and a prism on each piece, one zero line or none."""
    surface, cut, fill = work.formation, 0.0, 0.0
    above, below = shapely.polygons(surface.points[surface.triangles]), shapely.polygons(ground.corners)
    one, other = shapely.STRtree(below).query(above, predicate="intersects")
    pieces = shapely.intersection(above[one], below[other])
    for piece, upper, lower in zip(pieces, one, other, strict=True):
        if piece.area > 0:
            corners = surface.triangles[upper]
            over = plane(surface.points[corners], surface.levels[corners])
            height = over - plane(ground.corners[lower], ground.levels[ground.triangles[lower]])
            middle = piece.centroid
            volume = piece.area * float(height @ (middle.x, middle.y, 1.0))
            cut, fill = cut + max(-volume, 0.0), fill + max(volume, 0.0)
    return cut, fill


def plane(points: np.ndarray, levels: np.ndarray) -> np.ndarray:
    """The plane through three points, as factors of easting and northing and a constant."""
    return np.linalg.solve(np.column_stack([points, np.ones(3)]), levels)


def by_end_areas(work: Groundwork) -> tuple[float, float]:
    """Areas of cut and fill of every section, and the mean of two neighbours over the chainage between them."""
    areas = []
    for section in work.sections:
        over = section.formation - section.ground
        widths = -np.diff(section.offsets)
        means = (over[1:] + over[:-1]) / 2 * widths
        areas.append((-means[means < 0].sum(), means[means > 0].sum()))
    chainage = np.array([section.chainage for section in work.sections])
    between = np.diff(chainage)[:, None]
    cut, fill = ((np.array(areas)[1:] + np.array(areas)[:-1]) / 2 * between).sum(axis=0)
    return float(cut), float(fill)


if __name__ == "__main__":
    main()
