"""The first visit: a page, its answers as one types, and a job made of it with one press."""

import math
import re
from collections.abc import Callable, Mapping
from dataclasses import fields
from datetime import date, datetime
from functools import lru_cache
from pathlib import Path
from threading import Lock
from typing import Any

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, JSONResponse

from beckwright.base.errors import JobError, Problem
from beckwright.base.words import METRIC, US, Measure, one_unit, reads
from beckwright.job.new import write_files
from beckwright.visit import PRICE_NAMES, Visit, estimate, job_text, visit_of
from beckwright.visit.ask import LIMITS
from beckwright.visit.words import (
    CAUTIONS,
    FORMS,
    Told,
    machines_in_words,
    next_in_words,
    pit_in_words,
    taken,
    told,
)
from beckwright.web.bodies import Visited, VisitMade
from beckwright.web.places import PLACES, moments
from beckwright.web.routes_pages import told_page

ASKED = ("length", "fall", "width", "access", "flow")
STEPS: Mapping[Measure, Mapping[str, float]] = {
    METRIC: {"length": 1.0, "fall": 0.1, "width": 0.05, "access": 0.1},
    US: {"length": 5.0, "fall": 0.5, "width": 0.25, "access": 0.5},
}
"""By how much a press of plus or minus changes an answer: m, or ft."""
MIDDLES: Mapping[Measure, Mapping[str, float]] = {
    METRIC: {"length": 12.0, "fall": 1.0, "width": 0.6, "access": 1.1},
    US: {"length": 40.0, "fall": 3.0, "width": 2.0, "access": 3.5},
}
"""Where the first press begins."""
BEFORE_A_JOB = tuple(place for place in PLACES if place.address in ("/visit", "/begin"))
Texts = Callable[[str, date], dict[str, str]]
"""Texts of a job's files by their names, for a title and a day."""
MOST_OF_A_NAME = 60
_CLOSE = 1e-6
_NO_NAME = re.compile(r"[^\w\- ]+")
_KEPT_FREE = re.compile(r"^(con|prn|aux|nul|com\d|lpt\d)$", re.IGNORECASE)
"""Names an operating system keeps for itself."""


class Makes:
    """Where jobs made of a visit go, each by its mark: sent again it is the same job.

    folder   of the job that lies open, or that is to be made
    is_job   whether there is one yet: then a new one goes beside it, into a folder of its own
    """

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._made: dict[str, Path] = {}
        self._lock = Lock()

    @property
    def is_job(self) -> bool:
        """Whether the folder holds a job."""
        return (self.folder / "job.toml").exists()

    def make(self, texts: Texts, *, name: str, mark: str) -> Path:
        """Write the job, and give back its folder.

        texts  of its files, by its title and the day
        Raises ``JobError`` where it cannot be written.
        """
        with self._lock:
            if mark not in self._made:
                into = self._beside(name) if self.is_job else self.folder
                title = name.strip() or self.folder.resolve().name[:80] or "First sketch"
                write_files(into, texts(title, datetime.now().astimezone().date()))
                self._made[mark] = into
            return self._made[mark]

    def told(self, folder: Path, *, was_job: bool) -> dict[str, Any]:
        """Where a job was made, as a page is told it."""
        here = folder == self.folder
        return {"folder": folder.resolve().name, "here": here, "beside": was_job and not here}

    def _beside(self, name: str) -> Path:
        """The first folder of this name beside the job that is not there yet."""
        parent, plain = self.folder.resolve().parent, plain_name(name)
        places = [parent / plain, *(parent / f"{plain} {number}" for number in range(2, 1000))]
        free = next((place for place in places if not place.exists()), None)
        if free is None:
            rule, remedy = "A new job goes into a folder of its own", "Give it another name"
            raise JobError([Problem(place="name", found=f"{plain} is there already", rule=rule, remedy=remedy)])
        return free


def plain_name(name: str) -> str:
    """A folder's name out of what somebody typed."""
    plain = _NO_NAME.sub(" ", name).strip(" .")[:MOST_OF_A_NAME].strip() or "first visit"
    return f"{plain} job" if _KEPT_FREE.match(plain) else plain


def _page(makes: Makes) -> Callable[[Request], HTMLResponse]:
    prices = [(name, f"{what}, a {unit}") for name, (what, unit) in PRICE_NAMES.items()]

    def page(request: Request) -> HTMLResponse:
        more: dict[str, Any] = {} if makes.is_job else {"moments": moments(BEFORE_A_JOB), "round": False}
        page = told_page(
            request,
            "visit.html",
            title=makes.folder.resolve().name,
            is_job=makes.is_job,
            forms=[(key, form) for key, form in FORMS.items() if form.first],
            others=[(key, form) for key, form in FORMS.items() if not form.first],
            prices=prices,
            limits=_limits(),
            steps=STEPS[reads()],
            middles=MIDDLES[reads()],
            cautions=CAUTIONS,
            **more,
        )
        return HTMLResponse(page)

    return page


def _limits() -> dict[str, tuple[float, float]]:
    """Least and most of each length in the reader's unit, inward to two decimals: a press never leaves them."""
    each = one_unit("m")
    return {
        name: (math.ceil(low / each * 100 - _CLOSE) / 100, math.floor(high / each * 100 + _CLOSE) / 100)
        for name, (low, high) in LIMITS.items()
        if name != "flow"
    }


def visit_routes(makes: Makes) -> APIRouter:
    """Routes of the visit. They hang on no job that lies open."""
    router = APIRouter()
    one_at_a_time = Lock()
    router.add_api_route("/visit", _page(makes), methods=["GET"], response_class=HTMLResponse)

    @router.post("/api/visit")
    def answer(body: Visited) -> JSONResponse:
        _visit(body)
        with one_at_a_time:
            return JSONResponse(_answered(body.model_dump_json(), reads()))

    @router.post("/api/visit/job")
    def job(body: VisitMade) -> JSONResponse:
        was_job = makes.is_job
        visit = _visit(body.visit)
        folder = makes.make(lambda title, day: job_text(visit, title=title, day=day), name=body.name, mark=body.mark)
        return JSONResponse(makes.told(folder, was_job=was_job))

    return router


def first_routes(makes: Makes) -> APIRouter:
    """The way in while there is no job: the visit stands at the door, too."""
    router = visit_routes(makes)
    router.add_api_route("/", _page(makes), methods=["GET"], response_class=HTMLResponse)
    return router


def _visit(body: Visited) -> Visit:
    given = {name: getattr(body, name) for name in ASKED}
    measured = frozenset(body.measured)
    return visit_of(given, look=body.look, measured=measured, prices=body.prices, currency=body.currency)


@lru_cache(maxsize=32)
def _answered(asked: str, _: Measure) -> dict[str, Any]:
    """Answers of a visit, kept for each kind of units: back and forth between two widths needs no second sum."""
    answers = estimate(_visit(Visited.model_validate_json(asked)))
    return {
        "answers": [_told(each) for each in told(answers)],
        "pit": pit_in_words(answers),
        "machines": machines_in_words(answers),
        "next": next_in_words(answers),
        "taken": [{"key": key, "says": says, "band": band} for key, says, band in taken(answers.visit)],
        "designed": answers.designed,
    }


def _told(each: Told) -> dict[str, Any]:
    return {field.name: getattr(each, field.name) for field in fields(each)}
