"""What the pages send, held to its form before anything is done with it."""

import json
from typing import Annotated, Any

from pydantic import AfterValidator, BaseModel, ConfigDict, Field

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


class Edited(_Body):
    """Edits to be kept. ``based_on`` is the revision the person was looking at."""

    mark: Mark
    based_on: Number
    edits: Edits


class Marked(_Body):
    """A step along the revisions. ``based_on`` is the revision the person was looking at, where the page says it."""

    mark: Mark
    based_on: Number | None = None


class Named(_Body):
    """A name for a revision."""

    name: Words
