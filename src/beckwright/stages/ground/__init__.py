"""The ground: one surface through the survey points, its levels, slopes and contours."""

from beckwright.stages.ground.contours import Contour, contours
from beckwright.stages.ground.surface import (
    Ground,
    build_ground,
    extent,
    inside,
    level_at,
    level_where,
    slope_at,
    thin_places,
)

__all__ = [
    "Contour",
    "Ground",
    "build_ground",
    "contours",
    "extent",
    "inside",
    "level_at",
    "level_where",
    "slope_at",
    "thin_places",
]
