"""German of faults of a file: every sentence the readers of tables, of level books and of tape books can write."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from beckwright.languages import phrasebook

from .test_german_rooms import ENGLISH

HOUSE = Path(__file__).parents[2] / "src" / "beckwright"
FILES = (
    *sorted((HOUSE / "job" / "tables").glob("*.py")),
    *(HOUSE / "job" / "wording" / name for name in ("sentences.py", "syntax.py", "fault.py")),
    *(HOUSE / "survey" / f"{name}.py" for name in ("level_book", "tapes", "starting", "observed", "quantities")),
    *(HOUSE / "survey" / f"{name}.py" for name in ("reduction", "adjustment")),
    HOUSE / "job" / "read.py",
)
TRIED = ("x_m", "3", '"Q"', "rise", "a whole number", "s", "")
"""What holes are filled with, one after the other: a text passes if one of them leaves no English word."""
NOT_SAID = re.compile(
    r"tuple\[|dict\[|\\s|\(at |^(?:Invalid|Expected|Cannot|Duplicate|Unclosed|Illegal|Found|Exceeds)\b"
)
"""Types, forms and what the parser of TOML says itself, which is only compared."""
LEFT = {
    # A meaning is the schema's own description of a key: those stay English, and so does the order that ends in one.
    "Write {}{}{}",
    "Write {}{}",
    "Write {}",
    # Put together with an ending or with what follows: held as a whole, see below.
    "it has {} point{}",
    "the section [{}]",
    "{}{} are {}",
}
WHOLE = {
    "survey.csv: it has 2 points. A survey has at least three points that do not lie in one line. Fill in the rows.",
    "job.toml line 3 course: the section [course] is missing. It must be given.",
    "job.toml line 12 course.reaches.2.drop_mm: drop_mm is -3 mm. It must be more than 0 mm.",
    'survey.csv line 9 x_m: x_m is "12,5". It must be a number. Look for a slip of the point or of the unit.',
    "survey.csv line 7: point 14 lies on point 3. Points lie at least 5 mm apart in plan. Keep one of the two.",
}
"""Faults as a page tells them: place, what was found, rule and remedy."""


def _texts(path: Path) -> Iterator[str]:
    """Every text of a module with a space in it, but for docstrings; its holes as ``{}``."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    passed = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
    for node in ast.walk(tree):
        if isinstance(node, ast.JoinedStr):
            passed |= {id(each) for each in ast.walk(node) if each is not node}
    for node in ast.walk(tree):
        if isinstance(node, ast.JoinedStr) and id(node) not in passed:
            yield "".join(each.value if isinstance(each, ast.Constant) else "{}" for each in node.values)
        elif isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in passed:
            yield node.value


@pytest.mark.parametrize("path", FILES, ids=lambda path: f"{path.parent.name}/{path.stem}")
def test_faults_are_german(path: Path) -> None:
    book = phrasebook("de")

    def english(words: str) -> bool:
        said = re.sub(r'"[^"]*"', "", book.say(words))
        return bool(book.missing(words) or ENGLISH.search(said))

    texts = {each for each in _texts(path) if " " in each and re.search("[a-z]{2}", each) and not NOT_SAID.search(each)}
    assert [each for each in sorted(texts - LEFT) if all(english(each.replace("{}", fill)) for fill in TRIED)] == []


@pytest.mark.parametrize("words", sorted(WHOLE))
def test_a_fault_told_whole_is_german(words: str) -> None:
    said = phrasebook("de").say(words)
    assert phrasebook("de").missing(words) == ()
    assert not ENGLISH.search(re.sub(r'"[^"]*"|line_m', "", said)), said
