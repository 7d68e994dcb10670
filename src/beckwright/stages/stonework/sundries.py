"""What goes with the stone: bases, joints, loads, and the rules of thumb beside it."""

import math

from beckwright.base.quantities import Length, Mass
from beckwright.equations.stonework import containers
from beckwright.job.model import Job, Run, Step
from beckwright.stages.course import SetOutCourse
from beckwright.stages.stonework.values import (
    Bases,
    Delivery,
    FixedStones,
    JointAt,
    Joints,
    LipStone,
    RuleSeen,
    Tonnage,
)
from beckwright.tables.stonework import BASE_DEPTH, BASE_OVER, JOINT_FILLS, RULES

_CLOSE = 1e-9


def bases(job: Job, lips: tuple[LipStone, ...], cheek: Mass, cheeks: int, fixed: tuple[FixedStones, ...]) -> Bases:
    """A base for each lip, cheek and fixed stone over 50 kg. Edge stones sit in their bank."""
    long, wide, _ = job.stonework.cheek or (0.0, 0.0, 0.0)
    plans = [lip.size[0] * lip.size[1] for lip in lips if lip.mass > BASE_OVER.amount]
    plans += [long * wide] * (cheeks if cheek > BASE_OVER.amount else 0)
    for each in fixed:
        plans += [each.size[1] ** 2] * (each.count if each.each[1] > BASE_OVER.amount else 0)
    return Bases(count=len(plans), volume=sum(plans) * BASE_DEPTH.amount)


def joints(job: Job, course: SetOutCourse, lips: tuple[LipStone, ...]) -> Joints:
    """Behind each lip stone and down both its cheeks; across each sill."""
    steps = {s.reach.name: (s.start, s.reach.drop) for s in course.of_kind(Step) if isinstance(s.reach, Step)}
    at_lips = tuple(
        JointAt(name=lip.name, at=(steps[lip.name][0],), length=lip.size[0] + 2 * (lip.size[2] + steps[lip.name][1]))
        for lip in lips
    )
    at_sills = tuple(
        JointAt(
            name=s.reach.name,
            at=tuple(s.start + sill for sill in s.reach.sills),
            length=len(s.reach.sills) * s.reach.width,
        )
        for s in course.of_kind(Run)
        if isinstance(s.reach, Run) and s.reach.sills
    )
    length = sum(each.length for each in (*at_lips, *at_sills))
    kind, fills = job.stonework.joint, job.stonework.joint_fills
    row = JOINT_FILLS[kind]
    yields = (fills * row.high / row.amount, fills, fills * row.low / row.amount)
    low, likely, high = (math.ceil(containers(length, each) - _CLOSE) for each in yields)
    return Joints(kind=kind, at_lips=at_lips, at_sills=at_sills, fills=fills, containers=(low, likely, high))


def delivery(job: Job, bagged: Tonnage, total: Tonnage) -> Delivery:
    """Loads of everything, and bags if the bed stone comes in bags."""
    lorry, bag = job.stonework.lorry, job.stonework.bag
    return Delivery(
        lorry=lorry,
        loads=None if lorry is None else _loads(total, lorry),
        bag=bag,
        bags=_loads(bagged, bag),
    )


def _loads(order: Tonnage, holds: Mass) -> tuple[int, int, int]:
    low, likely, high = (math.ceil(mass / holds - _CLOSE) for mass in (order.low, order.likely, order.high))
    return (low, likely, high)


def rules_seen(length: Length) -> tuple[RuleSeen, ...]:
    """The rules of thumb on this length."""
    return tuple(
        RuleSeen(name=name, per_metre=(row.low, row.high), mass=(row.low * length, row.high * length))
        for name, row in RULES.items()
    )
