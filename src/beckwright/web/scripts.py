"""Scripts and styles of the pages: at an address that changes with what they hold, so no browser asks for them twice.

A page of a program from before asks at the address from before, and is told to load itself again: nothing of two
programs is mixed.
"""

from functools import cache
from hashlib import sha256
from pathlib import Path

from fastapi import FastAPI
from fastapi.staticfiles import StaticFiles

STATIC = Path(__file__).parent / "static"


@cache
def scripts_at() -> str:
    """Where they stand, such as ``/static/5f3a9c1e2b7d``: read once, so an edited script wants a new start."""
    held = sha256()
    for path in sorted(STATIC.rglob("*")):
        if path.is_file():
            held.update(path.relative_to(STATIC).as_posix().encode() + b"\0" + path.read_bytes())
    return f"/static/{held.hexdigest()[:12]}"


def serve_scripts(app: FastAPI) -> None:
    """Serve them at their own address, and at ``/static`` for who is not a page of this program."""
    files = StaticFiles(directory=STATIC)
    app.mount(scripts_at(), files, name="scripts")
    app.mount("/static", files, name="static")
