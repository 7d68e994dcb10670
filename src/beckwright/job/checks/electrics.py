"""Checks on electrics as written: cables that exist, a route that is told, lights and views that have a place."""

from collections.abc import Iterator, Sequence

from beckwright.job.convert import reach_names
from beckwright.job.model import Survey
from beckwright.job.surveyed import ground_surveyed
from beckwright.job.wording.fault import Fault, choose
from beckwright.job.written.course import CourseWritten
from beckwright.job.written.electrics import ElectricsWritten, LightWritten, ViewWritten
from beckwright.tables.electrics import DROP_RATES

OUTSIDE = 1e-6
"""What rounding may put a point outside the survey, m."""


def electrics_told(electrics: ElectricsWritten | None, lights: list[LightWritten]) -> Iterator[Fault]:
    """Refuse lights without a supply, and a supply without a route."""
    if electrics is None and lights:
        remedy = "Write [electrics] with board, cable_mm2 and line_m or length_m, or take the lights out"
        yield ("lights",), "there are lights and no [electrics]", "Lights hang on a supply", remedy
    if electrics is not None and electrics.line_m is None and electrics.length_m is None:
        rule = "The drop hangs on the length of the cable"
        yield ("electrics",), "line_m and length_m are both missing", rule, "Write one of them"


def cables_known(electrics: ElectricsWritten | None) -> Iterator[Fault]:
    """Refuse sizes of cable that no table has."""
    if electrics is None:
        return
    for key, insulation in (("cable_mm2", electrics.insulation), ("light_cable_mm2", "PVC")):
        sizes = [f"{size:g}" for kind, size in DROP_RATES if kind == insulation]
        size = f"{getattr(electrics, key):g}"
        if size not in sizes:
            found, rule, _ = choose(key, size, sizes, f"sizes of {insulation} cable in the table")
            yield ("electrics", key), found, rule, "Write one of these"


def lights_once(lights: list[LightWritten]) -> Iterator[Fault]:
    """Refuse one name for two lights."""
    yield from _once("lights", lights)


def views_once(views: list[ViewWritten]) -> Iterator[Fault]:
    """Refuse one name for two views."""
    yield from _once("views", views)


def _once(section: str, rows: Sequence[LightWritten | ViewWritten]) -> Iterator[Fault]:
    seen: dict[str, int] = {}
    for place, row in enumerate(rows):
        if row.name in seen:
            found = f'rows {seen[row.name] + 1} and {place + 1} are both called "{row.name}"'
            yield (section, place, "name"), found, "Each has a name of its own", "Name one of them otherwise"
        seen.setdefault(row.name, place)


def lights_placed(lights: list[LightWritten], course: CourseWritten) -> Iterator[Fault]:
    """Refuse lights with no place or two, at a lip that is not there, or turned to nothing."""
    lips = [name for name, reach in zip(reach_names(course), course.reaches, strict=True) if reach.kind == "step"]
    for place, light in enumerate(lights):
        spot = light.x_m is not None and light.y_m is not None
        if spot == (light.lip is not None) or (light.x_m is None) != (light.y_m is None):
            found = f'light "{light.name}" has {"two places" if spot else "no place"}'
            rule = "A light stands at x_m and y_m, or under a lip"
            yield ("lights", place), found, rule, "Write x_m and y_m, or lip"
        elif light.lip is not None and light.lip not in lips:
            yield ("lights", place, "lip"), *choose("lip", light.lip, lips, "the lips of this course")
        elif light.lip is None and light.aims_m is None:
            found = f'light "{light.name}" is turned to nothing'
            yield ("lights", place), found, "Only a light at a lip has an aim of its own", "Write aims_m as [x, y]"


def lights_on_survey(lights: list[LightWritten], views: list[ViewWritten], survey: Survey) -> Iterator[Fault]:
    """Refuse lights, aims and views where nobody knows the ground."""
    spots = [(("lights", place, "x_m"), (light.x_m, light.y_m)) for place, light in enumerate(lights)]
    spots += [(("lights", place, "aims_m"), light.aims_m or (None, None)) for place, light in enumerate(lights)]
    spots += [
        (("views", place, "x_m"), (view.x_m, view.y_m))
        for place, view in enumerate(views)
        if view.ground_level_m is None
    ]
    told = [(path, (x, y)) for path, (x, y) in spots if x is not None and y is not None]
    if not told:
        return
    from shapely import Point

    hull = ground_surveyed(survey)
    for path, spot in told:
        away = hull.distance(Point(spot))
        if away > OUTSIDE:
            remedy = (
                "Survey the ground there, or write ground_level_m" if path[0] == "views" else "Survey the ground there"
            )
            yield path, f"it lies {away:.2f} m outside the survey", "Heights are counted from the ground", remedy
