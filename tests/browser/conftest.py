"""A server of our own on a copy of the example, and Debian's chromium to look at it with."""

import pickle
import shutil
import socket
from collections import OrderedDict
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from threading import Thread
from typing import Any

import pytest

EXAMPLE = Path(__file__).parents[2] / "examples" / "hazel_bank"
CHROMIUM = "/usr/bin/chromium"
QUIET = ("--no-sandbox", "--disable-background-networking", "--disable-component-update", "--disable-sync")
"""Chromium as root refuses its sandbox, and would otherwise talk to its maker."""


@pytest.fixture(scope="session")
def chromium() -> Iterator[Any]:
    """One browser for all tests; each takes a fresh page of it."""
    if not Path(CHROMIUM).exists():
        pytest.skip("chromium is not installed")
    from playwright.sync_api import sync_playwright

    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=CHROMIUM, args=list(QUIET))
        yield browser
        browser.close()


JOBS_REMEMBERED = 6


@pytest.fixture(scope="session", autouse=True)
def _worked_out_once() -> Iterator[None]:
    """Nearly every test opens the same example: what follows from a job is pure, and worked out once for all."""
    from beckwright.web.desk import opened

    with pytest.MonkeyPatch.context() as patch:
        for name in ("Works", "film_set", "film_findings"):
            patch.setattr(opened, name, _remembered(getattr(opened, name)))
        yield


def _remembered(work: Callable[..., Any]) -> Callable[..., Any]:
    from beckwright.base.words import reads
    from beckwright.languages import spoken

    known: OrderedDict[bytes, Any] = OrderedDict()

    def remembered(design: Any, *more: Any) -> Any:
        key = pickle.dumps((design.job, reads().value, spoken()))
        made = known.pop(key) if key in known else work(design, *more)
        known[key] = made
        while len(known) > JOBS_REMEMBERED:
            known.popitem(last=False)
        return made

    return remembered


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A copy of the example that a test may change."""
    return Path(shutil.copytree(EXAMPLE, tmp_path / "hazel_bank"))


@contextmanager
def serving(app: Any) -> Iterator[str]:
    """Any app of ours on a free port of this machine."""
    import uvicorn

    listening = socket.create_server(("127.0.0.1", 0))
    server = uvicorn.Server(uvicorn.Config(app, log_level="error", ws="none"))
    thread = Thread(target=server.run, kwargs={"sockets": [listening]}, daemon=True)
    thread.start()
    yield f"http://127.0.0.1:{listening.getsockname()[1]}"
    server.should_exit = True
    thread.join(timeout=20)
    listening.close()


class NoCures:
    """An app that is not asked for cures: a page that opens asks for all, and seconds of work would go on behind."""

    def __init__(self, app: Any) -> None:
        self.app = app

    async def __call__(self, scope: Any, receive: Any, send: Any) -> None:
        from starlette.responses import JSONResponse

        none = scope["type"] == "http" and scope["path"] == "/api/cures"
        await (JSONResponse({"moved_on": True}) if none else self.app)(scope, receive, send)


@pytest.fixture
def address(folder: Path, request: pytest.FixtureRequest) -> Iterator[str]:
    """The app with the example lying open. A module that looks at cures says so: ``CURES = True``."""
    from beckwright.web.app import make_app

    app = make_app(folder)
    with serving(app if getattr(request.module, "CURES", False) else NoCures(app)) as served:
        yield served


@pytest.fixture
def page(chromium: Any, address: str) -> Iterator[Any]:
    """The desk, drawn. Any fault of a script, and anything the page's own rules block, fails the test."""
    context = chromium.new_context(viewport={"width": 1440, "height": 900}, reduced_motion="reduce")
    made = context.new_page()
    faults: list[str] = []
    made.on("pageerror", lambda error: faults.append(str(error)))
    made.on("console", lambda message: _note(message, faults))
    made.goto(address)
    made.locator("#eight tr").nth(7).wait_for()
    yield made
    context.close()
    assert faults == []


def _note(message: Any, faults: list[str]) -> None:
    """A server out of reach is what some tests are about; everything else a browser complains of is a fault."""
    if message.type == "error" and "ERR_INTERNET_DISCONNECTED" not in message.text:
        faults.append(message.text)
