"""A lot of survey files looked at: what was understood, what is not sure, and what taking it would replace."""

from collections import Counter
from collections.abc import Mapping
from datetime import UTC, datetime
from pathlib import Path
from typing import Any
from uuid import uuid4

import numpy as np

from beckwright.base.errors import JobError, Problem
from beckwright.base.quantities import Levels, Points
from beckwright.base.values import value
from beckwright.base.words import grouped
from beckwright.compose import design
from beckwright.job.model import Survey
from beckwright.site import Conflict, Saved, Version
from beckwright.stages.ground import build_ground
from beckwright.survey import Joined
from beckwright.survey.counted import counted
from beckwright.survey.gathered import refusal
from beckwright.survey.join import joined_csv
from beckwright.survey.marks import marks_beside
from beckwright.survey.resurveyed import against
from beckwright.survey.told import extent_told
from beckwright.survey.understood import Understood, understand
from beckwright.survey.written import as_csv, refuse_unreadable
from beckwright.web.bring.answers import answers_of, choices_of
from beckwright.web.bring.books import Books, read_books, what_is
from beckwright.web.bring.plan import plan_told
from beckwright.web.bring.tray import Lot, Tray
from beckwright.web.desk.opened import Desk
from beckwright.web.desk.state import finding_told

SURVEY = "survey.csv"
FIRST, MOST_CODES, MOST_NOTES = 8, 40, 40
"""Points, codes and notes that are shown."""
MOST_OFFERED = 60_000
"""Characters of sections for job.toml that are shown."""

Told = dict[str, Any]


@value
class Found:
    """What a lot holds as points: names, codes, breaklines (n,), points (n, 2), levels (n,), m, and their text."""

    names: tuple[str, ...]
    points: Points
    levels: Levels
    codes: tuple[str, ...]
    breaklines: tuple[str, ...]
    shift: tuple[float, float]
    text: str


def looked_at(lot: Lot, given: Mapping[str, str], desk: Desk, tray: Tray) -> Told:
    """What a page shows of a lot. Raises ``JobError`` where a file or an answer cannot be used."""
    found, told = _read(lot, given, desk, tray)
    told |= {"id": lot.number, "files": [{"name": path.name, "what": what_is(path)} for path in lot.files]}
    told |= {"answers": dict(given), "problems": []}
    if found is None:
        return told | {"count": 0, "ready": False}
    survey = None
    if not told["questions"]:
        try:
            survey = refuse_unreadable(found.text, SURVEY)
        except JobError as error:
            told["problems"] = [_problem_told(each) for each in error.problems]
    ready = survey is not None
    return told | _found_told(found, survey) | {"ready": ready}


def replaced_by(lot: Lot, given: Mapping[str, str], desk: Desk, tray: Tray) -> Told:
    """What taking a lot would replace, and whether the job can be designed with it. Nothing is written."""
    found, held = _settled(lot, given, desk, tray), desk.stands()
    stamp = dict(held.tables).get(SURVEY, "")
    problems: list[Problem] = []
    before = desk.shelf.survey(held.tables)
    try:
        _design_with(found.text, desk, held)
    except JobError as error:
        problems.extend(error.problems)
    return {
        "there": bool(stamp),
        "now": [] if before is None else _extent(before.points, before.levels, _line_counts(before)),
        "after": _extent(found.points, found.levels, Counter(name for name in found.breaklines if name), found.shift),
        "differs": _differs(found.text, held, desk),
        "kept_as": held.revision.number if stamp else None,
        "stamp": stamp,
        "problems": [_problem_told(each) for each in problems],
    }


def taken(lot: Lot, given: Mapping[str, str], stamp: str, desk: Desk, tray: Tray) -> Told:
    """Make a lot the survey of the job, as one revision, and tell the diary. Undo brings back what stood there.

    stamp  of the survey the person was shown as the one replaced
    Raises ``JobError`` where another one stands there by now, a question is open, or it cannot be written.
    """
    found = _settled(lot, given, desk, tray)
    held, points = desk.stands(), counted(len(found.names), "point")
    kept: Saved | Conflict | None = None
    if stamp == dict(held.tables).get(SURVEY, ""):
        why, base = f"survey brought in: {points}", held.revision.number
        kept = desk.keeper.bring(SURVEY, found.text.encode(), why=why, mark=uuid4().hex, based_on=base)
    if not isinstance(kept, Saved):
        rule = "Only what a person was shown is replaced"
        raise refusal(SURVEY, "it was changed meanwhile", rule, "Look again at what is replaced, then take it")
    source = ", ".join(each.name for each in lot.files)
    was = f"; the one before is in revision {held.revision.number}" if stamp else ""
    says = f"{SURVEY} is now {source}, {points}{was}"
    desk.keeper.write_diary(says, when=datetime.now(tz=UTC), mark=str(uuid4()))
    tray.forget(lot.number)
    return {"says": says, "kept_as": held.revision.number if stamp else None}


def _read(lot: Lot, given: Mapping[str, str], desk: Desk, tray: Tray) -> tuple[Found | None, Told]:
    last = lot.files[-1]
    if what_is(last) != "points":
        return _of_books(read_books(lot.files))
    answers = answers_of(given)
    with tray.reading:
        patience = tray.patience(last.name)
        understood = understand(last, marks=marks_beside(desk.folder / SURVEY), progress=patience, **answers)
    return _of_file(understood)


