"""Every text the job has had: looked at, held against another, taken up again; what stands, asked every few seconds.

What must come out is told by the job folder (its own bytes, read with the standard library), by what this test itself
changed, and by arithmetic done here on the answers of both states.
"""

import tomllib
from pathlib import Path
from typing import Any
from uuid import uuid4

import pytest

from tests.web.conftest import Page, moved


def stands(client: Page) -> int:
    number: int = client.get("/api/stands").json()["number"]
    return number


def keep(client: Page, edits: list[dict[str, Any]], based_on: int | None = None) -> Any:
    body = {"mark": str(uuid4()), "based_on": based_on or stands(client), "edits": edits}
    return client.post("/api/edit", json=body)


def take_up(client: Page, number: int, based_on: int, mark: str = "") -> Any:
    return client.post(f"/api/revisions/{number}/stand", json={"mark": mark or str(uuid4()), "based_on": based_on})


def in_editor(folder: Path, old: str, new: str, file: str = "job.toml") -> None:
    text = (folder / file).read_text(encoding="utf-8")
    assert old in text
    (folder / file).write_text(text.replace(old, new), encoding="utf-8")


@pytest.fixture
def two(client: Page) -> Page:
    """The job as it came, and with one point moved."""
    assert keep(client, moved(11.0, 9.0)).status_code == 200
    return client


@pytest.fixture
def unable(client: Page, folder: Path) -> Page:
    """Its second text wants a pump that no table has; the third stands."""
    client.get("/api/state")
    for number, old, new in ((2, "PG-200", "PG-999"), (3, "PG-999", "PG-350")):
        in_editor(folder, f'chosen = "{old}"', f'chosen = "{new}"')
        assert stands(client) == number
    return client


def test_what_stands_is_told_with_its_reason(two: Page) -> None:
    told = two.get("/api/stands").json()
    assert (told["number"], told["origin"], told["says"]) == (2, "saved", "")
    assert "point 2" in told["why"]
    assert two.get("/api/stands?seen=2").json()["says"] == ""
    assert "point 2 from (12.143, 7.85) m to (11, 9) m" in two.get("/api/stands?seen=1").json()["says"]
    # A page of a folder that was put back from a copy: it follows all the same.
    assert two.get("/api/stands?seen=99").json()["number"] == 2


def test_a_change_in_an_editor_is_told_as_one_and_in_words(two: Page, folder: Path) -> None:
    in_editor(folder, 'title = "Hazel Bank"', 'title = "Hazel End"')
    told = two.get("/api/stands?seen=2").json()
    assert (told["number"], told["origin"]) == (3, "outside")
    assert told["says"].startswith("job.toml was changed in an editor: ")
    assert "Hazel Bank" in told["says"]
    assert "Hazel End" in told["says"]
    assert client_words(two, 3) == told["says"].partition(": ")[2].rstrip(".")


def client_words(client: Page, number: int) -> str:
    """The same change as the revisions tell it."""
    (change,) = client.get(f"/api/revisions/{number - 1}/against/{number}").json()["changes"]
    return str(change["words"])


def test_no_text_at_all_in_an_editor_is_told_and_kept_for_later(two: Page, folder: Path) -> None:
    in_editor(folder, 'title = "Hazel Bank"', 'title = "Hazel Bank')
    told = two.get("/api/stands?seen=2").json()
    assert told["number"] == 3
    assert told["says"].startswith("job.toml was changed in an editor: job.toml")
    held = two.get("/api/revisions/2/against/3").json()
    assert held["changes"] is None
    assert held["new"]["problems"]
    assert not held["old"]["problems"]
    assert [row for row in held["lines"] if row.get("differs")] == [
        {
            "old": 'title = "Hazel Bank"',
            "new": 'title = "Hazel Bank',
            "line": row_of(folder, "title ="),
            "differs": True,
        }
    ]
    assert take_up(two, 2, 3).status_code == 200
    assert two.get("/api/state").json()["title"] == "Hazel Bank"


def row_of(folder: Path, start: str) -> int:
    lines = (folder / "job.toml").read_text(encoding="utf-8").splitlines()
    return next(number for number, line in enumerate(lines, 1) if line.startswith(start))


def test_bytes_that_are_no_text_are_a_problem_in_words(two: Page, folder: Path) -> None:
    (folder / "job.toml").write_bytes(b"title = \xff\xfe")
    answer = two.get("/api/stands?seen=2")
    assert answer.status_code == 422
    assert answer.json()["problems"][0]["place"].startswith("job.toml")


