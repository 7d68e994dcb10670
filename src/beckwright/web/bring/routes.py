"""Survey files brought in: sent, looked at, answered about, and taken. Nothing is written before that."""

import re
from collections.abc import Callable
from itertools import islice
from pathlib import Path
from typing import Annotated, Any
from unicodedata import category

from fastapi import APIRouter, Query, Request
from fastapi.responses import JSONResponse
from pydantic import BaseModel, ConfigDict, Field
from starlette.concurrency import run_in_threadpool
from starlette.requests import ClientDisconnect

from beckwright.base.errors import JobError
from beckwright.survey.gathered import refusal
from beckwright.web.bring.answers import LONGEST, OPTIONS
from beckwright.web.bring.bring import looked_at, replaced_by, taken
from beckwright.web.bring.tray import Lot, Tray
from beckwright.web.desk.opened import Desk

Number = Annotated[str, Field(pattern=r"^[A-Za-z0-9_-]{8,40}$")]
Answers = Annotated[
    dict[Annotated[str, Field(max_length=40)], Annotated[str, Field(max_length=LONGEST)]],
    Field(max_length=len(OPTIONS)),
]
LINE = re.compile(r"^(.*) line (\d{1,7})$")
LONGEST_LINE = 200
"""Characters of a line of the file that are shown beside what is wrong with it."""


class Answered(BaseModel):
    """Answers by the name of their option, in its words."""

    model_config = ConfigDict(extra="forbid")
    answers: Answers = {}


class Taking(Answered):
    """``stamp`` of the survey the person was shown as the one replaced."""

    stamp: Annotated[str, Field(max_length=64, pattern=r"^[0-9a-f]*$")]


def bring_routes(desk: Desk) -> APIRouter:
    """Routes of what is brought in to one job."""
    router = APIRouter(prefix="/api/bring")
    tray = Tray()

    @router.post("")
    async def bring(
        request: Request,
        name: Annotated[str, Query(max_length=500)] = "",
        to: Annotated[str | None, Query(max_length=40)] = None,
    ) -> JSONResponse:
        """Take a file in as it comes, and look at it. Answers may stand in the address."""
        answers = {key: words[:LONGEST] for key, words in request.query_params.items() if key in OPTIONS}
        try:
            size = int(request.headers["content-length"])
            lot = await tray.take_in(request.stream(), name=name, size=size, to=to)
        except ClientDisconnect:
            return _refused(refusal("the file", "it did not come whole", "It comes whole", "Bring it again"), None)
        except JobError as error:
            return _refused(error, None)
        return await run_in_threadpool(_answered, lot, lambda: looked_at(lot, answers, desk, tray))

    @router.get("/progress")
    def progress() -> JSONResponse:
        return JSONResponse({"words": _clean(tray.words) if tray.reading.locked() else ""})

    @router.post("/stop")
    def stop() -> JSONResponse:
        tray.stop()
        return JSONResponse({"stopped": True})

    _add_lots(router, desk, tray)
    return router


def _add_lots(router: APIRouter, desk: Desk, tray: Tray) -> None:
    @router.post("/{number}/look")
    def look(number: Number, body: Answered) -> JSONResponse:
        return _of_lot(number, lambda lot: looked_at(lot, body.answers, desk, tray))

    @router.post("/{number}/replaces")
    def replaces(number: Number, body: Answered) -> JSONResponse:
        return _of_lot(number, lambda lot: replaced_by(lot, body.answers, desk, tray))

    @router.post("/{number}/take")
    def take(number: Number, body: Taking) -> JSONResponse:
        return _of_lot(number, lambda lot: taken(lot, body.answers, body.stamp, desk, tray))

    def _of_lot(number: str, act: Callable[[Lot], dict[str, Any]]) -> JSONResponse:
        try:
            lot = tray.lot(number)
        except JobError as error:
            return _refused(error, None)
        return _answered(lot, lambda: act(lot))


def _answered(lot: Lot, act: Callable[[], dict[str, Any]]) -> JSONResponse:
    try:
        return JSONResponse(_clean(act()))
    except JobError as error:
        return _refused(error, lot)


def _refused(error: JobError, lot: Lot | None) -> JSONResponse:
    """Tell the problems, each with the line of the file it stands on; the lot stays, to be answered about again."""
    problems = [
        {"place": each.place, "found": each.found, "rule": each.rule, "remedy": each.remedy}
        | {"line": "" if lot is None else _line_of(lot, each.place)}
        for each in error.problems
    ]
    return JSONResponse(_clean({"problems": problems, "id": "" if lot is None else lot.number}), status_code=422)


def _line_of(lot: Lot, place: str) -> str:
    """The line of a file a problem names, where it names one."""
    named = LINE.match(place)
    path = next((each for each in lot.files if named and each.name == named[1]), None)
    return _line(path, int(named[2])) if named and path else ""


def _line(path: Path, number: int) -> str:
    with path.open(encoding="utf-8-sig", errors="replace", newline=None) as file:
        pieces = iter(lambda: file.readline(20_000), "")
        return next(islice(pieces, number - 1, number), "").rstrip("\n")[:LONGEST_LINE]


def _clean(told: Any) -> Any:
    """What a file said, without halves of characters and what turns or hides others; any kind of space is one."""
    if isinstance(told, str):
        return "".join(
            mark if mark.isprintable() or mark in "\n\t" or category(mark) == "Zs" else "\ufffd" for mark in told
        )
    if isinstance(told, dict):
        return {_clean(key): _clean(each) for key, each in told.items()}
    return [_clean(each) for each in told] if isinstance(told, list | tuple) else told
