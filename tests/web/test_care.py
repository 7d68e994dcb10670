"""The care page's answers: this job's numbers, one drop judged, refusals."""

import pytest

from .conftest import Page

DROP = {"month": 7, "down": 40, "amount": 1, "over": "nights"}


def test_the_month_asked_for_is_told(asking: Page) -> None:
    told = asking.get("/api/care", params={"month": 7}).json()
    assert told["month"] == 7
    assert told["people"][0]["telephone"] == "01632 960114"
    assert {row["name"]: row["says"] for row in told["levels"]}["pump's least"] == "970 mm"
    assert asking.get("/api/care", params={"month": 1}).json()["ranges"] != told["ranges"]
    assert 1 <= asking.get("/api/care").json()["month"] <= 12
    assert asking.get("/api/care", params={"month": 13}).status_code == 422


def test_every_answer_of_the_tree_leads_somewhere(asking: Page) -> None:
    tree = asking.get("/api/care", params={"month": 7}).json()["tree"]
    known = {*tree["questions"], *tree["leaves"]}
    assert {each["first"] for each in tree["symptoms"]} <= known
    for question in tree["questions"].values():
        assert {question["yes"], question["no"]} <= known


@pytest.mark.parametrize(
    ("change", "verdict"),
    [({}, "ring"), ({"down": 5}, "normal"), ({"amount": 6, "over": "days"}, "normal"), ({"down": 28}, "look closer")],
)
def test_a_drop_is_judged(client: Page, change: dict[str, object], verdict: str) -> None:
    """trade.md, wish 21: 40 mm in six days of July is normal; 40 mm overnight is not."""
    told = client.post("/api/care/judge", json={**DROP, **change}).json()
    assert told["verdict"] == verdict
    assert told["does"]


def test_inches_are_inches(client: Page) -> None:
    """Two inches are 51 mm; 2 mm are nothing."""
    client.post("/api/told", json={"units": "us"})
    assert client.get("/api/care").json()["unit"] == "in"
    told = client.post("/api/care/judge", json={**DROP, "down": 2}).json()
    assert told["verdict"] == "ring"
    assert told["says"].startswith("2 in in a night of July")


@pytest.mark.parametrize(
    "change", [{"down": -1}, {"amount": 0}, {"over": "years"}, {"month": 0}, {"down": "x"}, {"more": 1}]
)
def test_what_makes_no_sense_is_refused(client: Page, change: dict[str, object]) -> None:
    answer = client.post("/api/care/judge", json={**DROP, **change})
    assert answer.status_code == 422
    assert answer.json()["problems"]


def test_the_page_is_there(asking: Page) -> None:
    page = asking.get("/care")
    assert page.status_code == 200
    assert "How far down?" in page.text
