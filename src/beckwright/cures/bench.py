"""A job on trial: edits made in its text, and the design they give, so that no cure is told that was not tried."""

from collections import OrderedDict
from collections.abc import Callable, Sequence
from copy import copy
from typing import Self

from beckwright.base.errors import JobError
from beckwright.base.give_way import give_way
from beckwright.base.quantities import Ratio
from beckwright.compose import design
from beckwright.cures.look import Look
from beckwright.job.edit import Edit, edit
from beckwright.job.model import Job
from beckwright.stages.ground import Ground

HELD = 8
"""Designs kept: the one that a search ends with is looked at once more."""
MOST_DESIGNS = 8
"""Designs one search may take."""


class Bench:
    """One text of a job, and what edits of it would give."""

    def __init__(self, text: str, read: Callable[[str], Job], ground: Ground | None = None) -> None:
        """Lay a text on the bench. Raises ``JobError`` where it cannot be designed.

        read    gives the job of a text, with the tables of its folder
        ground  of its survey, where it has been built already: it is the slow part
        """
        self._read = read
        self.base = Look(text, design(read(text), ground))
        self._held: OrderedDict[str, Look] = OrderedDict()

    def beside(self) -> Self:
        """A second bench with the same text on it: who looks at one cure need not wait for whoever seeks others."""
        other = copy(self)
        other._held = OrderedDict()
        return other

    def edited(self, edits: Sequence[Edit]) -> str:
        """The text with edits made. Raises ``JobError``."""
        text = self.base.text
        for each in edits:
            text = edit(text, each)
        return text

    def looked(self, edits: Sequence[Edit]) -> Look:
        """The design that edits give. Raises ``JobError`` where they cannot be made, or designed."""
        text = self.edited(edits)
        if text == self.base.text:
            return self.base
        held = self._held.pop(text, None) or self._designed(text)
        self._held[text] = held
        while len(self._held) > HELD:
            self._held.popitem(last=False)
        return held

    def tried(self, edits: Sequence[Edit]) -> Look | None:
        """The design that edits give, or None where they give none."""
        try:
            return self.looked(edits)
        except JobError:
            return None

    def _designed(self, text: str) -> Look:
        give_way()
        job, base = self._read(text), self.base.design
        same = job.survey is base.job.survey or job.survey == base.job.survey
        return Look(text, design(job, base.ground if same else None))


def least(works: Callable[[int], bool], guess: int) -> int | None:
    """The least count of steps that works, found in eight tries at the most; None where none was found.

    From a guess upwards by a third each time, then by halves until it is told to a twentieth. What is found was tried.
    """
    failed, count, tries = 0, max(guess, 1), MOST_DESIGNS
    while not works(count):
        failed, count, tries = count, -(-count * 4 // 3), tries - 1
        if tries < MOST_DESIGNS // 2:
            return None
    while tries > 1 and count - failed > max(count / 20, 1):
        middle = (failed + count) // 2
        tries -= 1
        if works(middle):
            count = middle
        else:
            failed = middle
    return count


def clearly(before: Ratio, after: Ratio) -> bool:
    """Whether a weight has become clearly less: by a fifth or more."""
    return after <= 0.8 * before - 1e-12


__all__ = ["MOST_DESIGNS", "Bench", "clearly", "least"]
