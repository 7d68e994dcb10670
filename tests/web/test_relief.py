"""The view in space holds what the design holds: the same ground, the same dig, the same water."""

from pathlib import Path
from typing import Any

import numpy as np
import pytest
import shapely

from beckwright import design, read_job
from beckwright.stages.surroundings import pit_corners
from beckwright.stages.surroundings.works import footprint
from beckwright.web.relief import relief
from beckwright.web.relief.relief import relief_told
from tests.web.conftest import EXAMPLES, Page

NAMES = ("hazel_bank", "larkspur_court", "fennymoor_park", "withy_lane")


def _areas(solid: dict[str, Any]) -> float:
    points = np.array(solid["points"])[:, :2]
    return float(shapely.area(shapely.polygons(points[np.array(solid["triangles"])])).sum())


@pytest.mark.parametrize("name", NAMES)
def test_ground_and_dig_fill_the_survey_between_them(name: str) -> None:
    made = design(read_job(EXAMPLES / name))
    told = relief_told(made, revision=1)
    left, right = footprint(made.job, made.course).feet
    dug = shapely.union_all(
        [shapely.make_valid(shapely.Polygon([*left, *right[::-1]])), shapely.Polygon(pit_corners(made.job.reservoir))]
    )
    surveyed = shapely.Polygon(made.ground.hull)
    # Law of areas: ground as drawn and what is dug inside the survey are the survey. Points are told to 1 mm.
    assert _areas(told["solids"][0]) == pytest.approx(surveyed.area - dug.intersection(surveyed).area, rel=1e-4)


@pytest.mark.parametrize("name", NAMES)
def test_everything_lies_at_its_level(name: str) -> None:
    made = design(read_job(EXAMPLES / name))
    told = relief_told(made, revision=1)
    for row, flow in enumerate(made.water.names):
        levels = np.array(told["water"][flow]["points"])[: len(made.course.stations.chainage), 2]
        assert levels == pytest.approx(made.water.level[1, row], abs=0.0006)
    for each in (*told["solids"], *told["lines"]):
        assert np.isfinite(np.array(each["points"])).all()
    pit = next(each for each in told["solids"] if each["kind"] == "pit")
    assert min(point[2] for point in pit["points"]) == pytest.approx(made.reservoir.pit.sump_floor, abs=0.0006)


def test_a_dense_survey_is_shown_by_a_net_read_off_it(monkeypatch: pytest.MonkeyPatch) -> None:
    made = design(read_job(EXAMPLES / "hazel_bank"))
    exact = _areas(relief_told(made, revision=1)["solids"][0])
    monkeypatch.setattr(relief, "MOST_TRIANGLES", 300)
    thinned = relief_told(made, revision=1)["solids"][0]
    assert 0.75 * exact < _areas(thinned) <= exact


def test_the_page_and_its_answer_are_there(client: Page, folder: Path) -> None:
    assert client.get("/relief").status_code == 200
    answer = client.get("/api/relief").json()
    assert answer["revision"] == 1
    assert {each["kind"] for each in answer["solids"]} >= {"ground", "bank", "lining", "bed", "pit", "crates", "stem"}
