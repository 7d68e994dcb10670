"""Figures of the stone: by class with its band, what lifts it, loads, joints, and the rules of thumb beside it."""

from collections.abc import Iterator

from beckwright.base.figures import Figure, dotted
from beckwright.base.published import Grade
from beckwright.base.words import opening
from beckwright.equations.lining import team_carries
from beckwright.equations.site import reach_needed
from beckwright.equations.stone import stone_mass
from beckwright.equations.stonework import ball_size, block_mass, containers, courses_mass, filter_left
from beckwright.figures.make import by, told, worked
from beckwright.job.model import Job, Run
from beckwright.stages.stonework.values import BedStone, LipStone, Stonework, ToLift, Tonnage
from beckwright.tables.lifting import LIFT_CUTS
from beckwright.tables.lining import CARRIED, TEAM_SHARE
from beckwright.tables.site import DIGGER_STANDOFF
from beckwright.tables.stonework import JOINT_FILLS, RULES, SAWN

STEM = "stonework"
DENSITY = "job: materials.stone_kg_m3"
PRACTICE, ASSUMED = Grade.PRACTICE, Grade.ASSUMED


def stonework_figures(job: Job, stonework: Stonework) -> Iterator[Figure]:
    """Every figure of the stone."""
    yield from _edge(job, stonework)
    for bed in stonework.beds:
        yield from _bed(job, bed)
    for lip in stonework.lips:
        yield _lip(job, lip)
    yield from _cheeks(job, stonework)
    for each in stonework.fixed:
        yield _order(dotted(STEM, "fixed", each.place), f"Larger stones, {each.place}", each.order, ASSUMED)
    yield _order(f"{STEM}.total", "Stone in all", stonework.total, ASSUMED)
    for lift in stonework.lifts:
        yield from _lift(job, lift)
    yield from _by_hand(job, stonework)
    yield from _sundries(job, stonework)
    yield from _rules(stonework)


def _order(name: str, label: str, order: Tonnage, grade: Grade) -> Figure:
    return told(
        name,
        label,
        order.likely,
        "kg",
        ends=(order.low, order.high),
        source="levels and sizes of this design",
        note="; ".join(order.reasons),
        grade=grade,
    )


def _edge(job: Job, stonework: Stonework) -> Iterator[Figure]:
    edge, work = stonework.edge, job.stonework
    if edge.told is not None:
        yield told(
            f"{STEM}.edge.told",
            "Edge stone at the mass told",
            edge.told,
            "kg",
            source="both banks times job: materials.edge_stone_kg_m",
        )
    if edge.worked is not None:
        yield worked(
            job,
            f"{STEM}.edge.worked",
            "Edge stone from its courses",
            edge.worked,
            by(
                courses_mass,
                courses=(work.courses, "job: stonework.courses"),
                height=(work.height, "job: stonework.course_height_mm, else the smallest edge stone"),
                depth=(work.depth, "job: stonework.course_depth_mm, else the middle of the edge stones"),
                voids=(work.voids, "job: stonework.edge_voids"),
                density=(job.materials.stone, DENSITY),
                bank=(edge.bank, "both banks"),
            ),
            ends=edge.ends,
            grade=PRACTICE,
        )
    if edge.order.high > 0:
        yield _order(f"{STEM}.edge", "Edge stone to order", edge.order, PRACTICE)


def _bed(job: Job, bed: BedStone) -> Iterator[Figure]:
    name, label = dotted(STEM, "bed", bed.name), opening(bed.name)
    given = {reach.bed.name: reach.bed for reach in job.course.reaches if isinstance(reach, Run)}[bed.name]
    yield told(
        f"{name}.volume",
        f"{label}, as laid",
        bed.volume,
        "m3",
        source="area along the slope times depth",
        note=f"{bed.runs:.2f} m2 in runs, {bed.pools:.2f} m2 on pools' floors",
    )
    yield worked(
        job,
        f"{name}.drawn",
        f"{label}, mass as laid",
        bed.drawn,
        by(
            stone_mass,
            density=(job.materials.stone, DENSITY),
            volume=(bed.volume, f"{name}.volume"),
            voids=(given.voids, f"job: beds.{bed.name}.voids"),
        ),
    )
    yield _order(f"{name}.order", f"{label} to order", bed.order, PRACTICE)


def _lip(job: Job, lip: LipStone) -> Figure:
    boulders = lip.kind == "boulders"
    shape = (
        (job.stonework.shape, "job: stonework.shape") if boulders else (SAWN.amount, f"table: stonework, {SAWN.place}")
    )
    long, deep, thick = lip.size
    return worked(
        job,
        dotted(STEM, "lip", lip.name, "mass"),
        f"Stone of {lip.name}",
        lip.mass,
        by(
            block_mass,
            shape=shape,
            length=(long, "width of the lip and its bearing on both sides"),
            width=(deep, "job: stonework.lip_depth_mm"),
            height=(thick, "job: stonework.lip_thickness_mm"),
            density=(job.materials.stone, DENSITY),
        ),
        grade=ASSUMED,
    )


