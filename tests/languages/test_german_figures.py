"""German of the calculation: every figure of the four jobs, how it was worked, and the rows that are judgement.

A text passes if phrases hold all of it but what people of the job wrote and what is a code, and if no English word is
left in what it becomes: a hole for a name would let any word through.
"""

import csv
import importlib
import pkgutil
import re
import tomllib
from collections.abc import Iterable, Iterator
from functools import cache
from typing import Any

import pytest

from beckwright import equations, tables
from beckwright.base.figures import Figure
from beckwright.base.published import REGISTER, Grade
from beckwright.base.tabled import Tabled
from beckwright.base.words import both
from beckwright.cures.effect import _WORST
from beckwright.figures import figures_of, figures_of_works
from beckwright.figures.spoken import came, credited
from beckwright.figures.ten import ten_that_matter
from beckwright.languages import Said, phrasebook, told_in
from beckwright.tables.plants import PLANTS
from beckwright.tables.sources import SOURCES

from .collect import on_sheets
from .test_german import EXAMPLES, NAMES, _designed, _matter
from .test_german_rooms import ENGLISH

CODE = re.compile(r"\b[a-z][\w()'/-]*(?:\.[\w()'/-]+)+|[A-Z]+_[A-Z_]+|[A-Z]{4,}|[a-z]+(?:_[a-z0-9]+)+")
"""A figure's name, a key of the job, a file, a constant or a function: the same in every language."""
BEYOND = re.compile(r"\b(?:but|no|all|one|two|than|where|what|when|who|has|have|may|if|told|across|along|every|its)\b")
"""More words no German text holds, besides ``ENGLISH``."""


@cache
def _figures(name: str) -> tuple[Figure, ...]:
    matter = _matter(name)
    return (*figures_of(matter.design), *figures_of_works(matter.works))


@cache
def _given(name: str) -> frozenset[str]:
    """Every text people of a job wrote, as one piece: a key of theirs or a word out of one is none."""
    held = list(_texts(tomllib.loads((EXAMPLES / name / "job.toml").read_text(encoding="utf-8"))))
    for file in (EXAMPLES / name).glob("*.csv"):
        with file.open(encoding="utf-8", newline="") as opened:
            held += [cell for row in csv.reader(opened) for cell in row]
    return frozenset(each.lower() for each in held if re.search("[A-Za-z]{2}", each))


def _texts(held: Any) -> Iterator[str]:
    if isinstance(held, dict):
        # Names of beds, loads and flows are keys.
        yield from (key for key in held if " " in key or key in ("pebbles", "full", "party"))
        for each in held.values():
            yield from _texts(each)
    elif isinstance(held, list):
        for each in held:
            yield from _texts(each)
    elif isinstance(held, str):
        yield held


def _left(texts: Iterable[str], given: Iterable[str] = ()) -> dict[str, tuple[str, ...]]:
    """Texts with what in them is English still."""
    book, names, found = phrasebook("de"), sorted(given, key=len, reverse=True), {}
    latin = [plant.name.lower() for plant in PLANTS]
    for words in sorted(set(texts)):
        missing = [each for each in book.missing(words) if each.lower() not in names and not CODE.fullmatch(each)]
        said = CODE.sub("", book.say(words)).lower()
        for each in (*names, *latin):
            said = said.replace(each, "")
        english = (*ENGLISH.findall(said), *BEYOND.findall(said))
        if missing or english:
            found[words] = (*missing, *english)
    return found


@pytest.mark.parametrize("name", NAMES)
def test_labels_are_german(name: str) -> None:
    assert _left({figure.label for figure in _figures(name)}, _given(name)) == {}


@pytest.mark.parametrize("name", NAMES)
def test_notes_and_grades_are_german(name: str) -> None:
    texts = {text for figure in _figures(name) for text in (figure.note, figure.grade.value)}
    assert _left(texts, _given(name)) == {}


