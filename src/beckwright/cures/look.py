"""One text of a job designed, and its findings part by part, each part worked out when it is first asked for."""

from collections.abc import Callable, Mapping
from functools import cached_property
from typing import Any, Literal

from beckwright.base.findings import Finding
from beckwright.compose import Design, Works
from beckwright.film import Film, film_band, film_findings, film_set, in_bands, lost_in_a_dry_spell
from beckwright.job.wording.keylines import toml_held
from beckwright.stages.findings import ground_work_findings
from beckwright.stages.findings.crates import chamber_findings, crate_findings
from beckwright.stages.findings.electrics import electrics_findings
from beckwright.stages.findings.lining import lining_findings
from beckwright.stages.findings.money import money_findings
from beckwright.stages.findings.planting import planting_findings
from beckwright.stages.findings.programme import programme_findings
from beckwright.stages.findings.season import season_findings
from beckwright.stages.findings.stonework import stonework_findings

Part = Literal["levels", "film", "ground", "lining", "stone", "reservoir", "electrics", "planting", "season", "money"]
"""Where a finding comes from: who looks whether one is gone need not work the others."""
Band = tuple[Film, ...]


class Look:
    """A text and its design."""

    def __init__(self, text: str, designed: Design) -> None:
        self.text, self.design, self.works = text, designed, Works(designed)
        self._told: dict[Part, tuple[Finding, ...]] = {}
        self._filmed: tuple[Band, ...] = ()
        self._again: dict[tuple[object, ...], tuple[Finding, ...]] = {}

    @cached_property
    def given(self) -> dict[str, Any]:
        """The text as TOML holds it."""
        return toml_held(self.text)

    @cached_property
    def bands(self) -> tuple[Band, ...]:
        """The films a sheet needs, in bands; an empty one first, for what no film is needed for."""
        self._filmed = ((), *in_bands(film_set(self.design)))
        return self._filmed

    def findings(self, part: Part) -> tuple[Finding, ...]:
        """Findings of one part."""
        if part not in self._told:
            self._told[part] = TOLD[part](self)
        return self._told[part]

    def every(self) -> tuple[Finding, ...]:
        """Findings of all parts, the heaviest first; the films' stand beside those of the levels they better."""
        found = [finding for part in TOLD for finding in self.findings(part)]
        return tuple(sorted(found, key=lambda finding: -finding.severity))

    def band_of(self, finding: Finding) -> Band:
        """The films that a finding of the films was read off."""
        return next(
            (band for band in self.bands if any(_same(each, finding) for each in film_findings(self.design, band))), ()
        )

    def filmed(self, band: Band) -> tuple[Finding, ...]:
        """Findings of this design by films of the same stories as those of another."""
        asked = (band[0].story, band[0].flow, band[0].then, band[0].note) if band else ()
        if asked not in self._again:
            own = not band or any(band is each for each in self._filmed)
            self._again[asked] = film_findings(self.design, band if own else self._taken(band))
        return self._again[asked]

    def _taken(self, band: Band) -> Band:
        first = band[0]
        return film_band(
            self.design,
            first.story,
            first.flow,
            then=first.then,
            pools_filled=first.pools_filled,
            topped_up=first.topped_up,
            missing=lost_in_a_dry_spell(self.design) if first.missing > 0 else 0.0,
        )


def _same(one: Finding, other: Finding) -> bool:
    return (one.code, one.place) == (other.code, other.place)


def _ground(look: Look) -> tuple[Finding, ...]:
    each, works = look.design, look.works
    return tuple(
        ground_work_findings(
            each.job, each.course, each.surroundings, works.closer, works.groundwork, works.setting_out
        )
    )


def _reservoir(look: Look) -> tuple[Finding, ...]:
    job, crates = look.design.job, look.works.crates
    return (*(crate_findings(job, crates) if crates else ()), *chamber_findings(job, look.works.chamber))


def _money(look: Look) -> tuple[Finding, ...]:
    job, works = look.design.job, look.works
    return (
        *programme_findings(works.programme),
        *money_findings(job, works.estimate, works.lives, works.variations),
    )


TOLD: Mapping[Part, Callable[[Look], tuple[Finding, ...]]] = {
    "levels": lambda look: look.design.findings,
    "film": lambda look: tuple(
        {(each.code, each.place): each for band in look.bands for each in film_findings(look.design, band)}.values()
    ),
    "ground": _ground,
    "lining": lambda look: lining_findings(look.design.job, look.works.lining),
    "stone": lambda look: stonework_findings(look.design.job, look.works.stonework),
    "reservoir": _reservoir,
    "electrics": lambda look: tuple(electrics_findings(look.design.job, look.design.supply, look.works.electrics)),
    "planting": lambda look: tuple(planting_findings(look.design.job, look.works.planting)),
    "season": lambda look: tuple(season_findings(look.design.job, look.design.reservoir, look.works.season)),
    "money": _money,
}
