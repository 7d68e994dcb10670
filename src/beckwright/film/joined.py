"""The findings of the steady design and of its films, as one list that says nothing twice."""

from beckwright.base.findings import Finding
from beckwright.compose import Design, Works
from beckwright.film.findings import film_findings
from beckwright.film.stories import film_set

TOLD_BETTER = frozenset({"runs-dry-at-start", "first-fill", "float-level"})
"""What the steady design judges from volumes alone and the film from the second it happens."""


def findings_of_films(design: Design) -> tuple[Finding, ...]:
    """Take all films of a design and say what is found on them."""
    return film_findings(design, film_set(design))


def all_findings(design: Design, told: tuple[Finding, ...], works: Works) -> tuple[Finding, ...]:
    """Findings of the design, its films and its works, the heaviest first.

    The films' stand in for the steady ones they better.

    told  as ``film_findings`` gives them
    """
    steady = [finding for finding in design.findings if finding.code not in TOLD_BETTER]
    return tuple(sorted([*told, *steady, *works.findings], key=lambda finding: -finding.severity))
