"""Figures explained, what moves them, and what nobody has measured."""

import time
from pathlib import Path
from uuid import uuid4

import numpy as np
import pytest

from beckwright.compose import Works, design
from beckwright.figures import figures_of, figures_of_works
from beckwright.figures.again import once
from beckwright.figures.influence import NUDGE, influences
from beckwright.figures.watched import Looked, watched
from beckwright.job.read import read_job
from tests.web.conftest import EXAMPLES, Page


@pytest.mark.parametrize("example", ["larkspur_court", "hazel_bank", "withy_lane"])
def test_the_chain_made_again_is_the_design(example: str) -> None:
    """Two ways to one thing: stage by stage on a watched job, and all at once."""
    designed = design(read_job(EXAMPLES / example))
    looked = Looked()
    again, works = once(watched(designed.job, looked, lambda path: path == ("survey",)), designed.ground, looked)
    assert {one.name: one.amount for one in figures_of(again)} == {one.name: one.amount for one in figures_of(designed)}
    whole = {one.name: one.amount for one in figures_of_works(Works(designed))}
    assert {one.name: one.amount for one in figures_of_works(works)} == pytest.approx(whole, abs=1e-4)


@pytest.mark.parametrize("figure", ["reservoir.useful", "stonework.total"])
def test_influence_is_what_a_changed_job_gives(figure: str, tmp_path: Path) -> None:
    """Each influence against the job written with the changed number and designed from the start."""
    import shutil

    folder = Path(shutil.copytree(EXAMPLES / "hazel_bank", tmp_path / "job"))
    told = {each.key: each for each in influences(design(read_job(folder)), figure)}
    text = (folder / "job.toml").read_text()
    from beckwright.job.edit import edit, read_edit

    key, words = ("reservoir.length_m", "reservoir, length")
    held = read_job(folder).reservoir.length
    for share, end in ((1 - NUDGE, "low"), (1 + NUDGE, "high")):
        changed = edit(text, read_edit({"do": "set value", "key": key, "value": round(held * share, 9)}))
        (folder / "job.toml").write_text(changed)
        designed = design(read_job(folder))
        amounts = {one.name: one.amount for one in (*figures_of(designed), *figures_of_works(Works(designed)))}
        if words in told:
            assert getattr(told[words], end) == pytest.approx(amounts[figure], rel=1e-9)
        else:
            before = next(iter(told.values())).before
            assert amounts[figure] == pytest.approx(before, rel=1e-6)
    assert (figure == "reservoir.useful") == (words in told)


def test_useful_water_grows_as_the_plan_does() -> None:
    """Geometry: a pit a tenth longer holds a tenth more between two levels (its walls stand upright)."""
    found = {each.key: each for each in influences(design(read_job(EXAMPLES / "larkspur_court")), "reservoir.useful")}
    one = found["reservoir, length"]
    assert one.high / one.before == pytest.approx(1.1, rel=0.02)
    assert list(found.values()) == sorted(found.values(), key=lambda each: -each.effect)


def test_all_figures_are_listed_and_lead_on(asking: Page) -> None:
    names = {each["name"] for each in asking.get("/api/figures").json()["figures"]}
    assert {"supply.flow", "money.p80", "earthworks.raised"} <= names
    told = asking.get("/api/explain/stored.full.in_motion").json()
    leads = [each["leads"] for each in told["equation"]["inputs"] if each["leads"]]
    assert leads
    assert set(leads) <= names


def test_an_unknown_figure_offers_near_ones(client: Page) -> None:
    answer = client.get("/api/explain/suply.flow")
    assert answer.status_code == 404
    assert "supply.flow" in answer.json()["problems"][0]["remedy"]
    assert client.post("/api/moved/suply.flow").status_code == 404


def test_what_moves_is_told_as_it_is_found_and_stopped(client: Page) -> None:
    assert client.get("/api/moved/supply.flow").json()["state"] == "not asked"
    assert client.post("/api/moved/money.p80").json()["state"] == "working"
    stopped = client.post("/api/moved/money.p80/stop").json()
    assert stopped["state"] == "stopped"
    assert stopped["done"] < stopped["of"] or stopped["of"] == 0
    client.post("/api/moved/supply.flow")
    until = time.monotonic() + 60
    while (told := client.get("/api/moved/supply.flow").json())["state"] == "working" and time.monotonic() < until:
        time.sleep(0.1)
    assert told["state"] == "done"
    assert told["done"] == told["of"] > 50
    effects = [np.ptp(each["bar"][:2]) for each in told["moved"]]
    assert len(effects) == 8
    assert all(0 <= share <= 1 for each in told["moved"] for share in each["bar"])


def test_doubts_are_those_of_the_job_by_worth(client: Page, folder: Path) -> None:
    told = client.get("/api/doubts").json()
    assert sorted(each["key"] for each in told["doubts"]) == sorted(read_job(folder).doubts)
    worths = [each["worth"] for each in told["doubts"]]
    assert worths == sorted(worths, reverse=True)
    assert told["doubts"][0]["key"] == "beds.pebbles.voids"
    assert all(each["how"] for each in told["doubts"])
    weight = next(each for each in told["doubts"] if each["key"] == "materials.edge_stone_kg_m")
    # A mass told for each metre: by a tenth either way its total moves by a fifth of itself.
    assert weight["moves"][0]["share"] == pytest.approx(0.2, rel=1e-3)


def test_a_measured_doubt_is_set_and_off_the_list(client: Page, folder: Path) -> None:
    one = next(each for each in client.get("/api/doubts").json()["doubts"] if each["key"] == "beds.pebbles.voids")
    edits = [
        {"do": "set value", "key": one["key"], "value": 0.37},
        {"do": "set value", "key": f"job.doubts.{one['row']}", "value": None},
    ]
    assert client.post("/api/edit", json={"mark": str(uuid4()), "based_on": 1, "edits": edits}).status_code == 200
    assert "beds.pebbles.voids" not in [each["key"] for each in client.get("/api/doubts").json()["doubts"]]
    job = read_job(folder)
    assert "beds.pebbles.voids" not in job.doubts
    assert "a guess of 0.20 t a metre" in (folder / "job.toml").read_text()
