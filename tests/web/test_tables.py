"""A survey brought in, undone and done again; tables changed in an editor; and pages of another job."""

import shutil
from pathlib import Path
from uuid import uuid4

from beckwright.survey.resurveyed import against, lines_against
from beckwright.web.app import make_app
from tests.web.conftest import EXAMPLES, Page, moved
from tests.web.test_bring import HEADED, TEN, bring

RAISED = """id,x_m,y_m,z_m,code,breakline
A,0,0,100.0,GL,
B,10,0,100.5,GL,
C,10,10,101.0,GL,
D,0,10,100.8,GL,
"""
"""Invented."""
AFTER = """id,x_m,y_m,z_m,code,breakline
1,0,0,100.0,GL,
B,10.3,0.4,100.5,GL,
C,10,10,101.12,GL,
E,5,5,100.6,GL,
F,6,6,100.7,GL,
"""
"""A lies where it lay under another name; B went 0.3 east and 0.4 north; C rose 0.12; D is gone, E and F are new."""


def changed(folder: Path) -> str:
    """How the ten points differ from the survey, counted by hand of the file: no name is in both."""
    rows = [line.split(",") for line in (folder / "survey.csv").read_text(encoding="utf-8").splitlines()]
    held = {
        (float(row[1]), float(row[2])) for row in rows if len(row) > 3 and row[0] not in ("id", "") and row[0][0] != "#"
    }
    tens = {(float(x), float(y)) for _, x, y, _, _ in (line.split("\t") for line in TEN.splitlines())}
    both = len(held & tens)
    return f"{10 - both} points added, {len(held) - both} points taken out, {both} points moved, by "


def take(client: Page, changes: str) -> None:
    told = bring(client, HEADED).json()
    shown = client.post(f"/api/bring/{told['id']}/replaces", json={"answers": {}}).json()
    assert shown["differs"].startswith(changes)
    assert client.post(f"/api/bring/{told['id']}/take", json={"stamp": shown["stamp"]}).status_code == 200


def step(client: Page, way: str) -> int:
    return client.post(f"/api/{way}", json={"mark": str(uuid4())}).status_code


def hull(client: Page, number: int) -> list[list[float]]:
    state = client.get(f"/api/revisions/{number}/state")
    assert state.status_code == 200, state.text
    return list(state.json()["ground"]["hull"])


def test_a_survey_brought_in_is_undone_and_done_again(client: Page, folder: Path) -> None:
    old, before = (folder / "survey.csv").read_bytes(), client.get("/api/state").json()
    changes = changed(folder)
    take(client, changes)
    new = (folder / "survey.csv").read_bytes()
    listed = client.get("/api/revisions").json()["revisions"]
    assert [(each["why"], each["origin"]) for each in listed][1:] == [("survey brought in: 10 points", "saved")]
    assert new != old
    says = client.get("/api/stands?seen=1").json()["says"]
    assert says.startswith(f"Changed elsewhere: The ground, survey.csv: {changes}")
    step(client, "undo")
    assert (folder / "survey.csv").read_bytes() == old
    undone = client.get("/api/state").json()
    assert {**undone, "redo": False} == before
    assert undone["redo"]
    step(client, "redo")
    assert (folder / "survey.csv").read_bytes() == new
    assert not list(folder.glob("survey_before*"))


def test_each_side_has_its_own_tables(client: Page, folder: Path) -> None:
    survey = folder / "survey.csv"
    before = client.get("/api/state").json()["ground"]["hull"]
    survey.write_text(survey.read_text(encoding="utf-8") + "P999,40.0,40.0,99.0,GL,\n", encoding="utf-8")
    assert [40.0, 40.0] in client.get("/api/state").json()["ground"]["hull"]
    assert (hull(client, 1), [40.0, 40.0] in hull(client, 2)) == (before, True)
    (change,) = client.get("/api/revisions/1/against/2").json()["changes"]
    assert change["words"] == "The ground, survey.csv: 1 point added"
    assert (change["what"], change["before"], change["after"]) == ("the ground, survey.csv", "126 points", "127 points")
    assert client.get("/api/revisions/1").json()["tables_since"] == [change["words"]]
    assert client.post("/api/edit", json={"mark": "m" * 9, "based_on": 1, "edits": moved()}).status_code == 200
    assert [40.0, 40.0] in client.get("/api/state").json()["ground"]["hull"], "the edit was made on the new survey"


