"""A survey brought in through the browser: understood, asked about, taken; and what an ill-meant file is told."""

import asyncio
import io
import struct
import tempfile
import tracemalloc
import zipfile
from collections.abc import AsyncIterator
from pathlib import Path
from typing import Any

import httpx
import numpy as np
import pytest
import rasterio

from beckwright.job.tables import read_survey
from beckwright.survey.files.raster import BLOCK, _piece
from beckwright.web.bring import tray as trays
from beckwright.web.bring.answers import answers_of
from beckwright.web.bring.plan import HIGH, MOST_LEVELS, WIDE, plan_told
from beckwright.web.bring.tray import plain_name
from beckwright.web.security import LARGER_BODIES, LARGEST_BODY
from tests.survey.import_files import bank, drawing, surface, write_landxml, write_las, write_tiff
from tests.web.conftest import Page

TEN = "".join(
    f"{n + 1}\t{x}\t{y}\t{z}\t{code}\n"
    for n, (x, y, z, code) in enumerate(
        [
            (-4, -4, 101.2, "GL"), (6, -5, 100.9, "GL"), (19, -5, 100.1, "GL"), (19, 15, 99.4, "GL"),
            (6, 15, 100.3, "GL"), (-5, 15, 101.0, "GL"), (7, 5, 100.6, "TOP1"), (8, 7, 100.5, "TOP1"),
            (12, 6, 100.2, "GL"), (3, 6, 100.8, "TREE"),
        ]
    )
)  # fmt: skip
"""Invented: ten points around Hazel Bank."""
HEADED = "id\tx_m\ty_m\tz_m\tcode\n" + TEN


def bring(client: Page, content: bytes | str | Path, name: str = "points.csv", **more: str) -> httpx.Response:
    raw = content.read_bytes() if isinstance(content, Path) else content
    return client.post("/api/bring", params={"name": name, **more}, content=raw)


def settle(client: Page, told: dict[str, Any], **answers: str) -> dict[str, Any]:
    looked = client.post(f"/api/bring/{told['id']}/look", json={"answers": answers})
    assert looked.status_code == 200, looked.text
    return dict(looked.json())


def refused(answer: httpx.Response, status: int = 422) -> str:
    assert answer.status_code == status, answer.text[:300]
    assert answer.json()["problems"]
    return " ".join(str(each) for each in answer.json()["problems"])


def test_ten_typed_points_are_shown_and_nothing_is_written(client: Page, folder: Path) -> None:
    before = {path.name: path.read_bytes() for path in folder.glob("*.csv")}
    told = bring(client, HEADED, "typed_points.txt").json()
    assert told["count"] == 10
    assert told["ready"]
    assert told["first"][0] == ["1", "-4.000", "-4.000", "101.200", "GL", ""]
    assert dict(told["rows"])["plan"] == "24.00 m by 20.00 m"
    assert dict(told["rows"])["levels"].startswith("99.40 m to 101.20 m")
    assert {each["written"]: each["count"] for each in told["codes"]} == {"GL": 7, "TOP1": 2, "TREE": 1}
    assert "TOP1" in told["edges"]
    assert "[[trees]]" in told["offers"]
    assert {path.name: path.read_bytes() for path in folder.glob("*.csv")} == before


def test_taking_shows_what_it_replaces_keeps_it_and_the_desk_answers_from_the_new(client: Page, folder: Path) -> None:
    old = (folder / "survey.csv").read_bytes()
    hull = client.get("/api/state").json()["ground"]["hull"]
    told = bring(client, HEADED).json()
    shown = client.post(f"/api/bring/{told['id']}/replaces", json={"answers": {}}).json()
    assert dict(shown["now"])["points"] == "126"
    assert dict(shown["after"])["points"] == "10"
    assert shown["kept_as"] == 1
    assert (folder / "survey.csv").read_bytes() == old
    answer = client.post(f"/api/bring/{told['id']}/take", json={"answers": {}, "stamp": shown["stamp"]})
    assert answer.status_code == 200, answer.text
    assert client.get("/api/state").json().get("undo", "survey brought in: 10 points") == "survey brought in: 10 points"
    survey = read_survey(folder / "survey.csv", [])
    assert survey is not None
    assert sorted(survey.levels.tolist())[0] == 99.4
    state = client.get("/api/state")
    assert state.status_code != 500
    if state.status_code == 200:
        assert state.json()["ground"]["hull"] != hull
    again = client.post(f"/api/bring/{told['id']}/take", json={"answers": {}, "stamp": shown["stamp"]})
    assert "held no more" in refused(again)


