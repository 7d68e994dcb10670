"""The first visit over the wire: answered as typed, made a job once, beside the job that lies open."""

import json
import shutil
from pathlib import Path
from typing import Any

import pytest

from beckwright.job.read import read_job
from beckwright.web.app import make_app
from beckwright.web.begin.first import First
from beckwright.web.begin.routes_visit import Makes
from tests.web.conftest import Page

MARK = "0123-a-mark-of-a-press"
SEEN: dict[str, Any] = {"length": 18, "fall": 1.6, "width": 0.6, "look": "everyday", "access": 1.2}


@pytest.fixture
def empty(tmp_path: Path) -> Path:
    return tmp_path / "new stream"


@pytest.fixture
def first(empty: Path) -> Page:
    """A page of a folder that is not there yet."""
    return Page(First(empty))  # type: ignore[arg-type]  # Any app that answers.


def making(mark: str = MARK, name: str = "", **visit: Any) -> dict[str, Any]:
    return {"mark": mark, "name": name, "visit": SEEN | visit}


def test_five_answers_give_ranges_with_what_moves_them(client: Page) -> None:
    told = client.post("/api/visit", json=SEEN).json()
    answers = {each["key"]: each for each in told["answers"]}
    assert {"flow", "fill", "holds", "dug", "power", "energy", "days"} <= answers.keys()
    assert {"build", "running"}.isdisjoint(answers)
    assert answers["flow"]["says"].endswith(" L/h")
    for each in answers.values():
        assert 0 <= each["low"] <= each["high"] <= 1
        assert each["moved"] == "" or "with all else in the middle" in each["moved"]
    assert told["designed"] > 20
    assert told["next"]
    assert {"length", "soil", "pump"} <= {each["key"] for each in told["taken"]}


def test_nothing_known_is_answered_too(first: Page, empty: Path) -> None:
    assert first.post("/api/visit", json={}).status_code == 200
    assert not empty.exists()


def test_money_comes_with_prices_of_ones_own(client: Page) -> None:
    told = client.post("/api/visit", json=SEEN | {"prices": {"energy": 0.3, "day": 200}, "currency": "EUR"}).json()
    money = {each["key"]: each for each in told["answers"] if each["key"] in ("build", "running")}
    assert all(each["says"].endswith("EUR") for each in money.values())
    assert "one person's work" in money["build"]["note"].split("Not in it")[0]
    assert "stone" in money["build"]["note"].split("Not in it")[1]


@pytest.mark.parametrize(
    ("body", "place"),
    [
        ({"length": 1000}, "length"),
        ({"length": "long"}, "length"),
        ({"length": 10, "fall": 6}, "fall"),
        ({"look": "torrent"}, "look"),
        ({"prices": {"gold": 1}}, "price"),
        ({"depth": 2}, "depth"),
        ({"look": "\ud800"}, "look"),
    ],
)
def test_what_cannot_be_answered_is_refused(client: Page, body: dict[str, Any], place: str) -> None:
    answer = client.post("/api/visit", content=json.dumps(body), headers={"Content-Type": "application/json"})
    assert answer.status_code == 422
    assert [each["place"] for each in answer.json()["problems"]] == [place]


def test_a_job_goes_beside_the_one_that_lies_open(client: Page, folder: Path) -> None:
    before = {path.name: path.read_bytes() for path in folder.glob("*.toml")}
    told = client.post("/api/visit/job", json=making(name="Upper lawn")).json()
    assert told == {"folder": "Upper lawn", "here": False, "beside": True}
    made = folder.parent / "Upper lawn"
    assert read_job(made).title.name == "Upper lawn"
    assert {path.name: path.read_bytes() for path in folder.glob("*.toml")} == before


def test_sent_twice_it_is_one_job_and_pressed_twice_two(client: Page, folder: Path) -> None:
    names = [
        client.post("/api/visit/job", json=making(mark=mark, name="Lawn")).json()["folder"]
        for mark in (MARK, MARK, f"{MARK}-2")
    ]
    assert names == ["Lawn", "Lawn", "Lawn 2"]
    assert sorted(path.name for path in folder.parent.glob("Lawn*")) == ["Lawn", "Lawn 2"]


@pytest.mark.parametrize("name", ["../../up", "/etc", "..", ".", "C:\\temp", "con", "", "a" * 200, "über dem Bach"])
def test_no_name_leads_anywhere_but_beside(client: Page, folder: Path, name: str) -> None:
    answer = client.post("/api/visit/job", json=making(name=name))
    assert answer.status_code == 200, answer.text
    made = folder.parent / answer.json()["folder"]
    assert made.parent == folder.parent
    assert made != folder
    assert (made / "job.toml").is_file()
    assert len(made.name) <= 64


def test_an_empty_folder_becomes_the_job_and_the_desk_opens(first: Page, empty: Path) -> None:
    assert "Make a job of it" in first.get("/").text
    assert first.get("/api/state").status_code == 404
    assert first.get("/fonts/plex.ttf").status_code == 200
    assert first.post("/api/visit/job", json=making()).json() == {"folder": "new stream", "here": True, "beside": False}
    assert first.get("/api/state").json()["revision"] == 1
    assert read_job(empty).title.name == "new stream"
    # The answer was lost on the way and the press is sent again: the same job, and no second one.
    assert first.post("/api/visit/job", json=making()).json()["here"]
    assert [path.name for path in empty.parent.iterdir()] == ["new stream"]


def test_a_file_that_came_meanwhile_is_not_written_over(first: Page, empty: Path) -> None:
    empty.mkdir()
    (empty / "survey.csv").write_text("mine", encoding="utf-8")
    answer = first.post("/api/visit/job", json=making())
    assert answer.status_code == 422
    assert "survey.csv" in answer.json()["problems"][0]["place"]
    assert [path.name for path in empty.iterdir()] == ["survey.csv"]
    assert (empty / "survey.csv").read_text(encoding="utf-8") == "mine"


def test_a_folder_that_cannot_be_written_is_said(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("", encoding="utf-8")
    answer = Page(First(tmp_path / "file" / "stream")).post("/api/visit/job", json=making())  # type: ignore[arg-type]
    assert answer.status_code == 422
    assert "remedy" in answer.json()["problems"][0]


def test_the_walls_stand_before_there_is_a_job_too(empty: Path) -> None:
    shut = Page(First(empty, token="a-pass-nobody-guesses"))  # type: ignore[arg-type]  # noqa: S106
    assert shut.get("/visit").status_code == 403
    stranger = Page(First(empty), {"Origin": "http://elsewhere.example"})  # type: ignore[arg-type]
    assert stranger.post("/api/visit/job", json=making()).status_code == 403
    assert not empty.exists()
    assert "default-src 'none'" in Page(First(empty)).get("/").headers["Content-Security-Policy"]  # type: ignore[arg-type]


def test_the_visit_is_among_the_places(folder: Path) -> None:
    page = Page(make_app(folder))
    assert 'href="/visit"' in page.get("/visit").text
    assert "/papers" not in Page(First(folder.parent / "none")).get("/visit").text  # type: ignore[arg-type]


def test_a_name_that_is_taken_gets_the_next_number(folder: Path) -> None:
    makes = Makes(folder)
    (folder.parent / "Lawn").mkdir()
    shutil.copytree(folder.parent / "Lawn", folder.parent / "Lawn 2")
    assert makes._beside("Lawn").name == "Lawn 3"
