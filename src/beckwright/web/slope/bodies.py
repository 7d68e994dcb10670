"""What the pages for the slope send, held to its form: what was typed is kept as typed, and asked about later."""

import json
from collections.abc import Mapping
from datetime import UTC, datetime
from typing import Annotated, Any, Literal

from pydantic import AfterValidator, AwareDatetime, BaseModel, BeforeValidator, ConfigDict, Field, ValidationError
from pydantic import model_validator as over_all

from beckwright.web.bodies import Mark
from beckwright.web.typed import typed

LARGEST_READING = 8_000
"""Bytes of one reading as JSON."""
DEEPEST_READING = 6
"""Lists and tables inside each other: a reading is a row of a notebook."""
LONGEST_ENTRY = 20_000
FARTHEST_PLACE = 5000.0
"""Chainage, m, beyond which nobody walks with a camera."""
EARLIEST, LATEST = datetime(1970, 1, 1, tzinfo=UTC), datetime(2200, 1, 1, tzinfo=UTC)
"""A telephone whose battery has died begins again at the first of these: it is asked about, not refused."""


def _text(given: object) -> object:
    if not isinstance(given, str):
        message = "a time is written out, with its zone"
        raise ValueError(message)  # Pydantic turns this one into a problem.
    return given


def _dated(given: datetime) -> datetime:
    if not EARLIEST <= given <= LATEST:
        message = f"it lies outside {EARLIEST:%Y} to {LATEST:%Y}"
        raise ValueError(message)
    return given


def _printable(given: str) -> str:
    if not given.isprintable():
        message = "it holds a character that cannot be printed"
        raise ValueError(message)
    return given


def _lines(given: str) -> str:
    if not given.strip():
        message = "nothing is written in it"
        raise ValueError(message)
    if not all(letter.isprintable() or letter in "\n\r\t" for letter in given):
        message = "it holds a character that cannot be printed"
        raise ValueError(message)
    return given


def _deep(held: object, left: int = DEEPEST_READING) -> bool:
    if isinstance(held, Mapping | list):
        inside = held.values() if isinstance(held, Mapping) else held
        return left == 0 or any(_deep(each, left - 1) for each in inside)
    return False


Seen = Annotated[AwareDatetime, BeforeValidator(_text), AfterValidator(_dated)]
"""When it was seen, by the clock of whoever saw it."""
Word = Annotated[str, Field(min_length=1, max_length=40, pattern=r"^[a-z][a-z \-]*$")]
Short = Annotated[str, Field(max_length=40), AfterValidator(_printable)]
Named = Annotated[str, Field(min_length=1, max_length=40), AfterValidator(_printable)]
Typed = Annotated[str, Field(min_length=1, max_length=20), AfterValidator(_printable)]
Untyped = Annotated[str, Field(max_length=20), AfterValidator(_printable)]
Note = Annotated[str, Field(max_length=200), AfterValidator(_printable)]
Instead = Annotated[str, Field(max_length=64, pattern=r"^[A-Za-z0-9\-]*$")]
PlaceTyped = Annotated[float | None, Field(ge=0, le=FARTHEST_PLACE, allow_inf_nan=False), typed("m")]
"""Chainage, m, as it was typed; nothing typed is no place."""


class _Row(BaseModel):
    """A row of a notebook: its own word, that of the row it is written for, and the units its fields named."""

    model_config = ConfigDict(extra="forbid", strict=True)

    row: Mark
    instead_of: Instead = ""
    units: Literal["metric", "us"] = "metric"
    note: Note = ""


class LevelRow(_Row):
    """One place of the staff in a level book."""

    book: Mark
    title: Named
    sight: Literal["back", "intermediate", "fore"]
    point: Named
    typed: Typed
    hung: bool = False
    level: Untyped = ""


class SetUpRow(_Row):
    """What the staff showed on a mark of known level."""

    mark: Named
    level: Typed
    typed: Typed
    hung: bool = False


