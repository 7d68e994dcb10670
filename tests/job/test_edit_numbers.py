"""Numbers changed where they stand, held against the library that reads and writes TOML with its layout."""

import tomllib
from typing import Any

import pytest
import tomlkit
from hypothesis import given
from hypothesis import strategies as st

from beckwright.job.edit.numbers import spots_of
from beckwright.job.edit.rewrite import Insert, Put, Rewrite, numbers_put, rewrite
from beckwright.job.wording.keylines import Path

NUMBERS = st.one_of(
    st.integers(-10_000, 10_000).map(str),
    st.decimals(-10_000, 10_000, places=3, allow_nan=False).map(str),
    st.sampled_from(["+3", "-0.0", "0", "7.0", "+0.50"]),
)
SPACE = st.sampled_from(["", " ", "  ", "\n  ", " \n"])
NEW = st.one_of(
    st.integers(-1000, 1000), st.floats(-1000, 1000), st.floats(-1000, 1000).map(lambda each: round(each, 3))
)


@st.composite
def lines(draw: st.DrawFn) -> tuple[str, int]:
    """A list of points, spaced as people space them, and how many points are in it."""
    points = draw(st.lists(st.tuples(NUMBERS, NUMBERS), min_size=1, max_size=5))
    space = [draw(SPACE) for _ in range(4)]
    rows = f",{space[0]}".join(f"[{space[1]}{x}, {y}{space[2]}]" for x, y in points)
    comma = draw(st.sampled_from(["", ","]))
    return f"line_m = [{space[3]}{rows}{comma}{space[0]}]", len(points)


def by_the_library(text: str, place: tuple[Any, ...], held: float) -> str:
    document: Any = tomlkit.parse(text)
    *way, last = place
    holder = document
    for part in way:
        holder = holder[part]
    before = holder[last].unwrap()
    if isinstance(held, float) and held.is_integer() and (isinstance(before, int) or str(last).endswith("_mm")):
        held = int(held)
    if before != held or type(before) is not type(held):
        holder[last] = held
    return tomlkit.dumps(document)


@given(line=lines(), held=st.tuples(NEW, NEW), data=st.data())
def test_a_point_of_a_line(line: tuple[str, int], held: tuple[float, float], data: st.DataObject) -> None:
    text, count = f"{line[0]}\n", line[1]
    point = data.draw(st.integers(0, count - 1))
    assert len(spots_of(text)) == 2 * count
    puts = [Put(path=("line_m", point, axis), held=each) for axis, each in enumerate(held)]
    expected = by_the_library(by_the_library(text, ("line_m", point, 0), held[0]), ("line_m", point, 1), held[1])
    assert rewrite(text, puts) == expected
    assert repr(numbers_put(text, tomllib.loads(text), puts)) == repr(tomllib.loads(expected))


@given(
    key=st.sampled_from(["length_m", "fall_mm", "  width_mm", "a.b_mm"]),
    sign=st.sampled_from(["=", " = ", "   =  "]),
    number=NUMBERS,
    held=NEW,
)
def test_one_number(key: str, sign: str, number: str, held: float) -> None:
    text, path = f"{key}{sign}{number}\n", tuple(key.strip().split("."))
    assert list(spots_of(text)) == [()]
    assert rewrite(text, [Put(path=path, held=held)]) == by_the_library(text, path, held)


@pytest.mark.parametrize(
    "text",
    [
        "length_m = 4.5  # paced",
        "line_m = [\n  [1.0, 2.0],  # the source\n]",
        'names = ["1", "2"]',
        "start = 2026-09-28",
        "large = 1_000",
        "small = 1e-3",
        "sure = true",
        '"a=1" = 5',
        "row = { a = 1 }",
    ],
)
def test_what_is_more_than_numbers_is_left_to_the_library(text: str) -> None:
    assert spots_of(text) == {}


ROW = """
name = "upper"
open = true
began = 2026-09-01
line_m = [[0.0, 1], [2.5, 3]]
[[row]]
width_mm = 600
fall_mm = 12.5
"""


@pytest.mark.parametrize(
    ("path", "held"),
    [(("line_m", 1, 1), 4.0), (("row", 0, "width_mm"), 700.0), (("row", 0, "fall_mm"), 0.1), (("line_m", 0, 0), 7)],
)
def test_what_a_text_holds_with_a_number_put_for_a_number(path: Path, held: float) -> None:
    before = tomllib.loads(ROW)
    put = numbers_put(ROW, before, [Put(path=path, held=held)])
    assert repr(put) == repr(tomllib.loads(rewrite(ROW, [Put(path=path, held=held)])))
    assert before == tomllib.loads(ROW)


@pytest.mark.parametrize(
    "change",
    [
        Put(path=("open",), held=1),
        Put(path=("name",), held=2.0),
        Put(path=("began",), held=3),
        Put(path=("line_m", 2, 0), held=1.0),
        Put(path=("line_m", 0), held=1.0),
        Put(path=("row", 0, "drop_mm"), held=5),
        Put(path=("row", 0, "fall_mm"), held=None),
        Put(path=("row", 0, "fall_mm"), held=True),
        Put(path=("name", "upper"), held=2),
        Insert(path=("line_m",), number=1, held=[1.0, 1.0]),
    ],
)
def test_what_a_text_holds_after_more_than_that_is_read_from_it(change: Rewrite) -> None:
    assert numbers_put(ROW, tomllib.loads(ROW), [change]) is None


def test_a_number_whose_statement_is_not_found_is_read_from_the_text() -> None:
    """Wherever it stands, writing it anew would put a second one beside it: only the parser refuses that."""
    held = {"row": [{"width_mm": 600}], "other": {"depth": 2}}
    assert numbers_put("[[row]]\nwidth_mm = 600\n", held, [Put(path=("other", "depth"), held=3)]) is None
