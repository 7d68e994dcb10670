"""What is kept on site, over the wire: once, whole, as it was typed, and never over what was there before."""

import json
import sqlite3
from collections.abc import Mapping
from html.parser import HTMLParser
from pathlib import Path
from typing import Any
from uuid import uuid4

import pytest

from beckwright import design, read_job
from beckwright.readings import read_shots
from beckwright.survey import read_level_book, reduce_book
from beckwright.web.app import make_app
from beckwright.web.slope.routes import LARGEST_PHOTOGRAPH
from tests.site.writer import JPEG
from tests.sources.test_nptel_levelling import BACKS, FORES
from tests.web.conftest import Page
from tests.web.test_bodies import BROKEN, is_a_problem

SEEN = "2026-09-01T10:00:00Z"
PNG = b"\x89PNG\r\n\x1a\n" + bytes(40)


def word() -> str:
    return str(uuid4())


def put(client: Page, kind: str, content: Mapping[str, Any], mark: str = "", seen: str = SEEN) -> Any:
    return client.post("/api/readings", json={"mark": mark or word(), "kind": kind, "seen": seen, "content": content})


def level_row(book: str, sight: str, point: str, typed: str, level: str = "", **more: Any) -> dict[str, Any]:
    named = {"row": word(), "book": book, "title": "terrace to lip 3"}
    return named | {"sight": sight, "point": point, "typed": typed, "level": level} | more


def shot(place: str, side: str, typed: str, **more: Any) -> dict[str, Any]:
    return {"row": word(), "place": place, "side": side, "given": "level", "typed": typed} | more


def photograph(client: Page, raw: bytes, form: str = "image/jpeg", **query: Any) -> Any:
    asked = {"mark": word(), "seen": SEEN} | query
    return client.post("/api/photographs", params=asked, content=raw, headers={"Content-Type": form})


def test_a_reading_sent_again_is_taken_once(client: Page) -> None:
    mark, content = word(), {"litres": 20, "seconds": 16.4}
    first, again = (put(client, "bucket", content, mark) for _ in range(2))
    assert first.json() == again.json()
    assert [each["content"] for each in client.get("/api/readings?kind=bucket").json()["readings"]] == [content]
    assert client.get("/api/readings?kind=peg").json()["readings"] == []


def test_ten_at_once_with_one_mark_are_one(client: Page) -> None:
    body = {"mark": word(), "kind": "bucket", "seen": SEEN, "content": {"litres": 20}}
    answers = client.all_at_once([("POST", "/api/readings", {"json": body})] * 10)
    assert {answer.status_code for answer in answers} == {200}
    assert len(client.get("/api/readings").json()["readings"]) == 1


def test_a_mark_used_for_something_else_is_refused_and_both_stay(client: Page) -> None:
    mark = word()
    put(client, "bucket", {"litres": 20}, mark)
    assert is_a_problem(put(client, "bucket", {"litres": 21}, mark))
    assert [each["content"]["litres"] for each in client.get("/api/readings").json()["readings"]] == [20]


@pytest.mark.parametrize("path", ["/api/readings", "/api/diary", "/api/slope/levels/file"])
@pytest.mark.parametrize("body", BROKEN)
def test_whatever_is_sent_the_answer_is_a_problem(asking: Page, path: str, body: bytes) -> None:
    assert is_a_problem(asking.post(path, content=body, headers={"Content-Type": "application/json"}))


@pytest.mark.parametrize(
    "changed",
    [
        {"kind": "Level Row"},
        {"kind": "../x"},
        {"seen": "yesterday"},
        {"seen": "2026-09-01T10:00:00"},
        {"seen": 1},
        {"seen": "9999-12-31T23:59:59Z"},
        {"seen": "0001-01-01T00:00:00+14:00"},
        {"content": {"note": "x" * 9000}},
        {"content": {"a": {"b": {"c": {"d": {"e": {"f": {"g": 1}}}}}}}},
        {"content": {"note": "\ud800"}},
        {"content": []},
        {"more": 1},
        {"mark": "a b c d e f"},
        {"kind": "level row", "content": {"row": "x"}},
        {"kind": "shot", "content": shot("7.0", "above", "1")},
        {"kind": "shot", "content": shot("7.0", "left", "1", path="../../x")},
        {"kind": "shot", "content": shot("7.0\n8.0", "left", "1")},
        {"kind": "shot", "content": shot("7.0", "left", "1" * 21)},
        {"kind": "shot", "content": shot("7.0", "left", "")},
        {"kind": "word on a row", "content": {"row": word(), "word": "gone"}},
    ],
)
def test_a_reading_out_of_its_form_is_refused_and_nothing_kept(asking: Page, changed: dict[str, Any]) -> None:
    body = {"mark": word(), "kind": "bucket", "seen": SEEN, "content": {"litres": 20}} | changed
    raw = json.dumps(body).encode()
    assert is_a_problem(asking.post("/api/readings", content=raw, headers={"Content-Type": "application/json"}))
    assert asking.get("/api/readings").json()["readings"] == []


