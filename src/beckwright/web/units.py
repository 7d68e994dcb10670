"""The units a browser is told numbers in: a word of the address, else its cookie, else what the job says."""

from functools import lru_cache
from typing import Any
from urllib.parse import parse_qs

from fastapi import APIRouter
from fastapi.responses import JSONResponse
from pydantic import BaseModel, ConfigDict
from starlette.datastructures import Headers
from starlette.requests import cookie_parser
from starlette.types import ASGIApp, Receive, Scope, Send

from beckwright.base.errors import Problem
from beckwright.base.words import METRIC, Measure, measure_called, told_in
from beckwright.job.wording.keylines import toml_held
from beckwright.web.problems import refusal
from beckwright.web.stood import NO_JOB, stood

COOKIE = "beckwright_units"
A_YEAR = 365 * 86400
UNITS = {"metric": "Metric", "us": "US units"}
"""Name of a choice and what it is called on the pages."""


class Chosen(BaseModel):
    """The units to be told in: ``metric`` or ``us``."""

    model_config = ConfigDict(extra="forbid")
    units: str


class ToldIn:
    """Answers every request in the units of who asks; of the job, for who chose none."""

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Let a request through, its units chosen."""
        if scope["type"] != "http" or scope["path"].startswith(NO_JOB):
            await self.app(scope, receive, send)
            return
        asked = units_asked(scope)
        with told_in(units_of_job() if asked is None else asked):
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


def units_of_job() -> Measure:
    """What the job says, as the request found it. One that cannot be opened is told of by whoever opens it."""
    found = stood()
    return METRIC if found is None else units_said(found.text)


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
