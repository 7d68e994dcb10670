"""What the pages send, held to its form before anything is done with it."""

import json
from typing import Annotated, Any

from pydantic import AfterValidator, BaseModel, ConfigDict, Field

from beckwright.web.typed import typed

MOST_EDITS = 200
"""Edits kept as one change: a page that has been out of reach for a day has fewer."""


def _plain(held: Any) -> Any:
    """Refuse what JSON from a browser cannot hold: numbers without end, and halves of characters."""
    try:
        json.dumps(held, allow_nan=False, ensure_ascii=False).encode()
    except UnicodeEncodeError as error:
        message = "it holds half a character"
        raise ValueError(message) from error
    return held


Mark = Annotated[str, Field(min_length=8, max_length=64, pattern=r"^[A-Za-z0-9\-]+$")]
"""A word nobody else has: the same change sent twice is taken once."""
Edits = Annotated[list[dict[str, Any]], Field(min_length=1, max_length=MOST_EDITS), AfterValidator(_plain)]
Number = Annotated[int, Field(ge=1, le=10**9)]
"""Of a revision."""
Words = Annotated[str, Field(max_length=200), AfterValidator(_plain)]


class _Body(BaseModel):
    model_config = ConfigDict(extra="forbid")


class Tried(_Body):
    """Edits to be answered and not kept."""

    edits: Edits


class Weighed(Tried):
    """Edits whose effect is asked for; ``whole`` with works and films."""

    whole: bool = False


class Edited(_Body):
    """Edits to be kept. ``based_on`` is the revision the person was looking at."""

    mark: Mark
    based_on: Number
    edits: Edits


class Marked(_Body):
    """A step along the revisions. ``based_on`` is the revision the person was looking at, where the page says it."""

    mark: Mark
    based_on: Number | None = None


class Stood(_Body):
    """A revision that is to stand again. ``based_on`` is the revision that stood as far as the person knew."""

    mark: Mark
    based_on: Number


class Put(_Body):
    """What is to be put into the course at a chainage, with the values of its keys."""

    kind: Annotated[str, Field(min_length=1, max_length=40)]
    at: Annotated[float, Field(ge=0, le=5000, allow_inf_nan=False)]
    values: Annotated[dict[str, Any], Field(max_length=20), AfterValidator(_plain)]


class Named(_Body):
    """A name for a revision."""

    name: Words


Answer = Annotated[float | None, Field(allow_inf_nan=False), typed("m")]
"""Of a first visit, m, or as typed; None where nobody knows."""
Flowing = Annotated[float | None, Field(allow_inf_nan=False), typed("L/h")]
"""L/h, or as typed; None where nobody knows."""
Money = Annotated[float, Field(allow_inf_nan=False), typed("")]
Short = Annotated[str, Field(max_length=40), AfterValidator(_plain)]


class Visited(_Body):
    """The answers of a first visit: metres, and litres an hour where a flow is known."""

    length: Answer = None
    fall: Answer = None
    width: Answer = None
    access: Answer = None
    flow: Flowing = None
    look: Short | None = None
    measured: Annotated[list[Short], Field(max_length=8)] = []
    prices: Annotated[dict[Short, Money], Field(max_length=20)] = {}
    currency: Short = "GBP"


class VisitMade(_Body):
    """A job to be made of a first visit."""

    mark: Mark
    name: Words = ""
    visit: Visited


Off = Annotated[float, Field(allow_inf_nan=False), typed("m")]
Spot = tuple[Off, Off]
"""East and north, m, or as typed."""


class Typed(_Body):
    """Points typed, a line each, its cells apart by tabs, under a heading; and where the stream runs, once said."""

    text: Annotated[str, Field(max_length=200_000), AfterValidator(_plain)]
    source: Spot | None = None
    foot: Spot | None = None


class BegunOn(Typed):
    """A job to be made on points typed."""

    mark: Mark
    name: Words = ""
    source: Spot
    foot: Spot
    steps: Annotated[int, Field(ge=0, le=100)] = 1
    flow: Flowing = None


class Copied(_Body):
    """A folder for the example."""

    name: Words = ""
