"""The films of the set and what they show: seconds of work, taken where nobody waits for it."""

from typing import Any, NamedTuple

from beckwright.base.findings import Finding
from beckwright.compose import Design
from beckwright.film import Film, Loop, Sizes, Story, Works, film_findings, filming_band, filming_set, size_for
from beckwright.film.together import Work, do

_WORKS: tuple[tuple[str, Story, bool], ...] = (
    ("first fill", "first fill", False),
    ("morning restart", "restart", False),
    ("first fill, pools filled from a hose first", "first fill", True),
)
"""The reservoirs that just work: in words, for which story, and whether pools are filled beforehand."""


class Filmed(NamedTuple):
    """Films, and what comes of them.

    findings  what they show
    works     the reservoirs that just work, each with the story it is for in words
    care      films the owner's numbers come from, where they were asked for
    """

    films: tuple[Film, ...]
    findings: tuple[Finding, ...]
    works: tuple[tuple[str, Works], ...]
    care: tuple[Film, ...] = ()


def filmed(design: Design, flow: str | None = None, care: str | None = None) -> Filmed:
    """Take the films of a flow, the largest where none is named; those for its owner at the flow named for ``care``."""
    loop = Loop(design)
    sizes = Sizes(loop)
    bands = tuple(_sized(band, sizes) for band in filming_set(loop, flow))
    named = max(design.job.flows, key=lambda each: each.flow).name if flow is None else flow
    works = tuple(sizes.finding(story, named, pools_filled=filled) for _, story, filled in _WORKS)
    stories: tuple[Story, ...] = ("restart", "stop")
    owned = (filming_band(loop, each, care) for each in stories if care is not None)
    taken, _, owners = do(_all(_all(*bands), _all(*works), _all(*owned)))
    made = _made_of(design, tuple(film for band in taken for film in band), sizes)
    return made._replace(care=tuple(film for band in owners for film in band))


def made_of(design: Design, films: tuple[Film, ...]) -> Filmed:
    """What comes of films that have been taken, all of one flow."""
    return _made_of(design, films, Sizes(Loop(design)))


def _made_of(design: Design, films: tuple[Film, ...], sizes: Sizes) -> Filmed:
    flow = films[0].flow
    return Filmed(
        films=films,
        findings=film_findings(design, films, sizes),
        works=tuple((told, sizes.of(story, flow, pools_filled=filled)) for told, story, filled in _WORKS),
    )


def _all(*works: Work[Any]) -> Work[tuple[Any, ...]]:
    """All of these at a time."""
    done: tuple[Any, ...] = yield works
    return done


def _sized(band: Work[tuple[Film, ...]], sizes: Sizes) -> Work[tuple[Film, ...]]:
    """A band, and the reservoir its finding tells of where the pump runs dry: it need not wait for other films."""
    films = yield from band
    if films[0].story != "stop" and any(each.runs_dry for each in films):
        yield from size_for(films, sizes)
    return films
