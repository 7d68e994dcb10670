"""The whole job in the order it is worked: a table of contents."""

from beckwright.base.findings import Finding
from beckwright.base.values import value
from beckwright.job.model import Job
from beckwright.stages.course import SetOutCourse, set_out_course
from beckwright.stages.findings import find
from beckwright.stages.ground import Ground, build_ground
from beckwright.stages.levels import Freeboard, freeboard
from beckwright.stages.quantities import Quantities, take_off
from beckwright.stages.reservoir import FilledReservoir, fill_reservoir
from beckwright.stages.supply import Supply, supply_water
from beckwright.stages.surroundings import Surroundings, look_around
from beckwright.stages.water import Water, run_water


@value
class Design:
    """Everything worked out for one job. A changed job gives a new design; nothing here changes."""

    job: Job
    ground: Ground
    course: SetOutCourse
    water: Water
    freeboard: Freeboard
    reservoir: FilledReservoir
    supply: Supply
    quantities: Quantities
    surroundings: Surroundings
    findings: tuple[Finding, ...]


def design(job: Job, ground: Ground | None = None) -> Design:
    """Design a job. ``ground`` may be handed over where the survey has not changed: it is the slow part."""
    ground = build_ground(job.survey) if ground is None else ground
    course = set_out_course(job.course, job.source, job.layers, ground)
    water = run_water(course, job.source, job.flows, job.water_temperature)
    board = freeboard(course, water, job.course.freeboard_wanted)
    reservoir = fill_reservoir(job, ground, water)
    supply = supply_water(job, reservoir)
    around = look_around(job, course)
    return Design(
        job=job,
        ground=ground,
        course=course,
        water=water,
        freeboard=board,
        reservoir=reservoir,
        supply=supply,
        quantities=take_off(job, course, reservoir),
        surroundings=around,
        findings=find(job, course, water, board, reservoir, supply, around),
    )
