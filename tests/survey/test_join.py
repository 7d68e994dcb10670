"""Levels and places joined: by name, nothing written over, nothing joined that does not close."""

from pathlib import Path

import numpy as np
import pytest

from beckwright.base.errors import JobError
from beckwright.job.tables import read_survey
from beckwright.survey import FixedPoints, ReducedBook, fix_points, join, reduce_book, write_joined
from tests.survey.books import booked, offset, side, tape, taped

HEADS = "point,back_m,intermediate_m,fore_m,level_m,code,breakline"


def levels(closing: float = 1.600) -> ReducedBook:
    return reduce_book(
        booked(
            ("A", 1.500, None, None, 100.0, "mark", None),
            ("P", None, 1.200, None, None, '"bank, top"', "top"),
            ("CP", 1.400, None, 1.300),
            ("Q", None, 1.250, None, None, None, "top"),
            ("A", None, None, closing),
            heads=HEADS,
        )
    )


def places(slip: float = 0.0) -> FixedPoints:
    marks = (("A", 0, 0), ("B", 12, 0), ("C", 0, 9))
    ties = [tape("A", "P", 5.0), tape("B", "P", 97**0.5 + slip), tape("C", "P", 34**0.5), side("A", "B", "P", "left")]
    return fix_points(taped(*ties, offset("A", "B", "Q", 6, 2, "right"), marks=marks))


def test_points_that_have_both() -> None:
    joined = join(levels(), places())
    assert [(one.point, one.code, one.breakline) for one in joined.points] == [
        ("A", "mark", ""),
        ("P", "bank, top", "top"),
        ("Q", "", "top"),
    ]
    assert [(one.x, one.y, one.level) for one in joined.points] == [
        pytest.approx((0, 0, 100.0)),
        pytest.approx((3, 4, 100.3)),
        pytest.approx((6, -2, 100.35)),
    ]
    assert joined.without_place == ("CP",)
    assert joined.without_level == ("B", "C")


def test_what_is_written_is_what_a_job_reads(tmp_path: Path) -> None:
    write_joined(join(levels(), places()), tmp_path / "survey.csv")
    problems: list[object] = []
    survey = read_survey(tmp_path / "survey.csv", problems)  # type: ignore[arg-type]
    assert problems == []
    assert survey is not None
    assert survey.points == pytest.approx(np.array([[0, 0], [3, 4], [6, -2]]), abs=5e-4)
    assert survey.levels == pytest.approx(np.array([100.0, 100.3, 100.35]), abs=5e-4)
    assert survey.codes == ("mark", "bank, top", "")
    assert survey.breaklines == ((1, 2),)


def test_nothing_is_written_over(tmp_path: Path) -> None:
    (tmp_path / "survey.csv").write_text("mine", encoding="utf-8")
    with pytest.raises(JobError, match="there already"):
        write_joined(join(levels(), places()), tmp_path / "survey.csv")
    assert (tmp_path / "survey.csv").read_text(encoding="utf-8") == "mine"


def test_no_folder(tmp_path: Path) -> None:
    with pytest.raises(JobError, match="cannot be written"):
        write_joined(join(levels(), places()), tmp_path / "nowhere" / "survey.csv")


def test_what_does_not_close_is_not_joined() -> None:
    with pytest.raises(JobError, match="2 problems"):
        join(levels(closing=1.700), places(slip=0.5))