class ShotRow(_Row):
    """A staff reading or a level at a place of the works."""

    place: Named
    side: Literal["left", "middle", "right", "dig"]
    given: Literal["staff", "level"]
    typed: Typed
    hung: bool = False
    set_up: Instead = ""


class LipRow(_Row):
    """Staff readings, or levels, along one lip."""

    lip: Named
    given: Literal["staff", "level"]
    left: Untyped
    middle: Untyped = ""
    right: Untyped


class SwitchOnRow(_Row):
    """One reading of the first morning: what was read, at which setting and place, how much and how long."""

    kind: Named
    flow: Short = ""
    place: Short = ""
    amount: Untyped = ""
    seconds: Untyped = ""


class LeakRow(_Row):
    """One level of a leak test: when, from where it was read, what was going on, what came and went since.

    at         clock, with its zone; empty for a row that takes the place of one in the job's table, which has ``hours``
    comes_in   lip or chainage the water is let in at; empty for the source
    begins     another test begins here, though the same goes on
    """

    at: Annotated[str, Field(max_length=40), AfterValidator(_printable)] = ""
    hours: Untyped = ""
    level: Untyped
    start: Literal["floor", "overflow", "mark"] = Field(alias="from")
    mark: Untyped = ""
    pump: Short = ""
    comes_in: Short = ""
    rain: Untyped = ""
    top_up: Untyped = ""
    pan: Untyped = ""
    temperature: Untyped = ""
    begins: bool = False


class ServiceRow(_Row):
    """One reading of the yearly record: of which item, in which year or on which day, how much."""

    item: Named
    year: Typed
    amount: Typed


class WordRow(BaseModel):
    """What a person says of a row: that it is right as it stands, or that it is struck out."""

    model_config = ConfigDict(extra="forbid", strict=True)

    row: Mark
    word: Literal["right", "struck"]


LEVELS, SET_UPS, SHOTS, LIPS, WORDS = "level row", "set-up", "shot", "lip check", "word on a row"
SWITCH_ON, LEAK, SERVICE = "switch-on", "leak test", "service"
FORMS: Mapping[str, type[BaseModel]] = {
    LEVELS: LevelRow,
    SET_UPS: SetUpRow,
    SHOTS: ShotRow,
    LIPS: LipRow,
    SWITCH_ON: SwitchOnRow,
    LEAK: LeakRow,
    SERVICE: ServiceRow,
    WORDS: WordRow,
}
"""Readings whose content has a form of its own. Others are kept as any page sends them."""


class ReadingBody(BaseModel):
    """Something read on site."""

    model_config = ConfigDict(extra="forbid")

    mark: Mark
    kind: Word
    seen: Seen
    content: dict[str, Any]

    @over_all(mode="after")
    def _held(self) -> "ReadingBody":
        if _deep(self.content):
            message = f"content: it is nested more than {DEEPEST_READING} deep"
            raise ValueError(message)
        try:
            size = len(json.dumps(self.content, allow_nan=False, ensure_ascii=False).encode())
        except UnicodeEncodeError as error:
            message = "content: it holds half a character"
            raise ValueError(message) from error
        if size > LARGEST_READING:
            message = f"content: it holds {size} bytes, and may hold {LARGEST_READING}"
            raise ValueError(message)
        form = FORMS.get(self.kind)
        if form is not None:
            try:
                form.model_validate(self.content)
            except ValidationError as error:
                first = error.errors()[0]
                message = f"content.{'.'.join(str(part) for part in first['loc'])}: {first['msg']}"
                raise ValueError(message) from None
        return self


class EntryBody(BaseModel):
    """Words for the diary."""

    model_config = ConfigDict(extra="forbid")

    mark: Mark
    seen: Seen
    text: Annotated[str, Field(min_length=1, max_length=LONGEST_ENTRY), AfterValidator(_lines)]


class FileBody(BaseModel):
    """Which book is to be written as a file."""

    model_config = ConfigDict(extra="forbid")

    book: Mark
