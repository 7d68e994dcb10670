"""The film: the start and stop of the whole loop, one story at one flow at a time."""

from typing import Annotated

from fastapi import APIRouter, Query
from fastapi.responses import JSONResponse

from beckwright.base.errors import JobError, Problem
from beckwright.film import FLAT_OUT, Story
from beckwright.web.desk.opened import Desk
from beckwright.web.film.told import film_told, loop_told

SHOWN: tuple[Story, ...] = ("first fill", "restart", "stop")
"""The stories a page shows: a change of flow is asked at the command line."""


def film_routes(desk: Desk) -> APIRouter:
    """Routes of the film of one job, each story worked out once for a text of it."""
    router = APIRouter(prefix="/api/film")

    @router.get("/loop")
    def loop() -> JSONResponse:
        held = desk.stands()
        return JSONResponse(loop_told(desk.laid(held).design, revision=held.revision.number))

    @router.get("")
    def film(story: Annotated[str, Query(max_length=40)], flow: Annotated[str, Query(max_length=200)]) -> JSONResponse:
        """Times in s, levels in m, flows in m3/s, water in m3, each by the low, middle and high law."""
        held = desk.stands()
        laid = desk.laid(held)
        asked = next((each for each in SHOWN if each == story), None)
        names = (*laid.design.water.names, *((FLAT_OUT,) if len(laid.design.flat_out.flows) else ()))
        problems = []
        if asked is None:
            problems.append(_no("story", story, SHOWN))
        if flow not in names:
            problems.append(_no("flow", flow, names))
        if asked is None or problems:
            raise JobError(problems)
        return JSONResponse({"revision": held.revision.number, **film_told(laid, asked, flow)})

    return router


def _no(kind: str, given: str, known: tuple[str, ...]) -> Problem:
    return Problem(
        place=f"film {kind}",
        found=given[:80] or "nothing",
        rule=f"It is one of {', '.join(known)}",
        remedy="Ask for one",
    )
