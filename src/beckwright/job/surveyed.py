"""The ground a survey covers."""

from typing import TYPE_CHECKING, Any

from beckwright.base.lately import lately
from beckwright.job.model import Survey

if TYPE_CHECKING:
    from shapely import Polygon


@lately
def ground_surveyed(survey: Survey) -> "Polygon":
    """Outline of the ground within the points shot. One and the same while a line is dragged over it."""
    from shapely import MultiPoint, prepare

    hull: Any = MultiPoint(survey.points).convex_hull
    prepare(hull)
    return hull  # type: ignore[no-any-return]
