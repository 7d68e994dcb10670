"""Why a figure is what it is: all figures by name, what moves one, and what nobody has measured."""

from collections.abc import Mapping

from fastapi import APIRouter
from fastapi.responses import JSONResponse

from beckwright.base.figures import Figure
from beckwright.base.words import quantity, quantity_band
from beckwright.languages import say
from beckwright.web.desk.opened import Desk, Laid
from beckwright.web.desk.state import Told
from beckwright.web.problems import missing
from beckwright.web.why.doubts import doubts_told
from beckwright.web.why.explained import figures_named
from beckwright.web.why.moved import Searches


def why_routes(desk: Desk) -> APIRouter:
    """Routes of the explanations of one job."""
    router, searches = APIRouter(prefix="/api"), Searches()

    @router.get("/figures")
    def figures() -> JSONResponse:
        held = desk.stands()
        named = figures_named(desk.laid(held))
        return JSONResponse({"revision": held.revision.number, "figures": [_row(each) for each in named.values()]})

    @router.get("/doubts")
    def doubts() -> JSONResponse:
        held = desk.stands()
        return JSONResponse({"revision": held.revision.number, **doubts_told(desk, desk.laid(held), held)})

    @router.post("/moved/{figure}")
    def start(figure: str) -> JSONResponse:
        laid = desk.laid(desk.stands())
        named = figures_named(laid)
        if figure not in named:
            return missing("figure", figure, named)
        return JSONResponse(searches.start(laid, figure, named[figure].unit).told())

    @router.get("/moved/{figure}")
    def so_far(figure: str) -> JSONResponse:
        laid = desk.laid(desk.stands())
        return JSONResponse(_so_far(searches, laid, figures_named(laid), figure))

    @router.post("/moved/{figure}/stop")
    def stop(figure: str) -> JSONResponse:
        searches.stop()
        laid = desk.laid(desk.stands())
        return JSONResponse(_so_far(searches, laid, figures_named(laid), figure))

    return router


def _so_far(searches: Searches, laid: Laid, named: Mapping[str, Figure], figure: str) -> Told:
    search = searches.of(laid, figure) if figure in named else None
    nothing: Told = {"figure": figure, "state": "not asked", "done": 0, "of": 0, "found": 0, "moved": []}
    return nothing if search is None else search.told()


def _row(figure: Figure) -> Told:
    return {
        "name": figure.name,
        # Said here, so that a person finds it by their own word for it.
        "label": say(figure.label),
        "words": quantity_band(figure.low, figure.high, figure.unit) or quantity(figure.amount, figure.unit),
        "grade": figure.grade.value,
    }
