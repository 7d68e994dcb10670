"""Trying, keeping, undoing: what stands in the folder is what the page was told, and nothing is taken twice."""

import tomllib
from pathlib import Path
from typing import Any
from uuid import uuid4

import pytest

from beckwright.job.read import read_job
from tests.web.conftest import Page, moved


def written(folder: Path) -> dict[str, Any]:
    return tomllib.loads((folder / "job.toml").read_text(encoding="utf-8"))


def keep(client: Page, edits: list[dict[str, Any]], **more: Any) -> Any:
    based_on = client.get("/api/state").json()["revision"]
    return client.post("/api/edit", json={"mark": str(uuid4()), "based_on": based_on, "edits": edits} | more)


def test_a_try_answers_and_keeps_nothing(client: Page, folder: Path) -> None:
    before, stood = (folder / "job.toml").read_bytes(), client.get("/api/state").json()
    answer = client.post("/api/try", json={"edits": moved(11.0, 9.0)})
    assert answer.status_code == 200
    assert answer.json()["course"]["line"][1] == [11.0, 9.0]
    assert answer.json()["revision"] == stood["revision"]
    assert (folder / "job.toml").read_bytes() == before
    assert client.get("/api/state").json() == stood


def test_an_edit_is_on_the_disk_when_it_is_answered(client: Page, folder: Path) -> None:
    answer = keep(client, moved(11.0, 9.0))
    assert answer.status_code == 200
    assert written(folder)["course"]["line_m"][1] == [11.0, 9.0]
    assert answer.json()["course"]["line"][1] == [11.0, 9.0]
    assert answer.json() == client.get("/api/state").json()
    assert read_job(folder).course.line[1].tolist() == [11.0, 9.0]


def test_a_comment_survives_an_edit(client: Page, folder: Path) -> None:
    keep(client, moved())
    assert "# wants a bucket test" in (folder / "job.toml").read_text(encoding="utf-8")


def test_the_same_mark_is_taken_once(client: Page, folder: Path) -> None:
    stood = client.get("/api/state").json()
    body = {
        "mark": str(uuid4()),
        "based_on": stood["revision"],
        "edits": [{"do": "slide reach", "reach": 0, "by_m": 0.25}],
    }
    first, second = (client.post("/api/edit", json=body) for _ in range(2))
    assert (first.status_code, second.status_code) == (200, 200)
    assert first.json() == second.json()
    ends = [each["course"]["reaches"][0]["end"] for each in (stood, second.json())]
    assert ends[1] - ends[0] == pytest.approx(0.25)


def test_the_same_undo_is_done_once(client: Page) -> None:
    first = keep(client, moved(11.0, 9.0)).json()
    keep(client, moved(11.5, 9.5))
    mark = {"mark": str(uuid4())}
    answers = [client.post("/api/undo", json=mark).json() for _ in range(3)]
    assert [each["course"]["line"] for each in answers] == [first["course"]["line"]] * 3


def test_undo_and_redo_walk_the_same_way(client: Page, folder: Path) -> None:
    texts = [(folder / "job.toml").read_text(encoding="utf-8")]
    for step in range(4):
        assert keep(client, moved(11.0 + step / 10, 9.0)).status_code == 200
        texts.append((folder / "job.toml").read_text(encoding="utf-8"))
    for text in reversed(texts[:-1]):
        assert client.post("/api/undo", json={"mark": str(uuid4())}).status_code == 200
        assert (folder / "job.toml").read_text(encoding="utf-8") == text
    for text in texts[1:]:
        assert client.post("/api/redo", json={"mark": str(uuid4())}).status_code == 200
        assert (folder / "job.toml").read_text(encoding="utf-8") == text


def test_undo_with_nothing_behind_it_changes_nothing(client: Page, folder: Path) -> None:
    before = (folder / "job.toml").read_bytes()
    for way in ("undo", "redo"):
        assert client.post(f"/api/{way}", json={"mark": str(uuid4())}).status_code in (200, 422)
    assert (folder / "job.toml").read_bytes() == before


