"""Two revisions held against each other: what changed in words, line by line, in answers and in findings."""

import re
from collections import defaultdict
from collections.abc import Callable, Hashable, Iterator, Sequence
from difflib import SequenceMatcher
from typing import Any

from beckwright.base.errors import JobError, Problem
from beckwright.base.findings import Finding
from beckwright.film.joined import TOLD_BETTER
from beckwright.job.edit import changes
from beckwright.site import Conflict, Version
from beckwright.web.desk.answers import answers
from beckwright.web.desk.opened import Apart, Desk, Laid, in_short
from beckwright.web.desk.state import Told, finding_told
from beckwright.web.desk.works import works_told
from beckwright.web.versions.differences import held_against
from beckwright.web.versions.tables import files_changed, tables_changed, told_changes

AROUND = 2
"""Lines alike shown on both sides of a change, so that a person sees where it is."""
MOST_LINES = 2000
"""More lines than these are not held line by line: nobody would read them, and it would take seconds."""
MANY = 1000
"""More findings than a design has."""

Thing = Callable[[Finding], Hashable]
"""What two findings must have in common to be two sayings about one thing, the closest first."""
Found = tuple[Laid | None, tuple[Problem, ...]]


def designed(desk: Desk, held: Version) -> Found:
    """A revision designed with its own tables, or why it cannot be."""
    try:
        return desk.laid(held), ()
    except JobError as error:
        return None, tuple(error.problems)


def compared(desk: Desk, old: int, new: int, *, whole: bool) -> Told:
    """Hold a revision against another; ``whole`` waits for the slower answers of both. Raises ``JobError``."""
    sides = [desk.keeper.version(number) for number in (old, new)]
    texts = [side.text for side in sides]
    found = [designed(desk, side) for side in sides]
    told: Told = {
        "old": {"number": old, "problems": [_problem(each) for each in found[0][1]]},
        "new": {"number": new, "problems": [_problem(each) for each in found[1][1]]},
        "changes": _changed(desk, *sides),
        "lines": lines(*texts),
        "answers": [],
        "findings": {"gone": [], "new": [], "otherwise": []},
        "whole": whole,
    }
    was, now = found[0][0], found[1][0]
    if was is not None and now is not None:
        told["answers"] = held_against(*(_answers(each, whole=whole) for each in (was, now)))
        told["findings"] = parted(*(_findings(each, whole=whole) for each in (was, now)))
    return told


def take_up(desk: Desk, number: int, *, mark: str, based_on: int) -> None:
    """Let the text and the tables of a revision stand again, as a new revision.

    based_on  the revision that stood as far as the person knew. Raises ``JobError`` where the text cannot be designed,
              and ``Apart`` where another one stands by now.
    """
    taken = desk.keeper.version(number)
    desk.laid(taken)
    name = f", {taken.revision.name}" if taken.revision.name else ""
    kept = desk.keeper.take_up(number, why=f"revision {number}{name}, taken up again", mark=mark, based_on=based_on)
    if isinstance(kept, Conflict):
        raise Apart(kept)
    theirs = desk.keeper.version(kept.revision.number)
    if not kept.again and files_changed(taken, theirs):
        # It was the one the person looked at, so nothing was kept; yet another one stands by now.
        raise Apart(Conflict(ours=taken, theirs=theirs, base=desk.keeper.version(based_on)))


def told_since(desk: Desk, seen: int, stands: Version) -> str:
    """What a person is told who saw ``seen`` while another text came to stand. Raises ``JobError``."""
    who = "Changed elsewhere"
    try:
        before = desk.keeper.version(seen)
        who = _in_an_editor(before, stands) if stands.revision.origin == "outside" else who
        what = in_short(told_changes(desk.keeper, before, stands))
    except JobError as error:
        # One of them is no TOML; whoever asks for the job itself is told what is wrong in it.
        what = f"{error.problems[0].place}: {error.problems[0].found}"
    return f"{who}: {what}."


