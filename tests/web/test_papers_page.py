"""The sheets on the page of papers: drawn once, told while drawn, stopped, given singly and as the whole set."""

import io
import zipfile
from pathlib import Path
from threading import Event
from typing import Any
from xml.etree import ElementTree as ET

import pytest
from fontTools.ttLib import TTFont
from PIL import Image
from pypdf import PdfReader

import beckwright.papers
from beckwright.cli.papers import write
from beckwright.compose import design
from beckwright.job.read import read_job
from beckwright.papers.formats.face import with_face
from beckwright.papers.formats.pdf import MOST_DOTS, SHARPEST
from beckwright.papers.readers import READERS
from beckwright.web.app import make_app
from beckwright.web.desk.opened import Desk
from beckwright.web.sheets.drawer import Drawer
from tests.web.conftest import EXAMPLES, Page, moved

MILLIMETRES = 25.4


@pytest.fixture(scope="module")
def held(tmp_path_factory: pytest.TempPathFactory) -> Page:
    """Hazel Bank with its sheets drawn; nothing in it is changed."""
    import shutil

    folder = tmp_path_factory.mktemp("papers") / "hazel_bank"
    shutil.copytree(EXAMPLES / "hazel_bank", folder)
    page = Page(make_app(folder))
    assert page.get("/api/papers").json()["drawn"]
    return page


def test_every_sheet_stands_with_each_of_its_readers_in_its_forms(held: Page) -> None:
    told = held.get("/api/papers").json()
    names = [sheet["name"] for sheet in told["sheets"]]
    assert {sheet["name"] for group in told["groups"] for sheet in group["sheets"]} == set(names)
    assert [group["key"] for group in told["groups"]] == [reader.key for reader in READERS]
    for group in told["groups"]:
        own = [sheet["name"] for sheet in group["sheets"]]
        assert own == sorted(set(own), key=names.index)
    sheets = {sheet["name"]: sheet for group in told["groups"] for sheet in group["sheets"]}
    assert sheets["plan"]["forms"] == ["svg", "pdf", "dxf", "png"]
    assert "dxf" not in sheets["estimate-1"]["forms"]


def test_a_reader_has_a_pdf_of_their_own(held: Page) -> None:
    told = held.get("/api/papers").json()
    driver = next(group for group in told["groups"] if group["key"] == "driver")
    answer = held.get(driver["pdf"])
    assert "papers_driver.pdf" in answer.headers["content-disposition"]
    pages = PdfReader(io.BytesIO(answer.content)).pages
    assert len(pages) == len(driver["sheets"])
    assert held.get("/papers/for/nobody.pdf").status_code == 404


def test_a_revision_given_a_name_stands_in_the_index_without_a_new_drawing(client: Page) -> None:
    before = client.get("/papers/index.svg").text
    assert "what changed has not been told" in before
    client.post("/api/revisions/1/name", json={"name": "as quoted"})
    client.post("/api/edit", json={"mark": "12345678", "based_on": 1, "edits": moved()})
    after = client.get("/papers/index.svg").text
    assert "as quoted" in after
    assert "what changed has not been told" not in after
    client.post("/api/revisions/1/name", json={"name": "as ordered"})
    assert "as ordered" in client.get("/papers/index.svg").text


@pytest.mark.parametrize(("ending", "kind"), [("svg", "image/svg+xml"), ("pdf", "application/pdf")])
def test_a_sheet_as_a_file_has_its_paper_size(held: Page, ending: str, kind: str) -> None:
    answer = held.get(f"/papers/dig-1.{ending}")
    assert answer.headers["content-type"] == kind
    if ending == "svg":
        root = ET.fromstring(answer.text)  # noqa: S314  # Our own.
        assert (root.get("width"), root.get("height")) == ("420mm", "297mm")
    else:
        (page,) = PdfReader(io.BytesIO(answer.content)).pages
        assert float(page.mediabox.width) * MILLIMETRES / 72 == pytest.approx(420, abs=0.1)
        assert "pegs 1 to 10" in page.extract_text()


def test_a_sheet_as_a_picture_is_as_sharp_as_said(held: Page) -> None:
    picture = Image.open(io.BytesIO(held.get("/papers/dig-1.png").content))
    assert picture.width == pytest.approx(420 / MILLIMETRES * SHARPEST, abs=2)
    assert picture.width * picture.height <= MOST_DOTS


def test_dxf_is_for_what_is_drawn_in_scale(held: Page) -> None:
    assert held.get("/papers/plan.dxf").content.startswith(b"  0\nSECTION")
    assert held.get("/papers/estimate-1.dxf").status_code == 404


@pytest.mark.parametrize("path", ["nothing.svg", "nothing.pdf", "plan.exe", "plan.svg.exe", "job.toml", "..%2fjob.svg"])
def test_what_is_not_there_is_said(held: Page, path: str) -> None:
    answer = held.get(f"/papers/{path}")
    assert answer.status_code == 404
    assert answer.json()["problems"]


