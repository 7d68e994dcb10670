"""The pages. Each is the same for every job but for its title: what it shows it asks for itself."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

from fastapi import APIRouter, Request
from fastapi.responses import FileResponse, HTMLResponse
from jinja2 import Environment, FileSystemLoader
from markupsafe import Markup

from beckwright.base.words import reads, unit_called, units_told
from beckwright.languages import LANGUAGES, spoken
from beckwright.papers import fonts
from beckwright.web.desk.opened import Desk
from beckwright.web.language import said
from beckwright.web.places import PLACES, moments
from beckwright.web.scripts import script, scripts_at
from beckwright.web.units import UNITS

_TEMPLATES = Environment(loader=FileSystemLoader(Path(__file__).parent / "templates"), autoescape=True)
_TEMPLATES.filters["breaking"] = lambda name: Markup("_<wbr>").join(name.split("_"))
SLOPE = ("levels", "shots", "lips", "switch-on", "leak", "photographs", "diary")
"""Pages of the slope, before the one that takes whatever follows as a peg."""
CARE = ("record", "settling", "second")
"""Pages of the years after."""
PAGES = {
    "/": "desk.html",
    "/film": "film.html",
    "/care": "care.html",
    **{f"/care/{name}": f"care_{name}.html" for name in CARE},
    "/why": "why.html",
    "/why/{figure}": "why.html",
    "/doubts": "doubts.html",
    "/papers": "papers.html",
    "/papers/{name}": "paper.html",
    "/bring": "bring.html",
    "/relief": "relief.html",
    "/revisions": "revisions.html",
    "/beside": "beside.html",
    "/slope": "slope.html",
    **{f"/slope/{name}": f"slope_{name.replace('-', '_')}.html" for name in SLOPE},
    "/slope/{place:path}": "slope.html",
}
"""Address and template of every page."""


def told_page(request: Request, template: str, **told: Any) -> str:
    """A page in the language of who asks for it."""
    language = spoken()
    told = {
        "moments": moments(PLACES),
        "round": True,
        "here": request.url.path,
        "language": language,
        "scripts": scripts_at(),
        "script": script,
        "languages": LANGUAGES,
        "units": UNITS,
        "told_in": reads().value,
        "units_told": json.dumps(units_told(), ensure_ascii=False),
        "unit": unit_called,
        **told,
    }
    return said(_TEMPLATES.get_template(template).render(told), language)


def font_routes() -> APIRouter:
    """The typeface: it hangs on no job."""
    router = APIRouter()

    @router.get("/fonts/plex.ttf")
    def font() -> FileResponse:
        """Give the file the papers are set with, so that screen and paper look alike."""
        return FileResponse(fonts.folder() / fonts.FILE, media_type="font/ttf")

    return router


def page_routes(desk: Desk) -> APIRouter:
    """Routes of the pages of one job."""
    router = APIRouter(default_response_class=HTMLResponse)

    def page(template: str) -> Callable[[Request], HTMLResponse]:
        def answer(request: Request) -> HTMLResponse:
            return HTMLResponse(told_page(request, template, title=desk.folder.resolve().name, job=desk.keeper.job))

        return answer

    for path, template in PAGES.items():
        router.add_api_route(path, page(template), methods=["GET"], include_in_schema=False)
    return router
