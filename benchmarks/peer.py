"""A plain peer: uniform depth by Manning's formula, one place after the other, as anyone would first write it."""

from beckwright.job.model import Run
from beckwright.stages.course import SetOutCourse

BANDS = 3
HALVINGS = 40
"""Enough to bring the first guess of a metre down to a millionth of a millimetre."""
ROUGHNESS = 0.05


def uniform_depths(course: SetOutCourse, flows: list[float]) -> list[float]:
    """Depth at every station of every run, for every flow, three times: as many answers as the water stage gives."""
    depths = []
    for stretch, here in ((s, course.stations.of(number)) for number, s in enumerate(course.stretches)):
        if isinstance(stretch.reach, Run):
            width, gradient = stretch.reach.width, stretch.slope
            for _ in range((here.stop - here.start) * BANDS):
                depths += [uniform_depth(flow, width, course.side_slope, gradient) for flow in flows]
    return depths


def uniform_depth(flow: float, width: float, side_slope: float, gradient: float) -> float:
    """Depth of a trapezium at which Manning's formula carries ``flow``, by halving."""
    low, high = 0.0, 1.0
    for _ in range(HALVINGS):
        depth = 0.5 * (low + high)
        area = (width + side_slope * depth) * depth
        perimeter = width + 2.0 * depth * (1.0 + side_slope**2) ** 0.5
        if area ** (5.0 / 3.0) / perimeter ** (2.0 / 3.0) * gradient**0.5 / ROUGHNESS < flow:
            low = depth
        else:
            high = depth
    return 0.5 * (low + high)
