"""What the works come close to: roots, services, boundaries, seen water, and the way in."""

from collections.abc import Iterator

from beckwright.base.findings import Finding, Severity
from beckwright.base.words import metres, millimetres, opening, retold, with_unit
from beckwright.job.model import Job
from beckwright.stages.course import SetOutCourse
from beckwright.stages.findings.neighbours import boundary_findings, notice_findings, service_findings
from beckwright.stages.findings.roots import root_findings
from beckwright.stages.surroundings import Access, Reach, Seen, Surroundings
from beckwright.stages.water import Water
from beckwright.tables.site import DIGGER_STANDOFF, WAY_CLEARANCE


def site_findings(job: Job, course: SetOutCourse, water: Water, around: Surroundings) -> Iterator[Finding]:
    """Findings on what the works come close to."""
    for circle in around.circles:
        yield from root_findings(circle)
    for near in around.services:
        yield from service_findings(near)
    for near in around.boundaries:
        yield from boundary_findings(near, course, water)
    yield from notice_findings(around.boundaries)
    for seen in around.seen:
        yield from seen_findings(seen)
    yield from _way_in(around.access)
    yield from _reach(around.access)
    if job.site.groundwater_winter is None:
        yield Finding(
            severity=Severity.CAUTION,
            code="groundwater-unknown",
            place="Reservoir pit",
            says="Nobody has measured how high the ground water stands in winter.",
            cure=retold("Dig a trial hole to [0.3 m] below the pit floor and watch it for a day in winter."),
            source="common practice",
        )


def seen_findings(seen: Seen) -> Iterator[Finding]:
    """Water seen to run in rain that meets the stream or the pit."""
    if seen.pit:
        yield Finding(
            severity=Severity.CAUTION,
            code="runoff-into-pit",
            place=opening(seen.runoff.name),
            says="It runs to the reservoir's pit.",
            cure="Lead it round the pit in a cut-off swale before the pit is dug.",
            source="common practice",
        )
    if seen.chainage is None:
        return
    at = f"{with_unit(seen.chainage, 'm'):.1f}"
    drawn = f" As drawn it stops {metres(seen.short)} short." if seen.short > 0 else ""
    yield Finding(
        severity=Severity.CAUTION,
        code="runoff-across",
        place=f"{opening(seen.runoff.name)}, from the {seen.side} at {at}",
        says=f"{bank_meets(seen.dams)}{drawn}",
        cure=f"Lead it past the {seen.side} bank in a cut-off swale from above {at} down to where it may run.",
        source="common practice",
        chainage=(seen.chainage, seen.chainage),
    )


def bank_meets(dams: float) -> str:
    """What a bank does to water that comes to it."""
    if dams > 0:
        return f"The bank stands {millimetres(dams)} over the ground there: water dams up behind it."
    return f"The edge lies {millimetres(-dams)} below the ground there: water runs in, and its soil with it."


def _way_in(access: Access) -> Iterator[Finding]:
    if access.machine is None or access.needed is None or access.needed <= access.width:
        return
    stuck = access.machine > access.width
    each = f"{millimetres((access.width - access.machine) / 2)} each side"
    room = f"{metres(access.machine - access.width)} too wide" if stuck else each
    yield Finding(
        severity=Severity.FAIL if stuck else Severity.CAUTION,
        code="way-in",
        place="Way in for the digger",
        says=f"{metres(access.machine)} wide through {metres(access.width)} clear: {room}; "
        f"{millimetres(WAY_CLEARANCE.amount)} each side wanted. Turns, steps and slopes are not checked.",
        cure=f"Hire one no wider than {metres(access.width - 2 * WAY_CLEARANCE.amount)}, or open the way to "
        f"{metres(access.needed)}; walk it with a stick cut to that.",
        source=f"common practice: {WAY_CLEARANCE.place}",
        figure="access.needed",
    )


def _reach(access: Access) -> Iterator[Finding]:
    for part in access.reaches:
        if access.reach is not None and part.one_side > access.reach:
            yield _short_reach(part, access.reach)


def _short_reach(part: Reach, reach: float) -> Finding:
    both = part.both <= reach
    return Finding(
        severity=Severity.NOTE if both else Severity.CAUTION,
        code="reach-short",
        place=f"Digger's reach, {part.part}",
        says=f"It reaches {metres(reach)} from its middle; {metres(part.one_side)} takes it across "
        f"{metres(part.across)} with its tracks {metres(DIGGER_STANDOFF.amount)} back.",
        cure="Keep the ground open on both sides and dig from both."
        if both
        else f"Hire one that reaches {metres(part.both)} and dig from both sides.",
        source=f"common practice: {DIGGER_STANDOFF.place}",
    )
