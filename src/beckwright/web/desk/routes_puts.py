"""What may be put into the course at a place, and the edits that do it: the page sends those like any other change."""

from typing import Annotated

from fastapi import APIRouter, Query
from fastapi.responses import JSONResponse

from beckwright.base.errors import JobError
from beckwright.web.bodies import Put
from beckwright.web.desk.opened import Desk
from beckwright.web.desk.puts import offers, put_in

Chainage = Annotated[float, Query(ge=0, le=5000, allow_inf_nan=False)]


def puts_routes(desk: Desk) -> APIRouter:
    """Routes about what is put into the course."""
    router = APIRouter(prefix="/api")

    @router.get("/puts")
    def offered(at: Chainage) -> JSONResponse:
        """Tell the offers; where the place lies on no run there are none, and that is an answer as well."""
        try:
            told = offers(desk.stands().text, at)
        except JobError as error:
            found = [f"{each.found}. {each.rule}. {each.remedy}." for each in error.problems]
            told = {"at": at, "reach": "", "fields": {}, "why": " ".join(found)}
        return JSONResponse(told)

    @router.post("/puts")
    def put(body: Put) -> JSONResponse:
        held = desk.stands()
        edits = put_in(held.text, body.kind, body.at, body.values)
        return JSONResponse({"revision": held.revision.number, "edits": edits})

    return router
