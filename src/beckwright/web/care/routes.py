"""Care: the owner's page on a worried evening. What is normal, the tree, and one drop judged."""

from datetime import datetime
from threading import Lock
from typing import Annotated, Literal

from fastapi import APIRouter, Query
from fastapi.responses import JSONResponse
from pydantic import BaseModel, BeforeValidator, ConfigDict, Field

from beckwright.base.words import one_unit
from beckwright.care import Normal, judge, normal
from beckwright.job.units import MILLIMETRE
from beckwright.web.care.routes_years import add_years
from beckwright.web.care.told import care_told, judged_told
from beckwright.web.desk.opened import Desk, Laid
from beckwright.web.typed import taken

Month = Annotated[int, Query(ge=1, le=12)]


def _in_millimetres(given: object) -> object:
    if isinstance(given, str):
        return taken(given, "mm")
    return given * one_unit("mm") if isinstance(given, int | float) and not isinstance(given, bool) else given


class Dropped(BaseModel):
    """How far the level went down at rest, mm, and over which time.

    As typed, or a number in mm or inches as the page is told.
    """

    model_config = ConfigDict(extra="forbid")

    month: Annotated[int, Field(ge=1, le=12)]
    down: Annotated[float, Field(ge=0, le=20_000, allow_inf_nan=False), BeforeValidator(_in_millimetres)]
    amount: Annotated[float, Field(gt=0, le=400, allow_inf_nan=False)]
    over: Literal["nights", "hours", "days"]


class _Usual:
    """What is normal for the text that stands: two films as bands, worked out once."""

    def __init__(self, desk: Desk) -> None:
        self.desk = desk
        self._lock = Lock()
        self._held: tuple[Laid, Normal] | None = None

    def get(self) -> tuple[Laid, Normal]:
        """The job as it stands, and what is normal for it."""
        laid = self.desk.laid(self.desk.stands())
        with self._lock:
            if self._held is None or self._held[0] is not laid:
                self._held = (laid, normal(laid.design, laid.works))
            return self._held


def care_routes(desk: Desk) -> APIRouter:
    """Routes of the care of one job."""
    router, usual = APIRouter(prefix="/api/care"), _Usual(desk)

    @router.get("")
    def care(month: Month | None = None) -> JSONResponse:
        """What is normal in a month, now where none is said, and the tree with this job's numbers."""
        laid, held = usual.get()
        now = datetime.now().astimezone().month if month is None else month
        return JSONResponse(care_told(laid.design.job, held, now - 1))

    @router.post("/judge")
    def judged(body: Dropped) -> JSONResponse:
        """Judge a drop: normal, look closer, or ring."""
        _, held = usual.get()
        down = body.down * MILLIMETRE
        if not held.known:
            return JSONResponse({"verdict": "", "says": UNKNOWN, "does": FIRST, "left": ""})
        found = judge(held, body.month - 1, down, body.amount, body.over)
        return JSONResponse(judged_told(held, found, body.month - 1, body.amount, body.over))

    add_years(router, desk, usual.get)
    return router


UNKNOWN = "This job has no climate table: what weather takes is not known."
FIRST = "Leave the pump off for a night, feed shut, and read again; if it is down as much, ring."
