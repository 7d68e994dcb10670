"""The years after: the yearly record, edges over the years, and a second feature that is only weighed."""

from collections.abc import Callable
from datetime import date
from typing import Annotated

from fastapi import APIRouter, Query
from fastapi.responses import JSONResponse

from beckwright.care import Normal
from beckwright.web.care.record import record_told, write_record
from beckwright.web.care.second import SecondBody, second_told, units
from beckwright.web.care.settled import settled_told
from beckwright.web.desk.opened import Desk, Laid

Since = Annotated[date | None, Query()]


def add_years(router: APIRouter, desk: Desk, usual: Callable[[], tuple[Laid, Normal]]) -> None:
    """Add the routes; ``usual`` gives the job as it stands, and what is normal for it."""

    @router.get("/record")
    def record() -> JSONResponse:
        return JSONResponse(record_told(desk, desk.laid(desk.stands()).works))

    @router.post("/record/file")
    def record_file() -> JSONResponse:
        name, left_out = write_record(desk)
        return JSONResponse({"file": name, "left_out": left_out})

    @router.get("/settling")
    def settled(since: Since = None) -> JSONResponse:
        return JSONResponse(settled_told(desk, since))

    @router.get("/second")
    def fields() -> JSONResponse:
        return JSONResponse(units())

    @router.post("/second")
    def second(body: SecondBody) -> JSONResponse:
        laid, held = usual()
        return JSONResponse(second_told(laid.design, held, body))
