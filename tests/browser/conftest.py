"""A server of our own on a copy of the example, and Debian's chromium to look at it with."""

import shutil
import socket
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from threading import Thread
from typing import Any

import pytest

from tests.browser.windows import Windows
from tests.remembered import remembered, tried_once

EXAMPLE = Path(__file__).parents[2] / "examples" / "hazel_bank"
CHROMIUM = "/usr/bin/chromium"
QUIET = ("--no-sandbox", "--disable-background-networking", "--disable-component-update", "--disable-sync")
"""Chromium as root refuses its sandbox, and would otherwise talk to its maker."""
PATIENCE = 20_000
"""However busy the machine is, ms: what is looked for here is what comes, not how soon."""


@pytest.fixture(scope="session")
def chromium() -> Iterator[Any]:
    """One browser for all tests; each takes a fresh page of it."""
    if not Path(CHROMIUM).exists():
        pytest.skip("chromium is not installed")
    from playwright.sync_api import expect, sync_playwright

    expect.set_options(timeout=PATIENCE)
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=CHROMIUM, args=list(QUIET))
        yield browser
        browser.close()


JOBS_REMEMBERED = 6


@pytest.fixture(scope="session", autouse=True)
def _worked_out_once() -> Iterator[None]:
    """Nearly every test opens the same example: what follows from a job is pure, and worked out once for all."""
    from beckwright.web.desk import opened, trials

    with pytest.MonkeyPatch.context() as patch:
        for name in ("Works", "findings_of_films"):
            patch.setattr(opened, name, remembered(getattr(opened, name), JOBS_REMEMBERED))
        patch.setattr(trials, "proposals", tried_once(trials.proposals))
        yield


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A copy of the example that a test may change."""
    return Path(shutil.copytree(EXAMPLE, tmp_path / "hazel_bank"))


class Berth:
    """One address for all tests of a run, where each lays its own app: chromium keeps the scripts of an address."""

    def __init__(self) -> None:
        self.app: Any = None
        self.address = ""

    async def __call__(self, scope: Any, receive: Any, send: Any) -> None:
        await self.app(scope, receive, send)


@pytest.fixture(scope="session")
def berth() -> Iterator[Berth]:
    """A server that is not started again for each test."""
    made = Berth()
    with serving(made) as made.address:
        yield made


@contextmanager
def serving(app: Any) -> Iterator[str]:
    """Any app of ours on a free port of this machine."""
    import uvicorn

    listening = socket.create_server(("127.0.0.1", 0))
    server = uvicorn.Server(uvicorn.Config(app, log_level="error", ws="none", lifespan="off"))
    thread = Thread(target=server.run, kwargs={"sockets": [listening]}, daemon=True)
    thread.start()
    yield f"http://127.0.0.1:{listening.getsockname()[1]}"
    server.should_exit = True
    thread.join(timeout=20)
    listening.close()


LATER = ("/api/later", "/api/later/films")


class Unhurried:
    """An app that works out its slow answers once: each change to the job would set off seconds of work unseen.

    What comes later is answered as it first was, for the job as it was opened; ``/api/cures`` is not answered at all.
    """

    def __init__(self, app: Any) -> None:
        self.app = app
        self.told: dict[str, list[Any]] = {}

    async def __call__(self, scope: Any, receive: Any, send: Any) -> None:
        from starlette.responses import JSONResponse

        if scope["path"] == "/api/cures":
            await JSONResponse({"moved_on": True})(scope, receive, send)
        elif scope["path"] not in LATER:
            await self.app(scope, receive, send)
        elif scope["path"] in self.told:
            for message in self.told[scope["path"]]:
                await send(message)
        else:
            await self._first(scope, receive, send)

    async def _first(self, scope: Any, receive: Any, send: Any) -> None:
        heard: list[Any] = []

        async def hear(message: Any) -> None:
            heard.append(message)
            await send(message)

        await self.app(scope, receive, hear)
        if heard[0]["status"] == 200:
            self.told[scope["path"]] = heard


@pytest.fixture
def address(folder: Path, berth: Berth, request: pytest.FixtureRequest) -> str:
    """The app with the example lying open. A module that looks at slow answers says so: ``SLOW = True``."""
    from beckwright.web.app import make_app

    app = make_app(folder)
    berth.app = app if getattr(request.module, "SLOW", False) else Unhurried(app)
    return berth.address


@pytest.fixture(scope="session")
def windows(chromium: Any, berth: Berth) -> Windows:
    """All browsers of this run."""
    return Windows(chromium, berth.address)


@pytest.fixture
def window(windows: Windows) -> Iterator[Callable[..., Any]]:
    """Lends a browser of its own, of a width and height: a context of Playwright. It need not be closed."""
    with windows.lending() as lend:
        yield lend


@pytest.fixture
def page(window: Callable[..., Any], address: str) -> Iterator[Any]:
    """The desk, drawn. Any fault of a script, and anything the page's own rules block, fails the test."""
    made = window().new_page()
    faults: list[str] = []
    made.on("pageerror", lambda error: faults.append(str(error)))
    made.on("console", lambda message: _note(message, faults))
    made.goto(address)
    made.locator("#eight tr").nth(7).wait_for()
    yield made
    made.context.set_offline(False)
    made.close()
    assert faults == []


def _note(message: Any, faults: list[str]) -> None:
    """A server out of reach is what some tests are about; everything else a browser complains of is a fault."""
    if message.type == "error" and "ERR_INTERNET_DISCONNECTED" not in message.text:
        faults.append(message.text)
