"""Findings in words, the gravest first."""

from collections.abc import Iterator

import typer

from beckwright.base.findings import Finding, Severity
from beckwright.cli.tell import wrapped

_HEADS = {
    Severity.FAIL: "To be cured before digging",
    Severity.CAUTION: "Wants a decision",
    Severity.NOTE: "Good to know",
}
_ONE_AND_MANY = {
    Severity.FAIL: ("fail", "fails"),
    Severity.CAUTION: ("caution", "cautions"),
    Severity.NOTE: ("note", "notes"),
}


def findings_in_words(findings: tuple[Finding, ...]) -> str:
    """All findings grouped by severity, each with its code and where its limit comes from; then how many."""
    return "\n".join([*_groups(findings), _count(findings)])


def worst_is_fail(findings: tuple[Finding, ...]) -> bool:
    """Whether anything must be cured before digging."""
    return any(finding.severity is Severity.FAIL for finding in findings)


def _groups(findings: tuple[Finding, ...]) -> Iterator[str]:
    for severity, head in _HEADS.items():
        group = [finding for finding in findings if finding.severity is severity]
        if group:
            yield typer.style(f"{severity.name} · {head}", bold=True)
            for finding in group:
                yield wrapped(str(finding), first="  - ", rest="    ")
                yield wrapped(f"({finding.code}; {finding.source})", first="    ")
            yield ""


def _count(findings: tuple[Finding, ...]) -> str:
    counts = {severity: sum(finding.severity is severity for finding in findings) for severity in _HEADS}
    told = [f"{count} {_ONE_AND_MANY[severity][count != 1]}" for severity, count in counts.items() if count]
    return f"{', '.join(told)}." if told else "Nothing found."
