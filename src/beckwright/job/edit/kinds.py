"""The edits there are, each a frozen value with a JSON form such as ``{"do": "move point", "point": 3, ...}``.

Points and reaches are counted from 0, as in the lists a page holds; a dotted key counts from 1, as messages do.
"""

from collections.abc import Mapping
from dataclasses import replace
from functools import cache
from typing import Annotated, Any, Literal, get_args

from pydantic import Field, JsonValue, ValidationError

from beckwright.base.errors import JobError, Problem
from beckwright.job.edit.refuse import refuse
from beckwright.job.wording.sentences import near_miss, problems_from, shown
from beckwright.job.written import LitresPerHour
from beckwright.job.written.course import ReachWritten
from beckwright.job.written.fields import FURTHEST, Name, Section, level, metres, told

Number = Annotated[int, Field(ge=0, le=2000)]
After = Annotated[int, Field(ge=-1, le=2000)]
Key = Annotated[str, Field(min_length=1, max_length=300)]
ONE_EDIT = 'An edit is an object such as {"do": "move point", "point": 3, "x_m": 1.2, "y_m": 3.4}'


class At(Section):
    """A place in plan."""

    x_m: float = metres("easting", -FURTHEST, FURTHEST)
    y_m: float = metres("northing", -FURTHEST, FURTHEST)


class MovePoint(At):
    """Move a point of the course; the run that lies there takes up the length, and the hose's end goes along."""

    do: Literal["move point"] = "move point"
    point: Number = told("number of the point, from 0 at the source")


class AddPoint(At):
    """Put a point into the course after another; the run that lies there takes up the length."""

    do: Literal["add point"] = "add point"
    after: After = told("number of the point before it; -1 for a new first point")


class TakePoint(Section):
    """Take a point out of the course; the run that lies there takes up the length."""

    do: Literal["take point"] = "take point"
    point: Number = told("number of the point, from 0 at the source")


class SlideReach(Section):
    """Slide the end of a reach along the course. At a step its lip slides, and pools beside it go along unchanged."""

    do: Literal["slide reach"] = "slide reach"
    reach: Number = told("number of the reach whose end slides, from 0 at the source")
    by_m: float = metres("distance downstream; below 0 upstream", -2000, 2000)


class SetLevel(Section):
    """Set the crest of one lip; the falls on either side take it up, and every other lip stays."""

    do: Literal["set level"] = "set level"
    lip: Name = told("name of the lip, or source")
    level_m: float = level("level of its crest")


class SetLowerEnd(Section):
    """Set the level of the bed at the lower end; the last fall takes it up, and everything above stays."""

    do: Literal["set lower end"] = "set lower end"
    level_m: float = level("level of the bed at the lower end")


class SetValue(Section):
    """Set what stands at a key; null takes it out."""

    do: Literal["set value"] = "set value"
    key: Key = told("dotted key, lists counted from 1, such as course.reaches.2.lip_width_mm")
    value: JsonValue = told("number, text, true or false, a list, or null")


class AddReach(Section):
    """Put a reach into the course; the nearest run gives up its length and fall."""

    do: Literal["add reach"] = "add reach"
    after: After = told("number of the reach above it; -1 for a new first reach")
    reach: ReachWritten = told("the reach, as under [[course.reaches]]")


class TakeReach(Section):
    """Take a reach out of the course; the nearest run gains its length and fall."""

    do: Literal["take reach"] = "take reach"
    reach: Number = told("number of the reach, from 0 at the source")


class ChangeReach(Section):
    """Change keys of a reach; the nearest run takes up what length and fall change."""

    do: Literal["change reach"] = "change reach"
    reach: Number = told("number of the reach, from 0 at the source")
    keys: dict[Name, JsonValue] = told("new values by key; null takes a key out", min_length=1, max_length=20)


class AddRow(Section):
    """Put a row at the end of a list of sections, such as trees, services or reservoir.loads."""

    do: Literal["add row"] = "add row"
    key: Key = told("dotted key of the list")
    row: dict[Name, JsonValue] = told("the row, key by key", min_length=1, max_length=60)


class MoveReservoir(At):
    """Move the middle of the reservoir; the hose's end in it goes along."""

    do: Literal["move reservoir"] = "move reservoir"


class MoveHosePoint(At):
    """Move a point of the hose's line; the hose's length changes as its line does."""

    do: Literal["move hose point"] = "move hose point"
    point: Number = told("number of the point, from 0 at the pump")


class AddHosePoint(At):
    """Put a point into the hose's line after another; the hose's length changes as its line does."""

    do: Literal["add hose point"] = "add hose point"
    after: After = told("number of the point before it; -1 for a new first point")


class TakeHosePoint(Section):
    """Take a point out of the hose's line; the hose's length changes as its line does."""

    do: Literal["take hose point"] = "take hose point"
    point: Number = told("number of the point, from 0 at the pump")


class BeginHoseLine(Section):
    """Give a hose without a line one: straight from the reservoir's middle to the source. Its length stays."""

    do: Literal["begin hose line"] = "begin hose line"


class SetFlow(Section):
    """Set a named flow, or add one."""

    do: Literal["set flow"] = "set flow"
    name: Name = told("name of the flow")
    l_h: LitresPerHour = told("the flow", json_schema_extra={"unit": "l/h"})


Edit = (
    MovePoint
    | AddPoint
    | TakePoint
    | SlideReach
    | SetLevel
    | SetLowerEnd
    | SetValue
    | AddReach
    | TakeReach
    | ChangeReach
    | AddRow
    | MoveReservoir
    | MoveHosePoint
    | AddHosePoint
    | TakeHosePoint
    | BeginHoseLine
    | SetFlow
)
KINDS: dict[str, type[Edit]] = {kind.model_fields["do"].default: kind for kind in get_args(Edit)}


def read_edit(given: object) -> Edit:
    """Read an edit from its JSON form, strictly. Raises ``JobError`` with everything wrong with it."""
    if not isinstance(given, Mapping):
        refuse("edit", f"the edit is {shown(given)}", ONE_EDIT, "Send an object")
    do = given.get("do")
    if not isinstance(do, str) or do not in KINDS:
        nearest = near_miss(str(do), KINDS)
        remedy = f'Did you mean "{nearest}"' if nearest else "Write one of these"
        found = "do is missing" if do is None else f"do is {shown(do)}"
        refuse("edit do", found, f"An edit is one of {', '.join(KINDS)}", remedy)
    try:
        return KINDS[do].model_validate(dict(given))
    except ValidationError as error:
        details = [{**detail, "loc": ("edit", *detail["loc"])} for detail in error.errors(include_url=False)]
        problems = problems_from(details, lines={}, schema=_schema(KINDS[do]))
    raise JobError([_of_the_edit(problem, do) for problem in problems])


@cache
def _schema(kind: type[Edit]) -> dict[str, Any]:
    """An edit's schema, laid out as a section of a file: the sentences are those of the reader."""
    own = kind.model_json_schema()
    return {"properties": {"edit": own}, "$defs": own.get("$defs", {})}


def _of_the_edit(problem: Problem, do: str) -> Problem:
    return replace(problem, place=problem.place.replace("job.toml edit", f'edit "{do}"', 1).replace('".', '" ', 1))
