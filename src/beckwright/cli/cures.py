"""Cures in words, numbered, each with what it changes; and one of them taken, so that it can be undone."""

from collections.abc import Iterator
from itertools import islice
from pathlib import Path
from uuid import uuid4

import typer

from beckwright.base.errors import JobError, Problem
from beckwright.base.findings import Finding
from beckwright.cli.tell import Patience, table, wrapped
from beckwright.cures import Bench, Effect, Proposal, effect, findings_of, proposals
from beckwright.job.read import read_job_text
from beckwright.site import Conflict, Keeper

MOST_TOLD = 8
"""Findings listed by name; the others are counted."""


def bench_of(text: str, folder: Path) -> Bench:
    """A job's text laid on the bench, its tables from the folder. Raises ``JobError``."""
    return Bench(text, lambda other: read_job_text(other, folder))


def sought(bench: Bench, patience: Patience) -> Iterator[Proposal]:
    """Cures one by one, each once, the heaviest findings first: always the same for the same job."""
    told: list[object] = []
    for proposal in proposals(bench, findings_of(bench.base)):
        if proposal.written not in told:
            told.append(proposal.written)
            yield proposal
            patience.say(f"{len(told)} cures tried and found ...")


def cures_in_words(bench: Bench, found: tuple[Proposal, ...]) -> str:
    """Each cure with its number, its finding, and what it changes of levels and water."""
    if not found:
        return "No change of job.toml cures any of these."
    lines = [typer.style("Cures that were tried", bold=True)]
    for number, proposal in enumerate(found, 1):
        told = effect(bench.base, bench.looked(proposal.edits), whole=False)
        lines += [
            wrapped(f"{number}. {proposal.words}", first="  ", rest="     "),
            wrapped(f"{_does(proposal)} {proposal.finding.place}.", first="     "),
            *(_answers(told)),
            *(_findings(told)),
            "",
        ]
    lines.append("Take one with --take and its number: that shows cost, digging and films as well, and can be undone.")
    return "\n".join(lines)


def taken(folder: Path, number: int, patience: Patience) -> str:
    """Take one cure into job.toml through the keeper, and tell all that it changes. Raises ``JobError``."""
    with Keeper(folder) as keeper:
        held = keeper.standing()
        bench = bench_of(held.text, folder)
        proposal = next(islice(sought(bench, patience), number - 1, None), None)
        if proposal is None:
            raise JobError([_no_such(number)])
        told = effect(bench.base, bench.looked(proposal.edits))
        saved = keeper.save(
            bench.edited(proposal.edits),
            why=proposal.words,
            mark=uuid4().hex,
            based_on=held.revision.number,
        )
        if isinstance(saved, Conflict):
            raise JobError([_changed_meanwhile()])
    done = f"Taken into job.toml as revision {saved.revision.number}: {proposal.words}"
    undo = "Undo takes it back: open the job in the browser, or put the line back by hand."
    return "\n".join([wrapped(done), *_answers(told), *_findings(told), wrapped(undo)])


def _does(proposal: Proposal) -> str:
    return "Cures:" if proposal.gone else "Lightens:"


def _answers(told: Effect) -> Iterator[str]:
    rows = [(each.label, each.before or "none", "->", each.after or "none") for each in told.answers]
    if rows:
        yield table(rows, indent="     ")


def _findings(told: Effect) -> Iterator[str]:
    graver = tuple(after for before, after in told.altered if after.severity > before.severity)
    lighter = tuple(after for before, after in told.altered if after.severity < before.severity)
    for word, findings in (("gone", told.gone), ("new", told.new), ("graver", graver), ("lighter", lighter)):
        if findings:
            yield wrapped(f"{word}: {_places(findings)}", first="     ", rest="       ")


def _places(findings: tuple[Finding, ...]) -> str:
    named = [f"{each.place} ({each.code})" for each in findings[:MOST_TOLD]]
    more = [f"and {len(findings) - MOST_TOLD} more"] if len(findings) > MOST_TOLD else []
    return "; ".join([*named, *more])


def _no_such(number: int) -> Problem:
    remedy = "List them with --cures and write one of those numbers"
    return Problem(place="--take", found=f"there is no cure {number}", rule="A cure has a number", remedy=remedy)


def _changed_meanwhile() -> Problem:
    found, rule = "it was changed meanwhile", "A cure is taken on the job it was tried on"
    return Problem(place="job.toml", found=found, rule=rule, remedy="List the cures again and take one then")
