"""German: held by phrases as far as this file says, one word for one thing, and with room on the sheets."""

import re
from functools import cache
from pathlib import Path

import pytest

from beckwright import Design, design, read_job
from beckwright.beside import Beside
from beckwright.compose import Works
from beckwright.job.written.site import Language
from beckwright.languages import LANGUAGES, phrasebook, rooms, told_in
from beckwright.papers import draw_sheets
from beckwright.papers.drawing import Sheet
from beckwright.papers.parts import Matter
from beckwright.tables.plants import PLANTS
from tests.papers.walked import off_the_frame, over_each_other, printed

from .collect import on_sheets

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = ("hazel_bank", "larkspur_court", "fennymoor_park", "withy_lane")
SAID = {
    *("plan", "ground", "level story", "start and stop", "dig", "setting out", "sections", "reservoir", "lining"),
    *("supply", "planting", "programme", "order", "estimate", "since the quote", "running cost", "pump and hose"),
    *("picture", "method and hazards", "trees", "build", "lip cards", "care card", "owner's pages", "as built"),
}
"""Parts of the set that are German throughout. The calculation is said part by part: ``test_german_figures``."""
KEPT = {"hose.length.spiral_38"}
"""Texts that stay: names of figures, of files and of keys."""


@cache
def _designed(name: str) -> Design:
    return design(read_job(EXAMPLES / name))


@cache
def _matter(name: str) -> Matter:
    """What the sheets of an example are drawn from."""
    designed = _designed(name)
    return Matter(designed, Works(designed), Beside(hands=0))


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
    for told in on_sheets(_matter(name), SAID).values():
        for words in sorted(told):
            missing = [piece for piece in book.missing(words) if not _theirs(name, piece)]
            if missing:
                left[words] = missing
    assert left == {}


@pytest.mark.parametrize("name", NAMES)
def test_findings_are_german_throughout(name: str) -> None:
    book = phrasebook("de")
    left = {
        words: missing
        for finding in _matter(name).findings
        for words in (finding.place, finding.says, finding.cure)
        if (missing := [piece for piece in book.missing(words) if not _theirs(name, piece)])
    }
    assert left == {}


def test_one_word_for_one_thing() -> None:
    """Each term of the glossary is always the same German word; the list is at the head of ``words.toml``."""
    wrong = []
    for english, own in phrasebook("de").phrases.items():
        for term, german in rooms("de")["words"]["glossary"].items():
            # A key such as reservoir.length_m has the word in it and is none.
            named = re.search(rf"(?<![\w.-]){term}(?![\w-]|\.[\w{{])", english)
            if named and not re.search(german, own, re.IGNORECASE):
                wrong.append((term, english, own))
    assert wrong == []


def test_no_phrase_stands_in_two_rooms() -> None:
    told = [english for room in rooms("de").values() for english in room["phrases"]]
    assert len(told) == len(set(told))


def test_a_job_may_say_every_language_there_is() -> None:
    assert set(Language.__args__) == set(LANGUAGES)


@cache
def _sheets(name: str) -> tuple[Sheet, ...]:
    with told_in("de"):
        return draw_sheets(_designed(name), address="http://192.0.2.7:8000/")


DRAWN = ("hazel_bank", "larkspur_court")
PICTURE = "picture"
"""Its words beside the drawing are held by its own tests."""


@pytest.mark.parametrize("name", DRAWN)
def test_german_words_stay_in_the_frame(name: str) -> None:
    sheets = _sheets(name)
    assert {sheet.language for sheet in sheets} == {"de"}
    assert {sheet.name: off for sheet in sheets if (off := off_the_frame(sheet))} == {}


@pytest.mark.parametrize("name", DRAWN)
def test_german_words_keep_apart(name: str) -> None:
    """As the English ones do; they are a fifth longer."""
    met = {sheet.name: over for sheet in _sheets(name) if sheet.name != PICTURE and (over := over_each_other(sheet))}
    assert met == {}


@pytest.mark.parametrize("name", DRAWN)
def test_german_words_are_not_cut(name: str) -> None:
    said = [sheet for sheet in _sheets(name) if sheet.name != PICTURE]
    cut = {sheet.name: [text.words for text in printed(sheet) if text.words.endswith("…")] for sheet in said}
    assert {sheet: words for sheet, words in cut.items() if words} == {}
