"""What only the ground can tell: footings, ways of water, the overflow's way, and a survey too thin."""

from collections.abc import Iterator

from beckwright.base.findings import Finding, Severity
from beckwright.base.words import chainages, metres, number_in, retold, with_unit
from beckwright.job.model import Job
from beckwright.stages.findings.site import bank_meets, seen_findings
from beckwright.stages.surroundings import Across, CloserLook, Footing, OverflowWay, ThinSurvey, Undermined
from beckwright.tables.site import SURVEY_SPACING

_NET = "steepest way down the survey's net"


def closer_findings(job: Job, closer: CloserLook) -> Iterator[Finding]:
    """Findings on footings, water over the ground, and the survey."""
    for footing in closer.footings:
        yield from _footing(footing)
    for across in closer.paths.across:
        yield _across(across)
    for seen in closer.paths.carried:
        yield from seen_findings(seen)
    if closer.paths.overflow is not None:
        yield from _overflow(job, closer.paths.overflow)
    yield from _thin(closer.thin)


def _footing(footing: Footing) -> Iterator[Finding]:
    known, name = footing.foundation.depth, footing.foundation.name
    for part in footing.parts:
        level = "" if footing.on_survey else " Its ground was not surveyed: the nearest point shot stands in."
        yield Finding(
            severity=Severity.CAUTION if known is None else Severity.FAIL,
            code="footing-depth-unknown" if known is None else "undermines-footing",
            place=f"Footing of {name}, {'depth unknown' if known is None else metres(known) + ' down'}: {_part(part)}",
            says=(
                f"If it stood on the ground, the dig would go {metres(part.below)} below its line at 45 degrees."
                if known is None
                else f"The dig goes {metres(part.below)} below its line at 45 degrees, {metres(part.away)} away."
            )
            + level,
            cure=(
                f"Dig a trial hole beside it: founded {metres(part.below)} down or deeper it is clear."
                if known is None
                else f"Move the dig {metres(part.below)} away or dig it as much shallower, and have an engineer look "
                "at it before digging."
            ),
            source="common practice: 45 degrees below the underside",
            chainage=part.spans[0] if part.part == "stream" else (),
        )


def _part(part: Undermined) -> str:
    told = ", ".join(chainages(*span) for span in part.spans)
    return {"stream": f"stream, {told}", "hose trench": f"hose trench, {told} from the pump"}.get(part.part, part.part)


def _across(across: Across) -> Finding:
    start, end = f"{with_unit(across.start, 'm'):.1f}", f"{with_unit(across.end, 'm'):.1f}"
    past = f"from above {start} to below it" if start == end else f"from above {start} to below {end}"
    return Finding(
        severity=Severity.CAUTION,
        code="water-path",
        place=f"Rain off about {with_unit(across.area, 'm²'):,.0f} of ground, from the {across.side}, "
        f"{chainages(across.start, across.end)}",
        says=bank_meets(across.dams),
        cure=f"Lead it past the {across.side} bank in a cut-off swale {past}.",
        source=_NET,
        chainage=(across.start, across.end),
    )


def _overflow(job: Job, way: OverflowWay) -> Iterator[Finding]:
    east, north = (round(float(each), 1) + 0.0 for each in way.line[-1])
    ends = f"ponds up to {metres(way.deep)} deep" if way.ended == "ponds" else "leaves the survey"
    back = way.chainage is not None or way.pit
    into = "the pit" if way.pit else f"the stream at {with_unit(way.chainage or 0.0, 'm'):.1f}"
    trouble = [f"it runs back into {into}"] * back + [f"it crosses {name}" for name in way.crosses]
    depth = (
        f" The ground never falls to the pipe's invert of {metres(job.reservoir.overflow)} on the survey."
        if way.daylight is None
        else f" The pipe comes to daylight {metres(way.daylight)} from the pit."
    )
    yield Finding(
        severity=Severity.CAUTION if trouble or way.ended == "ponds" else Severity.NOTE,
        code="overflow-way",
        place="Overflow",
        says=f"On the ground its water {ends} at ({number_in(east, 'm'):.1f}, {number_in(north, 'm'):.1f})"
        f"{'; ' + ', '.join(trouble) if trouble else ''}.{depth}",
        cure=f"Pipe it to {job.reservoir.overflow_to or 'a place that may take it'}; never let it run to a neighbour.",
        source=_NET,
    )


def _thin(thin: ThinSurvey) -> Iterator[Finding]:
    lines = (("stream", thin.stream), ("left bank", thin.left), ("right bank", thin.right))
    told = [f"{name} {', '.join(chainages(*span) for span in spans)}" for name, spans in lines if spans]
    told += [f"hose {', '.join(chainages(*span) for span in thin.hose)} from the pump"] * bool(thin.hose)
    told += [f"{with_unit(thin.pit, 'm²'):,.1f} of the pit"] * (thin.pit > 0)
    if not told:
        return
    off = "some of it lies off the survey" if thin.widest == float("inf") else f"up to {metres(thin.widest)} apart"
    yield Finding(
        severity=Severity.CAUTION,
        code="survey-thin",
        place=f"Survey under {'; '.join(told)}",
        says=f"Points stand {metres(thin.mean)} apart on the whole, there {off}; {metres(thin.wanted)} is wanted.",
        cure=retold(f"Shoot points there, no more than {metres(thin.wanted)} apart and [1 m] beyond the banks."),
        source=f"common practice: {SURVEY_SPACING.place}",
        chainage=thin.stream[0] if thin.stream else (),
    )
