"""What was typed on the slope, reduced and held against the design, and written as tables once it is whole."""

from fastapi import APIRouter
from fastapi.responses import JSONResponse, Response

from beckwright.web.desk.opened import Desk
from beckwright.web.slope.bodies import FileBody
from beckwright.web.slope.files import write_levels, write_shots
from beckwright.web.slope.leak import Leak, as_bytes
from beckwright.web.slope.levels import levels_told
from beckwright.web.slope.switch_on import SwitchOn
from beckwright.web.slope.works import lips_told, places_told, shots_told


def slope_routes(desk: Desk) -> APIRouter:
    """Routes of the pages for the slope. What they tell is worked out anew from the rows as they were typed."""
    router = APIRouter(prefix="/api/slope")
    first = SwitchOn(desk)
    _add_leak(router, Leak(desk))

    @router.get("/places")
    def places() -> JSONResponse:
        return JSONResponse(places_told(desk))

    @router.get("/levels")
    def levels() -> JSONResponse:
        return JSONResponse(levels_told(desk))

    @router.post("/levels/file")
    def levels_file(body: FileBody) -> JSONResponse:
        return JSONResponse({"file": write_levels(desk, body.book)})

    @router.get("/shots")
    def shots(*, settled: bool = False) -> JSONResponse:
        return JSONResponse(shots_told(desk, settled=settled))

    @router.post("/shots/file")
    def shots_file() -> JSONResponse:
        name, left_out = write_shots(desk)
        return JSONResponse({"file": name, "left_out": left_out})

    @router.get("/lips")
    def lips() -> JSONResponse:
        return JSONResponse(lips_told(desk))

    @router.get("/switch-on")
    def switch_on(flow: str = "") -> JSONResponse:
        return JSONResponse(first.beside(flow[:40]))

    @router.get("/switch-on/causes")
    def switch_on_causes() -> JSONResponse:
        return JSONResponse(first.causes())

    @router.post("/switch-on/file")
    def switch_on_file() -> JSONResponse:
        name, left_out = first.write()
        return JSONResponse({"file": name, "left_out": left_out})

    return router


def _add_leak(router: APIRouter, leak: Leak) -> None:
    @router.get("/leak")
    def told() -> JSONResponse:
        return JSONResponse(leak.told())

    @router.post("/leak/file")
    def file() -> JSONResponse:
        name, left_out = leak.write()
        return JSONResponse({"file": name, "left_out": left_out})

    @router.get("/leak/report")
    def report() -> Response:
        """Give the report as one plain file that needs nothing else: to be saved and sent."""
        told = {"Content-Disposition": 'attachment; filename="leak_or_not.txt"'}
        return Response(as_bytes(leak.sheet()), media_type="text/plain; charset=utf-8", headers=told)