def test_a_table_changed_in_an_editor_is_a_revision_and_told(client: Page, folder: Path) -> None:
    client.get("/api/state")
    pumps = (folder / "pumps.csv").read_bytes()
    kept = [line for line in pumps.decode().splitlines() if not line.startswith("PG-350,")]
    gone = len(pumps.decode().splitlines()) - len(kept)
    (folder / "pumps.csv").write_text("\n".join(kept) + "\n", encoding="utf-8")
    told = client.get("/api/stands?seen=1").json()
    assert (told["number"], told["origin"]) == (2, "outside")
    assert told["says"] == f"pumps.csv was changed in an editor: pumps.csv: {gone} lines taken out."
    assert client.post("/api/revisions/1/stand", json={"mark": "m" * 9, "based_on": 2}).status_code == 200
    assert (folder / "pumps.csv").read_bytes() == pumps
    assert client.get("/api/stands").json()["why"] == "revision 1, taken up again"


def test_a_survey_the_job_cannot_stand_on_is_got_rid_of_by_going_back(client: Page, folder: Path) -> None:
    before = client.get("/api/state").json()["ground"]["hull"]
    (folder / "survey.csv").write_text("no survey at all\n", encoding="utf-8")
    assert client.get("/api/state").status_code == 422
    assert client.get("/api/revisions/1/against/2").json()["new"]["problems"]
    assert client.post("/api/revisions/1/stand", json={"mark": "m" * 9, "based_on": 2}).status_code == 200
    assert client.get("/api/state").json()["ground"]["hull"] == before


def test_what_changed_in_the_ground_by_hand() -> None:
    """0.3 and 0.4 make 0.5 m."""
    told = against(RAISED.encode(), AFTER.encode())
    assert str(told) == (
        "2 points added, 1 point taken out, 2 points moved, by 500 mm in plan and 120 mm in level at most"
    )
    assert str(against(RAISED.encode(), RAISED.replace("C,10,10,101.0,GL", "C,10,10,101.0,TOP").encode())) == (
        "1 point under another code or breakline"
    )
    assert str(against(RAISED.encode(), (RAISED + "# a word\n").encode())) == "the same points"
    assert against(RAISED.encode(), b"no survey\n") is None
    assert lines_against(b"a\nb\nc\n", b"a\nc\nd\ne\n") == "2 lines added, 1 line taken out"


def test_a_page_of_another_job_is_told_and_nothing_is_kept(tmp_path: Path) -> None:
    jobs = [shutil.copytree(EXAMPLES / "hazel_bank", tmp_path / name) for name in ("one", "two")]
    one, two = (Page(make_app(job)) for job in jobs)
    words = [page.get("/").text.partition('data-job="')[2].partition('"')[0] for page in (one, two)]
    assert len(set(words)) == 2
    assert all(words)
    before = (jobs[1] / "job.toml").read_bytes()
    body = {"mark": "m" * 9, "based_on": 1, "edits": moved()}
    for way, path, more in (("POST", "/api/edit", {"json": body}), ("POST", "/api/undo", {"json": {"mark": "u" * 9}})):
        (answer,) = two.all_at_once([(way, path, more | {"headers": {"X-Beckwright-Job": words[0]}})])
        assert answer.status_code == 409
        told = answer.json()
        assert told["other_job"]
        assert told["problems"][0]["found"] == "Another job is open on the laptop now: two"
    assert (jobs[1] / "job.toml").read_bytes() == before
    (kept,) = one.all_at_once([("POST", "/api/edit", {"json": body, "headers": {"X-Beckwright-Job": words[0]}})])
    assert kept.status_code == 200