def test_a_sheet_for_the_screen_brings_its_typeface_and_is_the_same_otherwise(held: Page) -> None:
    plain, faced = held.get("/papers/plan.svg").text, held.get("/papers/plan.svg?face=true").text
    style = faced[faced.index("<style>") : faced.index("</style>") + len("</style>")]
    assert faced.replace(style, "") == plain
    assert with_face(plain) == faced
    import base64

    raw = base64.b64decode(style.split("base64,")[1].split(")")[0])
    assert len(raw) < 150_000
    face = TTFont(io.BytesIO(raw))
    assert {axis.axisTag for axis in face["fvar"].axes} == {"wght", "wdth"}
    drawn = {ord(letter) for letter in "".join(ET.fromstring(plain).itertext()) if letter.isprintable()}  # noqa: S314
    assert drawn <= set(face.getBestCmap())


@pytest.fixture(scope="module")
def bundle(held: Page) -> bytes:
    return held.get("/papers/papers.zip").content


def test_the_whole_set_is_what_the_command_line_writes_byte_for_byte(bundle: bytes, tmp_path: Path) -> None:
    packed = zipfile.ZipFile(io.BytesIO(bundle))
    folder, into = EXAMPLES / "hazel_bank", tmp_path / "set"
    written = write(folder, into, lambda: design(read_job(folder)), readers=(), forms=())
    names = [path.relative_to(tmp_path / "set").as_posix() for path in written]
    assert packed.namelist() == names
    assert [name for name in names if packed.read(name) != (tmp_path / "set" / name).read_bytes()] == []
    assert not any(name.startswith("/") or ".." in name for name in names)


def test_a_set_is_packed_the_same_twice_and_nothing_of_it_stays_behind(held: Page, bundle: bytes) -> None:
    import tempfile

    def lying() -> set[Path]:
        return set(Path(tempfile.gettempdir()).glob("beckwright-papers-*.zip"))

    before = lying()
    assert held.get("/papers/papers.zip").content == bundle
    assert lying() <= before


@pytest.mark.usefixtures("few_sheets")
def test_sheets_are_drawn_once_for_a_revision(client: Page, monkeypatch: pytest.MonkeyPatch) -> None:
    counts: list[int] = []
    few = beckwright.papers.draw_sheets

    def counted(*given: Any, **more: Any) -> Any:
        counts.append(1)
        return few(*given, **more)

    monkeypatch.setattr(beckwright.papers, "draw_sheets", counted)
    asked: list[tuple[str, str, dict[str, Any]]] = [
        ("GET", path, {}) for path in ("/api/papers", "/papers/dig-1.svg", "/papers/dig-site.svg")
    ]
    assert {answer.status_code for answer in client.all_at_once(asked)} == {200}
    assert len(counts) == 1
    assert client.post("/api/edit", json={"mark": "12345678", "based_on": 1, "edits": moved()}).status_code == 200
    assert client.get("/api/papers").json()["revision"] == 2
    assert len(counts) == 2


def test_progress_is_told_and_a_stop_holds_until_somebody_draws_again(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    reached, go = Event(), Event()

    def slow(*_: Any, progress: Any, **__: Any) -> Any:
        progress(3, 10)
        reached.set()
        assert go.wait(20)
        progress(4, 10)
        return ()

    monkeypatch.setattr(beckwright.papers, "draw_sheets", slow)
    drawer = Drawer(Desk(folder))
    drawer.look(begin=True, wait=0)
    assert reached.wait(20)
    look = drawer.look(begin=False, wait=0)
    assert (look.done, look.of, look.drawn, look.stopped) == (3, 10, False, False)
    drawer.stop()
    go.set()
    assert drawer.look(begin=False, wait=20).stopped
    assert drawer.look(begin=False, wait=0).stopped
    assert drawer.look(begin=True, wait=20).drawn


@pytest.mark.usefixtures("few_sheets")
def test_a_fault_of_the_drawing_is_told_once_and_can_be_tried_again(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*_: Any, **__: Any) -> Any:
        raise ZeroDivisionError

    page = Page(make_app(folder))
    with monkeypatch.context() as patched:
        patched.setattr(beckwright.papers, "draw_sheets", broken)
        answer = page.get("/api/papers")
        assert answer.status_code == 500
        assert "ZeroDivisionError" in answer.json()["problems"][0]["found"]
    assert page.get("/api/papers").json()["drawn"]


def test_looking_begins_nothing(client: Page) -> None:
    told = client.get("/api/papers?begin=false&wait=0").json()
    assert (told["drawn"], told["stopped"]) == (False, True)


@pytest.mark.parametrize("wait", ["-1", "1000", "nan", "inf", "x"])
def test_a_wait_without_measure_is_refused(client: Page, wait: str) -> None:
    assert client.get(f"/api/papers?wait={wait}").status_code == 422
