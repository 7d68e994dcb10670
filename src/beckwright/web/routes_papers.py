"""The sheets of the job as it stands: each as SVG, and the whole set as one PDF."""

from datetime import UTC, datetime

from fastapi import APIRouter
from fastapi.responses import JSONResponse, Response

from beckwright.papers.formats.pdf import write_pdf
from beckwright.papers.formats.svg import write_svg
from beckwright.web.desk import Desk
from beckwright.web.problems import missing


def papers_routes(desk: Desk) -> APIRouter:
    """Routes of the papers of one job. Sheets are drawn when first asked for, and once for each revision."""
    router = APIRouter()

    @router.get("/api/papers")
    def names() -> JSONResponse:
        with desk.slowly() as (laid, _):
            sheets = laid.sheets()
        return JSONResponse({"sheets": [{"name": name, "title": sheet.title} for name, sheet in sheets.items()]})

    @router.get("/papers/papers.pdf")
    def pdf() -> Response:
        with desk.slowly() as (laid, _):
            sheets = laid.sheets()
        title = laid.design.job.title
        moment = datetime.fromisoformat(title.date).replace(tzinfo=UTC)
        made = write_pdf(tuple(sheets.values()), title=f"{title.name}: papers", author=title.drawn_by, written=moment)
        return Response(made, media_type="application/pdf")

    @router.get("/papers/{name}.svg")
    def svg(name: str) -> Response:
        with desk.slowly() as (laid, _):
            sheets = laid.sheets()
        if name not in sheets:
            return missing("sheet", name, sheets)
        return Response(write_svg(sheets[name]), media_type="image/svg+xml")

    return router
