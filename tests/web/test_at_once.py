"""Two people at one line: what both may do at once, and what is put before one of them.

What must come out is told by the two changes themselves, read from the job folder with the standard library, and by
geometry: the reaches of a course add up to its line.
"""

import tomllib
from itertools import pairwise
from math import dist
from pathlib import Path
from typing import Any
from uuid import uuid4

import pytest

from tests.web.conftest import Page

MOVES = {2: (11.10, 7.10), 5: (6.95, 5.45), 6: (6.30, 4.20), 9: (2.75, 2.05)}
"""New places of points, by number from 0; 5 and 6 are neighbours, 9 lies in another run than 2."""


def course(folder: Path) -> Any:
    return tomllib.loads((folder / "job.toml").read_text(encoding="utf-8"))["course"]


def lengths(folder: Path) -> list[float]:
    return [reach.get("length_m", 0.0) for reach in course(folder)["reaches"]]


def line_long(folder: Path) -> float:
    line = course(folder)["line_m"]
    return sum(dist(one, other) for one, other in pairwise(line))


def move(point: int, by: float = 0.0) -> dict[str, Any]:
    x, y = MOVES[point]
    return {"do": "move point", "point": point, "x_m": x + by, "y_m": y}


def kept(client: Page, based_on: int, *edits: dict[str, Any]) -> int:
    body = {"mark": str(uuid4()), "based_on": based_on, "edits": list(edits)}
    return client.post("/api/edit", json=body).status_code


@pytest.fixture
def based_on(client: Page) -> int:
    return int(client.get("/api/state").json()["revision"])


@pytest.mark.parametrize("other", [5, 9])
def test_two_different_points_both_stand_and_the_reaches_add_up_to_the_line(
    client: Page, folder: Path, based_on: int, other: int
) -> None:
    missing = line_long(folder) - sum(lengths(folder))
    before = course(folder)["line_m"]
    assert kept(client, based_on, move(2)) == 200
    assert kept(client, based_on, move(other)) == 200
    after = course(folder)["line_m"]
    assert after == [list(MOVES[at]) if at in (2, other) else point for at, point in enumerate(before)]
    assert line_long(folder) - sum(lengths(folder)) == pytest.approx(missing, abs=0.002)


def test_it_is_the_same_line_whoever_comes_first(client: Page, folder: Path, based_on: int) -> None:
    results = []
    for order in ((2, 9), (9, 2)):
        for point in order:
            assert kept(client, based_on, move(point)) == 200
        results.append((course(folder)["line_m"], [round(each, 2) for each in lengths(folder)]))
        for _ in order:
            client.post("/api/undo", json={"mark": str(uuid4())})
        based_on = client.get("/api/state").json()["revision"]
    assert results[0] == results[1]


def test_two_points_in_one_run_both_lengthen_it(client: Page, folder: Path, based_on: int) -> None:
    """Each was told the run's length without the other's point: laid over each other the texts would lose one."""
    stood, line_stood = lengths(folder), line_long(folder)
    one, other = (
        {"do": "move point", "point": 1, "x_m": 12.4, "y_m": 7.6},
        move(2) | {"point": 3, "x_m": 9.6, "y_m": 6.2},
    )
    assert kept(client, based_on, one) == 200
    first = lengths(folder)
    assert kept(client, based_on, other) == 200
    line = course(folder)["line_m"]
    assert [line[1], line[3]] == [[12.4, 7.6], [9.6, 6.2]]
    assert sum(lengths(folder)) - sum(first) != pytest.approx(0.0, abs=0.001)
    assert sum(lengths(folder)) - sum(stood) == pytest.approx(line_long(folder) - line_stood, abs=0.002)


@pytest.mark.parametrize(
    ("theirs", "ours"),
    [
        ([move(5)], [move(5, 0.1)]),
        ([move(5)], [move(6)]),
        ([{"do": "take point", "point": 9}], [move(2)]),
        ([{"do": "add point", "after": 8, "x_m": 3.5, "y_m": 2.0}], [move(2)]),
        ([move(2)], [{"do": "take point", "point": 9}]),
        ([move(2), {"do": "set value", "key": "course.reaches.4.width_mm", "value": 650}], [move(9)]),
        ([move(2)], [move(9), {"do": "set value", "key": "course.reaches.4.fall_mm", "value": 262}]),
        ([move(2)], [{"do": "set value", "key": "course.line_m.10", "value": [2.75, 2.05]}]),
    ],
)
def test_what_two_people_drew_together_is_put_before_the_second(
    client: Page, folder: Path, based_on: int, theirs: list[Any], ours: list[Any]
) -> None:
    """The same point, a neighbour, a point put in or taken out, more than lengths of reaches, a point written whole."""
    assert kept(client, based_on, *theirs) == 200
    stands = (folder / "job.toml").read_bytes()
    assert kept(client, based_on, *ours) == 409
    assert (folder / "job.toml").read_bytes() == stands
