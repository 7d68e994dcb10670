"""Begin a job from points of one's own: typed, seen, two pegs put among them, and made with one press."""

import csv
import io
import re
from datetime import date

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, JSONResponse

from beckwright.base.words import with_unit
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
            return placed_text(
                survey, text, pegs, mark=mark, steps=body.steps, flow_l_h=body.flow, title=title, day=day
            )

        return JSONResponse(makes.told(makes.make(texts, name=body.name, mark=body.mark), was_job=was_job))

    return router


def as_survey(typed: str) -> str:
    """What was typed as the text of survey.csv, line for line: a comma between digits is a decimal one."""
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    for line in typed.splitlines():
        cells = line.split("\t")
        writer.writerow([cell.replace(",", ".") if DECIMAL_COMMA.match(cell) else cell for cell in cells])
    return text.getvalue().replace("\u2212", "-")


def _pegs(body: Typed, survey: Survey) -> Pegs | None:
    if body.source is None or body.foot is None:
        return None
    return pegs_on(build_ground(survey), body.source, body.foot)


def _told(pegs: Pegs) -> dict[str, str]:
    fall = pegs.high - pegs.low
    return {
        "length": f"{with_unit(pegs.length, 'm'):.2f}",
        "fall": f"{with_unit(fall, 'm'):.2f}",
        "grade": f"1 in {pegs.length / fall:.0f}",
        "high": f"{with_unit(pegs.high, 'm'):.2f}",
        "low": f"{with_unit(pegs.low, 'm'):.2f}",
    }
