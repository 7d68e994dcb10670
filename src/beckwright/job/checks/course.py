"""Checks on the stream as written: its line, its reaches, its falls, and the ground it lies on."""

from collections.abc import Iterator
from itertools import pairwise
from math import cos, dist, radians, sin

from beckwright.job.convert import line_length, reach_lengths, reach_names
from beckwright.job.model import Survey
from beckwright.job.surveyed import ground_surveyed
from beckwright.job.wording.fault import Fault, choose
from beckwright.job.written.course import BedWritten, CourseWritten, PoolWritten, RunWritten, SourceWritten, StepWritten
from beckwright.job.written.fields import Point
from beckwright.job.written.works import ReservoirWritten

CLOSEST = 0.05
"""Nearest two points of the course may lie, m: a bend between nearer ones is a slip of the pen."""
SHORTEST = 0.1
"""Shortest run, m."""
LENGTH_SHARE = 0.05
"""How far the reaches may differ from the line: the smooth line is a little longer than its chords, never by this."""
FALL_TOLERANCE_MM = 5.0
"""How far the falls may miss the levels: what a levelled survey can tell."""
OUTSIDE = 0.001
"""How far outside the survey counts, m."""


def points_apart(course: CourseWritten) -> Iterator[Fault]:
    """Refuse points of the line that lie on one another."""
    for place, (one, other) in enumerate(pairwise(course.line_m), 1):
        gap = dist(one, other)
        if gap < CLOSEST:
            found = f"points {place} and {place + 1} lie {gap * 1000:.0f} mm apart"
            rule = f"Points of the course lie at least {CLOSEST * 1000:.0f} mm apart"
            yield ("course", "line_m", place), found, rule, "Take one of the two out"


def line_crosses(course: CourseWritten) -> Iterator[Fault]:
    """Refuse a line that crosses itself."""
    from shapely import LineString

    if not LineString(course.line_m).is_simple:
        yield ("course", "line_m"), "the line crosses itself", "Water runs down once", "Look for points out of order"


def one_open_length(course: CourseWritten) -> Iterator[Fault]:
    """Refuse a second run of open length, and one for which the line leaves nothing."""
    runs = [
        place for place, reach in enumerate(course.reaches) if isinstance(reach, RunWritten) and reach.length_m is None
    ]
    for place in runs[1:]:
        found = f"{_name(course, place)} has no length_m, and nor has {_name(course, runs[0])}"
        yield ("course", "reaches", place), found, "One run at most leaves its length open", "Write length_m"
    if len(runs) == 1 and (left := reach_lengths(course)[runs[0]]) < SHORTEST:
        line, others = line_length(course.line_m), line_length(course.line_m) - left
        found = f"the line is {line:.2f} m long and the other reaches take {others:.2f} m"
        remedy = f"Shorten the other reaches by {SHORTEST - left:.2f} m or lengthen the line"
        yield ("course", "reaches", runs[0]), found, f"{_name(course, runs[0])} needs at least {SHORTEST:g} m", remedy


def lengths_add_up(course: CourseWritten) -> Iterator[Fault]:
    """Refuse reaches that are longer or shorter together than the line."""
    if any(isinstance(reach, RunWritten) and reach.length_m is None for reach in course.reaches):
        return
    line, reaches = line_length(course.line_m), sum(reach_lengths(course))
    if abs(reaches - line) > LENGTH_SHARE * line:
        found = f"the reaches are {reaches:.2f} m long together and the line {line:.2f} m"
        rule = f"The two may differ by {LENGTH_SHARE * 100:g} %"
        word = "Shorten" if reaches > line else "Lengthen"
        remedy = (
            f"{word} the reaches by {abs(reaches - line):.2f} m, or leave one run's length_m out to take what is left"
        )
        yield ("course", "reaches"), found, rule, remedy


def falls_add_up(source: SourceWritten, course: CourseWritten) -> Iterator[Fault]:
    """Refuse falls and drops that do not lead from the source's lip to the lower end."""
    if course.end_level_m is None:
        return
    falls = sum(_fall(reach) for reach in course.reaches)
    wanted = (source.lip_level_m - course.end_level_m) * 1000
    over = falls - wanted
    if abs(over) > FALL_TOLERANCE_MM:
        found = f"the falls and drops add up to {falls:.0f} mm, the levels leave {wanted:.0f} mm"
        rule = "They lead from the source's lip to end_level_m within 5 mm"
        end = source.lip_level_m - falls / 1000
        remedy = f"{'Take off' if over > 0 else 'Add'} {abs(over):.0f} mm, or set end_level_m to {end:.3f}"
        yield ("course", "end_level_m"), found, rule, remedy