def test_a_survey_changed_meanwhile_is_not_replaced_unseen(client: Page, folder: Path) -> None:
    told = bring(client, HEADED).json()
    stamp = client.post(f"/api/bring/{told['id']}/replaces", json={"answers": {}}).json()["stamp"]
    with (folder / "survey.csv").open("a") as file:
        file.write("# somebody wrote this\n")
    changed = (folder / "survey.csv").read_bytes()
    assert "changed meanwhile" in refused(client.post(f"/api/bring/{told['id']}/take", json={"stamp": stamp}))
    assert (folder / "survey.csv").read_bytes() == changed


def test_a_job_that_would_not_stand_on_it_is_said_before(client: Page) -> None:
    told = bring(client, "id,x_m,y_m,z_m\n1,500,500,3\n2,520,500,3.4\n3,510,515,3.8\n4,505,505,3.1\n").json()
    shown = client.post(f"/api/bring/{told['id']}/replaces", json={"answers": {}}).json()
    assert any("course" in each["place"] for each in shown["problems"])


def test_every_doubt_is_a_press_that_answers_it(client: Page) -> None:
    places = bank(60) * (1000, 1000, 1) + (451_000_000, 207_000_000, 0)
    told = bring(client, "".join(f"{x:.0f};{y:.0f};{z:.2f}\n" for x, y, z in places)).json()
    assert [each["about"] for each in told["questions"]] == ["columns"]
    answers: dict[str, str] = {}
    for _ in range(6):
        if not told["questions"]:
            break
        first = told["questions"][0]["choices"][0]
        answers[first["answer"]] = first["words"]
        told = settle(client, told, **answers)
    assert told["ready"], told["questions"]
    assert answers["unit"] == "mm"
    assert answers["shift"] == "451000,207000"
    assert dict(told["rows"])["plan"].startswith("39.")
    assert "Nothing is written" in refused(client.post(f"/api/bring/{told['id']}/replaces", json={"answers": {}}))


def test_wrong_lines_come_with_what_stands_there(client: Page) -> None:
    answer = bring(client, "id,x,y,z\n1,0,0,100\n2,5,ten,101\n3,9,9,\n")
    assert "ten" in refused(answer)
    lines = {each["place"]: each["line"] for each in answer.json()["problems"]}
    assert lines == {"points.csv line 3": "2,5,ten,101", "points.csv line 4": "3,9,9,"}


@pytest.mark.parametrize("kind", ["dxf", "landxml", "las", "laz", "tif"])
def test_every_kind_the_command_line_takes_is_taken(client: Page, tmp_path: Path, kind: str) -> None:
    path = tmp_path / f"survey.{kind}"
    corners = [(0.0, 0.0, 100.0), (20.0, 0.0, 101.0), (20.0, 30.0, 102.0), (0.0, 30.0, 101.5)]
    if kind == "dxf":
        made = drawing()
        for corner in corners:
            made.modelspace().add_point(corner)
        made.saveas(path)
    elif kind == "landxml":
        points = {str(number): corner for number, corner in enumerate(corners, 1)}
        write_landxml(path, surface(points, "<F>1 2 3</F><F>1 3 4</F>"))
    elif kind == "tif":
        write_tiff(path, np.linspace(100, 102, 2400).reshape(40, 60))
    else:
        write_las(path, bank(4000))
    told = bring(client, path, path.name).json()
    assert told["count"] >= 4, told
    drawn = told["plan"]
    assert all(0 <= x <= WIDE and 0 <= y <= HIGH for x, y in drawn["points"])


