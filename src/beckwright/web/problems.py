"""What went wrong, as JSON: every problem with its place, what was found, the rule, and what to do."""

import logging
import traceback
from collections.abc import Iterable
from difflib import get_close_matches
from pathlib import PurePath
from typing import Any

from fastapi import FastAPI, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import JSONResponse
from starlette.exceptions import HTTPException

from beckwright.base.errors import JobError, Problem
from beckwright.web.desk.opened import Apart
from beckwright.web.typed import KIND, RULE
from beckwright.web.whose import OtherJob

SIDES = ("ours", "theirs", "base")
UNTOUCHED = "Nothing in the job folder was changed"

_log = logging.getLogger("uvicorn.error")
_SAID = {
    404: ("there is no such page here", "An address begins at the desk", "Go back to the desk"),
    405: ("it cannot be asked in this way", "Answers are got, changes are posted", "Load the page again"),
}
_OTHER = ("what was sent cannot be understood", "It must be what the pages of this program send", "Load the page again")


def refusal(status: int, problems: Iterable[Problem], **more: Any) -> JSONResponse:
    """Answer with problems; ``more`` stands beside them."""
    return JSONResponse({"problems": told_problems(problems), **more}, status_code=status)


def told_problems(problems: Iterable[Problem]) -> list[dict[str, str]]:
    """Problems as JSON."""
    return [{"place": each.place, "found": each.found, "rule": each.rule, "remedy": each.remedy} for each in problems]


def missing(kind: str, name: str, known: Iterable[str]) -> JSONResponse:
    """Answer that there is no such thing, and what a person may have meant."""
    near = get_close_matches(name, known, n=3, cutoff=0.5)
    remedy = f"Did you mean {', '.join(near)}" if near else "Choose one of those the pages show"
    rule = f"This job has its own {kind}s"
    return refusal(404, [Problem(place=kind, found=f"there is no {kind} {name[:80]}", rule=rule, remedy=remedy)])


def fault(trouble: Exception) -> JSONResponse:
    """Answer to a fault of our own. The terminal is told where in the program it lies, and nothing of the job."""
    frame = traceback.extract_tb(trouble.__traceback__)[-1]
    _log.error(
        "a fault of its own: %s, %s line %s", type(trouble).__name__, PurePath(frame.filename).name, frame.lineno
    )
    found = f"beckwright met a fault of its own ({type(trouble).__name__})"
    remedy = f"{UNTOUCHED}. Undo the last change, or try another"
    return refusal(500, [Problem(place="this program", found=found, rule="That should not happen", remedy=remedy)])


def tell_problems(app: FastAPI) -> None:
    """Let every refusal of ``app`` speak the same way."""

    @app.exception_handler(JobError)
    def job(_: Request, error: JobError) -> JSONResponse:
        return refusal(422, error.problems)

    @app.exception_handler(Apart)
    def apart(_: Request, error: Apart) -> JSONResponse:
        return refusal(409, [error.problem], **{name: getattr(error.conflict, name).revision.number for name in SIDES})

    @app.exception_handler(OtherJob)
    def other(_: Request, error: OtherJob) -> JSONResponse:
        return refusal(409, [error.problem], other_job=True)

    @app.exception_handler(RequestValidationError)
    def body(_: Request, error: RequestValidationError) -> JSONResponse:
        return refusal(422, [_of_body(detail) for detail in error.errors()])

    @app.exception_handler(HTTPException)
    def page(request: Request, error: HTTPException) -> JSONResponse:
        found, rule, remedy = _SAID.get(error.status_code, _OTHER)
        place = request.url.path[:80]
        return refusal(error.status_code, [Problem(place=place, found=found, rule=rule, remedy=remedy)])


def _of_body(detail: Any) -> Problem:
    place = ".".join(str(part) for part in detail["loc"] if part != "body")[:80] or "what was sent"
    if detail["type"] == KIND:
        return Problem(place=place, found=detail["ctx"]["found"], rule=RULE, remedy=detail["ctx"]["remedy"])
    return Problem(place=place, found=detail["msg"], rule=_OTHER[1], remedy=_OTHER[2])
