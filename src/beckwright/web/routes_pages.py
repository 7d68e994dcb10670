"""The pages. Each is the same for every job but for its title: what it shows it asks for itself."""

from collections.abc import Callable
from pathlib import Path

from fastapi import APIRouter, Request
from fastapi.responses import FileResponse, HTMLResponse
from fastapi.templating import Jinja2Templates

from beckwright.papers import fonts
from beckwright.web.desk import Desk
from beckwright.web.places import PLACES

TEMPLATES = Path(__file__).parent / "templates"
PAGES = {"/": "desk.html", "/slope": "slope.html", "/slope/{place:path}": "slope.html"}
"""Address and template of every page."""


def page_routes(desk: Desk) -> APIRouter:
    """Routes of the pages of one job."""
    router = APIRouter(default_response_class=HTMLResponse)
    templates = Jinja2Templates(TEMPLATES)

    def page(template: str) -> Callable[[Request], HTMLResponse]:
        def answer(request: Request) -> HTMLResponse:
            told = {"title": desk.folder.resolve().name, "places": PLACES, "here": request.url.path}
            return templates.TemplateResponse(request, template, told)

        return answer

    @router.get("/fonts/plex.ttf")
    def font() -> FileResponse:
        """Give the file the papers are set with, so that screen and paper look alike."""
        return FileResponse(fonts.folder() / fonts.FILE, media_type="font/ttf")

    for path, template in PAGES.items():
        router.add_api_route(path, page(template), methods=["GET"])
    return router