BOOK = """point,back_m,intermediate_m,fore_m,level_m
BM,1.500,,,100.000
A,,1.200,,
B,,1.900,,
C,,1.000,,
BM,,,1.501,
"""
TAPES = """from,to,distance_m,point,side
BM,A,10.00,,
BM,B,6.00,,
A,B,8.00,,
BM,C,10.00,,
B,C,8.00,,
BM,A,,B,left
BM,A,,C,left
"""
"""Invented: A and C mirrored about the line from BM to B, which is 6, 8, 10."""


def test_a_level_book_wants_its_tapes_and_both_make_a_survey(client: Page) -> None:
    told = bring(client, BOOK, "levels.csv").json()
    assert (told["wants"], told["ready"]) == ("tapes", False)
    # 100.000 + 1.500 - 1.200, and the millimetre that misses at BM shared out over one set-up.
    assert dict(told["book_levels"])["A"] == "100.301"
    tapes = TAPES.replace("B,C,8.00", "A,C,16.00")
    both = bring(client, tapes, "tapes.csv", to=told["id"])
    assert both.status_code == 200, both.text
    told = both.json()
    assert told["count"] == 4
    assert {row[0]: row[3] for row in told["first"]}["B"] == "99.601"


def test_files_of_lots_are_bounded_and_given_up(client: Page) -> None:
    first = bring(client, HEADED).json()
    for number in range(trays.MOST_LOTS):
        bring(client, HEADED, f"{number}.csv")
    assert "held no more" in refused(client.post(f"/api/bring/{first['id']}/look", json={"answers": {}}))


# Files that mean harm.


@pytest.mark.parametrize(
    ("given", "plain"),
    [
        ("../../etc/passwd", "passwd"),
        ("..\\..\\windows\\a.csv", "a.csv"),
        ("/", "points.txt"),
        ("..", "points.txt"),
        ("", "points.txt"),
        (".hidden.csv", "hidden.csv"),
        ("a\x00b\n.csv", "a_b_.csv"),
        ("\u202ecsv.exe", "_csv.exe"),
        ("C:\\a.csv", "a.csv"),
    ],
)
def test_a_name_is_never_a_path(given: str, plain: str) -> None:
    assert plain_name(given) == plain


@pytest.mark.parametrize("length", [61, 300, 5000])
def test_a_long_name_fits_any_folder_and_keeps_its_ending(length: int) -> None:
    name = plain_name("ö" * length + ".landxml")
    assert len(name.encode()) < 255
    assert name.endswith(".landxml")


def test_names_that_climb_leave_nothing_elsewhere(client: Page, folder: Path, tmp_path: Path) -> None:
    before = sorted(tmp_path.rglob("*.csv"))
    for name in ("../../../survey.csv", "..%2f..%2fsurvey.csv", str(folder / "survey.csv"), "x/../../job.toml"):
        assert bring(client, HEADED, name).status_code == 200
    assert sorted(tmp_path.rglob("*.csv")) == before


def _zip_slip() -> bytes:
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w") as packed:
        packed.writestr("../../survey.csv", "x")
    return held.getvalue()


def _claims(count: int, *, version: tuple[int, int] = (1, 2)) -> bytes:
    """The head of a scan that claims points it has not got (LAS 1.2, table of the head)."""
    head = bytearray(227)
    head[:4], head[24:26] = b"LASF", bytes(version)
    struct.pack_into("<HII", head, 94, 227, 227, 0)
    head[104] = 0
    struct.pack_into("<HI", head, 105, 20, count)
    struct.pack_into("<6d", head, 131, 0.01, 0.01, 0.01, 0, 0, 0)
    struct.pack_into("<6d", head, 179, 100, 0, 100, 0, 10, 0)
    return bytes(head)


LAUGHS = b"""<?xml version="1.0"?>
<!DOCTYPE LandXML [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;&a;"><!ENTITY c "&b;&b;&b;&b;&b;&b;&b;&b;&b;">]>
<LandXML><Units>&c;</Units></LandXML>"""
NAN = "id,x,y,z\n1,nan,0,1\n2,1,inf,2\n3,1,1,-inf\n4,1e400,2,2\n"

