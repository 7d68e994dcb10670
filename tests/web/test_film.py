"""The film as a page is told it, against the films themselves and against water being neither made nor lost."""

from pathlib import Path

import numpy as np
import pytest

from beckwright.compose import Design, design
from beckwright.film import film, film_section
from beckwright.job.read import read_job
from tests.web.conftest import Page

STORIES = ("first fill", "restart", "stop")


@pytest.fixture
def designed(folder: Path) -> Design:
    return design(read_job(folder))


def asked(client: Page, story: str, flow: str = "everyday") -> dict[str, object]:
    answer = client.get("/api/film", params={"story": story, "flow": flow})
    assert answer.status_code == 200
    return answer.json()


@pytest.mark.parametrize("story", STORIES)
def test_water_is_kept(asking: Page, designed: Design, story: str) -> None:
    """Conservation of volume: what the pit holds at the told level, what stands elsewhere and what went over."""
    told, pit = asked(asking, story), designed.reservoir.pit
    for law in range(3):
        outside = sum(np.array(told["outside"][name][law]) for name in told["outside"]) + np.array(told["spilt"][law])
        held = np.array([pit.held(level) for level in told["level"][law]])
        total = held + outside
        # Between two frames level and water are each read straight: 4 L in 3 000 where the voids change between them.
        assert total == pytest.approx(np.full(len(total), total[0]), abs=5e-3)
        assert np.ptp(held) > 0.02


@pytest.mark.parametrize(("story", "pick", "told_as"), [("restart", min, "lowest"), ("stop", max, "highest")])
def test_thinning_keeps_the_extreme_levels(asking: Page, designed: Design, story, pick, told_as) -> None:
    told = asked(asking, story)
    for law in range(3):
        whole = film(designed, story, "everyday", end=law)
        assert pick(told["level"][law]) == pytest.approx(pick(whole.level), abs=1.1e-5)
        assert told[told_as][law] == pytest.approx(pick(whole.level), abs=1.1e-5)


def test_times_come_from_the_films(asking: Page, designed: Design) -> None:
    told = asked(asking, "restart", "full")
    whole = film(designed, "restart", "full")
    assert [lip["seconds"][1] for lip in told["lips"]] == pytest.approx([lip.half for lip in whole.lips], abs=0.006)
    assert told["frames"][1] == len(whole.seconds)
    assert told["seconds"] == sorted(told["seconds"])


def test_the_section_holds_the_water_of_its_film(designed: Design) -> None:
    """Geometry: in runs of one width and side slope, water over the bed by its depth is the film's own."""
    whole, section = film_section(designed, "restart", "full")
    over = np.maximum(section.level - section.top, 0.0)
    last = over[-1]
    assert last[~section.pools].max() > 0.005
    pools = [stretch.reach for stretch in designed.course.stretches if type(stretch.reach).__name__ == "Pool"]
    plan = np.array([each.plan for each in designed.water.pools])
    deep = np.array([pool.depth for pool in pools])
    above = over[:, section.pools]
    full = np.array([each.full for each in designed.water.pools])
    share = np.minimum((section.level - section.floor)[:, section.pools] / deep, 1.0)
    assert (share * full + above * plan).sum(axis=1) == pytest.approx(whole.pools, abs=1e-9)


def test_what_cannot_be_filmed_is_refused_all_at_once(asking: Page) -> None:
    answer = asking.get("/api/film", params={"story": "flood", "flow": "torrent"})
    assert answer.status_code == 422
    assert [each["place"] for each in answer.json()["problems"]] == ["film story", "film flow"]


def test_a_film_is_taken_once_for_a_text(client: Page, monkeypatch: pytest.MonkeyPatch) -> None:
    from beckwright.web.film import told as film_told

    first = asked(client, "restart")
    monkeypatch.setattr(film_told, "film_section", None)
    assert asked(client, "restart") == first
