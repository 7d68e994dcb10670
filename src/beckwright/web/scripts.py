"""Scripts and styles of the pages: at an address that changes with what they hold, so no browser asks for them twice.

A page of a program from before asks at the address from before, and is told to load itself again: nothing of two
programs is mixed.
"""

import re
from functools import cache
from hashlib import sha256
from pathlib import Path

from fastapi import FastAPI
from fastapi.staticfiles import StaticFiles
from markupsafe import Markup

STATIC = Path(__file__).parent / "static"
_IMPORTED = re.compile(r"""^(?:import|export|\}) .*?["'](\.[^"']+)["'];$""", re.MULTILINE)


@cache
def scripts_at() -> str:
    """Where they stand, such as ``/static/5f3a9c1e2b7d``: read once, so an edited script wants a new start."""
    held = sha256()
    for path in sorted(STATIC.rglob("*")):
        if path.is_file():
            held.update(path.relative_to(STATIC).as_posix().encode() + b"\0" + path.read_bytes())
    return f"/static/{held.hexdigest()[:12]}"


@cache
def script(name: str) -> Markup:
    """The tag of a page's script, such as ``desk/desk.js``, and of all it imports.

    Told of them at once a browser asks for them together, not each when the one before it has come.
    """
    at = scripts_at()
    preloads = (f'<link rel="modulepreload" href="{at}/{each}">' for each in imports_of(name))
    return Markup("\n").join(map(Markup, (*preloads, f'<script type="module" src="{at}/{name}"></script>')))


def imports_of(name: str) -> tuple[str, ...]:
    """Every script that one imports, and those they import, by name in the order they are met."""
    met: dict[str, None] = {}
    asked = [name]
    for each in asked:
        text = (STATIC / each).read_text(encoding="utf-8")
        for found in _IMPORTED.findall(text):
            path = (STATIC / each).parent.joinpath(found).resolve().relative_to(STATIC.resolve()).as_posix()
            if path not in met and path != name:
                met[path] = None
                asked.append(path)
    return tuple(met)


def serve_scripts(app: FastAPI) -> None:
    """Serve them at their own address, and at ``/static`` for who is not a page of this program."""
    files = StaticFiles(directory=STATIC)
    app.mount(scripts_at(), files, name="scripts")
    app.mount("/static", files, name="static")