def parted(old: Sequence[Finding], new: Sequence[Finding]) -> Told:
    """Findings only the old one has, only the new one has, and those of one thing that say something else."""
    said = {_said(each) for each in old} & {_said(each) for each in new}
    olds, news = ([each for each in side if _said(each) not in said] for side in (old, new))
    pairs: list[tuple[Finding, Finding]] = []
    for thing, most in ((_place, MANY), (_place_without_numbers, MANY), (_code, 1)):
        found = list(_pairs(olds, news, thing, most))
        olds, news = ([each for each in side if all(each not in pair for pair in found)] for side in (olds, news))
        pairs += found
    return {
        "gone": [finding_told(each) for each in olds],
        "new": [finding_told(each) for each in news],
        "otherwise": [{"before": finding_told(was), "after": finding_told(now)} for was, now in pairs],
    }


def lines(old: str, new: str) -> list[Told]:
    """Both texts side by side: lines that differ with some around them, and how many alike are left out between."""
    olds, news = old.splitlines(), new.splitlines()
    if max(len(olds), len(news)) > MOST_LINES:
        return []
    rows: list[Told] = []
    blocks = SequenceMatcher(None, olds, news, autojunk=False).get_opcodes()
    for place, (tag, start, end, from_new, to_new) in enumerate(blocks):
        if tag == "equal":
            rows += _alike(olds, start, end, first=place == 0, last=place == len(blocks) - 1)
            continue
        for step in range(max(end - start, to_new - from_new)):
            was = olds[start + step] if start + step < end else None
            now = news[from_new + step] if from_new + step < to_new else None
            rows.append(
                {"old": was, "new": now, "line": start + step + 1 if was is not None else None, "differs": True}
            )
    return rows


def _alike(olds: list[str], start: int, end: int, *, first: bool, last: bool) -> Iterator[Told]:
    head, tail = (0 if first else AROUND), (0 if last else AROUND)
    whole = end - start <= head + tail + 1
    for at in range(start, end):
        if whole or at < start + head or at >= end - tail:
            yield {"old": olds[at], "new": olds[at], "line": at + 1, "differs": False}
        elif at == start + head:
            yield {"alike": end - start - head - tail}


def _in_an_editor(before: Version, stands: Version) -> str:
    names = files_changed(before, stands) or ["job.toml"]
    if len(names) == 1:
        return f"{names[0]} was changed in an editor"
    return f"{', '.join(names[:-1])} and {names[-1]} were changed in an editor"


def _changed(desk: Desk, old: Version, new: Version) -> list[Told] | None:
    """What differs in words, tables first; None where one text is no TOML, which its own problems tell."""
    try:
        found = changes(old.text, new.text)
    except JobError:
        return None
    tables = [
        {"what": each.what, "before": each.before, "after": each.after, "differs": each.differs, "words": str(each)}
        for each in tables_changed(desk.keeper, old, new)
    ]
    texts = [{"what": each.what, "before": each.before, "after": each.after, "words": str(each)} for each in found]
    return [*tables, *texts]


def _answers(laid: Laid, *, whole: bool) -> list[dict[str, Any]]:
    more = works_told(laid, revision=None)["answers"] if whole else []
    return [*more, *answers(laid.design)]


def _findings(laid: Laid, *, whole: bool) -> list[Finding]:
    own = list(laid.design.findings)
    if not whole:
        return own
    return sorted(
        (*(each for each in own if each.code not in TOLD_BETTER), *laid.findings()), key=lambda each: -each.severity
    )


def _pairs(olds: list[Finding], news: list[Finding], thing: Thing, most: int) -> Iterator[tuple[Finding, Finding]]:
    """Findings of one thing, in their order, where both sides have as many of it, and no more than ``most``."""
    sides: tuple[dict[Hashable, list[Finding]], ...] = (defaultdict(list), defaultdict(list))
    for held, side in zip(sides, (olds, news), strict=True):
        for each in side:
            held[thing(each)].append(each)
    for key, was in sides[0].items():
        now = sides[1].get(key, [])
        if len(was) == len(now) <= most:
            yield from zip(was, now, strict=True)


def _place(finding: Finding) -> Hashable:
    return finding.code, finding.place


def _place_without_numbers(finding: Finding) -> Hashable:
    """The same edge, low a little further down."""
    return finding.code, re.sub(r"[\d.]+", "", finding.place)


def _code(finding: Finding) -> Hashable:
    return finding.code


def _said(finding: Finding) -> tuple[str, str, str]:
    return finding.code, finding.place, finding.says


def _problem(problem: Problem) -> Told:
    return {"place": problem.place, "found": problem.found, "rule": problem.rule, "remedy": problem.remedy}
