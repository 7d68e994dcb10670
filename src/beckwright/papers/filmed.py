"""The films of the set and what they show: seconds of work, taken where nobody waits for it."""

from typing import NamedTuple

from beckwright.base.findings import Finding
from beckwright.compose import Design
from beckwright.film import Film, Sizes, Works, film_findings, film_set


class Filmed(NamedTuple):
    """Films, and what comes of them.

    findings  what they show
    works     the reservoirs that just work, each with the story it is for in words
    """

    films: tuple[Film, ...]
    findings: tuple[Finding, ...]
    works: tuple[tuple[str, Works], ...]


def filmed(design: Design, flow: str | None = None) -> Filmed:
    """Take the films of a flow, the largest where none is named."""
    return made_of(design, film_set(design, flow))


def made_of(design: Design, films: tuple[Film, ...]) -> Filmed:
    """What comes of films that have been taken, all of one flow."""
    sizes, flow = Sizes(design), films[0].flow
    return Filmed(
        films=films,
        findings=film_findings(design, films, sizes),
        works=(
            ("first fill", sizes.of("first fill", flow)),
            ("morning restart", sizes.of("restart", flow)),
            ("first fill, pools filled from a hose first", sizes.of("first fill", flow, pools_filled=True)),
        ),
    )
