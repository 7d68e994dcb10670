"""Numbers as a person typed them, in the units of who asks: read here and nowhere else in the app."""

from collections.abc import Callable
from dataclasses import asdict
from typing import Annotated, Any

from fastapi import APIRouter
from fastapi.responses import JSONResponse
from pydantic import BaseModel, BeforeValidator, ConfigDict, Field
from pydantic_core import PydanticCustomError

from beckwright.base.errors import Problem
from beckwright.base.words import understood

KIND = "typed"
"""What a refusal of a typed number is called among those of pydantic."""
RULE = "A number stands alone or with its unit"


def typed(unit: str) -> BeforeValidator:
    """Take a number as it is, in ``unit``; words as whoever asks means them; nothing typed as None."""
    return BeforeValidator(_taken(unit))


class OneTyped(BaseModel):
    """What was typed into a field, what the field is called, and the metric unit of the key it is for."""

    model_config = ConfigDict(extra="forbid")
    place: Annotated[str, Field(max_length=80)]
    text: Annotated[str, Field(max_length=200)]
    unit: Annotated[str, Field(max_length=10)]


class AllTyped(BaseModel):
    """All fields of a form."""

    model_config = ConfigDict(extra="forbid")
    numbers: Annotated[list[OneTyped], Field(max_length=40)]


def typed_routes() -> APIRouter:
    """The amounts of what was typed: for pages that go on with them by themselves."""
    router = APIRouter(prefix="/api")

    @router.post("/typed")
    def amounts(body: AllTyped) -> JSONResponse:
        """Every amount in the metric unit it was asked for, and what is asked about those that cannot be read."""
        held = [understood(each.text, each.unit) for each in body.numbers]
        problems = [
            Problem(place=each.place, found=read.found, rule=RULE, remedy=read.remedy)
            for each, read in zip(body.numbers, held, strict=True)
            if read.amount is None
        ]
        return JSONResponse(
            {"amounts": [read.amount for read in held], "problems": [asdict(each) for each in problems]}
        )

    return router


def _taken(unit: str) -> Callable[[Any], Any]:
    def take(given: Any) -> Any:
        return taken(given, unit) if isinstance(given, str) else given

    return take


def taken(text: str, unit: str) -> float | None:
    """The amount of what was typed, in ``unit``; None where nothing was. Raises for pydantic to turn into a problem."""
    if not text.strip():
        return None
    read = understood(text, unit)
    if read.amount is None:
        raise PydanticCustomError(KIND, "{found}", {"found": read.found, "remedy": read.remedy})
    return read.amount
