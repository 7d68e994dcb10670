"""Who may ask: hosts, origins, the pass, paths, and the headers every answer carries."""

import re
from collections.abc import AsyncIterator
from pathlib import Path

import pytest
from fastapi import FastAPI

from beckwright.web import scripts
from beckwright.web.app import make_app
from beckwright.web.bodies import MOST_EDITS
from beckwright.web.routes_pages import PAGES
from beckwright.web.scripts import scripts_at
from beckwright.web.security import LARGEST_BODY
from tests.web.conftest import Page, moved

WRITES = ("/api/try", "/api/edit", "/api/undo", "/api/redo", "/api/revisions/1/name", "/api/revisions/1/stand")
READS = (
    "/api/state",
    "/api/later",
    "/api/later/films",
    "/api/pegs",
    "/api/stands",
    "/api/revisions",
    "/api/papers",
    "/fonts/plex.ttf",
    "/static/desk/desk.js",
)
TOKEN = "a-word-of-twenty-letters"  # noqa: S105


@pytest.mark.parametrize(
    "origin", ["http://elsewhere.example", "http://127.0.0.1:9999", "null", "", "https://127.0.0.1:8341"]
)
@pytest.mark.parametrize("path", WRITES)
def test_changes_asked_for_by_another_page_are_refused(asking: Page, path: str, origin: str, left_alone: Path) -> None:
    before = (left_alone / "job.toml").read_bytes()
    answer = asking.post(path, json={"edits": moved()}, headers={"Origin": origin})
    assert answer.status_code == 403
    assert answer.json()["problems"]
    assert (left_alone / "job.toml").read_bytes() == before


@pytest.mark.parametrize("path", WRITES)
def test_changes_without_an_origin_are_refused(app_left_alone: FastAPI, path: str) -> None:
    assert Page(app_left_alone, {}).post(path, json={"edits": moved()}).status_code == 403


@pytest.mark.parametrize("host", ["elsewhere.example", "127.0.0.1.elsewhere.example", ""])
def test_an_unknown_host_is_refused(asking: Page, host: str) -> None:
    """A name that an attacker turns to this machine must find nobody at home."""
    assert asking.get("/api/state", headers={"Host": host}).status_code == 400


@pytest.mark.parametrize("path", ["/", "/slope", "/care"])
def test_scripts_stand_at_an_address_of_their_own_and_no_page_is_kept(asking: Page, path: str) -> None:
    """RFC 8246: what is immutable is never asked for again, so its address must change with it."""
    page = asking.get(path)
    assert page.headers["Cache-Control"] == "no-store"
    asked = re.findall(r'(?:src|href)="(/static/[^"]+)"', page.text)
    assert len(asked) > 2
    for address in asked:
        assert address.startswith(f"{scripts_at()}/")
        answer = asking.get(address)
        assert answer.status_code == 200
        assert answer.headers["Cache-Control"].endswith("immutable")
    assert asking.get("/static/desk/desk.js").headers["Cache-Control"] == "no-cache"


def test_their_address_changes_with_them(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(scripts, "STATIC", tmp_path)
    told = set()
    for name, held in (("a.js", "1"), ("a.js", "2"), ("b.js", "2")):
        (tmp_path / name).write_text(held)
        told.add(scripts.scripts_at.__wrapped__())
    assert len(told) == 3


@pytest.mark.usefixtures("few_sheets")
@pytest.mark.parametrize("path", [*PAGES, *READS, "/nowhere"])
def test_every_answer_carries_the_headers(asking: Page, path: str) -> None:
    headers = asking.get(path).headers
    policy = headers["Content-Security-Policy"]
    assert "default-src 'none'" in policy
    assert "unsafe" not in policy
    assert "http" not in policy
    assert headers["X-Content-Type-Options"] == "nosniff"


@pytest.mark.parametrize(
    "path",
    [
        "/static/../app.py",
        "/static/%2e%2e/app.py",
        "/static/..%2fapp.py",
        "/static//etc/passwd",
        "/papers/../job.toml",
        "/papers/..%2f..%2fjob.svg",
        "/papers/%2e%2e%2fsite.svg",
        "/papers/job.toml",
        "/site.sqlite",
        "/job.toml",
        "/fonts/../job.toml",
    ],
)
def test_no_path_leaves_what_is_shown(asking: Page, path: str) -> None:
    answer = asking.get(path)
    assert answer.status_code in (400, 404)
    assert answer.json()["problems"]


@pytest.fixture(scope="module")
def guarded(left_alone: Path) -> FastAPI:
    """An app that wants a pass, for all tests of those who have none."""
    return make_app(left_alone, token=TOKEN)


@pytest.mark.usefixtures("few_sheets")
@pytest.mark.parametrize("path", [*PAGES, *READS])
def test_nobody_enters_without_the_pass(guarded: FastAPI, path: str) -> None:
    stranger = Page(guarded)
    assert stranger.get(path).status_code == 403
    assert stranger.get(path, headers={"Cookie": "beckwright_pass=another"}).status_code == 403


@pytest.mark.parametrize("word", ["", "another", TOKEN[:-1], f"{TOKEN}x", "ä"])
def test_a_wrong_word_gives_no_pass(guarded: FastAPI, word: str) -> None:
    answer = Page(guarded).get("/enter", params={"word": word})
    assert answer.status_code == 403
    assert "set-cookie" not in answer.headers


def test_the_scanned_word_becomes_a_pass(folder: Path) -> None:
    page = Page(make_app(folder, token=TOKEN))
    entered = page.get("/enter", params={"word": TOKEN})
    assert (entered.status_code, entered.headers["location"]) == (303, "/")
    assert "HttpOnly" in entered.headers["set-cookie"]
    assert page.get("/api/state").status_code == 200
    assert page.post("/api/try", json={"edits": moved()}).status_code == 200


def test_a_body_without_measure_is_refused(asking: Page) -> None:
    async def pieces() -> AsyncIterator[bytes]:
        yield b"{}"

    assert asking.post("/api/try", content=pieces()).status_code == 411


def test_a_body_too_large_is_refused_unread(asking: Page) -> None:
    assert asking.post("/api/try", content=b"{}", headers={"Content-Length": str(LARGEST_BODY + 1)}).status_code == 413


def test_too_many_edits_are_refused(asking: Page) -> None:
    assert asking.post("/api/try", json={"edits": moved() * (MOST_EDITS + 1)}).status_code == 422


def test_the_programs_own_documentation_is_not_served(asking: Page) -> None:
    assert [asking.get(path).status_code for path in ("/docs", "/redoc", "/openapi.json")] == [404, 404, 404]
