"""How things of job.toml are called, and their values told, when a change is put into words."""

from collections.abc import Mapping
from datetime import date
from typing import Any

from pydantic import TypeAdapter, ValidationError

from beckwright.job.convert import reach_names
from beckwright.job.wording.keylines import Path
from beckwright.job.wording.sentences import UNITS, shown, with_unit
from beckwright.job.written.course import CourseWritten

ONE_OF = {
    "trees": "tree", "services": "service", "boundaries": "boundary", "marks": "mark", "lights": "light",
    "foundations": "foundation", "pockets": "pocket", "views": "view", "heaps": "heap", "loads": "load",
    "running": "running row", "edges": "edge stretch", "plants": "plant", "line_m": "point", "reaches": "reach",
}  # fmt: skip
"""What one of a list is called."""


def reaches_named(given: Mapping[str, Any]) -> list[str]:
    """Names of a job's reaches, or none where its course cannot be read."""
    try:
        return reach_names(TypeAdapter(CourseWritten).validate_python(given.get("course")))
    except ValidationError:
        return []


def unit_at(path: Path) -> str:
    """Unit of what stands at a path, by the ending of its key."""
    if path[0] == "flows":
        return "l/h"
    key = next((part for part in reversed(path) if isinstance(part, str)), "")
    return next((unit for ending, unit in UNITS.items() if key.endswith(ending)), "")


def label(key: str) -> str:
    """A key in words, its unit left off: ``cover_level_m`` is cover level."""
    ending = next((ending for ending in UNITS if key.endswith(ending)), "")
    return key.removesuffix(ending).replace("_", " ")


def row_name(row: Any, number: int, path: Path, of: str, reaches: list[str]) -> str:
    """What one of a list is called: by its own name, else by its number from 1.

    path     of the list
    of       what the list belongs to
    reaches  names of the job's reaches
    """
    if path == ("course", "reaches") and number < len(reaches):
        return reaches[number]
    word = ONE_OF.get(str(path[-1]), label(str(path[-1])))
    name = row.get("name") or row.get("plant") if isinstance(row, Mapping) else None
    if name:
        return f"{word} {name}"
    return f"{of}, {word} {number + 1}" if of else f"{word} {number + 1}"


def told(held: Any, unit: str) -> str:
    """A value as a sentence repeats it, with its unit; empty for nothing."""
    if held is None:
        return ""
    if isinstance(held, Mapping):
        return (
            ", ".join(f"{label(key)} {told(inner, unit_at((key,)))}" for key, inner in held.items()) or "an empty row"
        )
    if isinstance(held, list):
        return f"{', '.join(_listed(one) for one in held)} {unit}".strip() if held else "an empty list"
    if isinstance(held, int | float) and not isinstance(held, bool):
        return with_unit(held, unit)
    return held.isoformat() if isinstance(held, date) else shown(held)


def _listed(one: Any) -> str:
    return f"({told(one, '')})" if isinstance(one, list | Mapping) else told(one, "")
