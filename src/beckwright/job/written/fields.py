"""How one written number or text is declared: what it means, its unit, and the bounds a sane job keeps within."""

from typing import Annotated, Any

from pydantic import BaseModel, ConfigDict, Field, Strict, StringConstraints

PLAIN = r"^[^\x00-\x1f\x7f\ufffe\uffff]*$"
"""No control characters: a name ends up in drawings, and no drawing format can hold them."""

Text = Annotated[str, StringConstraints(max_length=300, pattern=PLAIN)]
Name = Annotated[str, StringConstraints(min_length=1, max_length=80, pattern=PLAIN)]

FURTHEST = 1e7
"""Largest grid coordinate, m: national grids stay below it."""

Coordinate = Annotated[float, Field(ge=-FURTHEST, le=FURTHEST, json_schema_extra={"unit": "m"})]
Point = Annotated[tuple[Coordinate, Coordinate], Strict(strict=False)]
Line = Annotated[list[Point], Field(min_length=2, max_length=2000)]
Millimetres = Annotated[float, Field(gt=0, le=5000, json_schema_extra={"unit": "mm"})]
Pair = Annotated[tuple[Millimetres, Millimetres], Strict(strict=False)]
Module = Annotated[tuple[Millimetres, Millimetres, Millimetres], Strict(strict=False)]


class Section(BaseModel):
    """A part of job.toml. Nothing unknown, nothing guessed: an integer may stand for a decimal and that is all."""

    model_config = ConfigDict(extra="forbid", strict=True, allow_inf_nan=False, frozen=True, defer_build=True)


def told(description: str, *, default: Any = ..., **limits: Any) -> Any:
    """Declare a text, a choice or a list."""
    return Field(default, description=description, **limits)


def number(description: str, unit: str, low: float, high: float, *, default: Any = ...) -> Any:
    """Declare a number with its unit and the bounds it must lie within, both allowed."""
    return Field(default, description=description, ge=low, le=high, json_schema_extra={"unit": unit})


def millimetres(description: str, low: float, high: float, *, default: Any = ...) -> Any:
    """Declare a size in mm."""
    return number(description, "mm", low, high, default=default)


def metres(description: str, low: float, high: float, *, default: Any = ...) -> Any:
    """Declare a length in m."""
    return number(description, "m", low, high, default=default)


def level(description: str, *, default: Any = ...) -> Any:
    """Declare a height above the job's zero, m."""
    return number(description, "m", -1000, 9000, default=default)
