"""German: held by phrases as far as this file says, one word for one thing, and with room on the sheets."""

import re
from functools import cache
from pathlib import Path

import pytest

from beckwright import Design, design, read_job
from beckwright.compose import Works
from beckwright.job.written.site import Language
from beckwright.languages import LANGUAGES, phrasebook, rooms, told_in
from beckwright.papers import draw_sheets
from beckwright.papers.beside import Beside
from beckwright.papers.drawing import Sheet, Text, plain
from beckwright.papers.labels import text_box
from beckwright.papers.parts import Matter
from beckwright.tables.plants import PLANTS

from .collect import on_sheets

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = ("hazel_bank", "larkspur_court", "fennymoor_park", "withy_lane")
SAID = {
    *("plan", "ground", "level story", "start and stop", "dig", "setting out", "sections", "reservoir", "lining"),
    *("supply", "planting", "programme", "order", "estimate", "since the quote", "running cost", "pump and hose"),
    *("picture", "method and hazards", "trees", "build", "lip cards", "care card", "owner's pages", "as built"),
}
"""Parts of the set that are German throughout. The calculation is for a checker and stays as it is."""
KEPT = {"hose.length.spiral_38"}
"""Texts that stay: names of figures, of files and of keys."""


@cache
def _designed(name: str) -> Design:
    return design(read_job(EXAMPLES / name))


@cache
def _given(name: str) -> str:
    """All that people wrote: their names for things are theirs."""
    texts = [
        file.read_text(encoding="utf-8")
        for file in sorted((EXAMPLES / name).glob("*.*"))
        if file.suffix in {".toml", ".csv"}
    ]
    return " ".join(" ".join(texts).lower().split())


def _theirs(name: str, piece: str) -> bool:
    bare = piece.lower().strip(" .,:;")
    if ", " in bare and bare not in _given(name):
        return all(_theirs(name, each) or not phrasebook("de").missing(each) for each in piece.split(", "))
    return bare in _given(name) or piece in KEPT or any(plant.name.lower() in bare for plant in PLANTS)


@pytest.mark.parametrize("name", NAMES)
def test_sheets_are_german_throughout(name: str) -> None:
    book, left = phrasebook("de"), {}
    for part, told in on_sheets(_designed(name)).items():
        for words in sorted(told) if part in SAID else ():
            missing = [piece for piece in book.missing(words) if not _theirs(name, piece)]
            if missing:
                left[words] = missing
    assert left == {}


@pytest.mark.parametrize("name", NAMES)
def test_findings_are_german_throughout(name: str) -> None:
    book, job = phrasebook("de"), _designed(name)
    left = {
        words: missing
        for finding in Matter(job, Works(job), Beside(alone=True)).findings
        for words in (finding.place, finding.says, finding.cure)
        if (missing := [piece for piece in book.missing(words) if not _theirs(name, piece)])
    }
    assert left == {}


def test_one_word_for_one_thing() -> None:
    """Each term of the glossary is always the same German word; the list is at the head of ``words.toml``."""
    wrong = []
    for english, own in phrasebook("de").phrases.items():
        for term, german in rooms("de")["words"]["glossary"].items():
            if re.search(rf"(?<![\w-]){term}(?![\w-])", english) and not re.search(german, own, re.IGNORECASE):
                wrong.append((term, english, own))
    assert wrong == []


def test_no_phrase_stands_in_two_rooms() -> None:
    told = [english for room in rooms("de").values() for english in room["phrases"]]
    assert len(told) == len(set(told))


def test_a_job_may_say_every_language_there_is() -> None:
    assert set(Language.__args__) == set(LANGUAGES)


def _boxes(sheet: Sheet) -> list[tuple[str, float, float, float, float]]:
    words = [part for mark in sheet.marks for part in plain(mark) if isinstance(part, Text) and part.words.strip()]
    return [(each.words, *text_box(each).min(axis=0), *text_box(each).max(axis=0)) for each in words]


@pytest.mark.parametrize("name", ["hazel_bank", "larkspur_court"])
def test_german_words_stay_on_the_paper(name: str) -> None:
    with told_in("de"):
        sheets = draw_sheets(_designed(name))
    assert {sheet.language for sheet in sheets} == {"de"}
    off = [
        (sheet.name, words)
        for sheet in sheets
        for words, left, low, right, high in _boxes(sheet)
        if left < 0 or low < 0 or right > sheet.paper[0] or high > sheet.paper[1]
    ]
    assert off == []