@pytest.mark.parametrize("name", NAMES)
def test_what_a_number_came_from_is_german(name: str) -> None:
    """But for publications, which stay as they call themselves."""
    figures = _figures(name)
    sources = {figure.source.partition(", ") for figure in figures}
    ours = {place if key == "definition" else f"{key}{comma}{place}" for key, comma, place in sources if _ours(key)}
    codes = {figure.name for figure in figures} | {f"job: {each}" for each in _given(name)}
    comes = {item.comes for figure in figures for item in figure.inputs} - codes
    texts = {re.sub(r"^job: (?:(?=[\w.-]+$)|(?:beds|flows)\.([^.]+).*)", r"\1", each) for each in ours | comes}
    assert _left(texts, _given(name)) == {}


def _ours(key: str) -> bool:
    return key == "definition" or key not in SOURCES


@pytest.mark.parametrize("name", NAMES)
def test_amounts_are_german(name: str) -> None:
    """Their units are: a day and money have words."""
    texts = {both(each, figure.unit) for figure in _figures(name) for each in (figure.low, figure.amount, figure.high)}
    assert _left(texts) == {}


@pytest.mark.parametrize("name", NAMES)
def test_ten_that_matter_are_german(name: str) -> None:
    assert _left({text for told in ten_that_matter(_designed(name)) for text in told}, _given(name)) == {}


def test_the_worst_of_many_is_german() -> None:
    assert _left(label.format(flow="full") for label in _WORST.values()) == {}


def test_equations_are_german() -> None:
    """What each gives and what its letters stand for; formulas stay."""
    for module in pkgutil.walk_packages(equations.__path__, "beckwright.equations."):
        importlib.import_module(module.name)
    texts = {each.summary for each in REGISTER.values()}
    texts |= {symbol.meaning for each in REGISTER.values() for symbol in each.symbols}
    assert len(texts) > 500
    assert _left(texts) == {}


def test_rows_that_are_judgement_are_german() -> None:
    """The reason of every row of the tables that has no publication behind it."""
    rows = {row.place for row in _rows() if row.grade in (Grade.PRACTICE, Grade.ASSUMED) and not row.source}
    assert len(rows) > 300
    assert _left(rows) == {}


def _rows() -> Iterator[Tabled]:
    for module in pkgutil.walk_packages(tables.__path__, "beckwright.tables."):
        for name, held in vars(importlib.import_module(module.name)).items():
            if not name.startswith("__"):
                yield from _tabled(held)


def _tabled(held: Any) -> Iterator[Tabled]:
    if isinstance(held, Tabled):
        yield held
    elif isinstance(held, dict | list | tuple):
        for each in held.values() if isinstance(held, dict) else held:
            yield from _tabled(each)
    elif hasattr(held, "__dataclass_fields__") and not isinstance(held, type):
        for field in held.__dataclass_fields__:
            yield from _tabled(getattr(held, field))


@pytest.mark.parametrize("name", NAMES)
def test_the_calculation_is_german(name: str) -> None:
    """What its sheets say themselves, and what they were given said already."""
    with told_in("de"):
        told = on_sheets(_matter(name), {"calculation"})["calculation"]
    assert _left({each for each in told if not isinstance(each, Said)}, _given(name)) == {}
    said = {each for each in told if isinstance(each, Said)}
    assert len(said) > 1000
    assert not [each for each in said if re.match(r"Visible depth|Flow |Length of|Water ", each)]


def test_a_source_keeps_its_name_and_a_key_its_own() -> None:
    with told_in("de"):
        assert credited("definition, velocity times area") == "Definition, Geschwindigkeit mal Fläche"
        assert credited("swamee-jain-1976, explicit friction factor") == "swamee-jain-1976, explicit friction factor"
        assert came("job: beds.pebbles.voids") == "Projekt: beds.pebbles.voids"
        assert came("job: course") == "Projekt: course"
        assert came("job: pool length and width") == "Projekt: Länge und Breite des Beckens"
        assert came("water.full.run_1.depth") == "water.full.run_1.depth"
    assert came("job: beds.pebbles.voids") == "job: beds.pebbles.voids"