def test_a_photograph_comes_back_byte_for_byte(client: Page) -> None:
    told = photograph(client, JPEG, chainage=3.5, note="the oak").json()
    assert (told["form"], told["chainage"], told["note"]) == ("image/jpeg", 3.5, "the oak")
    got = client.get(f"/photographs/{told['digest']}")
    assert got.content == JPEG
    assert got.headers["content-type"] == "image/jpeg"
    assert got.headers["x-content-type-options"] == "nosniff"


def test_what_a_photograph_is_its_bytes_say(client: Page) -> None:
    told = photograph(client, PNG, "image/jpeg").json()
    assert told["form"] == "image/png"
    assert client.get(f"/photographs/{told['digest']}").headers["content-type"] == "image/png"
    assert photograph(client, JPEG, "application/octet-stream").json()["form"] == "image/jpeg"


@pytest.mark.parametrize(
    ("raw", "form", "status"),
    [
        (b"<svg xmlns='http://www.w3.org/2000/svg'/>", "image/jpeg", 422),
        (b"<html><script>1</script>", "image/png", 422),
        (b"", "image/jpeg", 422),
        (JPEG, "image/svg+xml", 415),
        (JPEG, "text/html", 415),
        (JPEG + bytes(LARGEST_PHOTOGRAPH), "image/jpeg", 413),
    ],
)
def test_what_is_no_photograph_is_refused(asking: Page, raw: bytes, form: str, status: int) -> None:
    answer = photograph(asking, raw, form)
    assert answer.status_code == status
    assert answer.json()["problems"]
    assert asking.get("/api/photographs").json()["photographs"] == []


@pytest.mark.parametrize(
    "query",
    [{"chainage": "-1"}, {"chainage": "nan"}, {"chainage": "inf"}, {"seen": "now"}, {"mark": "x"}, {"note": "x" * 201}],
)
def test_a_photograph_is_tied_to_a_place_and_a_time_that_can_be(client: Page, query: dict[str, str]) -> None:
    assert is_a_problem(photograph(client, JPEG, **query))


@pytest.mark.parametrize(
    "name", ["../job.toml", "..%2Fjob.toml", "%2e%2e/site.sqlite", "0" * 64, "job.toml", "%00", "A" * 64]
)
def test_no_path_leads_out_of_the_photographs(client: Page, name: str) -> None:
    photograph(client, JPEG)
    answer = client.get(f"/photographs/{name}")
    assert answer.status_code == 404
    assert b"[job]" not in answer.content


def test_photographs_lie_along_the_tape(client: Page) -> None:
    for place in (9.0, None, 3.5):
        photograph(client, JPEG + str(place).encode(), **({} if place is None else {"chainage": place}))
    assert [each["chainage"] for each in client.get("/api/photographs").json()["photographs"]] == [3.5, 9.0, None]


