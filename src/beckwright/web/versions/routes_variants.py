"""What stands now, asked every few seconds; and any text of the job looked at, held against another, taken up again."""

from threading import Lock
from typing import Annotated

from fastapi import APIRouter, Query
from fastapi.responses import JSONResponse

from beckwright.web.bodies import Number, Stood
from beckwright.web.desk.opened import Desk
from beckwright.web.desk.state import state
from beckwright.web.versions.variants import compared, take_up, told_since

Seen = Annotated[int | None, Query(ge=1, le=10**9)]


def variant_routes(desk: Desk) -> APIRouter:
    """Routes of the variants of one job. None but ``stand`` changes anything."""
    router = APIRouter(prefix="/api")
    _add_stands(router, desk)
    _add_looks(router, desk)
    return router


def _add_stands(router: APIRouter, desk: Desk) -> None:
    @router.get("/stands")
    def stands(seen: Seen = None) -> JSONResponse:
        """Number, reason and origin of what stands; what has changed since ``seen`` in words, where it is another."""
        held = desk.stands()
        says = "" if seen in (None, held.revision.number) else told_since(desk, seen, held)
        revision = held.revision
        told = {"number": revision.number, "why": revision.why, "origin": revision.origin, "says": says}
        return JSONResponse(told)

    @router.post("/revisions/{number}/stand")
    def stand(number: Number, body: Stood) -> JSONResponse:
        take_up(desk, number, mark=body.mark, based_on=body.based_on)
        return JSONResponse({"stands": desk.stands().revision.number})


def _add_looks(router: APIRouter, desk: Desk) -> None:
    slow = Lock()

    @router.get("/revisions/{number}/state")
    def one(number: Number) -> JSONResponse:
        """Everything the pages draw of a revision; the one that stands stays as it is. 422 where it has no design."""
        laid = desk.laid(desk.keeper.version(number))
        return JSONResponse(state(laid.design, revision=number, ground=desk.ground_told(laid)))

    @router.get("/revisions/{old}/against/{new}")
    def against(old: Number, new: Number) -> JSONResponse:
        return JSONResponse(compared(desk, old, new, whole=False))

    @router.get("/later/{old}/{new}")
    def whole(old: Number, new: Number) -> JSONResponse:
        """Give the same with the slower answers of both: cost, digging, lining."""
        with slow:
            return JSONResponse(compared(desk, old, new, whole=True))
