"""Stone by class, as a band with its reasons; who lifts the heaviest; loads, bases and joints."""

from beckwright.job.model import Job
from beckwright.stages.course import SetOutCourse
from beckwright.stages.falls import Fall
from beckwright.stages.stones import Stability
from beckwright.stages.stonework.lifting import lifts, teams
from beckwright.stages.stonework.masses import (
    added,
    bed_stone,
    boulder,
    cheeks_order,
    edge_stone,
    fixed_stones,
    largest_edge,
    lip_stones,
    lips_order,
)
from beckwright.stages.stonework.sundries import bases, delivery, joints, rules_seen
from beckwright.stages.stonework.values import (
    Bases,
    BedStone,
    Delivery,
    EdgeStone,
    FixedStones,
    JointAt,
    Joints,
    LipStone,
    RuleSeen,
    Stonework,
    ToLift,
    Tonnage,
)

__all__ = [
    "Bases",
    "BedStone",
    "Delivery",
    "EdgeStone",
    "FixedStones",
    "JointAt",
    "Joints",
    "LipStone",
    "RuleSeen",
    "Stonework",
    "ToLift",
    "Tonnage",
    "take_off_stone",
]


def take_off_stone(job: Job, course: SetOutCourse, stability: Stability, falls: tuple[Fall, ...]) -> Stonework:
    """Take all stone off the set-out course. ``falls`` at any flow: only what lies below each is read."""
    edge = edge_stone(job, course)
    beds = tuple(bed_stone(job, course, bed) for bed in course.beds if bed.depth > 0)
    lips = lip_stones(job, course)
    cheek = job.stonework.cheek
    cheek_mass, cheeks = (0.0, 0) if cheek is None else (boulder(job, cheek), 2 * len(lips))
    fixed = fixed_stones(job, course, stability, falls)
    lip_order, cheek_order = lips_order(job, lips), cheeks_order(job, cheek_mass, cheeks)
    total = added([edge.order, *(bed.order for bed in beds), lip_order, cheek_order, *(each.order for each in fixed)])
    largest, count = largest_edge(job, edge.order.likely)
    return Stonework(
        edge=edge,
        beds=beds,
        lips=lips,
        lip_order=lip_order,
        cheek=cheek,
        cheek_mass=cheek_mass,
        cheeks=cheeks,
        cheek_order=cheek_order,
        fixed=fixed,
        total=total,
        lifts=lifts(job, course, lips, cheek_mass, (largest, count), fixed),
        bases=bases(job, lips, cheek_mass, cheeks, fixed),
        joints=joints(job, course, lips),
        delivery=delivery(job, added([bed.order for bed in beds]), total),
        rules=rules_seen(course.length),
        by_hand=teams(),
    )
