"""The years after on a page: the record kept as typed, edges over the years, a second feature weighed at once."""

import shutil
from pathlib import Path
from typing import Any
from uuid import uuid4

import pytest

from beckwright.care import read_service
from beckwright.web.app import make_app
from tests.web.conftest import EXAMPLES, Page

SEEN = "2030-05-12T09:00:00+00:00"
SECOND = {"flow": "800", "lift": "1.2", "least": "30", "most": "50"}


def put(client: Page, kind: str, seen: str = SEEN, **content: object) -> str:
    word = uuid4().hex
    body = {"mark": uuid4().hex, "kind": kind, "seen": seen, "content": {"row": word, **content}}
    answer = client.post("/api/readings", json=body)
    assert answer.status_code == 200, answer.text
    return word


def flows(client: Page, *litres: int) -> list[str]:
    return [
        put(client, "service", item="flow_l_h", year=f"{2027 + turn}", amount=f"{each}")
        for turn, each in enumerate(litres)
    ]


def record(client: Page) -> Any:
    return client.get("/api/care/record").json()


@pytest.mark.parametrize("name", ["record", "settling", "second"])
def test_the_pages_are_there(client: Page, name: str) -> None:
    page = client.get(f"/care/{name}")
    assert page.status_code == 200
    assert f"care_{name}.js" in page.text
    assert client.get(f"/api/care/{name}").status_code == 200


def test_a_record_tells_what_changes_and_when_it_matters(client: Page) -> None:
    """Hazel Bank runs at everyday, 4500 L/h. By hand: 5200, 5060, 4890, 4760 fall 149 a year; from the mean, 4977.5 at
    2028.5, that is 4500 in 2031.7."""
    flows(client, 5200, 5060, 4890, 4760)
    told = record(client)
    (trend,) = told["trends"]
    assert "less a year" in trend["says"]
    chart = trend["chart"]
    assert len(chart["dots"]) == 4
    years = {mark["words"]: mark["at"] for mark in chart["ticks"]}
    # Where the drawn line meets the drawn limit is the year worked by hand.
    ends = [chart["line"][0], chart["line"][-1]]
    share = (chart["limit"]["at"] - ends[0][1]) / (ends[1][1] - ends[0][1])
    across = ends[0][0] + share * (ends[1][0] - ends[0][0])
    a_year = (years["2031"] - years["2027"]) / 4
    assert 2027 + (across - years["2027"]) / a_year == pytest.approx(2031.7, abs=0.05)
    assert chart["limit"]["words"].startswith("limit 4")


def test_what_is_struck_out_or_odd_does_not_count(client: Page) -> None:
    words = flows(client, 5200, 5060, 4890, 4760)
    put(client, "service", item="flow_l_h", year="2031", amount="46")
    put(client, "service", item="flow_l_h", year="05/12/2031", amount="4600")
    day, slip = record(client)["rows"][:2]
    assert "The others are about" in slip["asked"][0]
    assert "2027-05-12" in day["asked"][0]
    assert len(record(client)["trends"][0]["chart"]["dots"]) == 4
    body = {"mark": uuid4().hex, "kind": "word on a row", "seen": SEEN, "content": {"row": words[0], "word": "struck"}}
    assert client.post("/api/readings", json=body).status_code == 200
    assert len(record(client)["trends"][0]["chart"]["dots"]) == 3


def test_the_record_is_written_and_read_again(client: Page, folder: Path) -> None:
    """What is written is what the command reads; and it is not counted twice, nor does a struck row come back by it."""
    words = flows(client, 5200, 5060, 4890)
    told = client.post("/api/care/record/file").json()
    assert told == {"file": "service.csv", "left_out": 0}
    (flow,) = read_service(folder / "service.csv")
    assert (flow.values * 3.6e6).tolist() == pytest.approx([5200, 5060, 4890])
    assert record(client)["files"] == []
    body = {"mark": uuid4().hex, "kind": "word on a row", "seen": SEEN, "content": {"row": words[2], "word": "struck"}}
    client.post("/api/readings", json=body)
    assert len(record(client)["trends"][0]["chart"]["dots"]) == 2
    (folder / "service_2.csv").write_text("year,item,value\n2026,watts,61\n")
    assert [row.split(",")[0] for row in record(client)["files"]] == ["service_2.csv: watts"]
    (folder / "service_3.csv").write_text("year,item,value\n2026,wats,61\n")
    assert "wats" in record(client)["problems"][0]["found"]


