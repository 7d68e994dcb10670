"""The films of the set and what they show: seconds of work, taken where nobody waits for it."""

from beckwright.base.findings import Finding
from beckwright.compose import Design
from beckwright.film import Film, film_findings, film_set

Filmed = tuple[tuple[Film, ...], tuple[Finding, ...]]
"""The films, and what they show."""


def filmed(design: Design) -> Filmed:
    """Take the films."""
    films = film_set(design)
    return films, film_findings(design, films)