def order_of_reaches(course: CourseWritten) -> Iterator[Fault]:
    """Refuse two lips on one spot, and a pool with nothing to feed it or nothing to spill into."""
    kinds = ["step", *(reach.kind for reach in course.reaches)]
    names = ["the source's lip", *reach_names(course)]
    for place, pair in enumerate(pairwise(kinds)):
        above, name = names[place], names[place + 1]
        if pair == ("step", "step"):
            remedy = "Put a run or a pool between, or make one step of the two"
            yield ("course", "reaches", place), f"{name} stands on the spot of {above}", "A spot has one lip", remedy
        elif pair == ("pool", "pool"):
            remedy = "Put a step between, or make one pool of the two"
            yield ("course", "reaches", place), f"{name} follows {above}", "Two pools at one level are one pool", remedy
    if kinds[1] == "pool":
        found, rule = f"{names[1]} begins the course", "Its water would stand at the source's lip and drown it"
        yield ("course", "reaches", 0), found, rule, "Put a run before it"
    if kinds[-1] == "pool":
        last = len(course.reaches) - 1
        found, rule = f"{names[-1]} ends the course", "A pool spills over a lip or into a run"
        yield ("course", "reaches", last), found, rule, "Put a step or a run after it"


def names_once(course: CourseWritten) -> Iterator[Fault]:
    """Refuse one name for two reaches."""
    seen: dict[str, int] = {}
    for place, name in enumerate(reach_names(course)):
        if name in seen:
            found = f'reaches {seen[name] + 1} and {place + 1} are both called "{name}"'
            yield ("course", "reaches", place), found, "Each reach has a name of its own", "Name one of them otherwise"
        seen.setdefault(name, place)


FLATTEST, STEEPEST = 1.0, 1000.0
"""Fall of a run, mm a metre: flatter is a pool, steeper a step."""


def runs_fall(course: CourseWritten) -> Iterator[Fault]:
    """Refuse runs so flat that nothing drives the water, and so steep that it falls."""
    if sum(isinstance(reach, RunWritten) and reach.length_m is None for reach in course.reaches) > 1:
        return
    for place, (reach, length) in enumerate(zip(course.reaches, reach_lengths(course), strict=True)):
        if not isinstance(reach, RunWritten) or length <= 0:
            continue
        if FLATTEST * length <= reach.fall_mm <= STEEPEST * length:
            continue
        path, found = ("course", "reaches", place, "fall_mm"), f"{_name(course, place)} falls {reach.fall_mm:g} mm"
        if reach.fall_mm < FLATTEST * length:
            rule = f"A run falls at least {FLATTEST:g} mm a metre, here {FLATTEST * length:.1f} mm"
            yield path, found, rule, "Give it more fall, or make it a pool"
        else:
            rule = f"A run falls at most as far as it is long, here {STEEPEST * length:.0f} mm"
            yield path, found, rule, "Put the fall into a step"


def sills_in_place(course: CourseWritten) -> Iterator[Fault]:
    """Refuse sills outside their run or out of order."""
    if sum(isinstance(reach, RunWritten) and reach.length_m is None for reach in course.reaches) > 1:
        return
    for place, (reach, length) in enumerate(zip(course.reaches, reach_lengths(course), strict=True)):
        if not isinstance(reach, RunWritten):
            continue
        path = ("course", "reaches", place, "sills_m")
        for sill in reach.sills_m:
            if not 0 < sill < length:
                found, rule = f"a sill at {sill:g} m", f"{_name(course, place)} runs from 0 to {length:.2f} m"
                yield path, found, rule, "Measure sills from the head of their run"
        if any(later <= earlier for earlier, later in pairwise(reach.sills_m)):
            yield path, "the sills are out of order", "Sills rise downstream", "Put them in order"


def lips_fit(source: SourceWritten, course: CourseWritten) -> Iterator[Fault]:
    """Refuse a lip wider than the channel that feeds it."""
    width, feeds = source.lip_width_mm, -1
    for place, reach in enumerate(course.reaches):
        if isinstance(reach, StepWritten):
            if reach.lip_width_mm > width:
                above = "the source's lip" if feeds < 0 else _name(course, feeds)
                found = f"{_name(course, place)} is {reach.lip_width_mm:g} mm wide and {above} {width:g} mm"
                path = ("course", "reaches", place, "lip_width_mm")
                yield path, found, "A lip is no wider than the channel above it", f"Make it {width:g} mm or less"
        else:
            width, feeds = reach.width_mm, place
    first = course.reaches[0]
    if not isinstance(first, StepWritten) and source.lip_width_mm > first.width_mm:
        found = f"the source's lip is {source.lip_width_mm:g} mm wide and {_name(course, 0)} {first.width_mm:g} mm"
        rule, remedy = (
            "The source's lip is no wider than the channel below it",
            f"Make it {first.width_mm:g} mm or less",
        )
        yield ("source", "lip_width_mm"), found, rule, remedy


