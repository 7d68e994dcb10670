"""Every volume of the ground work, each piece of ground counted once."""

from beckwright.base.quantities import Area, Volume
from beckwright.base.values import value
from beckwright.job.model import Job, Pool
from beckwright.stages.course import SetOutCourse
from beckwright.stages.earthworks.net import BANKS, CHANNEL, FIRST_POOL, SOURCE, Net, join, plan_of
from beckwright.stages.earthworks.overlay import Amounts, amounts, lay_over
from beckwright.stages.earthworks.pit import Dug, Shape, dig_down, pit_pieces
from beckwright.stages.earthworks.sections import Sections, lay_sections
from beckwright.stages.earthworks.shared import share
from beckwright.stages.earthworks.values import Kind, Part
from beckwright.stages.ground import Ground

ALWAYS = ("strip", "channel", "pit")
"""Parts that are told even where they come to nothing."""


@value
class Worked:
    """Course and pit against the ground.

    course     what each of the net's triangles comes to, the pit's share taken out
    backfill, topsoil  round the reservoir's fill
    off_survey plan of the course and its banks where nobody surveyed: not counted
    """

    sections: Sections
    net: Net
    course: Amounts
    dug: Dug
    backfill: Volume
    topsoil: Volume
    off_survey: Area


def work_out(job: Job, course: SetOutCourse, ground: Ground, shape: Shape) -> Worked:
    """Lay course and pit over the ground and part them where they meet."""
    strip, origin = job.site.topsoil, course.stations.points.mean(axis=0)
    sections = lay_sections(job, course, ground)
    net = join(course, sections)
    pieces = lay_over(ground, net.corners, net.levels, origin)
    own = amounts(pieces, strip, net.lined[pieces.owner]).by_owner(pieces.owner, len(net.lined))
    dug = dig_down(pit_pieces(ground, shape, origin), shape, origin, strip)
    shared = share(pieces, shape, origin, strip, net.lined)
    left = own.less(shared.inside)
    return Worked(
        sections=sections,
        net=net,
        course=Amounts(plan=left.plan, cut=left.cut + shared.deeper, fill=left.fill, topsoil=left.topsoil),
        dug=dug,
        backfill=dug.backfill + shared.backfill,
        topsoil=strip * (dug.plan - dug.over_fill) + shared.topsoil,
        off_survey=max(float(plan_of(net.corners).sum() - own.plan.sum()), 0.0),
    )


def parts_of(job: Job, course: SetOutCourse, worked: Worked, trench: Area) -> tuple[Part, ...]:
    """The parts of the work. ``trench`` is the plan of the hose's trench."""
    strip, depth, dug = job.site.topsoil, job.earthworks.trench_depth, worked.dug
    pools = [stretch.reach.name for stretch in course.of_kind(Pool)]
    sums = worked.course.by_owner(worked.net.part, FIRST_POOL + len(pools))
    footprint, of_trench = float(sums.plan.sum()) + dug.plan, min(strip, depth) * trench
    stripped = Part(
        name="topsoil",
        kind="strip",
        plan=footprint + trench,
        cut=strip * footprint + of_trench,
        fill=float(sums.topsoil.sum()) + worked.topsoil + of_trench,
    )
    named: list[tuple[Kind, str, int]] = [("channel", "channel", CHANNEL)]
    named += [("pool", name, FIRST_POOL + number) for number, name in enumerate(pools)]
    named += [("source", "outlet box", SOURCE), ("bank", "banks", BANKS)]
    lower = trench * max(depth - strip, 0.0)
    parts = [
        stripped,
        *(_part(sums, kind, name, number) for kind, name, number in named),
        Part(name="pit", kind="pit", plan=dug.plan, cut=dug.cut, fill=worked.backfill),
        Part(name="sump", kind="pit", plan=dug.sump_plan, cut=dug.sump, fill=0.0),
        Part(name="hose trench", kind="trench", plan=trench, cut=lower, fill=lower),
    ]
    return tuple(part for part in parts if part.kind in ALWAYS or part.plan > 0)


def _part(sums: Amounts, kind: Kind, name: str, number: int) -> Part:
    plan, cut, fill = (float(values[number]) for values in (sums.plan, sums.cut, sums.fill))
    return Part(name=name, kind=kind, plan=plan, cut=cut, fill=fill)
