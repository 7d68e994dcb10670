"""The whole job in the order it is worked: a table of contents."""

from beckwright.base.findings import Finding
from beckwright.base.values import value
from beckwright.job.model import Job
from beckwright.stages.course import SetOutCourse, set_out_course
from beckwright.stages.falls import Fall, fall_water
from beckwright.stages.findings import find
from beckwright.stages.ground import Ground, build_ground
from beckwright.stages.levels import Freeboard, freeboard
from beckwright.stages.quantities import Quantities, take_off
from beckwright.stages.reservoir import FilledReservoir, fill_reservoir
from beckwright.stages.stones import Blocked, Stability, blocked, stone_stability
from beckwright.stages.supply import Supply, flat_out_flow, supply_water
from beckwright.stages.surroundings import Surroundings, look_around
from beckwright.stages.water import Water, run_water


@value
class Design:
    """Everything worked out for one job. A changed job gives a new design; nothing here changes.

    water     at the flows the designer named
    flat_out  at the flow the chosen pump gives with nothing held back, for somebody will try it; no flow where it
              cannot lift the water
    """

    job: Job
    ground: Ground
    course: SetOutCourse
    water: Water
    flat_out: Water
    freeboard: Freeboard
    flat_out_freeboard: Freeboard
    falls: tuple[Fall, ...]
    flat_out_falls: tuple[Fall, ...]
    stability: Stability
    plants: tuple[Blocked, ...]
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
    falls = fall_water(course, water)
    reservoir = fill_reservoir(job, ground, water)
    supply = supply_water(job, reservoir)
    flat_out = run_water(course, job.source, flat_out_flow(supply), job.water_temperature)
    flat_out_board = freeboard(course, flat_out, job.course.freeboard_wanted)
    flat_out_falls = fall_water(course, flat_out)
    stability = stone_stability(job, course, (water, flat_out), (falls, flat_out_falls))
    plants = blocked(course, water)
    around = look_around(job, course)
    return Design(
        job=job,
        ground=ground,
        course=course,
        water=water,
        flat_out=flat_out,
        freeboard=board,
        flat_out_freeboard=flat_out_board,
        falls=falls,
        flat_out_falls=flat_out_falls,
        stability=stability,
        plants=plants,
        reservoir=reservoir,
        supply=supply,
        quantities=take_off(job, course, reservoir),
        surroundings=around,
        findings=find(
            job, course, (water, flat_out), (board, flat_out_board), falls, stability, plants, reservoir, supply, around
        ),
    )