def beds_known(course: CourseWritten, beds: dict[str, BedWritten]) -> Iterator[Fault]:
    """Refuse a run whose bed is no make-up of the job."""
    for place, reach in enumerate(course.reaches):
        if isinstance(reach, RunWritten) and reach.bed not in beds:
            yield ("course", "reaches", place, "bed"), *choose("bed", reach.bed, beds, "the make-ups under [beds]")


def stones_sized(beds: dict[str, BedWritten]) -> Iterator[Fault]:
    """Refuse sizes the wrong way round, and more water staying than the voids hold."""
    for name, bed in beds.items():
        if bed.size_mm[0] > bed.size_mm[1]:
            found = f"stones from {bed.size_mm[0]:g} to {bed.size_mm[1]:g} mm"
            yield ("beds", name, "size_mm"), found, "The smaller size comes first", "Turn the two round"
        if bed.retained is not None and bed.retained >= bed.voids:
            found, rule = f"retained is {bed.retained:g} and voids {bed.voids:g}", "Less stays wet than the voids hold"
            yield ("beds", name, "retained"), found, rule, "Lower retained"


def edges_in_place(course: CourseWritten) -> Iterator[Fault]:
    """Refuse stretches of edge that end before they begin or lie beyond the course."""
    length = max(line_length(course.line_m), sum(max(reach, 0) for reach in reach_lengths(course) if reach))
    for place, edge in enumerate(course.edges):
        if edge.to_m <= edge.from_m:
            found = f"the stretch runs from {edge.from_m:g} to {edge.to_m:g} m"
            yield ("course", "edges", place), found, "from_m lies upstream of to_m", "Turn the two round"
        elif edge.to_m > length * (1 + LENGTH_SHARE):
            found, rule = f"the stretch ends at {edge.to_m:g} m", f"The course is {length:.2f} m long"
            yield ("course", "edges", place), found, rule, "Shorten the stretch"


def course_on_survey(course: CourseWritten, survey: Survey) -> Iterator[Fault]:
    """Refuse a course that leaves the ground surveyed."""
    from shapely import LineString
    from shapely import Point as At

    hull = ground_surveyed(survey)
    line = LineString(course.line_m)
    if hull.covers(line):
        return
    outside = line.difference(hull.buffer(OUTSIDE))
    if outside.is_empty:
        return
    pieces = getattr(outside, "geoms", [outside])
    leaves = min((line.project(At(piece.coords[0])), At(piece.coords[0])) for piece in pieces)
    place = next((place for place, point in enumerate(course.line_m) if hull.distance(At(point)) > OUTSIDE), 0)
    worst = max(hull.distance(At(point)) for piece in pieces for point in piece.coords)
    found = f"the course leaves the survey at {leaves[0]:.2f} m from the source, by {worst:.2f} m at most"
    remedy = "Survey the ground there, or move the point back"
    yield ("course", "line_m", place), found, "The whole course lies within the points surveyed", remedy


def reservoir_on_survey(reservoir: ReservoirWritten, survey: Survey) -> Iterator[Fault]:
    """Refuse a reservoir that leaves the ground surveyed."""
    from shapely import Point as At

    hull = ground_surveyed(survey)
    worst = max(hull.distance(At(corner)) for corner in _corners(reservoir))
    if worst > OUTSIDE:
        found = f"the reservoir reaches {worst:.2f} m outside the survey"
        remedy = "Survey the ground there, or move the reservoir"
        yield ("reservoir", "centre_m"), found, "The whole reservoir lies within the points surveyed", remedy


def _corners(reservoir: ReservoirWritten) -> list[Point]:
    turn, (x, y) = radians(reservoir.turned_deg), reservoir.centre_m
    halves = [(a * reservoir.length_m / 2, b * reservoir.width_m / 2) for a in (-1, 1) for b in (-1, 1)]
    return [(x + a * cos(turn) - b * sin(turn), y + a * sin(turn) + b * cos(turn)) for a, b in halves]


def _fall(reach: RunWritten | StepWritten | PoolWritten) -> float:
    """Fall of the bed along a reach, mm. A pool's bed level is its rim, so it has none."""
    if isinstance(reach, RunWritten):
        return reach.fall_mm
    return reach.drop_mm if isinstance(reach, StepWritten) else 0.0


def _name(course: CourseWritten, place: int) -> str:
    return reach_names(course)[place]