def test_the_state_of_another_revision_is_the_one_it_had_and_touches_nothing(client: Page, folder: Path) -> None:
    first = client.get("/api/state").json()
    keep(client, moved(11.0, 9.0))
    before = (folder / "job.toml").read_bytes()
    told = client.get("/api/revisions/1/state").json()
    assert {name: told[name] for name in ("course", "answers", "findings", "revision")} == {
        name: first[name] for name in ("course", "answers", "findings", "revision")
    }
    assert (folder / "job.toml").read_bytes() == before
    assert stands(client) == 2
    assert client.get("/api/revisions/9/state").status_code == 422


def test_two_texts_are_held_against_each_other_in_words_and_by_lines(two: Page) -> None:
    held = two.get("/api/revisions/1/against/2").json()
    assert {"what": "course, point 2", "before": "(12.143, 7.85) m", "after": "(11, 9) m"}.items() <= held["changes"][
        0
    ].items()
    back = two.get("/api/revisions/2/against/1").json()
    assert [(each["before"], each["after"]) for each in back["changes"]] == [
        (each["after"], each["before"]) for each in held["changes"]
    ]
    texts = [two.get(f"/api/revisions/{number}").json()["text"].splitlines() for number in (1, 2)]
    differing = [row for row in held["lines"] if row.get("differs")]
    assert [(row["old"], row["new"]) for row in differing] == [
        (was, now) for was, now in zip(*texts, strict=True) if was != now
    ]
    counted = sum(row.get("alike", 1) for row in held["lines"])
    assert counted == len(texts[0])


def test_answers_that_differ_stand_with_both_and_the_difference(two: Page) -> None:
    held = two.get("/api/revisions/1/against/2").json()
    states = [two.get(f"/api/revisions/{number}/state").json() for number in (1, 2)]
    was, now = (
        {each["name"]: each for each in state["answers"] if not each["flow"] or "in_motion" in each["name"]}
        for state in states
    )
    named = {each["label"]: each for each in held["answers"]}
    lowest = named[now["reservoir.level.lowest"]["label"]]
    assert (lowest["before"], lowest["after"]) == tuple(each["reservoir.level.lowest"]["words"] for each in (was, now))
    fall = was["reservoir.level.lowest"]["low"] - now["reservoir.level.lowest"]["low"]
    assert fall > 0
    assert lowest["difference"] == f"{round(fall * 1000)} mm lower"
    motion = named["Water in motion at full"]
    low, high = (now["stored.full.in_motion"][end] - was["stored.full.in_motion"][end] for end in ("low", "high"))
    told = [int(part) for part in motion["difference"].split() if part.isdigit()]
    assert told[0] <= low * 1000 <= high * 1000 <= told[1]
    assert told[0] > low * 1000 - 1
    assert told[1] < high * 1000 + 1
    assert motion["difference"].endswith("L more")


def test_no_finding_is_lost_between_two(two: Page) -> None:
    held = two.get("/api/revisions/1/against/2").json()["findings"]
    said = [
        {(each["place"], each["says"]) for each in two.get(f"/api/revisions/{number}/state").json()["findings"]}
        for number in (1, 2)
    ]
    for side, only, end in ((0, "gone", "before"), (1, "new", "after")):
        told = [*held[only], *(pair[end] for pair in held["otherwise"])]
        assert {(each["place"], each["says"]) for each in told} == said[side] - said[1 - side]
    assert all(pair["before"]["code"] == pair["after"]["code"] for pair in held["otherwise"])


def test_a_text_held_against_itself_differs_in_nothing(two: Page) -> None:
    held = two.get("/api/revisions/2/against/2").json()
    assert held["changes"] == []
    assert held["findings"] == {"gone": [], "new": [], "otherwise": []}
    assert held["answers"]
    assert not any(each["differs"] or each["difference"] for each in held["answers"])


def test_the_slower_answers_are_held_against_each_other_too(two: Page) -> None:
    quick, whole = (two.get(path).json() for path in ("/api/revisions/1/against/2", "/api/later/1/2"))
    labels = [{each["label"] for each in told["answers"]} for told in (quick, whole)]
    later = {each["label"]: each for each in two.get("/api/later").json()["answers"]}
    assert labels[1] == labels[0] | set(later)
    afters = {each["label"]: each["after"] for each in whole["answers"]}
    assert {label: afters[label] for label in later} == {label: each["words"] for label, each in later.items()}


