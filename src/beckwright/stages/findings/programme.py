"""What the programme has to say for itself: crews in two places at once, and an end nobody can be sure of."""

from collections.abc import Iterator

from beckwright.base.findings import Finding, Severity
from beckwright.base.words import opening
from beckwright.stages.programme import Clash, Programme
from beckwright.tables.practice import WIDE_END


def programme_findings(programme: Programme | None) -> Iterator[Finding]:
    """Findings on the programme; none where there is none."""
    if programme is None:
        return
    for clash in programme.clashes:
        yield _clash(clash)
    days = (programme.p90 - programme.p50).days
    if days >= WIDE_END.amount:
        moves = max(programme.tasks, key=lambda dated: dated.criticality * (dated.task.longest - dated.task.shortest))
        yield Finding(
            severity=Severity.NOTE,
            code="end-unsure",
            place="Last day of the programme",
            says=f"Half of the tries end by {programme.p50:%d %b}, nine in ten by {programme.p90:%d %b}: "
            f"{days} days between.",
            cure=f"Promise the later date, or look closer at {moves.task.name}: it moves the end most.",
            source="tries with the guessed durations",
        )


def _clash(clash: Clash) -> Finding:
    return Finding(
        severity=Severity.CAUTION,
        code="crew-in-two-places",
        place=opening(clash.crew),
        says=f"{opening(clash.one)} and {clash.other} both want it, {clash.starts:%d %b} to {clash.ends:%d %b}.",
        cure=f'Write "{clash.one}" under after of "{clash.other}" in tasks.csv, or bring a second crew.',
        source="dates of the programme",
    )
