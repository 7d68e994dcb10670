"""An app asked, before anybody does, what the first page and the first drag will ask: libraries are read meanwhile."""

import gc
import json
from typing import Any

from starlette.types import ASGIApp, Message

from beckwright.web.security import PASS

HOST = "127.0.0.1"
NEW_OBJECTS = 20_000
"""Between two looks of the collector; one try makes a few thousand, and nearly all are gone with it."""


async def warm(app: ASGIApp, token: str | None = None) -> None:
    """Have the first page made, the job designed, and a point of it moved to where it is.

    What is wrong with the job is told to who asks for it. What is loaded by then stays for good: put out of the
    collector's way, it is not walked over while a point is dragged (measured: 80 ms, each twentieth try, on a hundred
    thousand objects).

    token  as the app was made with
    """
    await _asked(app, token, "GET", "/")
    stands = await _asked(app, token, "GET", "/api/state")
    if stands:
        x, y = json.loads(stands)["course"]["line"][0]
        there = {"do": "move point", "point": 0, "x_m": x, "y_m": y}
        await _asked(app, token, "POST", "/api/try", {"edits": [there]})
    gc.collect()
    gc.freeze()
    gc.set_threshold(NEW_OBJECTS, 10, 10)


async def _asked(app: ASGIApp, token: str | None, method: str, path: str, told: Any = None) -> bytes:
    """What the app answers; nothing where it refuses."""
    body = b"" if told is None else json.dumps(told).encode()
    headers = {
        "host": HOST,
        "origin": f"http://{HOST}",
        "content-type": "application/json",
        "content-length": str(len(body)),
        "cookie": f"{PASS}={token or ''}",
    }
    scope = {
        "type": "http",
        "asgi": {"version": "3.0"},
        "http_version": "1.1",
        "method": method,
        "scheme": "http",
        "path": path,
        "raw_path": path.encode(),
        "query_string": b"",
        "headers": [(name.encode(), held.encode()) for name, held in headers.items()],
    }
    sent: list[Message] = []

    async def receive() -> Message:
        return {"type": "http.request", "body": body, "more_body": False}

    async def send(message: Message) -> None:
        sent.append(message)

    await app(scope, receive, send)
    answer = b"".join(message.get("body", b"") for message in sent)
    return answer if sent[0]["status"] == 200 else b""