def test_nothing_read_writes_nothing(client: Page, folder: Path) -> None:
    assert client.post("/api/care/record/file").status_code == 422
    assert not (folder / "service.csv").exists()


def test_edges_shot_on_the_slope_are_visits(client: Page, folder: Path) -> None:
    """20 mm in a year. Two shots within a fortnight are one visit and the later counts; a file is a visit too."""

    def shot(seen: str, level: str) -> None:
        put(client, "shot", seen, place="3.0", side="left", given="level", typed=level)

    for day, level in (("2026-12-01", "101.430"), ("2026-12-04", "101.420"), ("2027-12-01", "101.400")):
        shot(f"{day}T10:00:00+00:00", level)
    told = client.get("/api/care/settling").json()
    assert [visit["day"] for visit in told["visits"]] == ["2026-12-04", "2027-12-01"]
    (edge,) = told["edges"]
    assert edge["sinks"]
    (chart,) = told["charts"]
    assert len(chart["chart"]["dots"]) == 2
    head = "place,left_m,right_m\n3.0,101.380,\n"
    (folder / "as_built_2028-12-01.csv").write_text(head)
    (folder / "as_built_2027-12-01.csv").write_text(head)
    (folder / "as_built_2029-12-01.csv").write_text("place,left_m\n3.0,high\n")
    told = client.get("/api/care/settling").json()
    assert [visit["comes"] for visit in told["visits"]][-1] == "as_built_2028-12-01.csv"
    assert told["doubled"][0].startswith("as_built_2027-12-01.csv")
    assert told["problems"]
    later = client.get("/api/care/settling", params={"since": "2027-01-01"}).json()
    assert len(later["charts"][0]["chart"]["dots"]) == 2
    assert [visit["counted"] for visit in later["visits"]] == [False, True, True]
    assert client.get("/api/care/settling", params={"since": "soon"}).status_code == 422


@pytest.fixture(scope="module")
def weighing(tmp_path_factory: pytest.TempPathFactory) -> tuple[Page, Path]:
    """Hazel Bank, asked many times: the films behind it are made once."""
    folder = Path(shutil.copytree(EXAMPLES / "hazel_bank", tmp_path_factory.mktemp("second") / "hazel_bank"))
    return Page(make_app(folder)), folder


def test_a_second_feature_is_weighed_and_not_kept(weighing: tuple[Page, Path]) -> None:
    client, folder = weighing
    before = (folder / "job.toml").read_bytes()
    told = client.post("/api/care/second", json=SECOND).json()
    assert {row["name"]: row["says"] for row in told["rows"]}["water in motion it adds"] == "30 to 50 L"
    full = client.post("/api/care/second", json={**SECOND, "least": "9000", "most": ""}).json()
    dry = next(each for each in full["findings"] if each["code"] == "second-runs-dry")
    assert dry["severity"] == "fail"
    assert dry["cure"]
    assert (folder / "job.toml").read_bytes() == before
    assert client.get("/api/readings").json()["readings"] == []


def test_all_that_is_wrong_is_said_at_once(weighing: tuple[Page, Path]) -> None:
    client, _ = weighing
    answer = client.post("/api/care/second", json={"flow": "much", "lift": "-1", "least": "50", "most": "30 mm"})
    assert answer.status_code == 422
    assert {each["place"] for each in answer.json()["problems"]} == {"flow", "lift", "water in motion, most"}


def test_gallons_are_gallons(weighing: tuple[Page, Path]) -> None:
    """130 US gal/h are 492 L/h, 1 US gal 3.785 L (NIST SP 811)."""
    client, _ = weighing
    client.post("/api/told", json={"units": "us"})
    us = client.post("/api/care/second", json={"flow": "130", "lift": "4", "least": "10", "most": "20"}).json()
    client.post("/api/told", json={"units": "metric"})
    metric = client.post(
        "/api/care/second", json={"flow": "492.1", "lift": "1.2192", "least": "37.85", "most": "75.71"}
    )
    ends = [[(bar["from"], bar["to"]) for bar in told["stick"]["bars"]] for told in (us, metric.json())]
    assert ends[0] == ends[1]
