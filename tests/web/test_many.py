"""Twenty people at once, over a real socket: everybody is answered, and what they keep is all kept."""

from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from threading import Barrier, Thread

import httpx
import pytest
import uvicorn

from beckwright.cli.open import LOOPBACK, _door
from beckwright.web.app import make_app
from tests.web.conftest import moved

CLIENTS = 20


@pytest.fixture
def address(folder: Path) -> Iterator[str]:
    door = _door(LOOPBACK, 0)
    assert door is not None
    server = uvicorn.Server(uvicorn.Config(make_app(folder), log_level="error", ws="none"))
    thread = Thread(target=server.run, kwargs={"sockets": [door]}, daemon=True)
    thread.start()
    yield f"http://{LOOPBACK}:{door.getsockname()[1]}"
    server.should_exit = True
    thread.join(timeout=30)
    door.close()


def test_twenty_at_once_are_all_answered_and_every_change_is_kept(address: str) -> None:
    together = Barrier(CLIENTS)

    def visit(number: int) -> tuple[list[int], int]:
        with httpx.Client(base_url=address, headers={"Origin": address}, timeout=120) as client:
            together.wait()
            first = client.get("/api/state")
            tried = client.post("/api/try", json={"edits": moved(11.0 + number / 100)})
            edit = [{"do": "set flow", "name": "everyday", "l_h": 4000.0 + number}]
            body = {"mark": f"person-number-{number}", "based_on": first.json()["revision"], "edits": edit}
            kept = client.post("/api/edit", json=body)
            looked = [client.get(path) for path in ("/", "/slope", "/api/pegs", "/api/revisions")]
            return [each.status_code for each in (first, tried, kept, *looked)], number

    with ThreadPoolExecutor(CLIENTS) as people:
        answered = list(people.map(visit, range(CLIENTS)))
    codes = [code for each, _ in answered for code in each]
    # All change one thing from one revision: the first stands, and everybody else is told, and keeps theirs beside it.
    assert set(codes) == {200, 409}
    with httpx.Client(base_url=address, timeout=120) as client:
        revisions = client.get("/api/revisions").json()["revisions"]
    assert len([each for each in revisions if each["origin"] in ("saved", "aside")]) >= CLIENTS
