"""Rows of a notebook: added to and never rewritten. A row written anew takes the old one's place, and both are kept."""

from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import datetime, timedelta
from typing import Any, Literal, Protocol

from beckwright.base.values import value
from beckwright.base.words import METRIC, Measure, measure_called
from beckwright.tables.notebook import CLOCK_AHEAD

Word = Literal["right", "struck"]


class Kept(Protocol):
    """Something read on site, as the keeper hands it out."""

    @property
    def number(self) -> int: ...  # noqa: D102
    @property
    def seen(self) -> datetime: ...  # noqa: D102
    @property
    def kept(self) -> datetime: ...  # noqa: D102
    @property
    def content(self) -> Mapping[str, Any]: ...  # noqa: D102


@value
class Row:
    """One row as the notebook has it now.

    key      the row's own word; ``keys`` all it has had, its own last
    seen     when it was typed; ``kept`` when it arrived
    before   what stood in its place before, oldest first
    agreed   a person was asked about it and said that it is right
    struck   a person struck it out
    asked    about its time; empty where nothing is
    """

    key: str
    keys: tuple[str, ...]
    number: int
    seen: datetime
    kept: datetime
    content: Mapping[str, Any]
    before: tuple[Mapping[str, Any], ...]
    agreed: bool
    struck: bool
    asked: str

    @property
    def measure(self) -> Measure:
        """Units the fields named when its numbers were typed; rows of before there was a choice are metric."""
        return measure_called(self.text("units")) or METRIC

    def text(self, name: str) -> str:
        """What was typed under a name; empty where nothing was."""
        return str(self.content.get(name, ""))


def standing(kept: Iterable[Kept], words: Iterable[Kept]) -> tuple[Row, ...]:
    """The rows in the order they were kept, each as it was last written, those struck out among them.

    A row's content has ``row``, its own word, and ``instead_of``, that of the row it is written for. A word about a row
    has ``row`` and ``word``; it holds for what stood there when it was said.
    """
    rows: list[Row] = []
    places: dict[str, int] = {}
    for one in kept:
        key, old = str(one.content.get("row", "")), str(one.content.get("instead_of", ""))
        place = places.get(old)
        if place is None:
            place = len(rows)
            rows.append(_row(one, key))
        else:
            rows[place] = _row(one, key, rows[place])
        places[key] = place
    for said in words:
        key, word = str(said.content.get("row", "")), said.content.get("word")
        place = places.get(key)
        if place is not None and rows[place].key == key:
            row = rows[place]
            rows[place] = replace(row, struck=True) if word == "struck" else replace(row, agreed=True)
    return _timed(rows)


def _row(one: Kept, key: str, was: Row | None = None) -> Row:
    return Row(
        key=key,
        keys=(*(was.keys if was else ()), key),
        number=one.number,
        seen=one.seen,
        kept=one.kept,
        content=one.content,
        before=(*was.before, was.content) if was else (),
        agreed=False,
        struck=False,
        asked="",
    )


def _timed(rows: list[Row]) -> tuple[Row, ...]:
    """Ask about times that run backwards, or ahead of when the row arrived. A row written anew has a later time."""
    timed: list[Row] = []
    latest: datetime | None = None
    for row in rows:
        asked = ""
        if row.seen - row.kept > timedelta(seconds=CLOCK_AHEAD.amount):
            asked = "Its time lies ahead of the laptop's clock. Which of the two is wrong?"
        elif latest is not None and row.seen < latest and not row.before:
            asked = "Its time lies before that of the row above. Is the clock wrong, or the order?"
        if not row.before:
            latest = max(row.seen, latest or row.seen)
        timed.append(replace(row, asked=asked))
    return tuple(timed)
