"""Slow answers of the program worked out once for many tests: what follows from a job, or a first visit, is pure."""

import pickle
from collections import OrderedDict
from collections.abc import Callable, Iterator, Sequence
from hashlib import sha256
from pathlib import Path
from typing import Any

from beckwright.base.findings import Finding
from beckwright.base.words import reads
from beckwright.cures import Bench, Proposal
from beckwright.languages import spoken
from tests.drawn import once


def remembered(work: Callable[..., Any], most: int) -> Callable[..., Any]:
    """The same work, which knows what it last gave for so many jobs; who wants to be told of progress is worked for.

    Two jobs that differ in anything, read in other units or another language, are two jobs.
    """
    known: OrderedDict[bytes, Any] = OrderedDict()

    def recalled(design: Any, *more: Any, progress: Any = None, **named: Any) -> Any:
        if progress is not None:
            return work(design, *more, progress=progress, **named)
        given = [each for each in more if isinstance(each, str)]
        key = pickle.dumps((design.job, reads().value, spoken(), given, sorted(named.items())))
        made = known.pop(key) if key in known else work(design, *more, **named)
        known[key] = made
        while len(known) > most:
            known.popitem(last=False)
        return made

    return recalled


def kept(work: Callable[[Any], Any], folder: Path) -> Callable[[Any], Any]:
    """The same work, whose answers lie in a folder for all processes of a run, by what was asked."""

    def recalled(asked: Any) -> Any:
        key = sha256(f"{asked!r} {reads().value} {spoken()}".encode()).hexdigest()
        return once(folder / f"{work.__name__}-{key}", lambda: work(asked))

    return recalled


def tried_once(proposals: Callable[[Bench, Sequence[Finding]], Iterator[Proposal]]) -> Callable[..., list[Proposal]]:
    """The same cures again for the same findings of the same text, tables and units."""
    known: dict[bytes, list[Proposal]] = {}

    def recalled(bench: Bench, findings: Sequence[Finding]) -> list[Proposal]:
        key = pickle.dumps((bench.base.text, bench.base.design.job, str(findings), reads().value, spoken()))
        if key not in known:
            known[key] = list(proposals(bench, findings))
        return known[key]

    return recalled