HOSTILE: dict[str, bytes] = {
    "slip.zip": _zip_slip(),
    "bomb.gz": b"\x1f\x8b" + bytes(64),
    "laughs.xml": LAUGHS,
    "outside.xml": b'<!DOCTYPE x SYSTEM "file:///etc/passwd"><LandXML/>',
    "encoding.xml": b'<?xml version="1.0" encoding="no-such"?><LandXML/>',
    "nan.csv": NAN.encode(),
    "halves.csv": b"\xff\xfe" + "id,x,y,z\n1,2,3,4".encode("utf-16-le") + b"\x00\xd8",
    "binary.csv": b"id,x,y,z\n1,2\x00,3,4\n",
    "claims.las": _claims(1_000_000_000),
    "claims.laz": _claims(4_000_000_000),
    "short.las": b"LASF",
    "empty.csv": b"",
    "blank.csv": b"   \n\n",
    "short.tif": b"II*\x00" + bytes(8),
    "broken.dxf": b"  0\nSECTION\n  2\nENTITIES\n  0\nPOINT\n 10\nnan\n",
    "far.csv": b"id,x_m,y_m,z_m\n1,1e300,0,1\n2,0,1e300,2\n3,1,1,1e300\n",
    "long.csv": b"id,x,y,z\n" + b"1" * 20_000,
    "book.csv": b"point,back_m,fore_m\nA,nan,1e999\n",
    "degrees.csv": b"lat,lon,z\n51.1,-1.2,3\n51.2,-1.3,4\n51.3,-1.1,5\n",
}


@pytest.mark.parametrize("name", HOSTILE)
def test_a_file_that_means_harm_gets_one_clear_refusal(client: Page, folder: Path, name: str) -> None:
    before = (folder / "survey.csv").read_bytes()
    answer = bring(client, HOSTILE[name], name, unit="m")
    words = refused(answer)
    assert "Traceback" not in words
    assert (folder / "survey.csv").read_bytes() == before


def test_a_grid_that_swells_is_refused_before_it_is_read(client: Page, tmp_path: Path) -> None:
    """A tile packed a thousandfold: one read of it would fill the memory."""
    path = tmp_path / "grid.tif"
    size = 8192
    told = {"driver": "GTiff", "height": size, "width": size, "count": 1, "dtype": "float64", "compress": "deflate"}
    tiles = {"tiled": True, "blockxsize": size, "blockysize": size, "sparse_ok": True}
    with rasterio.open(path, "w", transform=rasterio.Affine(0.01, 0, 0, 0, -0.01, 0), **told, **tiles):
        pass
    assert path.stat().st_size < 10_000
    assert "swell" in refused(bring(client, path, path.name))


def test_a_grid_packed_row_by_row_is_read_down_once(tmp_path: Path) -> None:
    """Read in squares, it would be unpacked from its beginning for every square: minutes for a small file."""
    path = tmp_path / "grid.tif"
    told = {"driver": "GTiff", "height": 40, "width": 3000, "count": 1, "dtype": "uint8", "compress": "deflate"}
    with rasterio.open(path, "w", tiled=False, blockysize=1, transform=rasterio.Affine(2, 0, 10, 0, -2, 10), **told):
        pass
    with rasterio.open(path) as source:
        tall, wide = _piece(source, 3000)
    assert wide == 3000
    assert tall * wide <= BLOCK * BLOCK


@pytest.mark.parametrize(
    "answers",
    [
        {"unit": "furlong"},
        {"window": "1,2,3,nan"},
        {"window": "1,2,3"},
        {"shift": "inf,0"},
        {"spacing_m": "0"},
        {"points": "1000000000"},
        {"points": "many"},
        {"axes": "xxx"},
        {"elsewhere": "1"},
        {"join_lines": "perhaps"},
        {"columns": "id,x,q,z"},
        {"surface": "there is none"},
    ],
)
def test_answers_that_are_none_are_refused_and_the_file_stays(client: Page, answers: dict[str, str]) -> None:
    told = bring(client, HEADED).json()
    refused(client.post(f"/api/bring/{told['id']}/look", json={"answers": answers}))
    assert settle(client, told)["count"] == 10


