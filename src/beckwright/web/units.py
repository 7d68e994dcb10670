"""The units a browser is told numbers in: a word of the address, else its cookie, else what the job says."""

from collections.abc import Callable
from functools import lru_cache
from typing import Any
from urllib.parse import parse_qs

from fastapi import APIRouter
from fastapi.responses import JSONResponse
from pydantic import BaseModel, ConfigDict
from starlette.concurrency import run_in_threadpool
from starlette.datastructures import Headers
from starlette.requests import cookie_parser
from starlette.types import ASGIApp, Receive, Scope, Send

from beckwright.base.errors import JobError, Problem
from beckwright.base.words import METRIC, Measure, measure_called, told_in
from beckwright.job.wording.keylines import toml_held
from beckwright.web.problems import refusal

COOKIE = "beckwright_units"
A_YEAR = 365 * 86400
UNITS = {"metric": "Metric", "us": "US units"}
"""Name of a choice and what it is called on the pages."""
_NO_NUMBERS = ("/static/", "/fonts/")


class Chosen(BaseModel):
    """The units to be told in: ``metric`` or ``us``."""

    model_config = ConfigDict(extra="forbid")
    units: str


class ToldIn:
    """Answers every request in the units of who asks.

    said  what the job says, for who chose nothing; asked in a thread, for it may read a file
    """

    def __init__(self, app: ASGIApp, *, said: Callable[[], Measure]) -> None:
        self.app, self.said = app, said

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Let a request through, its units chosen."""
        if scope["type"] != "http" or scope["path"].startswith(_NO_NUMBERS):
            await self.app(scope, receive, send)
            return
        asked = units_asked(scope)
        with told_in(await run_in_threadpool(self.said) if asked is None else asked):
            await self.app(scope, receive, send)


def units_routes() -> APIRouter:
    """The choice of units, kept in the browser."""
    router = APIRouter(prefix="/api")

    @router.post("/told")
    def choose(body: Chosen) -> JSONResponse:
        if measure_called(body.units) is None:
            rule = f"Numbers are told in {' or '.join(UNITS)}"
            problem = Problem(
                place="units", found=f"there are no units {body.units[:40]}", rule=rule, remedy="Choose one of them"
            )
            return refusal(404, [problem])
        answer = JSONResponse({"units": body.units})
        answer.set_cookie(COOKIE, body.units, max_age=A_YEAR, samesite="lax")
        return answer

    return router


def units_asked(scope: Scope) -> Measure | None:
    """The units of ``?units=us``, else those the cookie holds; None for neither. A word that is no unit is none."""
    word = parse_qs(scope["query_string"].decode("latin-1")).get("units", [""])[0]
    cookie = cookie_parser(Headers(scope=scope).get("cookie", "")).get(COOKIE)
    asked = measure_called(word)
    return measure_called(cookie) if asked is None else asked


def units_of(stands: Callable[[], str]) -> Callable[[], Measure]:
    """What the job says, by the text that stands. A job that cannot be opened is told of by whoever opens it."""

    def said() -> Measure:
        try:
            return units_said(stands())
        except JobError:
            return METRIC

    return said


@lru_cache(maxsize=4)
def units_said(text: str) -> Measure:
    """The units a job's text says; metric where it says none, or cannot be read: that is told elsewhere."""
    try:
        held: Any = toml_held(text)
    except (ValueError, RecursionError):
        return METRIC
    job = held.get("job")
    said = measure_called(job.get("units")) if isinstance(job, dict) else None
    return METRIC if said is None else said
