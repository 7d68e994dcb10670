"""What is asked beside the state: works, pegs, figures explained, papers, revisions, pages, and faults."""

import logging
import re
import shutil
from pathlib import Path
from uuid import uuid4

import pytest

from beckwright.compose import Works, design
from beckwright.figures import figures_of, figures_of_works
from beckwright.film import all_findings, film_findings, film_set
from beckwright.job.read import read_job
from beckwright.web.app import make_app
from beckwright.web.desk import opened as desk_module
from beckwright.web.routes_pages import PAGES
from tests.drawn import Drawn
from tests.web.conftest import EXAMPLES, Page, moved

PRIVATE = "the owners of Hazel Bank, 12 Elm Row"


def test_works_and_state_together_tell_every_finding(client: Page, folder: Path) -> None:
    designed = design(read_job(folder))
    every = all_findings(designed, film_findings(designed, film_set(designed)), Works(designed))
    works, films, state = (client.get(f"/api/{path}").json() for path in ("later", "later/films", "state"))
    own = [each for each in state["findings"] if each["code"] not in films["in_place_of"]]
    told = [*own, *films["findings"], *works["findings"]]
    assert sorted(f"{each['place']}. {each['says']} {each['cure']}" for each in told) == sorted(map(str, every))
    assert works["revision"] == films["revision"] == state["revision"]


def test_slow_answers_are_figures_of_the_works(client: Page, folder: Path) -> None:
    amounts = {figure.name: figure.amount for figure in figures_of_works(Works(design(read_job(folder))))}
    answers = client.get("/api/later").json()["answers"]
    assert len(answers) >= 5
    assert {each["name"]: each["amount"] for each in answers} == pytest.approx(
        {each["name"]: amounts[each["name"]] for each in answers}
    )


def test_pegs_are_those_of_the_setting_out(client: Page, folder: Path) -> None:
    pegs = Works(design(read_job(folder))).setting_out.pegs
    told = client.get("/api/pegs").json()["pegs"]
    assert [each["number"] for each in told] == [peg.number for peg in pegs]
    for each, peg in zip(told, pegs, strict=True):
        assert each["nail"] == pytest.approx(peg.nail, abs=5.1e-5)
        for dug in each["dug"]:
            # Below the nail and the level itself are two ways to one dig.
            assert each["nail"] - dug["below"] == pytest.approx(dug["dig"], abs=1.6e-4)


def test_a_figure_explained_can_be_followed_by_hand(client: Page, folder: Path) -> None:
    figures = {figure.name: figure for figure in figures_of(design(read_job(folder)))}
    told = client.get("/api/explain/stored.full.in_motion").json()
    figure = figures["stored.full.in_motion"]
    assert figure.equation is not None
    assert told["amount"] == pytest.approx(figure.amount)
    given = {each["letter"]: each["amount"] for each in told["equation"]["inputs"]}
    by_name = {symbol.name: given[symbol.letter] for symbol in figure.equation.symbols}
    assert figure.equation(**by_name) == pytest.approx(told["amount"], rel=1e-6)


@pytest.mark.parametrize("name", ["supply.flow", "money.p50", "earthworks.pit.depth"])
def test_figures_of_design_and_works_are_explained(asking: Page, name: str) -> None:
    told = asking.get(f"/api/explain/{name}").json()
    assert told["name"] == name
    assert told["words"]
    assert told["grade"]


@pytest.fixture(scope="module")
def drawn(tmp_path_factory: pytest.TempPathFactory) -> Page:
    """Hazel Bank, whose sheets are drawn once; nothing in it is changed."""
    folder = tmp_path_factory.mktemp("drawn") / "hazel_bank"
    return Page(make_app(Path(shutil.copytree(EXAMPLES / "hazel_bank", folder))))


def test_the_sheets_are_those_of_the_command_line(drawn: Page, drawn_sets: Drawn) -> None:
    sheets = drawn_sets.sheets("hazel_bank")
    assert drawn.get("/api/papers").json()["sheets"] == [{"name": each.name, "title": each.title} for each in sheets]
    answer = drawn.get(f"/papers/{sheets[0].name}.svg")
    assert answer.headers["content-type"].startswith("image/svg+xml")
    assert answer.text.startswith("<svg ")


def test_the_set_is_one_pdf(drawn: Page) -> None:
    answer = drawn.get("/papers/papers.pdf")
    assert answer.headers["content-type"] == "application/pdf"
    assert answer.content.startswith(b"%PDF-")


def test_revisions_are_listed_told_and_named(client: Page) -> None:
    edited = {"mark": str(uuid4()), "based_on": 1, "edits": moved(11.0, 9.0)}
    assert client.post("/api/edit", json=edited).status_code == 200
    told = client.get("/api/revisions").json()
    assert [each["number"] for each in told["revisions"]] == [1, 2]
    assert told["stands"] == 2
    assert told["revisions"][1]["parent"] == 1
    assert "point 2" in told["revisions"][1]["why"]
    named = client.post("/api/revisions/1/name", json={"name": "as quoted"})
    assert named.json()["name"] == "as quoted"
    assert client.get("/api/revisions").json()["revisions"][0]["name"] == "as quoted"
    since = client.get("/api/revisions/1").json()["since"]
    assert any("11" in each["after"] for each in since)
    assert client.get("/api/revisions/2").json()["since"] == []


@pytest.mark.parametrize("number", ["0", "-1", "99", "one", "9" * 30])
def test_a_revision_that_is_none_is_said(asking: Page, number: str) -> None:
    answer = asking.get(f"/api/revisions/{number}")
    assert answer.status_code in (404, 422)
    assert answer.json()["problems"]


@pytest.mark.parametrize("path", PAGES)
def test_every_page_is_served_without_a_script_in_it(asking: Page, path: str) -> None:
    answer = asking.get(path.replace("{place:path}", "3"))
    assert answer.status_code == 200
    assert "<script>" not in answer.text
    assert ' style="' not in answer.text
    assert re.search(r"\son\w+=", answer.text) is None
    assert "http://" not in answer.text.replace("http://www.w3.org/", "")


def test_the_typeface_is_served(asking: Page) -> None:
    assert asking.get("/fonts/plex.ttf").content[:4] == b"\x00\x01\x00\x00"


def test_a_fault_of_ours_is_one_sentence_and_tells_nobody_the_job(
    client: Page, folder: Path, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    def broken(*_: object) -> None:
        raise ZeroDivisionError(PRIVATE)

    before = (folder / "job.toml").read_bytes()
    monkeypatch.setattr(desk_module, "design", broken)
    with caplog.at_level(logging.DEBUG):
        answer = client.post("/api/edit", json={"mark": str(uuid4()), "based_on": 1, "edits": moved()})
    assert answer.status_code == 500
    assert "ZeroDivisionError" in answer.json()["problems"][0]["found"]
    assert "Traceback" not in answer.text
    assert PRIVATE not in answer.text + caplog.text
    assert (folder / "job.toml").read_bytes() == before
    monkeypatch.undo()
    assert client.get("/api/state").status_code == 200