def _cheeks(job: Job, stonework: Stonework) -> Iterator[Figure]:
    if stonework.lips:
        yield _order(f"{STEM}.lips", "Lip stones", stonework.lip_order, ASSUMED)
    if stonework.cheek is None or not stonework.cheeks:
        return
    long, wide, high = stonework.cheek
    comes = "job: stonework.cheek_mm, else the largest edge stone"
    yield worked(
        job,
        f"{STEM}.cheek.mass",
        "One cheek stone",
        stonework.cheek_mass,
        by(
            block_mass,
            shape=(job.stonework.shape, "job: stonework.shape"),
            length=(long, comes),
            width=(wide, comes),
            height=(high, comes),
            density=(job.materials.stone, DENSITY),
        ),
        grade=ASSUMED,
    )
    yield _order(f"{STEM}.cheeks", f"Cheek stones, {stonework.cheeks}", stonework.cheek_order, ASSUMED)


def _lift(job: Job, lift: ToLift) -> Iterator[Figure]:
    name = dotted(STEM, "lift", lift.what)
    yield told(
        f"{name}.mass",
        f"Heaviest of {lift.what}, {lift.count} to set",
        lift.mass,
        "kg",
        source="its sizes, shape and density",
        note=f"by: {lift.by}",
        grade=ASSUMED,
    )
    machine = job.earthworks.digger_width
    if lift.reach is not None and machine is not None:
        yield worked(
            job,
            f"{name}.reach",
            f"Reach to {lift.what}",
            lift.reach,
            by(
                reach_needed,
                machine=(machine, "job: earthworks.digger_width_mm"),
                standoff=(DIGGER_STANDOFF.amount, f"table: site, {DIGGER_STANDOFF.place}"),
                across=(lift.reach - machine / 2 - DIGGER_STANDOFF.amount, "top of the bank to where it is set"),
            ),
            grade=PRACTICE,
        )
    if lift.machine is not None:
        yield told(
            f"{name}.machine",
            f"What the machine lifts out to {lift.what}",
            lift.machine,
            "kg",
            source="job: stonework.lift_chart, straight between its rows",
            note="rated share taken, gear taken off; 0 out of its reach",
        )


def _by_hand(job: Job, stonework: Stonework) -> Iterator[Figure]:
    for people, women, men in stonework.by_hand:
        row = TEAM_SHARE[min(people, max(TEAM_SHARE))]
        yield worked(
            job,
            f"{STEM}.by_hand.{people}",
            f"{people} lift by the filter",
            men,
            by(
                team_carries,
                people=(people, "a team of this many"),
                each=(CARRIED.amount, f"table: lining, {CARRIED.place}"),
                share=(row.amount, f"table: lining, {row.place}"),
            ),
            ends=(women, men),
            note="women to men; a filter, not a limit; less from the ground, with arms out, or turning",
        )
    for words, row in LIFT_CUTS.items():
        yield worked(
            job,
            dotted(STEM, "filter", words),
            f"Filter for one, {words}",
            filter_left(CARRIED.amount, row.amount),
            by(
                filter_left,
                single=(CARRIED.amount, f"table: lining, {CARRIED.place}"),
                cut=(row.amount, f"table: lifting, {row.place}"),
            ),
        )
    yield worked(
        job,
        f"{STEM}.by_hand.size",
        "Size of a round stone that one person lifts by the filter",
        ball_size(CARRIED.amount, job.materials.stone),
        by(ball_size, mass=(CARRIED.amount, f"table: lining, {CARRIED.place}"), density=(job.materials.stone, DENSITY)),
    )


def _sundries(job: Job, stonework: Stonework) -> Iterator[Figure]:
    joints, bases, delivery = stonework.joints, stonework.bases, stonework.delivery
    yield told(f"{STEM}.joints.length", "Joints that steer water", joints.length, "m", source="lips and sills")
    if joints.length > 0:
        low, _, high = joints.containers
        yield worked(
            job,
            f"{STEM}.joints.containers",
            f"Containers of {joints.kind}",
            containers(joints.length, joints.fills),
            by(
                containers,
                joint=(joints.length, f"{STEM}.joints.length"),
                fills=(joints.fills, "job: stonework.joint_m_per_container"),
            ),
            ends=(min(low, joints.length / joints.fills), high),
            grade=JOINT_FILLS[joints.kind].grade,
            note="whole containers at the ends",
        )
    yield told(f"{STEM}.bases", "Bases under heavy stones", bases.volume, "m3", source="their plans", grade=ASSUMED)
    if delivery.loads is not None:
        low, likely, high = delivery.loads
        yield told(
            f"{STEM}.loads",
            "Loads of stone",
            likely,
            "1",
            ends=(low, high),
            source="all stone over job: stonework.lorry_t",
            grade=ASSUMED,
        )
    low, likely, high = delivery.bags
    yield told(
        f"{STEM}.bags",
        "Bulk bags of bed stone",
        likely,
        "1",
        ends=(low, high),
        source="bed stone over job: stonework.bulk_bag_kg",
        grade=PRACTICE,
    )


def _rules(stonework: Stonework) -> Iterator[Figure]:
    for rule in stonework.rules:
        yield told(
            dotted(STEM, "rule", rule.name),
            f"Rule of thumb: {rule.name}",
            sum(rule.mass) / 2,
            "kg",
            ends=rule.mass,
            source=f"common practice: {RULES[rule.name].place}",
            note="beside the take-off, never in it: such rules differ by a factor of eight",
            grade=PRACTICE,
        )
