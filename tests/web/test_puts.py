"""What is put into the course: the sums of its lengths and falls stay, whichever run has its length left open.

The promise is that of every edit of the course, read from job.toml with the standard library.
"""

import tomllib
from pathlib import Path
from typing import Any

import pytest

from beckwright.base.errors import JobError
from beckwright.job.read import read_job_text
from beckwright.web.desk.opened import edited
from beckwright.web.desk.puts import offers, put_in

EXAMPLES = Path(__file__).parents[2] / "examples"
HAZEL = EXAMPLES / "hazel_bank"


def reaches(text: str) -> list[dict[str, Any]]:
    listed: list[dict[str, Any]] = tomllib.loads(text)["course"]["reaches"]
    return listed


def fall(text: str) -> float:
    return sum(reach.get("fall_mm", 0.0) + reach.get("drop_mm", 0.0) for reach in reaches(text))


def offered(text: str, kind: str, at: float) -> dict[str, Any]:
    return {field["key"]: field["value"] for field in offers(text, at)["fields"][kind]}


@pytest.fixture(params=["closed", "this run open", "another run open"])
def text(request: pytest.FixtureRequest) -> str:
    """The example, and the same with the length of one run left out: of run 2, where things are put, or of run 4."""
    written = (HAZEL / "job.toml").read_text(encoding="utf-8")
    gone = {"closed": "", "this run open": "length_m = 4.0\n", "another run open": "length_m = 3.2\n"}[request.param]
    return written.replace(gone, "", 1) if gone else written


@pytest.mark.parametrize("kind", ["step", "pool", "sill"])
def test_sums_stay_and_the_job_can_be_read(text: str, kind: str) -> None:
    new = edited(text, put_in(text, kind, 7.5, offered(text, kind, 7.5)))
    assert fall(new) == pytest.approx(fall(text))
    given = [sum(reach.get("length_m", 0.0) for reach in reaches(each)) for each in (text, new)]
    resting = [
        [reach for reach in reaches(each) if reach["kind"] == "run" and "length_m" not in reach] for each in (text, new)
    ]
    assert len(resting[0]) == len(resting[1]), "a length left open stays open"
    if not resting[0]:
        assert given[1] == pytest.approx(given[0])
    parts = reaches(new)[3:-6]
    if all("length_m" in part for part in parts if part["kind"] == "run"):
        assert sum(part.get("length_m", 0.0) for part in parts) == pytest.approx(4.0), "only this run gives way"
    assert reaches(new)[-4:] == reaches(text)[-4:], "nothing further down is touched"
    read_job_text(new, HAZEL)


def test_a_new_step_is_like_the_nearest(text: str) -> None:
    nearest = reaches(text)[4]
    assert offered(text, "step", 8.0)["lip_width_mm"] == nearest["lip_width_mm"]
    assert offered(text, "step", 8.0)["lip"] == nearest["lip"]


def test_sills_of_a_parted_run_stay_where_they_are(text: str) -> None:
    """Chainages of sills, before and after: 5.5 m is the head of the run."""
    sills = text.replace("fall_mm = 260\n", "fall_mm = 260\nsills_m = [0.5, 3.0]\n", 1)
    new = reaches(edited(sills, put_in(sills, "step", 7.5, offered(sills, "step", 7.5))))
    assert (new[3]["sills_m"], new[5]["sills_m"]) == ([0.5], [1.0])


@pytest.mark.parametrize(
    ("kind", "at", "values"),
    [
        ("pool", 9.3, {"length_m": 1.0, "width_mm": 900, "depth_mm": 150}),
        ("step", 7.5, {"drop_mm": 400, "lip_width_mm": 600, "lip": "round edge"}),
        ("pool", 7.5, {"width_mm": 900, "depth_mm": 150}),
        ("weir", 7.5, {}),
        ("step", 5.0, {"drop_mm": 50, "lip_width_mm": 600, "lip": "round edge"}),
        ("step", 40.0, {"drop_mm": 50, "lip_width_mm": 600, "lip": "round edge"}),
    ],
)
def test_what_has_no_room_is_refused(kind: str, at: float, values: dict[str, Any]) -> None:
    """No run left, more than the run falls, a length missing, another kind, in a pool, off the course."""
    written = (HAZEL / "job.toml").read_text(encoding="utf-8")
    with pytest.raises(JobError) as refused:
        put_in(written, kind, at, values)
    assert all(problem.found and problem.rule and problem.remedy for problem in refused.value.problems)
