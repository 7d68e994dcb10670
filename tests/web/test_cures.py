"""Cures over the wire: what is told is tried, an effect is what a design of the edited text tells, nothing is kept."""

import tomllib
from pathlib import Path
from typing import Any

import pytest
from fastapi import FastAPI

from beckwright.compose import design
from beckwright.job.edit import edit, read_edit
from beckwright.job.read import read_job_text
from tests.web.conftest import Page, moved


@pytest.fixture(scope="module")
def cures(app_left_alone: FastAPI) -> list[dict[str, Any]]:
    """Cures of the levels of Hazel Bank."""
    told: list[dict[str, Any]] = Page(app_left_alone).get("/api/cures?part=levels").json()["cures"]
    return told


def test_each_cure_belongs_to_a_finding_that_is_told(asking: Page, cures: list[dict[str, Any]]) -> None:
    state = asking.get("/api/state").json()
    findings = {(each["code"], each["place"]) for each in state["findings"]}
    assert len(cures) >= 5
    assert {(each["code"], each["place"]) for each in cures} <= findings
    assert asking.get("/api/cures?part=levels").json()["revision"] == state["revision"]


def test_all_parts_together_are_all_cures(asking: Page, cures: list[dict[str, Any]]) -> None:
    parts = [asking.get(f"/api/cures?part={part}").json()["cures"] for part in ("works", "films")]
    together = [*cures, *(each for part in parts for each in part)]
    every = asking.get("/api/cures").json()["cures"]
    assert sorted(map(str, every)) == sorted(map(str, together))


def test_the_effect_is_what_a_design_of_the_edited_text_tells(
    asking: Page, left_alone: Path, cures: list[dict[str, Any]]
) -> None:
    before = (left_alone / "job.toml").read_text()
    cure = next(each for each in cures if each["code"] == "freeboard-short" and each["gone"])
    told = asking.post("/api/cures/effect", json={"edits": cure["edits"]}).json()
    text = before
    for given in cure["edits"]:
        text = edit(text, read_edit(given))
    were, are = (
        {(each.code, each.place) for each in design(read_job_text(one, left_alone)).findings} for one in (before, text)
    )
    assert {(each["code"], each["place"]) for each in told["gone"]} == were - are
    assert {(each["code"], each["place"]) for each in told["new"]} == are - were
    assert all(each["before"] != each["after"] for each in told["answers"])
    assert not told["whole"]
    assert (left_alone / "job.toml").read_text() == before, "an effect is looked at, and nothing is kept"


def test_the_whole_effect_tells_cost_as_well(asking: Page, cures: list[dict[str, Any]]) -> None:
    cure = next(each for each in cures if each["code"] == "pump-too-small")
    told = asking.post("/api/cures/effect", json={"edits": cure["edits"], "whole": True}).json()
    assert told["whole"]
    assert "money.p50" in {each["name"] for each in told["answers"]}


def test_a_cure_taken_is_an_edit_like_any_other(client: Page, folder: Path, cures: list[dict[str, Any]]) -> None:
    cure = next(each for each in cures if each["code"] == "sheet-clings")
    stands = client.get("/api/state").json()["revision"]
    body = {"mark": "taken-0001", "based_on": stands, "edits": cure["edits"]}
    state = client.post("/api/edit", json=body).json()
    assert (cure["code"], cure["place"]) not in {(each["code"], each["place"]) for each in state["findings"]}
    assert tomllib.loads((folder / "job.toml").read_text())
    client.post("/api/undo", json={"mark": "undone-0001", "based_on": state["revision"]})
    assert client.get("/api/state").json()["revision"] == stands


def test_edits_that_cannot_be_made_are_refused_with_a_remedy(asking: Page) -> None:
    refused = asking.post("/api/cures/effect", json={"edits": moved(point=99)})
    assert refused.status_code == 422
    assert all(each["remedy"] for each in refused.json()["problems"])
    assert asking.get("/api/cures?part=luck").status_code == 422


def test_cures_follow_the_job(client: Page, cures: list[dict[str, Any]]) -> None:
    cure = next(each for each in cures if each["code"] == "sheet-clings")
    stands = client.get("/api/state").json()["revision"]
    client.post("/api/edit", json={"mark": "taken-0002", "based_on": stands, "edits": cure["edits"]})
    told = client.get("/api/cures?part=levels").json()
    assert told["revision"] != stands
    assert "sheet-clings" not in {each["code"] for each in told["cures"]}
