"""Reading a tape book: what may stand in a row, and what is said of one that cannot be read."""

from pathlib import Path

import pytest

from beckwright.base.errors import JobError
from beckwright.survey import read_tapes
from tests.survey.books import TAPES, offset, side, slope, tape, taped


def test_rows_by_what_they_say() -> None:
    book = taped(
        tape("A", "B", 12),
        slope("A", "P", 8.06, 0.4),
        slope("B", "P", 8.94),
        offset("A", "B", "Q", 3, 2, "right"),
        side("A", "B", "P", "left"),
    )
    assert [(one.start, one.end, one.slope, one.fall) for one in book.tapes] == [
        ("A", "B", False, None),
        ("A", "P", True, 0.4),
        ("B", "P", True, None),
    ]
    assert [(one.along, one.left) for one in book.offsets] == [(3, -2)]
    assert [(one.point, one.left) for one in book.sides] == [("Q", False), ("P", True)]


def test_a_level_tape_keeps_its_length_whatever_falls() -> None:
    assert not taped(("A", "B", 12, "level", 0.5)).tapes[0].slope


@pytest.mark.parametrize(
    ("row", "words"),
    [
        ("A,B,,,,,,,", "distance_m is empty"),
        ("A,A,3,,,,,,", "named twice"),
        ("A,B,3,,3.5,,,,", "longer than its fall"),
        ("A,B,3,,,,1,,", "names no point"),
        ("A,B,3,,,P,1,1,left", "stands beside a point"),
        ("A,B,,,,P,1,,left", "one of along_m and offset_m"),
        ("A,B,,,,P,1,1,", "left or right of the line"),
        ("A,B,,,,P,1,1,lift", 'Did you mean "left"'),
        ("A,B,3,sloped,,,,,", 'Did you mean "slope"'),
        ("A,B,,,,P,,,", "side is empty"),
    ],
)
def test_what_is_wrong_with_a_row(tmp_path: Path, row: str, words: str) -> None:
    path = tmp_path / "tapes.csv"
    path.write_text(f"{TAPES}\n{row}\n", encoding="utf-8")
    with pytest.raises(JobError) as caught:
        read_tapes(path)
    assert any(
        str(problem).startswith("tapes.csv line 2:") and words in str(problem) for problem in caught.value.problems
    )


@pytest.mark.parametrize(
    ("marks", "words"),
    [
        ((("A", 0, 0),), "there is one mark"),
        ((("A", 0, 0), ("A", 1, 1)), "stood before"),
        ((("A", 0, 0), ("B", 0, 0)), "lies on"),
        ((("A", 0, "x"), ("B", 0, 0)), "must be a number"),
    ],
)
def test_what_is_wrong_with_marks(marks: tuple[tuple[object, ...], ...], words: str) -> None:
    with pytest.raises(JobError, match=words):
        taped(tape("A", "B", 12), marks=marks)


def test_nothing_to_hang_on() -> None:
    with pytest.raises(JobError, match="no taped length"):
        taped(offset("A", "B", "P", 1, 1, "left"))
