"""What a person answered about a survey file, from the words of the presses: those of the command line's options."""

import math
from collections.abc import Callable, Mapping, Sequence
from typing import Any

from beckwright.base.errors import JobError, Problem
from beckwright.job.wording.sentences import shown
from beckwright.survey.understood import AXES
from beckwright.survey.units import UNITS
from beckwright.survey.unsure import Question

LONGEST = 2000
"""Characters of one answer: the names of many layers."""
MOST_KEPT = 100_000
"""Points a scan may be thinned to here; the command line takes more."""

Read = Callable[[str], Any]


def answers_of(given: Mapping[str, str]) -> dict[str, Any]:
    """Turn answers in words into those of ``understand``. Raises JobError with every one that cannot be one."""
    found: dict[str, Any] = {}
    problems: list[Problem] = []
    for name, words in given.items():
        if name not in OPTIONS:
            problems.append(_problem(name[:40], "there is no such answer", f"Answers are {', '.join(OPTIONS)}"))
            continue
        read, rule = OPTIONS[name]
        try:
            found[NAMES.get(name, name)] = read(words[:LONGEST].strip())
        except ValueError:
            problems.append(_problem(name, f"it is {shown(words[:60])}", rule))
    if problems:
        raise JobError(problems)
    return found


def choices_of(question: Question) -> list[dict[str, str]]:
    """The choices of a question: which answer, its words, and what it would mean."""
    return [_choice(option, says) for option, says in question.choices]


def _choice(option: str, says: str) -> dict[str, str]:
    name, _, words = option.partition(" ")
    quoted = len(words) > 1 and words[0] == words[-1] == '"'
    return {
        "answer": name.removeprefix("--").replace("-", "_"),
        "words": words[1:-1] if quoted else words,
        "says": says,
    }


def _problem(name: str, found: str, rule: str) -> Problem:
    return Problem(place=name.replace("_", " "), found=found, rule=rule, remedy="Choose again, or leave it out")


def _one_of(known: Sequence[str]) -> tuple[Read, str]:
    def read(words: str) -> str:
        if words not in known:
            raise ValueError
        return words

    return read, f"It must be one of {', '.join(known)}"


def _numbers(count: int) -> Read:
    def read(words: str) -> tuple[float, ...]:
        numbers = tuple(map(float, words.split(",")))
        if len(numbers) != count or not all(map(math.isfinite, numbers)):
            raise ValueError
        return numbers

    return read


def _shift(words: str) -> Any:
    return (0.0, 0.0) if words == "none" else _numbers(2)(words)


def _names(words: str) -> tuple[str, ...]:
    return tuple(word.strip() for word in words.split(","))


def _spacing(words: str) -> float:
    (spacing,) = _numbers(1)(words)
    if not 0.01 <= spacing <= 100:
        raise ValueError
    return float(spacing)


def _points(words: str) -> int:
    count = int(words)
    if not 3 <= count <= MOST_KEPT:
        raise ValueError
    return count


def _yes(words: str) -> bool:
    if words not in ("yes", "no"):
        raise ValueError
    return words == "yes"


OPTIONS: dict[str, tuple[Read, str]] = {
    "columns": (_names, "Columns are named in their order, parted by commas"),
    "unit": _one_of(tuple(UNITS)),
    "level_unit": _one_of(tuple(UNITS)),
    "decimal": _one_of(("point", "comma")),
    "axes": _one_of(AXES),
    "shift": (_shift, "It is two numbers parted by a comma, m, or none"),
    "outliers": _one_of(("keep", "leave-out")),
    "duplicates": _one_of(("first", "lowest", "highest", "middle")),
    "layers": (_names, "Layers are parted by commas"),
    "surface": (str, "It is the name of a surface"),
    "window": (_numbers(4), "It is west, south, east and north in the file's coordinates, parted by commas"),
    "spacing_m": (_spacing, "It is 0.01 to 100 m"),
    "points": (_points, f"It is 3 to {MOST_KEPT} points"),
    "join_lines": (_yes, "It is yes or no"),
}
"""Answers by the name of the command line's option, with hyphens as underscores; what reads each, and its rule."""
NAMES = {"spacing_m": "spacing"}
