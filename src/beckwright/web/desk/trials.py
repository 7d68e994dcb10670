"""Cures of the job as it stands, tried and told as JSON, and what each would change."""

from collections.abc import Callable, Mapping
from threading import Lock
from typing import Any

from beckwright.base.findings import Finding
from beckwright.cures import Bench, Changed, Effect, Look, Proposal, effect, findings_of, proposals
from beckwright.cures.look import TOLD, Part
from beckwright.film.joined import TOLD_BETTER
from beckwright.job.edit import read_edit
from beckwright.job.model import Job
from beckwright.web.desk.opened import Desk, Edits
from beckwright.web.desk.state import Told, finding_told

Parts = tuple[Part, ...]
PARTS: Mapping[str, Parts] = {
    "levels": ("levels",),
    "works": tuple(part for part in TOLD if part not in ("levels", "film")),
    "films": ("film",),
    "all": tuple(TOLD),
}
"""What may be asked for by itself: the quick ones first."""


class MovedOn(Exception):  # noqa: N818  # Nothing went wrong: another text stands, and its cures are sought instead.
    """Another text of the job stands than the one cures were sought for."""


class Trials:
    """The text that stands on two benches: one where cures are sought, one where a person looks at what one changes."""

    def __init__(self, desk: Desk) -> None:
        self.desk = desk
        self._lock, self._seeking, self._looking = Lock(), Lock(), Lock()
        self._laid: tuple[Any, int, Bench, Bench] | None = None
        self._found: dict[tuple[Any, str], list[Told]] = {}

    def cures(self, asked: str) -> Told:
        """Cures for the findings of some parts of the job as it stands. Raises ``JobError`` and ``MovedOn``."""
        with self._seeking, self.desk.turns.slow():
            key, number, bench, _ = self._benches()
            if (key, asked) not in self._found:
                found = [_told(each) for each in proposals(bench, _findings(bench.base, asked))]
                self._found[key, asked] = found
            return {"revision": number, "cures": self._found[key, asked]}

    def effect(self, edits: Edits, *, whole: bool) -> Told:
        """What edits of the job as it stands would change. Raises ``JobError`` and ``MovedOn``."""
        with self._looking:
            _, number, _, bench = self._benches()
            tried = bench.looked([read_edit(each) for each in edits])
            return {"revision": number, **effect_told(effect(bench.base, tried, whole=whole))}

    def _benches(self) -> tuple[Any, int, Bench, Bench]:
        with self._lock:
            held = self.desk.stands()
            key, number = (held.text, held.tables), held.revision.number
            if self._laid is None or self._laid[:2] != (key, number):
                ground = self.desk.laid(held).design.ground
                bench = Bench(held.text, self._reader(number), ground)
                self._laid = (key, number, bench, bench.beside())
                self._found = {}
            return self._laid

    def _reader(self, number: int) -> Callable[[str], Job]:
        """Read a text of the job, for as long as the revision it is held against stands."""

        def read(text: str) -> Job:
            stands = self.desk.stands()
            if stands.revision.number != number:
                raise MovedOn
            return self.desk.shelf.read(text, self.desk.keeper.tables_with(text, stands))

        return read


def _findings(look: Look, asked: str) -> tuple[Finding, ...]:
    if asked == "all":
        return findings_of(look)
    found = [finding for part in PARTS[asked] for finding in look.findings(part)]
    better = TOLD_BETTER if asked == "levels" else frozenset[str]()
    return tuple(sorted((each for each in found if each.code not in better), key=lambda each: -each.severity))


def _told(proposal: Proposal) -> Told:
    """A cure, with what tells its finding from others."""
    finding = proposal.finding
    return {
        "code": finding.code,
        "place": finding.place,
        "words": proposal.words,
        "gone": proposal.gone,
        "edits": proposal.written,
    }


def effect_told(told: Effect) -> Told:
    """An effect as JSON."""
    return {
        "answers": [_changed(each) for each in told.answers],
        "gone": [finding_told(each) for each in told.gone],
        "new": [finding_told(each) for each in told.new],
        "altered": [{"before": finding_told(before), "after": finding_told(after)} for before, after in told.altered],
        "whole": told.whole,
    }


def _changed(each: Changed) -> Told:
    return {
        "name": each.name,
        "label": each.label,
        "flow": each.flow,
        "before": each.before,
        "after": each.after,
    }
