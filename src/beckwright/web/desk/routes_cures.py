"""Cures that were tried, and what each would change. Nothing here changes the job: a cure is taken as any edit is."""

from typing import Any, Literal

from fastapi import APIRouter
from fastapi.responses import JSONResponse

from beckwright.base.errors import Problem
from beckwright.web.bodies import Weighed
from beckwright.web.desk.opened import Desk
from beckwright.web.desk.trials import MovedOn, Trials
from beckwright.web.problems import told_problems

Asked = Literal["levels", "works", "films", "all"]
MOVED_ON = Problem(
    place="cures",
    found="the job was changed meanwhile",
    rule="A cure is held against the job as it stands",
    remedy="Look at the findings as they are now",
)


def cure_routes(desk: Desk) -> APIRouter:
    """Routes of the cures of one job."""
    router, trials = APIRouter(prefix="/api"), Trials(desk)

    def sought(part: Asked) -> JSONResponse:
        try:
            return JSONResponse(trials.cures(part))
        except MovedOn:
            return _moved_on(cures=[])

    @router.get("/cures")
    async def cures(part: Asked = "all") -> JSONResponse:
        """Every cure that lightens its finding, the heaviest findings first; ``part`` of them alone comes sooner."""
        return await desk.turns.apart(lambda: sought(part))

    @router.post("/cures/effect")
    def effect(body: Weighed) -> JSONResponse:
        """Answers before and after, findings gone and new; ``whole`` with works and films, which take seconds."""
        try:
            return JSONResponse(trials.effect(body.edits, whole=body.whole))
        except MovedOn:
            return _moved_on(answers=[], gone=[], new=[], altered=[], whole=body.whole)

    def _moved_on(**nothing: Any) -> JSONResponse:
        """Nothing, and the revision it is nothing for: who edits fast has asked about one that is gone, no fault."""
        number = desk.stands().revision.number
        return JSONResponse({"revision": number, "moved_on": True, "problems": told_problems([MOVED_ON]), **nothing})

    return router
