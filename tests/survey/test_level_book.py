"""Reading a level book: the forms a builder writes, and what is said of a book that cannot be read."""

from pathlib import Path

import numpy as np
import pytest

from beckwright.base.errors import JobError
from beckwright.survey import LevelBook, read_level_book
from tests.survey.books import booked


def read(folder: Path, text: str) -> LevelBook:
    path = folder / "levels.csv"
    path.write_text(text, encoding="utf-8")
    return read_level_book(path)


def problems(folder: Path, text: str) -> list[str]:
    with pytest.raises(JobError) as caught:
        read(folder, text)
    return [str(problem) for problem in caught.value.problems]


METRES = "point,back_m,intermediate_m,fore_m,level_m\nBM,1.5,,,100\nA,,1.25,,\nCP,1.75,,0.5,\nBM,,,2.75,\n"


@pytest.mark.parametrize(
    "text",
    [
        METRES.replace(",", ";").replace(".", ","),
        "point\tback_mm\tintermediate_mm\tfore_mm\tlevel_m\nBM\t1500\t\t\t100\nA\t\t1250\t\t\nCP\t1750\t\t500\t\nBM\t\t\t2750\t\n",
        METRES.replace("CP,1.75,,0.5,\n", "CP,,,0.5,\nCP,1.75,,,\n"),
        "# wet\n" + METRES.replace("point,", "Point,"),
    ],
    ids=["decimal comma", "millimetres and tabs", "change point in two rows", "comment"],
)
def test_one_book_in_many_hands(tmp_path: Path, text: str) -> None:
    one, other = read(tmp_path, METRES), read(tmp_path, text)
    assert other.points == one.points == ("BM", "A", "CP", "CP", "BM")
    assert other.kinds == one.kinds == ("back", "intermediate", "fore", "back", "fore")
    assert other.readings == pytest.approx(one.readings)
    assert np.array_equal(one.setups, [0, 0, 0, 1, 1])


def test_last_reading_of_a_run_is_its_fore_sight() -> None:
    """A laser shot round from one place, and the next day from the bench mark again."""
    book = booked(("BM", 1.5, None, None, 100), ("A", None, 1.2, None), ("BM", 1.4, None, None), ("B", None, 1.1, None))
    assert book.kinds == ("back", "fore", "back", "fore")
    assert list(book.runs) == [0, 0, 1, 1]


@pytest.mark.parametrize(
    ("rows", "line", "words"),
    [
        ("BM,1.5,,,\nA,,,1.2,", 2, "the level of"),
        ("BM,,1.5,,100\nA,,,1.2,", 2, "begins with a back sight"),
        ("BM,1.5,,,100\nA,,,,\nB,,,1.0,", 3, "has no reading"),
        ("BM,1.5,,,100\nA,,1.1,1.2,\nB,,,1.0,", 3, "stand together"),
        ("BM,1.5,,,100\nA,1.4,,1.2,", 3, "ends with a back sight"),
        ("BM,1.5,,,100\nCP,,,1.2,\nA,,1.1,,", 4, "there is no back sight"),
        ("BM,1.5,,,100\nCP,,1.2,,\nCP,1.1,,,\nA,,,1,", 4, "whose level is not known"),
        ("BM,1.5,,,100\nBM,1.4,,,\nA,,,1,", 3, "two back sights"),
        ("BM,1.5,,,100\nA,,1.2,,\nBM,,,1.5,101", 4, "A point has one level"),
        ("BM,1500,,,100\nA,,,1.2,", 2, "finite number"),
        ("BM,x,,,100\nA,,,1.2,", 2, "must be a number"),
    ],
)
def test_what_is_wrong_with_a_book(tmp_path: Path, rows: str, line: int, words: str) -> None:
    told = problems(tmp_path, f"point,back_m,intermediate_m,fore_m,level_m\n{rows}\n")
    assert any(one.startswith(f"levels.csv line {line}:") and words in one for one in told), told


def test_all_that_is_wrong_is_said_at_once(tmp_path: Path) -> None:
    told = problems(tmp_path, "point,back_m,intermediate_m,fore_m,level_m\nBM,,1.5,,\nA,,,,\nB,1,,,\n")
    assert len(told) == 5


def test_one_reading_in_two_units(tmp_path: Path) -> None:
    told = problems(tmp_path, "point,back_m,back_mm,fore_m,level_m\nBM,1.5,1500,,100\nA,,,1.2,\n")
    assert ["both filled" in one for one in told] == [True]


def test_lengths_of_sights_are_all_there_or_none(tmp_path: Path) -> None:
    heads = "point,back_m,fore_m,level_m,back_sight_m,fore_sight_m"
    told = problems(tmp_path, f"{heads}\nBM,1.5,,100,20,\nA,1.2,1.3,,,20\nBM,,1.4,,,30\n")
    assert ["back_sight_m is empty" in one for one in told] == [True]


def test_no_book(tmp_path: Path) -> None:
    with pytest.raises(JobError):
        read_level_book(tmp_path / "levels.csv")
