"""Stone that is guessed, stone that nothing told can lift, and foam that is taken for a seal."""

from collections.abc import Iterator

from beckwright.base.figures import dotted
from beckwright.base.findings import Finding, Severity
from beckwright.base.quantities import Length, Mass
from beckwright.base.words import METRIC, metres, millimetres, opening, reads, share, tonnes, with_unit
from beckwright.job.model import Job
from beckwright.stages.stonework.values import Stonework, ToLift
from beckwright.tables.lining import CARRIED
from beckwright.tables.stonework import JOINT_FILLS, MORE_THAN_GUESSED

SLINGS = (
    "Lift with rated slings from the machine's lifting point, never from the bucket's teeth, with check valves on its "
    "boom, nobody under or beside the load, and somebody competent in charge"
)
FILTER = f"HSE L23 filter, {CARRIED.amount:.0f} kg for men and {CARRIED.low:.0f} for women: a filter, not a limit"


def stonework_findings(job: Job, stonework: Stonework) -> tuple[Finding, ...]:
    """Findings on the stone, each kind once, with the worst of them."""
    return (
        *_guessed(stonework),
        *_too_heavy(stonework),
        *_untold(stonework),
        *_by_machine(stonework),
        *_out_of_reach(job, stonework),
        *_pools(job, stonework),
        *_foam(stonework),
    )


def _guessed(stonework: Stonework) -> Iterator[Finding]:
    edge = stonework.edge
    if edge.told is None or edge.worked is None:
        return
    apart = abs(edge.told - edge.worked) / edge.worked
    if apart <= MORE_THAN_GUESSED.amount:
        return
    yield Finding(
        severity=Severity.CAUTION,
        code="edge-stone-guessed",
        place=f"Edge stone, {metres(edge.bank)} of bank",
        says=f"{tonnes(edge.told)} at the mass told, {tonnes(edge.worked)} from the courses: {share(apart)} apart.",
        cure=(
            f"Set {'two metres' if reads() is METRIC else 'two yards'} of bank from one weighed bag; or "
            f"write edge_stone_kg_m = {edge.worked / edge.bank:.0f}."
        ),
        source=f"assumed: {MORE_THAN_GUESSED.place}",
        figure="stonework.edge.worked",
    )


def _heavy(stonework: Stonework, by: str) -> list[ToLift]:
    return [lift for lift in stonework.lifts if lift.by == by]


def _wanted(lift: ToLift) -> str:
    return f"{_kilograms(lift.mass)}{'' if lift.reach is None else f' at {metres(_up(lift.reach), up=True)}'}"


def _too_heavy(stonework: Stonework) -> Iterator[Finding]:
    heavy = _heavy(stonework, "nothing told")
    if not heavy:
        return
    worst = max(heavy, key=lambda lift: lift.mass - (lift.machine or 0.0))
    lifted = f"lifts {_kilograms(worst.machine or 0.0)} there" if worst.machine else "does not reach there"
    yield Finding(
        severity=Severity.FAIL,
        code="stone-too-heavy",
        place=opening(worst.what),
        says=f"{worst.count} of {_kilograms(worst.mass)} each; the machine told {lifted}, and no team does."
        f"{_also(heavy)}",
        cure=f"Hire one whose chart gives {_wanted(worst)}, bring it nearer, or choose smaller stones. {SLINGS}.",
        source=f"lift chart of the job, ISO 10567 shares; {FILTER}",
        figure=_figure(worst),
    )


def _untold(stonework: Stonework) -> Iterator[Finding]:
    heavy = _heavy(stonework, "nobody can tell")
    if not heavy:
        return
    worst = heavy[0]
    people, _, most = stonework.by_hand[-1]
    far = max(heavy, key=lambda lift: lift.reach or 0.0)
    also = "" if far.reach is None or far is worst else f", and {_wanted(far)}"
    yield Finding(
        severity=Severity.CAUTION,
        code="stone-lift-untold",
        place=opening(worst.what),
        says=f"{_kilograms(worst.mass)} each, and no lift chart is told. A team of {people} lifts {_kilograms(most)} "
        f"at the most by the filter.{_also(heavy)}",
        cure=f"Ask the hire desk for the chart: it must give {_wanted(worst)}{also}. {SLINGS}.",
        source=FILTER,
        figure=_figure(worst),
    )