class Parts(HTMLParser):
    """Tags of a page, and the words between them."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.words = ""
        self.feed(page)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))

    def handle_data(self, data: str) -> None:
        self.words += data


def test_the_page_for_the_client_needs_nothing_else_and_runs_nothing(client: Page) -> None:
    sly = "Rain. <script>alert(1)</script><img src=x onerror=alert(2)>"
    client.post("/api/diary", json={"mark": word(), "seen": SEEN, "text": sly})
    photograph(client, JPEG, chainage=3.5, note='"><script>alert(3)</script>')
    answer = client.get("/diary.html")
    assert answer.headers["content-disposition"].startswith("attachment;")
    page = Parts(answer.text)
    assert sly in page.words
    assert "script" not in {tag for tag, _ in page.tags}
    pictures = [attributes for tag, attributes in page.tags if tag == "img"]
    assert [each["src"] for each in pictures if not (each["src"] or "").startswith("data:image/jpeg;base64,")] == []
    assert len(pictures) == 1
    assert all("onerror" not in attributes for _, attributes in page.tags)
    assert not {tag for tag, _ in page.tags} & {"link", "iframe", "object", "form"}


def test_the_diary_is_added_to_and_stays(client: Page) -> None:
    for text in ("Rain.", "No rain after all.", "Rain."):
        client.post("/api/diary", json={"mark": word(), "seen": SEEN, "text": text})
    assert [each["text"] for each in client.get("/api/diary").json()["entries"]] == [
        "Rain.",
        "No rain after all.",
        "Rain.",
    ]
    assert is_a_problem(client.post("/api/diary", json={"mark": word(), "seen": SEEN, "text": " \n"}))


def typed_nptel(client: Page) -> str:
    """Example 13-1 of the programme, row by row."""
    book = word()
    points = ["BM", *(f"TP{place}" for place in range(1, 8)), "BM"]
    for place, (back, fore) in enumerate(zip(BACKS, FORES, strict=True)):
        level = "150.485" if place == 0 else ""
        assert put(client, "level row", level_row(book, "back", points[place], f"{back}", level)).status_code == 200
        assert put(client, "level row", level_row(book, "fore", points[place + 1], f"{fore}")).status_code == 200
    return book


def test_a_published_book_typed_on_the_slope_misses_as_published(client: Page) -> None:
    """National Programme on Technology Enhanced Learning, example 13-1: 150.535 where 150.485 is known; 5 sqrt 8 mm."""
    typed_nptel(client)
    (told,) = client.get("/api/slope/levels").json()["books"]
    assert told["big"]["missed"] == "50"
    assert told["big"]["allowed"] == "14.1"
    assert told["big"]["refused"]
    assert told["rows"][-1]["reached"] == "150.535"
    assert [row["reached"] for row in told["rows"] if row["sight"] == "fore"][:2] == ["149.830", "148.040"]
    assert told["likely"]
    assert any(row["suspect"] for row in told["rows"])


def test_a_book_is_written_as_a_table_that_reads_back_and_over_nothing(client: Page, folder: Path) -> None:
    (folder / "levels.csv").write_text("mine", encoding="utf-8")
    book = typed_nptel(client)
    names = [client.post("/api/slope/levels/file", json={"book": book}).json()["file"] for _ in range(2)]
    assert names == ["levels_2.csv"] * 2
    assert (folder / "levels.csv").read_text(encoding="utf-8") == "mine"
    assert reduce_book(read_level_book(folder / "levels_2.csv")).lines[0].misclosure == pytest.approx(0.050)
    put(client, "level row", level_row(book, "back", "BM", "1.000"))
    put(client, "level row", level_row(book, "fore", "X", "1.100"))
    assert client.post("/api/slope/levels/file", json={"book": book}).json()["file"] == "levels_3.csv"
    assert not list(folder.glob(".survey*"))


def test_points_named_as_people_name_them_read_back(client: Page, folder: Path) -> None:
    book = word()
    for sight, point, level in (("back", '#1, "the" step; low', "100"), ("fore", "=2+2", "")):
        put(client, "level row", level_row(book, sight, point, "1.000", level, note="a, b"))
    name = client.post("/api/slope/levels/file", json={"book": book}).json()["file"]
    assert read_level_book(folder / name).points == ('#1, "the" step; low', "=2+2")


def test_a_book_that_is_asked_about_is_not_written(client: Page, folder: Path) -> None:
    book = word()
    put(client, "level row", level_row(book, "back", "BM", "1.205", "100"))
    put(client, "level row", level_row(book, "fore", "A", "14.2"))
    answer = client.post("/api/slope/levels/file", json={"book": book})
    assert is_a_problem(answer)
    assert answer.json()["problems"][0]["place"] == "row 2"
    assert not list(folder.glob("levels*"))
    assert is_a_problem(client.post("/api/slope/levels/file", json={"book": word()}))


def test_a_doubtful_row_stays_as_typed_and_is_answered(client: Page) -> None:
    book, wrong = word(), None
    put(client, "level row", level_row(book, "back", "BM", "1,205", "100"))
    wrong = level_row(book, "fore", "A", "14.2")
    put(client, "level row", wrong)
    rows = client.get("/api/slope/levels").json()["books"][0]["rows"]
    assert [row["typed"] for row in rows] == ["1,205", "14.2"]
    assert all(row["asked"] for row in rows)
    put(client, "word on a row", {"row": rows[0]["row"], "word": "right"})
    put(client, "level row", level_row(book, "fore", "A", "1.42", instead_of=wrong["row"]))
    rows = client.get("/api/slope/levels").json()["books"][0]["rows"]
    assert [(row["typed"], row["asked"], row["before"]) for row in rows] == [("1,205", [], []), ("1.42", [], ["14.2"])]
    assert rows[1]["reached"] == "99.785"
    put(client, "word on a row", {"row": rows[1]["row"], "word": "struck"})
    rows = client.get("/api/slope/levels").json()["books"][0]["rows"]
    assert [row["struck"] for row in rows] == [False, True]


def test_it_cannot_be_right_that_a_number_is_none(client: Page) -> None:
    book = word()
    row = level_row(book, "back", "BM", "14.2", "100")
    put(client, "level row", row)
    put(client, "word on a row", {"row": row["row"], "word": "right"})
    assert client.get("/api/slope/levels").json()["books"][0]["rows"][0]["asked"]


def test_a_time_going_backwards_is_asked_about(client: Page) -> None:
    book = word()
    put(client, "level row", level_row(book, "back", "BM", "1.2", "100"), seen="2026-09-01T10:00:00Z")
    put(client, "level row", level_row(book, "fore", "A", "1.3"), seen="2026-09-01T09:00:00Z")
    rows = client.get("/api/slope/levels").json()["books"][0]["rows"]
    assert [bool(row["asked"]) for row in rows] == [False, True]
    assert rows[1]["reached"] == "99.900"


def test_shots_are_written_for_the_reader_of_files_and_over_nothing(client: Page, folder: Path) -> None:
    before = (folder / "as_built.csv").read_bytes()
    up = word()
    put(client, "set-up", {"row": up, "mark": "P1", "level": "101.950", "typed": "1.000"})
    put(client, "shot", shot("lip 1", "left", "1.800", given="staff", set_up=up))
    put(client, "shot", shot("7.0", "left", "101.000", note="soft, here"))
    put(client, "shot", shot("7.0", "dig", "1410"))
    told = client.post("/api/slope/shots/file").json()
    assert told == {"file": "as_built_2.csv", "left_out": 1}
    assert (folder / "as_built.csv").read_bytes() == before
    lip, edge = read_shots(folder / "as_built_2.csv", design(read_job(folder)).course)
    assert (lip.lip, lip.left, edge.chainage, edge.left, edge.note) == ("lip 1", 101.15, 7.0, 101.0, "soft, here")
    assert client.post("/api/slope/shots/file").json()["file"] == "as_built_2.csv"


def test_a_set_up_written_anew_moves_what_hangs_on_it(client: Page) -> None:
    up = word()
    put(client, "set-up", {"row": up, "mark": "P1", "level": "101.950", "typed": "1.000"})
    put(client, "shot", shot("lip 1", "left", "1.800", given="staff", set_up=up))
    assert client.get("/api/slope/shots").json()["shots"][0]["shot"] == "101.150"
    put(client, "set-up", {"row": word(), "mark": "P1", "level": "101.950", "typed": "1.010", "instead_of": up})
    assert client.get("/api/slope/shots").json()["shots"][0]["shot"] == "101.160"


def test_nothing_shot_is_no_file(client: Page) -> None:
    assert is_a_problem(client.post("/api/slope/shots/file"))
    assert client.get("/api/slope/shots?settled=true").json()["shots"] == []


def test_a_lip_tells_which_end_to_shim(client: Page) -> None:
    put(client, "lip check", {"row": word(), "lip": "lip 2", "given": "staff", "left": "1.302", "right": "1.297"})
    (told,) = client.get("/api/slope/lips").json()["checks"]
    assert (told["out"], told["high"], told["shim"]) == ("5", "right", "Shim the left end up 5 mm.")
    assert len(told["shares"]) == len(told["twice"]) > 1


def test_readings_of_no_form_do_not_stop_the_pages(client: Page, folder: Path) -> None:
    """What an older or another program has kept under these kinds is shown as far as it goes."""
    put(client, "bucket", {"litres": 20})
    rows = sqlite3.connect(folder / "site.sqlite")
    rows.execute("UPDATE reading SET kind = 'level row'")
    rows.execute("INSERT INTO reading (kind, seen, kept, content) SELECT 'shot', seen, kept, content FROM reading")
    rows.execute("INSERT INTO reading (kind, seen, kept, content) SELECT 'lip check', seen, kept, content FROM reading")
    rows.execute("INSERT INTO reading (kind, seen, kept, content) SELECT 'set-up', seen, kept, content FROM reading")
    rows.commit()
    rows.close()
    for page in ("levels", "shots", "lips"):
        assert client.get(f"/api/slope/{page}").status_code == 200


def test_what_was_kept_is_there_for_the_next_program(folder: Path) -> None:
    first = Page(make_app(folder))
    put(first, "bucket", {"litres": 20})
    photograph(first, JPEG)
    second = Page(make_app(folder))
    assert len(second.get("/api/readings").json()["readings"]) == 1
    assert len(second.get("/api/photographs").json()["photographs"]) == 1


def test_pages_of_the_slope_are_themselves_and_pegs_are_pegs(client: Page) -> None:
    for name, heading in (("levels", "Level book"), ("shots", "Shots"), ("lips", "Lip check"), ("diary", "Diary")):
        assert f"<h1>{heading}</h1>" in client.get(f"/slope/{name}").text
    assert 'id="peg"' in client.get("/slope/7").text
