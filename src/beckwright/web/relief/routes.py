"""Ground, cut and water in space."""

from fastapi import APIRouter
from fastapi.responses import JSONResponse

from beckwright.web.desk.opened import Desk
from beckwright.web.relief.relief import relief_told


def relief_routes(desk: Desk) -> APIRouter:
    """Routes of the view in space of one job."""
    router = APIRouter(prefix="/api")

    @router.get("/relief")
    def relief() -> JSONResponse:
        held = desk.stands()
        return JSONResponse(relief_told(desk.laid(held).design, revision=held.revision.number))

    return router
