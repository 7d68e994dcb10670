"""Begin a job from points of one's own: typed, seen, two pegs put among them, and made with one press."""

import csv
import io
import re
from datetime import date
from typing import Any

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, JSONResponse

from beckwright.base.words import METRIC, US, Measure, understood, with_unit
from beckwright.job.model import Survey
from beckwright.stages.ground import build_ground
from beckwright.survey.written import refuse_unreadable
from beckwright.visit import Pegs, pegs_on, placed_text
from beckwright.web.begin.routes_visit import BEFORE_A_JOB, Makes
from beckwright.web.bodies import BegunOn, Typed
from beckwright.web.bring.plan import plan_told
from beckwright.web.places import moments
from beckwright.web.routes_pages import told_page

SURVEY = "survey.csv"
AS_TYPED = "survey_as_typed.txt"
_AMOUNTS = (1, 2, 3)
"""Cells of a row that are lengths: east, north, level."""
DECIMAL_COMMA = re.compile(r"^\s*[-\u2212+]?\d+,\d+\s*$")


def begin_routes(makes: Makes) -> APIRouter:
    """Routes of a beginning. They hang on no job that lies open."""
    router = APIRouter()

    @router.get("/begin", response_class=HTMLResponse, include_in_schema=False)
    def page(request: Request) -> HTMLResponse:
        more = {} if makes.is_job else {"moments": moments(BEFORE_A_JOB), "round": False}
        title = makes.folder.resolve().name
        return HTMLResponse(told_page(request, "begin.html", title=title, is_job=makes.is_job, **more))

    @router.post("/api/begin")
    def look(body: Typed) -> JSONResponse:
        """The points as a plan, and what lies between the two pegs once they are put."""
        survey = refuse_unreadable(as_survey(body.text), SURVEY)
        plan = plan_told(survey.points, survey.levels, (), survey)
        pegs = _pegs(body, survey)
        return JSONResponse({"plan": plan, "counted": len(survey.levels), "pegs": pegs and _told(pegs)})

    @router.post("/api/begin/job")
    def job(body: BegunOn) -> JSONResponse:
        was_job, text = makes.is_job, as_survey(body.text)
        survey = refuse_unreadable(text, SURVEY)
        pegs = pegs_on(build_ground(survey), body.source, body.foot)
        mark = text.split("\n")[1].split(",")[0].strip('"')

        def texts(title: str, day: date) -> dict[str, str]:
            placed = placed_text(
                survey, text, pegs, mark=mark, steps=body.steps, flow_l_h=body.flow, title=title, day=day
            )
            return placed | was_typed(body.text)

        return JSONResponse(makes.told(makes.make(texts, name=body.name, mark=body.mark), was_job=was_job))

    return router


def as_survey(typed: str) -> str:
    """What was typed as the text of survey.csv, in metres, line for line: a comma between digits is a decimal one.

    The heading says whether bare numbers are metres or feet (``x_ft``). What cannot be read stays, to be asked about.
    """
    if not typed.strip():
        return ""
    heading, *lines = typed.splitlines()
    measure = US if "_ft" in heading else METRIC
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(heading.replace("_ft", "_m").split("\t"))
    for line in lines:
        cells = line.split("\t")
        writer.writerow([_in_metres(cell, measure) if place in _AMOUNTS else cell for place, cell in enumerate(cells)])
    return text.getvalue().replace("\u2212", "-")


def was_typed(typed: str) -> dict[str, str]:
    """A file of the points as they were typed, where survey.csv has them in other units; none where it has the same."""
    lines = [line.split("\t") for line in typed.splitlines()]
    us = bool(lines) and any("_ft" in cell for cell in lines[0])
    cells = [cell for line in lines[1:] for cell in line[1:4]]
    turned = us or any(not understood(cell, "m", METRIC).bare for cell in cells if cell.strip())
    return {AS_TYPED: typed if typed.endswith("\n") else f"{typed}\n"} if turned else {}


def _in_metres(cell: str, measure: Measure) -> str:
    read = understood(cell, "m", measure)
    if read.amount is None or (read.bare and measure is METRIC):
        return cell.replace(",", ".") if DECIMAL_COMMA.match(cell) else cell
    return f"{read.amount:.10g}"


def _pegs(body: Typed, survey: Survey) -> Pegs | None:
    if body.source is None or body.foot is None:
        return None
    return pegs_on(build_ground(survey), body.source, body.foot)


def _told(pegs: Pegs) -> dict[str, Any]:
    fall = pegs.high - pegs.low
    return {
        "source": list(pegs.source),
        "foot": list(pegs.foot),
        "length": f"{with_unit(pegs.length, 'm'):.2f}",
        "fall": f"{with_unit(fall, 'm'):.2f}",
        "grade": f"1 in {pegs.length / fall:.0f}",
        "high": f"{with_unit(pegs.high, 'm'):.2f}",
        "low": f"{with_unit(pegs.low, 'm'):.2f}",
    }
