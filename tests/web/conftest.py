"""A job folder nobody minds being changed, opened for a browser."""

import asyncio
import shutil
from collections.abc import Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from functools import partial
from pathlib import Path
from typing import Any

import httpx
import pytest
from fastapi import FastAPI

from beckwright import papers
from beckwright.papers.readers import DRIVER
from beckwright.site import Keeper
from beckwright.web.app import make_app

EXAMPLES = Path(__file__).parents[2] / "examples"
HERE = "http://127.0.0.1:8341"


class Page:
    """A page of the program: what it asks carries its origin, and it keeps what cookies it is given."""

    def __init__(self, app: FastAPI, headers: dict[str, str] | None = None) -> None:
        self.transport = httpx.ASGITransport(app)
        self.headers = {"Origin": HERE} if headers is None else headers
        self.cookies = httpx.Cookies()

    def get(self, path: str, **more: Any) -> httpx.Response:
        return self.all_at_once([("GET", path, more)])[0]

    def post(self, path: str, **more: Any) -> httpx.Response:
        return self.all_at_once([("POST", path, more)])[0]

    def all_at_once(self, asked: Sequence[tuple[str, str, dict[str, Any]]]) -> list[httpx.Response]:
        async def ask() -> list[httpx.Response]:
            async with httpx.AsyncClient(
                transport=self.transport, base_url=HERE, headers=self.headers, cookies=self.cookies, timeout=120
            ) as client:
                answers = await asyncio.gather(*(client.request(way, path, **more) for way, path, more in asked))
                self.cookies = client.cookies
                return answers

        # A thread of its own: browser tests of the same run leave a loop running in this one.
        with ThreadPoolExecutor(1) as apart:
            return apart.submit(lambda: asyncio.run(ask())).result()


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A copy of Hazel Bank."""
    return Path(shutil.copytree(EXAMPLES / "hazel_bank", tmp_path / "hazel_bank"))


@pytest.fixture
def client(folder: Path) -> Page:
    """A page of the program itself."""
    return Page(make_app(folder))


@pytest.fixture(scope="module")
def left_alone(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """A copy of Hazel Bank that no test of a module changes: that none did is looked at in the end."""
    folder = Path(shutil.copytree(EXAMPLES / "hazel_bank", tmp_path_factory.mktemp("left") / "hazel_bank"))
    yield folder
    for path in (EXAMPLES / "hazel_bank").iterdir():
        assert (folder / path.name).read_bytes() == path.read_bytes(), path.name
    with Keeper(folder) as keeper:
        assert [each.number for each in keeper.revisions()] == [1]
        assert [each.name for each in keeper.revisions()] == [""]
        assert keeper.readings() == keeper.photographs() == keeper.diary() == ()


@pytest.fixture(scope="module")
def app_left_alone(left_alone: Path) -> FastAPI:
    """An app takes as long to make as ten requests that are refused."""
    return make_app(left_alone)


@pytest.fixture
def asking(app_left_alone: FastAPI) -> Page:
    """A page whose requests come to nothing: they only look, or are refused."""
    return Page(app_left_alone)


@pytest.fixture
def few_sheets(monkeypatch: pytest.MonkeyPatch) -> None:
    """Draw the sheets of one reader, where a test is not about what is on them: a whole set takes seconds."""
    monkeypatch.setattr(papers, "draw_sheets", partial(papers.draw_sheets, readers=[DRIVER]))


def moved(east: float = 11.0, north: float = 9.0, point: int = 1) -> list[dict[str, Any]]:
    """One edit that moves a point of the course."""
    return [{"do": "move point", "point": point, "x_m": east, "y_m": north}]