def test_words_of_a_file_come_back_without_what_no_screen_shows(client: Page) -> None:
    told = bring(client, 'id,x,y,z,code\n<b>1,0,0,1,<script>\n"\u202e2",9,0,1.2,a\n3,0,9,1.3,b\n4,5,5,1.1,c\n').json()
    assert "\u202e" not in str(told)
    assert told["first"][0][0] == "<b>1"


def test_a_body_of_another_length_than_said_is_refused(client: Page) -> None:
    refused(client.post("/api/bring", content=b"1,2,3", headers={"Content-Length": "900"}))
    refused(client.post("/api/bring", content=b"1,2,3", headers={"Content-Length": "2"}))


def test_only_this_address_takes_large_bodies(client: Page) -> None:
    larger = str(LARGEST_BODY + 1)
    over = str(LARGER_BODIES["/api/bring"] + 1)
    refused(client.post("/api/bring/stop", content=b"", headers={"Content-Length": larger}), 413)
    refused(client.post("/api/bring", content=b"", headers={"Content-Length": over}), 413)
    assert client.post("/api/bring", content=b"", headers={"Content-Length": larger}).status_code == 422


def test_a_file_goes_to_the_disk_as_it_comes_and_is_not_held_in_memory() -> None:
    async def pieces() -> AsyncIterator[bytes]:
        for _ in range(1600):
            yield bytes(1 << 16)

    size = 1600 << 16
    tray = trays.Tray()
    tracemalloc.start()
    lot = asyncio.run(tray.take_in(pieces(), name="scan.las", size=size, to=None))
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert lot.files[0].stat().st_size == size
    assert lot.files[0].is_relative_to(tempfile.gettempdir())
    assert peak < size / 10


def test_a_reading_that_takes_too_long_ends(client: Page, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(trays, "LONGEST_READING", 0.0)
    path = write_las(tmp_path / "scan.las", bank(300_000))
    assert "too long" in refused(bring(client, path, path.name))


def test_no_room_on_the_disk_is_said(client: Page, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(trays, "SPARE", 1 << 60)
    assert "no room" in refused(bring(client, HEADED))


# The parts.


def test_answers_read_as_the_command_line_reads_them() -> None:
    words = {"shift": "none", "window": "1,2,3,4", "columns": "id, x,-,z", "join_lines": "yes", "spacing_m": "0.5"}
    assert answers_of(words) == {
        "shift": (0.0, 0.0),
        "window": (1.0, 2.0, 3.0, 4.0),
        "columns": ("id", "x", "-", "z"),
        "join_lines": True,
        "spacing": 0.5,
    }


def test_the_plan_keeps_shape_and_north_and_writes_the_extremes() -> None:
    """A square stays a square, what lies north lies higher up the page, and the bar is as long as it says."""
    points = np.array([(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0)])
    told = plan_told(points, np.array([1.0, 2.0, 3.0, 4.0]), ("",) * 4)
    (x1, y1), (x2, _), (_, y3), _ = told["points"]
    assert x2 - x1 == pytest.approx(y1 - y3)
    assert told["bar"]["pixels"] / float(told["bar"]["metres"].split()[0]) == pytest.approx((x2 - x1) / 10, rel=0.01)
    assert {"1.00", "4.00"} <= {level for _, _, level in told["levels"]}


@pytest.mark.parametrize("count", [1, 2, 50_000])
def test_a_plan_of_any_count_is_bounded(count: int) -> None:
    points = np.random.default_rng(3).uniform(0, 30, (count, 2)) if count > 2 else np.zeros((count, 2))
    told = plan_told(points, np.ones(count), ("",) * count)
    assert len(told["points"]) <= 1500
    assert len(told["levels"]) <= MOST_LEVELS