def test_what_was_changed_in_an_editor_is_answered(client: Page, folder: Path) -> None:
    text = (folder / "job.toml").read_text(encoding="utf-8")
    (folder / "job.toml").write_text(text.replace('title = "Hazel Bank"', 'title = "Hazel End"'), encoding="utf-8")
    assert client.get("/api/state").json()["title"] == "Hazel End"


def test_a_new_survey_is_answered(client: Page, folder: Path) -> None:
    """A table is kept as read for only as long as its file stands."""
    before = client.get("/api/state").json()["ground"]["hull"]
    survey = folder / "survey.csv"
    survey.write_text(survey.read_text(encoding="utf-8") + "P999,40.0,40.0,99.0,GL,\n", encoding="utf-8")
    assert [40.0, 40.0] in client.get("/api/state").json()["ground"]["hull"]
    assert [40.0, 40.0] not in before


def test_two_changes_of_one_thing_from_one_revision_are_told(client: Page, folder: Path) -> None:
    """The second person did not see the first one's change: theirs must not vanish unsaid."""
    based_on = client.get("/api/state").json()["revision"]
    assert keep(client, moved(11.0, 9.0), based_on=based_on).status_code == 200
    answer = keep(client, moved(12.0, 8.5), based_on=based_on)
    assert answer.status_code == 409
    assert answer.json()["problems"]
    assert written(folder)["course"]["line_m"][1] == [11.0, 9.0]


def test_two_changes_of_different_things_from_one_revision_both_stand(client: Page, folder: Path) -> None:
    based_on = client.get("/api/state").json()["revision"]
    assert keep(client, moved(11.0, 9.0), based_on=based_on).status_code == 200
    answer = keep(client, [{"do": "set flow", "name": "full", "l_h": 9500}], based_on=based_on)
    assert answer.status_code == 200
    assert written(folder)["course"]["line_m"][1] == [11.0, 9.0]
    assert written(folder)["flows"]["full"] == 9500


def test_a_line_off_the_survey_is_refused_and_nothing_kept(client: Page, folder: Path) -> None:
    before = (folder / "job.toml").read_bytes()
    for answer in (client.post("/api/try", json={"edits": moved(900.0, 900.0)}), keep(client, moved(900.0, 900.0))):
        assert answer.status_code == 422
        assert all(set(each) == {"place", "found", "rule", "remedy"} for each in answer.json()["problems"])
    assert (folder / "job.toml").read_bytes() == before


def test_twenty_at_once_are_all_answered_and_all_kept(client: Page, folder: Path) -> None:
    """Ten drag while ten others each set a flow of their own."""
    based_on = client.get("/api/state").json()["revision"]

    def asked(number: int) -> tuple[str, str, dict[str, Any]]:
        if number % 2:
            return "POST", "/api/try", {"json": {"edits": moved(11.0 + number / 100, 9.0)}}
        edits = [{"do": "set flow", "name": f"day {number}", "l_h": 1000 + number}]
        return "POST", "/api/edit", {"json": {"mark": str(uuid4()), "based_on": based_on, "edits": edits}}

    answers = client.all_at_once([asked(number) for number in range(20)])
    assert [answer.status_code for answer in answers] == [200] * 20
    assert {f"day {number}" for number in range(0, 20, 2)} <= set(written(folder)["flows"])


def test_a_job_that_cannot_be_read_tells_every_problem(client: Page, folder: Path) -> None:
    text = (folder / "job.toml").read_text(encoding="utf-8")
    (folder / "job.toml").write_text(text.replace("sump_mm = 100", 'sump_mm = "deep"'), encoding="utf-8")
    (folder / "pumps.csv").write_text("nothing", encoding="utf-8")
    answer = client.get("/api/state")
    assert answer.status_code == 422
    assert {each["place"].split()[0] for each in answer.json()["problems"]} >= {"job.toml", "pumps.csv"}
    assert client.get("/").status_code == 200
