"""Proposals for findings: cures tried on the bench, and only those told that cure."""

from collections import Counter
from collections.abc import Iterator

from beckwright.base.findings import Finding, Severity
from beckwright.cures.bench import Bench, clearly
from beckwright.cures.look import Look
from beckwright.cures.rules import RULES, Rule
from beckwright.cures.values import Order, Proposal
from beckwright.film.joined import TOLD_BETTER

MOST_FOR_ONE = 3
"""Cures offered for one finding: more would be a list, not an answer."""


def findings_of(look: Look) -> tuple[Finding, ...]:
    """All findings of a design, the films' in place of the steady ones they better, the heaviest first."""
    steady = {id(finding) for finding in look.findings("levels") if finding.code in TOLD_BETTER}
    return tuple(finding for finding in look.every() if id(finding) not in steady)


def proposals(bench: Bench, findings: tuple[Finding, ...]) -> Iterator[Proposal]:
    """Cures for findings of the bench's own design, in their order; each is worked when it is asked for.

    A finding of no rule, or whose rule finds nothing that cures, has none.
    """
    for finding in findings:
        rule = RULES.get(finding.code)
        if rule is not None:
            yield from _cures(bench, rule, finding)


def _cures(bench: Bench, rule: Rule, finding: Finding) -> Iterator[Proposal]:
    told, before = 0, _weight(bench.base, bench.base, rule, finding)
    for order in rule.orders(bench, finding):
        if told == MOST_FOR_ONE:
            return
        tried = bench.tried(order.edits) if order.edits else None
        if tried is None or tried is bench.base or _fails(tried) - _fails(bench.base):
            continue
        after = _weight(bench.base, tried, rule, finding)
        if _lighter(rule, before, after):
            told += 1
            yield _proposal(bench, tried, rule, finding, order)


def _proposal(bench: Bench, tried: Look, rule: Rule, finding: Finding, order: Order) -> Proposal:
    left = _told(bench.base, tried, rule, finding)
    gone = all((other.code, other.place) != (finding.code, finding.place) for other in left)
    fewer = sum(other.code == finding.code for other in left) < sum(
        other.code == finding.code for other in _told(bench.base, bench.base, rule, finding)
    )
    return Proposal(finding=finding, words=order.words, edits=order.edits, gone=gone and fewer)


def _lighter(rule: Rule, before: float, after: float) -> bool:
    return after < before if rule.weight is None else clearly(before, after)


def _weight(base: Look, look: Look, rule: Rule, finding: Finding) -> float:
    if rule.weight is not None:
        return rule.weight(look, finding)
    return float(sum(other.severity for other in _told(base, look, rule, finding) if other.code == finding.code))


def _told(base: Look, look: Look, rule: Rule, finding: Finding) -> tuple[Finding, ...]:
    """The findings among which it is looked for: of its part, or of films of the same story."""
    if rule.part != "film":
        return look.findings(rule.part)
    try:
        return look.filmed(base.band_of(finding))
    except ArithmeticError:
        return (finding,)


def _fails(look: Look) -> Counter[str]:
    """Kinds of findings of the levels that must be cured before digging, but for those that films tell better."""
    return Counter(
        finding.code
        for finding in look.findings("levels")
        if finding.severity is Severity.FAIL and finding.code not in TOLD_BETTER
    )
