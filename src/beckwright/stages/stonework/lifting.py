"""Who lifts which stone: a team by the filter, a machine by its chart at the reach that its place wants."""

import numpy as np

from beckwright.base.quantities import Length, Lengths, Mass
from beckwright.equations.lining import team_carries
from beckwright.equations.site import reach_needed
from beckwright.equations.stonework import hook_lift
from beckwright.job.model import Job
from beckwright.stages.course import STATION_SPACING, SetOutCourse
from beckwright.stages.stonework.values import By, FixedStones, LipStone, ToLift
from beckwright.stages.surroundings.works import footprint
from beckwright.tables.lifting import CHART_SHARE, TEAM_MOST
from beckwright.tables.lining import CARRIED, TEAM_SHARE
from beckwright.tables.site import DIGGER_STANDOFF


def teams() -> tuple[tuple[int, Mass, Mass], ...]:
    """Each team, and what it lifts by the filter for women and for men."""
    return tuple(
        (people, _team(people, CARRIED.low), _team(people, CARRIED.high))
        for people in range(1, round(TEAM_MOST.amount) + 1)
    )


def _team(people: int, each: Mass) -> Mass:
    return team_carries(people, each, TEAM_SHARE[min(people, max(TEAM_SHARE))].amount)


def reaches(job: Job, course: SetOutCourse) -> tuple[Lengths, Length] | None:
    """Reach to the middle of the stream at every station from the nearer bank, and to an edge from its own bank.

    The machine stands beyond the top of the bank, whose outer side is dressed after the stones are set. None where
    nobody said how wide it is.
    """
    machine = job.earthworks.digger_width
    if machine is None:
        return None
    top = job.earthworks.bank_top
    middle = footprint(job, course).edge.min(axis=0) + top
    standoff = DIGGER_STANDOFF.amount
    return reach_needed.over(machine, standoff, middle), reach_needed(machine, standoff, top)


def machine_lifts(job: Job, reach: Length | None) -> Mass | None:
    """What the machine lifts at a reach: straight between the rows of its chart, nothing beyond the last.

    None where nobody gave a chart. Nearer than the first row, its mass: charts are not read inwards.
    """
    work, bucket = job.stonework, job.earthworks.digger_reach
    if not work.chart:
        return None
    far, masses = (np.array(column) for column in zip(*work.chart, strict=True))
    at = float(far[0]) if reach is None else reach
    if at > far[-1] or (bucket is not None and at > bucket):
        return 0.0
    charted = float(np.interp(at, far, masses))
    return max(hook_lift(charted, CHART_SHARE[work.chart_of].amount, work.gear), 0.0)


def lifts(
    job: Job,
    course: SetOutCourse,
    lips: tuple[LipStone, ...],
    cheek: Mass,
    largest: tuple[Mass, int],
    fixed: tuple[FixedStones, ...],
) -> tuple[ToLift, ...]:
    """Every kind of stone that is set singly, the heaviest first."""
    at, reach = course.stations.chainage, reaches(job, course)

    def out_to(chainage: Length) -> Length | None:
        """The farthest within a station's spacing: at a lip the stream changes its width."""
        return None if reach is None else float(reach[0][np.abs(at - chainage) <= STATION_SPACING].max())

    found = [
        *(to_lift(job, lip.name, lip.mass, 1, out_to(lip.chainage)) for lip in lips),
        *(to_lift(job, f"cheeks of {lip.name}", cheek, 2, out_to(lip.chainage)) for lip in lips if cheek),
        *(to_lift(job, f"stones at {each.place}", each.each[1], each.count, out_to(each.span[1])) for each in fixed),
    ]
    if largest[1]:
        found.append(to_lift(job, "largest edge stones", *largest, None if reach is None else reach[1]))
    return tuple(sorted(found, key=lambda lift: -lift.mass))


def to_lift(job: Job, what: str, mass: Mass, count: int, reach: Length | None) -> ToLift:
    """Judge one kind of stone."""
    most = min(job.force.people, round(TEAM_MOST.amount))
    people = next((n for n in range(1, most + 1) if _team(n, CARRIED.high) >= mass), None)
    machine = machine_lifts(job, reach)
    return ToLift(
        what=what,
        mass=mass,
        count=count,
        reach=reach,
        machine=machine,
        people=people,
        by=_by(mass, people, machine),
    )


def _by(mass: Mass, people: int | None, machine: Mass | None) -> By:
    if people is not None:
        return "one person" if people == 1 else "a team"
    if machine is None:
        return "nobody can tell"
    return "the machine" if machine >= mass else "nothing told"
