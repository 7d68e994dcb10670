"""What the works come close to: roots, pipes and cables, boundaries, footings, and water that runs over the ground.

``look_around`` is quick and part of every design. ``look_closer`` reads the ground and takes its time.
"""

from beckwright.base.values import value
from beckwright.job.model import Job
from beckwright.stages.course import SetOutCourse
from beckwright.stages.ground import Ground
from beckwright.stages.surroundings.access import Access, Reach, way_in
from beckwright.stages.surroundings.descent import Descent
from beckwright.stages.surroundings.foundations import Footing, Undermined, footings
from beckwright.stages.surroundings.near import Crossing, Near, near_things
from beckwright.stages.surroundings.plane import Span
from beckwright.stages.surroundings.roots import RootCircle, radius_of, root_circles, stem_of
from beckwright.stages.surroundings.runoff import Across, OverflowWay, Seen, WaterPaths, seen_water, water_paths
from beckwright.stages.surroundings.shift import Shift
from beckwright.stages.surroundings.thin import ThinSurvey, thin_survey
from beckwright.stages.surroundings.works import footprint, hose_line, pit_corners, pit_outline


@value
class Surroundings:
    """Everything the works come close to."""

    circles: tuple[RootCircle, ...]
    services: tuple[Near, ...]
    boundaries: tuple[Near, ...]
    seen: tuple[Seen, ...]
    access: Access


@value
class CloserLook:
    """What only the ground itself can tell."""

    footings: tuple[Footing, ...]
    paths: WaterPaths
    thin: ThinSurvey


def look_around(job: Job, course: SetOutCourse) -> Surroundings:
    """Measure the works against trees, services, boundaries, seen water and the way in."""
    works = footprint(job, course)
    services, boundaries = near_things(job, course, works)
    return Surroundings(
        circles=root_circles(job, works),
        services=services,
        boundaries=boundaries,
        seen=seen_water(job, works),
        access=way_in(job, works),
    )


def look_closer(job: Job, ground: Ground, course: SetOutCourse) -> CloserLook:
    """Hold the works against footings, ways of water and the survey itself. Too slow for every move of a line."""
    return CloserLook(
        footings=footings(job, ground, course),
        paths=water_paths(job, ground, course),
        thin=thin_survey(job, ground, course),
    )


__all__ = [
    "Access",
    "Across",
    "CloserLook",
    "Crossing",
    "Descent",
    "Footing",
    "Near",
    "OverflowWay",
    "Reach",
    "RootCircle",
    "Seen",
    "Shift",
    "Span",
    "Surroundings",
    "ThinSurvey",
    "Undermined",
    "WaterPaths",
    "footings",
    "hose_line",
    "look_around",
    "look_closer",
    "pit_corners",
    "pit_outline",
    "radius_of",
    "stem_of",
    "thin_survey",
    "water_paths",
]
