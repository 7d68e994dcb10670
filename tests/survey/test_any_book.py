"""Whatever is typed into a field book, it is read, or refused with problems: nothing else ever comes out."""

import contextlib
import tempfile
from pathlib import Path

import numpy as np
from hypothesis import given
from hypothesis import strategies as st

from beckwright.base.errors import JobError
from beckwright.survey import fix_points, join, level_findings, read_level_book, read_tapes, reduce_book, tape_findings
from tests.survey.books import LEVELS, TAPES, text

names = st.sampled_from("ABCP")
amounts = st.sampled_from([None, 0, 0.5, 3, 4, 5, -1.2, "x", "1e9"])
level_rows = st.lists(st.tuples(names, amounts, amounts, amounts, amounts, amounts, amounts), min_size=1, max_size=8)
levelled = st.tuples(names, *[st.sampled_from([None, 1.5]) for _ in range(3)], st.sampled_from([None, 100.0]))
lengths = st.sampled_from([None, 3, 4, 5, 7.0710678, 10])
tape_rows = st.lists(
    st.tuples(
        names,
        names,
        lengths,
        st.sampled_from([None, "slope", "level", "steep"]),
        st.sampled_from([None, None, 0.5]),
        st.one_of(st.none(), names),
        lengths,
        lengths,
        st.sampled_from([None, "left", "right"]),
    ),
    min_size=1,
    max_size=10,
)
tied = st.lists(st.tuples(names, names, st.sampled_from([3, 4, 5, 7.0710678, 10])), min_size=1, max_size=10)
MARKS = "point,x_m,y_m\nA,0,0\nB,5,0\n"


def written(folder: str, name: str, content: str) -> Path:
    path = Path(folder) / name
    path.write_text(content, encoding="utf-8")
    return path


@given(st.one_of(level_rows, st.lists(levelled, min_size=2, max_size=6)))
def test_any_level_book(rows: list[tuple[object, ...]]) -> None:
    with tempfile.TemporaryDirectory() as folder, contextlib.suppress(JobError):
        reduced = reduce_book(read_level_book(written(folder, "levels.csv", text(LEVELS, rows))))
        assert np.isfinite(reduced.adjusted).all()
        assert np.isfinite(reduced.sigmas).all()
        assert all(str(finding) for finding in level_findings(reduced))


@given(st.one_of(tape_rows, tied), st.booleans())
def test_any_tape_book(rows: list[tuple[object, ...]], marked: bool) -> None:
    with tempfile.TemporaryDirectory() as folder, contextlib.suppress(JobError):
        marks = written(folder, "marks.csv", MARKS) if marked else None
        fixed = fix_points(read_tapes(written(folder, "tapes.csv", text(TAPES, rows)), marks))
        for numbers in (fixed.places, fixed.errors, fixed.standardized, fixed.gross):
            assert np.isfinite(numbers).all()
        assert all(str(finding) for finding in tape_findings(fixed))
        reduced = reduce_book(
            read_level_book(written(folder, "levels.csv", "point,back_m,fore_m,level_m\nA,1,,9\nB,,1,\n"))
        )
        assert all(one.point in fixed.names for one in join(reduced, fixed).points)


@given(st.binary(max_size=200))
def test_any_bytes(content: bytes) -> None:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "book.csv"
        path.write_bytes(content)
        for read in (read_level_book, read_tapes):
            with contextlib.suppress(JobError):
                read(path)
