"""Edits by key: a value set or taken out, a row added to a list, a flow set."""

from collections.abc import Mapping
from datetime import date
from typing import Any

from pydantic import ValidationError

from beckwright.job.edit.kinds import AddRow, SetFlow, SetValue
from beckwright.job.edit.refuse import refuse, whole
from beckwright.job.edit.rewrite import Insert, Put, Rewrite
from beckwright.job.edit.standing import Standing
from beckwright.job.wording.keylines import Path
from beckwright.job.wording.sentences import shown
from beckwright.job.written import Written

REACHES = ("course", "reaches")


def set_value(edit: SetValue, job: Standing) -> list[Rewrite]:
    """Set what stands at a key, or take it out; a row of a list may be taken out whole."""
    path = path_of(edit.key, job.given)
    held = _at(job.given, path)
    row = isinstance(path[-1], int)
    section = isinstance(held, Mapping) or (isinstance(held, list) and any(isinstance(one, Mapping) for one in held))
    if section and not (row and edit.value is None):
        refuse(_place(edit.key), "the key names a section", "One value is set at a time", "Name a key inside it")
    if row and path[:-1] == REACHES:
        refuse(_place(edit.key), "the key names a reach", "Length and fall of the course are kept", "Use take reach")
    if edit.value is None and held is None:
        return []
    whole(edit.value, _place(edit.key))
    return [Put(path=path, held=_dated(edit.value, path))]


def add_row(edit: AddRow, job: Standing) -> list[Rewrite]:
    """Put a row at the end of a list of sections."""
    path = path_of(edit.key, job.given)
    if path == REACHES:
        refuse(_place(edit.key), "the list is that of reaches", "Length and fall are kept", "Use add reach")
    held = _at(job.given, path)
    if held is not None and not isinstance(held, list):
        refuse(_place(edit.key), "the key names no list", "Rows are added to a list of sections", "Name the list")
    row = {key: value for key, value in edit.row.items() if value is not None}
    whole(row, _place(edit.key))
    return [Insert(path=path, number=len(held or ()), held=row)]


def set_flow(edit: SetFlow, _job: Standing) -> list[Rewrite]:
    """Set a named flow."""
    return [Put(path=("flows", edit.name), held=int(edit.l_h) if edit.l_h.is_integer() else edit.l_h)]


def path_of(key: str, given: Mapping[str, Any]) -> Path:
    """Return the path of a dotted key, lists counted from 1. A name may hold dots where the job has such a name.

    Raises ``JobError`` where the key leads through a value, or to a row that is not there.
    """
    node: Any = given
    parts = key.split(".")
    path: list[str | int] = []
    while parts:
        if isinstance(node, list):
            part: str | int = _row(parts.pop(0), node, key)
        elif isinstance(node, Mapping) or node is None:
            part, parts = _longest(parts, node or {})
        else:
            refuse(_place(key), f"{path[-1]} holds {shown(node)}", "A value has no keys inside it", "Shorten the key")
        path.append(part)
        node = _at(node, (part,))
    return tuple(path)


def _longest(parts: list[str], node: Mapping[str, Any]) -> tuple[str, list[str]]:
    for count in range(len(parts), 0, -1):
        name = ".".join(parts[:count])
        if name in node:
            return name, parts[count:]
    return parts[0], parts[1:]


def _row(part: str, node: list[Any], key: str) -> int:
    number = int(part) if part.isascii() and part.isdigit() and len(part) < 6 else 0
    if not 1 <= number <= len(node):
        rule = f"There are {len(node)}, counted from 1"
        refuse(_place(key), f"there is no {shown(part)} in this list", rule, "Write the number of one")
    return number - 1


def _at(given: Any, path: Path) -> Any:
    for part in path:
        if given is None:
            return None
        given = given[part] if isinstance(part, int) else given.get(part)
    return given


def _dated(value: Any, path: Path) -> Any:
    """JSON knows no dates: a text that reads as one becomes one where the job asks for a date."""
    if isinstance(value, list):
        return [_dated(one, (*path, 0)) for one in value]
    try:
        day = date.fromisoformat(value) if isinstance(value, str) else None
    except ValueError:
        return value
    return value if day is None or not _asks_for_date(path) else day


def _asks_for_date(path: Path) -> bool:
    """Whether the validator, given only a text there, says that it must be a date."""
    probe: Any = "text"
    for part in reversed(path):
        probe = [probe] if isinstance(part, int) else {part: probe}
    try:
        Written.model_validate(probe)
    except ValidationError as error:
        return any("date" in detail["type"] and len(detail["loc"]) >= len(path) for detail in error.errors())
    return False


def _place(key: str) -> str:
    return f"edit key {shown(key)}"