def _settled(lot: Lot, given: Mapping[str, str], desk: Desk, tray: Tray) -> Found:
    """The points of a lot no question is open about, fit for a job."""
    found, told = _read(lot, given, desk, tray)
    asked = [each["says"].rstrip(".?") for each in told["questions"]]
    open_questions = [
        Problem(place=SURVEY, found=says, rule="Nothing is written while that is open", remedy="Answer it first")
        for says in asked
    ]
    if open_questions or found is None:
        missing = told["wants"] or "a survey without faults"
        wanted = Problem(place=SURVEY, found="there are no points", rule=f"It needs {missing}", remedy="Bring it")
        raise JobError(open_questions or [wanted])
    refuse_unreadable(found.text, SURVEY)
    return found


def _of_file(understood: Understood) -> tuple[Found | None, Told]:
    notes = [each for each in understood.notes if not each.startswith("With --join-lines")]
    edges = next((each.partition(": ")[2] for each in understood.notes if each.startswith("With --join-lines")), "")
    told: Told = {
        "kind": understood.kind,
        "codes": [
            {"written": each.written, "became": each.became, "known": each.known, "count": each.count}
            for each in understood.codes_told[:MOST_CODES]
        ],
        "more_codes": max(0, len(understood.codes_told) - MOST_CODES),
        "notes": notes[:MOST_NOTES],
        "edges": edges.rstrip("."),
        "questions": [
            {"about": each.about, "says": each.says, "choices": choices_of(each)} for each in understood.questions
        ],
        "findings": [],
        "offers": understood.offers[:MOST_OFFERED],
        "wants": "",
    }
    if not len(understood.points):
        return None, told
    found = Found(
        names=understood.names,
        points=understood.points,
        levels=understood.levels,
        codes=understood.codes,
        breaklines=understood.breaklines,
        shift=understood.shift,
        text=as_csv(understood),
    )
    return found, told


def _of_books(books: Books) -> tuple[Found | None, Told]:
    joined = books.joined
    told: Told = {
        "kind": "a field book",
        "codes": [],
        "more_codes": 0,
        "notes": [] if joined is None else _unjoined(joined),
        "edges": "",
        "questions": [],
        "findings": [finding_told(each) for each in books.findings],
        "offers": "",
        "wants": books.wants,
        "book_levels": [[point, f"{level:.3f}"] for point, level in books.levels[:200]],
    }
    if joined is None or not joined.points:
        return None, told
    points = joined.points
    found = Found(
        names=tuple(each.point for each in points),
        points=np.array([(each.x, each.y) for each in points]),
        levels=np.array([each.level for each in points]),
        codes=tuple(each.code for each in points),
        breaklines=tuple(each.breakline for each in points),
        shift=(0.0, 0.0),
        text=joined_csv(joined),
    )
    return found, told


def _unjoined(joined: Joined) -> list[str]:
    pairs = ((joined.without_place, "Levelled and not taped"), (joined.without_level, "Taped and not levelled"))
    return [f"{what}: {', '.join(names[:MOST_CODES])}." for names, what in pairs if names]


def _found_told(found: Found, survey: Survey | None) -> Told:
    lines = Counter(name for name in found.breaklines if name)
    rows = zip(found.names, found.points.tolist(), found.levels.tolist(), found.codes, found.breaklines, strict=True)
    first = [row for row, _ in zip(rows, range(FIRST), strict=False)]
    return {
        "count": len(found.names),
        "counted": grouped(len(found.names)),
        "rows": _extent(found.points, found.levels, lines, found.shift),
        "first": [[name, f"{x:.3f}", f"{y:.3f}", f"{z:.3f}", code, line] for name, (x, y), z, code, line in first],
        "plan": plan_told(found.points, found.levels, found.breaklines, survey),
    }


def _extent(
    points: Points, levels: Levels, lines: Counter[str], shift: tuple[float, float] = (0.0, 0.0)
) -> list[tuple[str, str]]:
    return [("points", grouped(len(points))), *extent_told(points, levels, shift=shift, lines=lines)]


def _line_counts(survey: Survey) -> Counter[str]:
    return Counter({f"line {number}": len(rows) for number, rows in enumerate(survey.breaklines, 1)})


def _design_with(text: str, desk: Desk, held: Version) -> None:
    """Design the job as it stands with another survey. Raises ``JobError`` with what speaks against it."""
    survey, kept = refuse_unreadable(text, SURVEY), desk.shelf.take_of(held.tables)

    def take(read: Any, path: Path, problems: list[Problem], *told: str) -> Any:
        return survey if path.name == SURVEY else kept(read, path, problems, *told)

    job = desk.shelf.read(held.text, held.tables, take)
    try:
        ground = build_ground(survey)
    except ValueError as error:
        found, rule = f"no surface goes through it: {error}", "Breaklines do not cross, and points do not coincide"
        raise refusal(SURVEY, found, rule, "Mend them in the file, or leave the breaklines out") from error
    design(job, ground)


def _differs(text: str, held: Version, desk: Desk) -> str:
    """What a survey changes in the ground, in words; empty where there is none before it."""
    digest = dict(held.tables).get(SURVEY)
    moved = None if digest is None else against(desk.keeper.table(digest), text.encode())
    return "" if moved is None else str(moved)


def _problem_told(problem: Problem) -> Told:
    return {"place": problem.place, "found": problem.found, "rule": problem.rule, "remedy": problem.remedy}
