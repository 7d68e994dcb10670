"""What the pages are told, held against the design it is told of."""

import json
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from beckwright.compose import Design, design
from beckwright.figures import figures_of
from beckwright.job.read import read_job
from beckwright.web.desk.state import state
from tests.web.conftest import Page

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").iterdir())

CONTRACT = {
    "": "revision title doubts flows course ground trees services boundaries reservoir hose answers findings units",
    "course": "line smooth length stations reaches lips",
    "course.stations": (
        "chainage x y ground dig liner bed edge_left edge_right settled_left settled_right still water width"
    ),
    "ground": "hull contours",
    "reservoir": "corners levels",
    "hose": "line",
}
"""What server and pages have agreed on; more may be told, never less."""


@pytest.fixture(scope="module", params=EXAMPLES, ids=lambda path: path.name)
def told(request: pytest.FixtureRequest) -> tuple[Design, dict[str, Any]]:
    designed = design(read_job(request.param))
    return designed, json.loads(json.dumps(state(designed, revision=7), allow_nan=False))


def test_all_that_was_agreed_is_told(told: tuple[Design, dict[str, Any]]) -> None:
    for where, names in CONTRACT.items():
        held: Any = told[1]
        for part in where.split(".") if where else ():
            held = held[part]
        assert set(names.split()) <= set(held), where
    assert told[1]["revision"] == 7


def test_stations_are_arrays_of_one_length(told: tuple[Design, dict[str, Any]]) -> None:
    stations, flows = told[1]["course"]["stations"], told[1]["flows"]
    arrays = [each for name, each in stations.items() if name != "water"]
    arrays += [band for water in stations["water"].values() for band in water.values()]
    assert {len(each) for each in arrays} == {len(told[0].course.stations.chainage)}
    assert [flow["name"] for flow in flows] == list(stations["water"])


def test_levels_are_the_designs_to_a_tenth_of_a_millimetre(told: tuple[Design, dict[str, Any]]) -> None:
    designed, stations = told[0], told[1]["course"]["stations"]
    for name in ("ground", "dig", "liner", "bed", "edge_left", "edge_right", "settled_left", "settled_right"):
        np.testing.assert_allclose(stations[name], getattr(designed.course.stations, name), atol=5.1e-5)
    for row, water in enumerate(stations["water"].values()):
        for band, name in ((0, "low"), (2, "high")):
            np.testing.assert_allclose(water[name], designed.water.level[band, row], atol=5.1e-5)


def test_water_stands_in_order_and_inside_what_holds_it(told: tuple[Design, dict[str, Any]]) -> None:
    """The three laws keep their order, and no dig lies above its lining."""
    stations = told[1]["course"]["stations"]
    assert np.all(np.subtract(stations["liner"], stations["dig"]) >= 0)
    for water in stations["water"].values():
        assert np.all(np.subtract(water["high"], water["low"]) >= 0)


def test_the_lining_is_drawn_as_far_out_as_it_reaches(told: tuple[Design, dict[str, Any]]) -> None:
    """Distance on plan from the line to its edge, by Pythagoras."""
    stations = told[1]["course"]["stations"]
    middle = np.column_stack([stations["x"], stations["y"]])
    for side in ("left", "right"):
        out = np.hypot(*(np.array(stations[side]) - middle).T)
        np.testing.assert_allclose(out, stations[f"to_{side}"], atol=3e-4)


def test_answers_are_figures_of_the_design(told: tuple[Design, dict[str, Any]]) -> None:
    named = {figure.name: figure for figure in figures_of(told[0])}
    flows = {"", *told[0].water.names}
    answers = told[1]["answers"]
    assert {answer["flow"] for answer in answers} == flows
    for answer in answers:
        figure = named[answer["name"]]
        assert (answer["label"], answer["unit"], answer["grade"]) == (figure.label, figure.unit, figure.grade.value)
        assert answer["amount"] is None or answer["amount"] == pytest.approx(figure.amount, rel=1e-8)
        assert answer["words"]


def test_findings_are_told_whole(told: tuple[Design, dict[str, Any]]) -> None:
    findings = told[1]["findings"]
    assert len(findings) == len(told[0].findings)
    assert {each["severity"] for each in findings} <= {"note", "caution", "fail"}
    assert [f"{each['place']}. {each['says']} {each['cure']}" for each in findings] == list(map(str, told[0].findings))


def test_the_job_as_opened_is_the_job_in_the_folder(client: Page, folder: Path) -> None:
    answer = client.get("/api/state")
    assert answer.status_code == 200
    told = answer.json()
    expected = json.loads(json.dumps(state(design(read_job(folder)), revision=told["revision"])))
    assert {name: told[name] for name in expected} == expected
