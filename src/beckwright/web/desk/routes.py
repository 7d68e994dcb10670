"""The job as it stands, changes to it, tried and kept, and what can be asked about it."""

from fastapi import APIRouter
from fastapi.responses import JSONResponse

from beckwright.site import Conflict, Saved
from beckwright.web.bodies import Edited, Marked, Tried
from beckwright.web.desk.opened import Apart, Desk, edited
from beckwright.web.desk.state import moving, state
from beckwright.web.desk.works import films_told, pegs_told, works_told
from beckwright.web.problems import missing
from beckwright.web.quickly import QuickJSON
from beckwright.web.stood import stood
from beckwright.web.why.explained import explained, figures_named


def job_routes(desk: Desk) -> APIRouter:
    """Routes of one job. All are plain functions: each is worked in a thread of its own, and the server stays awake."""
    router = APIRouter(prefix="/api")
    _add_changes(router, desk)
    _add_questions(router, desk)
    return router


def now(desk: Desk) -> JSONResponse:
    """The job as it stands, with what undo would take back and whether redo leads anywhere. Raises ``JobError``."""
    held = desk.stands()
    laid, revision = desk.laid(held), held.revision
    told = state(laid.design, revision=revision.number, ground=desk.ground_told(laid))
    undo = "" if revision.parent is None else revision.why
    return QuickJSON(told | {"undo": undo, "redo": revision.onward is not None})


def _add_changes(router: APIRouter, desk: Desk) -> None:
    @router.get("/state")
    def stands() -> JSONResponse:
        return now(desk)

    @router.post("/try")
    def tried(body: Tried) -> JSONResponse:
        """What edits would make of the job: what moves with them, and nothing the page knows already."""
        with desk.turns.quick():
            held = stood() or desk.stands()
            design, _ = desk.tried(edited(held.text, body.edits), held)
            return QuickJSON(moving(design, revision=held.revision.number))

    @router.post("/edit")
    def kept(body: Edited) -> JSONResponse:
        with desk.turns.quick(more_to_come=False):
            desk.keep(body.edits, mark=body.mark, based_on=body.based_on)
            return now(desk)

    @router.post("/undo")
    def undo(body: Marked) -> JSONResponse:
        return _moved(desk, desk.keeper.undo(body.mark, based_on=body.based_on))

    @router.post("/redo")
    def redo(body: Marked) -> JSONResponse:
        return _moved(desk, desk.keeper.redo(body.mark, based_on=body.based_on))


def _moved(desk: Desk, to: Saved | Conflict) -> JSONResponse:
    if isinstance(to, Conflict):
        raise Apart(to)
    return now(desk)


def _add_questions(router: APIRouter, desk: Desk) -> None:
    def works_now() -> JSONResponse:
        with desk.slowly() as (laid, held):
            return JSONResponse(works_told(laid, revision=held.revision.number))

    def films_now() -> JSONResponse:
        with desk.filming() as (laid, held):
            return JSONResponse(films_told(laid, revision=held.revision.number))

    @router.get("/later")
    async def works() -> JSONResponse:
        return await desk.turns.apart(works_now)

    @router.get("/later/films")
    async def films() -> JSONResponse:
        return await desk.turns.apart(films_now)

    @router.get("/pegs")
    def pegs() -> JSONResponse:
        held = desk.stands()
        return JSONResponse(pegs_told(desk.laid(held), revision=held.revision.number))

    @router.get("/explain/{figure}")
    def explain(figure: str) -> JSONResponse:
        laid = desk.laid(desk.stands())
        named = figures_named(laid)
        found = named.get(figure)
        return missing("figure", figure, named) if found is None else JSONResponse(explained(found, named))