def test_a_text_taken_up_again_stands_as_a_new_revision(two: Page, folder: Path) -> None:
    first = two.get("/api/revisions/1").json()["text"]
    two.post("/api/revisions/1/name", json={"name": "as quoted"})
    mark = str(uuid4())
    answers = [take_up(two, 1, 2, mark).json() for _ in range(2)]
    assert answers == [{"stands": 3}] * 2
    assert (folder / "job.toml").read_text(encoding="utf-8") == first
    told = two.get("/api/stands").json()
    assert told["why"] == "revision 1, as quoted, taken up again"
    assert two.post("/api/undo", json={"mark": str(uuid4())}).json()["course"]["line"][1] == [11.0, 9.0]


def test_a_text_taken_up_while_another_came_to_stand_is_told_and_nothing_is_lost(two: Page, folder: Path) -> None:
    assert keep(two, moved(11.5, 9.0)).status_code == 200
    before = (folder / "job.toml").read_bytes()
    answer = take_up(two, 1, 2)
    assert answer.status_code == 409
    assert "changed meanwhile" in answer.json()["problems"][0]["found"]
    assert (folder / "job.toml").read_bytes() == before
    listed = two.get("/api/revisions").json()
    assert (listed["stands"], listed["parted"]) == (3, answer.json()["ours"])
    assert take_up(two, 1, 3).status_code == 200


def test_what_a_person_looks_at_may_not_stand_any_more(two: Page) -> None:
    """Nothing is kept for it, as its text is kept already; yet it must be told that another one stands."""
    assert keep(two, moved(11.5, 9.0)).status_code == 200
    answer = take_up(two, 2, 2)
    assert answer.status_code == 409
    assert stands(two) == 3


def test_a_text_that_cannot_be_designed_is_told_and_not_taken_up(unable: Page, folder: Path) -> None:
    before = (folder / "job.toml").read_bytes()
    assert [each["number"] for each in unable.get("/api/revisions").json()["revisions"]] == [1, 2, 3]
    for path in ("/api/revisions/2/against/3", "/api/later/2/3"):
        held = unable.get(path).json()
        assert any("PG-999" in each["found"] for each in held["old"]["problems"])
        assert held["new"]["problems"] == held["answers"] == []
        assert (held["changes"][0]["before"], held["changes"][0]["after"]) == (
            '"PG-999"',
            '"PG-350"',
        )
    assert unable.get("/api/revisions/2/state").status_code == 422
    assert "PG-999" in unable.get("/api/revisions/2").json()["text"]
    assert take_up(unable, 2, 3).status_code == 422
    assert (folder / "job.toml").read_bytes() == before


def test_where_each_revision_lies(client: Page) -> None:
    """1 - 2 - 4 stands, 3 left behind by undo, 5 kept beside the line, 6 ahead once 4 stands again."""
    keep(client, moved(11.0, 9.0))
    keep(client, moved(11.1, 9.0))
    client.post("/api/undo", json={"mark": str(uuid4())})
    keep(client, moved(11.2, 9.0))
    assert keep(client, moved(11.3, 9.0), based_on=2).status_code == 409
    keep(client, moved(11.4, 9.0))
    client.post("/api/undo", json={"mark": str(uuid4())})
    listed = client.get("/api/revisions").json()
    assert [each["way"] for each in listed["revisions"]] == ["before", "before", "left", "stands", "aside", "ahead"]
    assert [each["lane"] > 0 for each in listed["revisions"]] == [False, False, True, False, True, False]
    assert listed["parted"] is None


def test_two_worth_holding_side_by_side(two: Page) -> None:
    assert two.get("/api/revisions").json()["beside"] == [1, 2]
    keep(two, moved(11.1, 9.0))
    assert two.get("/api/revisions").json()["beside"] == [2, 3]
    two.post("/api/revisions/1/name", json={"name": "as quoted"})
    assert two.get("/api/revisions").json()["beside"] == [1, 3]
    two.post("/api/revisions/3/name", json={"name": "wider"})
    assert two.get("/api/revisions").json()["beside"] == [1, 3]


def test_a_variant_is_renamed_and_loses_its_name(two: Page, folder: Path) -> None:
    before = (folder / "job.toml").read_bytes()
    for name in ("narrow", "narrow, two lips", ""):
        assert two.post("/api/revisions/2/name", json={"name": name}).json()["name"] == name
        assert two.get("/api/revisions").json()["revisions"][1]["name"] == name
    assert (folder / "job.toml").read_bytes() == before
    assert tomllib.loads(before.decode())["course"]["line_m"][1] == [11.0, 9.0]