def _by_machine(stonework: Stonework) -> Iterator[Finding]:
    lifted = _heavy(stonework, "the machine")
    if not lifted or _heavy(stonework, "nothing told"):
        return
    tightest = max(lifted, key=lambda lift: lift.mass / (lift.machine or lift.mass))
    yield Finding(
        severity=Severity.NOTE,
        code="stone-by-machine",
        place=opening(tightest.what),
        says=f"{_kilograms(tightest.mass)} each against {_kilograms(tightest.machine or 0.0)} that the machine lifts "
        f"there: the tightest of {sum(lift.count for lift in lifted)} stones that go on it.",
        cure=f"Weigh the first one. {SLINGS}.",
        source="lift chart of the job, ISO 10567 shares",
        figure=_figure(tightest),
    )


def _out_of_reach(job: Job, stonework: Stonework) -> Iterator[Finding]:
    bucket = job.earthworks.digger_reach
    if bucket is None:
        return
    far = [lift for lift in stonework.lifts if lift.people is None and lift.reach is not None and lift.reach > bucket]
    if far:
        worst = max(far, key=lambda lift: lift.reach or 0.0)
        yield Finding(
            severity=Severity.CAUTION,
            code="stone-out-of-reach",
            place=opening(worst.what),
            says=f"It is set {metres(worst.reach or 0.0)} from the machine's middle, "
            f"which reaches {metres(bucket)}.{_also(far)}",
            cure="Set those stones before the bank is made, or stand the machine in the channel on boards and fleece.",
            source="widths on plan, tracks back from the top of the bank",
            figure=_figure(worst),
        )


def _pools(job: Job, stonework: Stonework) -> Iterator[Finding]:
    covered = [bed for bed in stonework.beds if bed.pools > 0]
    for bed in covered:
        yield Finding(
            severity=Severity.NOTE,
            code="pool-floors-covered",
            place="Floors of the pools",
            says=f"{opening(bed.name)} takes {millimetres(bed.depth)} of their depth; the levels count bare floors.",
            cure=f"Dig the pools {millimetres(bed.depth)} deeper than drawn, or tell depth_mm over the stones.",
            source=f"job: stonework.pools_bed = {job.stonework.pools_bed}",
            figure=dotted("stonework", "bed", bed.name, "drawn"),
        )


def _foam(stonework: Stonework) -> Iterator[Finding]:
    joints = stonework.joints
    if joints.kind == "foam" and joints.length > 0:
        yield Finding(
            severity=Severity.NOTE,
            code="foam-steers",
            place=f"Joints at lips and sills, {metres(joints.length)}",
            says=f"Foam steers, the lining seals: {joints.containers[0]} to {joints.containers[2]} cans steer water "
            "over the lips and stop no leak.",
            cure="Bring the lining up behind every stone first; foam hidden joints, damp, away from the sun.",
            source=f"common practice: {JOINT_FILLS['foam'].place}; foam in the sun lets go in 8 to 10 years",
            figure="stonework.joints.containers",
        )


def _also(lifts: list[ToLift]) -> str:
    others = len(lifts) - 1
    return f" {others} more kind{'s' if others > 1 else ''} of stone likewise." if others else ""


def _figure(lift: ToLift) -> str:
    return dotted("stonework", "lift", lift.what, "mass")


def _kilograms(mass: Mass) -> str:
    return f"{with_unit(mass, 'kg'):.0f}"


def _up(length: Length) -> Length:
    """To the next 10 mm up: what is asked of a machine is never rounded down."""
    return -(-length * 100 // 1) / 100
