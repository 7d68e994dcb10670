"""Places a job beside the survey already names: with them, changed axes and a wrong shift show."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np

from beckwright.base.quantities import Points
from beckwright.job.wording.keylines import toml_held


def marks_beside(survey: Path) -> Points | None:
    """Places (m, 2) that job.toml beside ``survey`` names: course, trees, reservoir. None where there is none.

    A job half written is no error here: it is read for what it already says.
    """
    try:
        job = toml_held((survey.parent / "job.toml").read_text(encoding="utf-8"))
    except (OSError, ValueError, RecursionError):
        return None
    places = [place for place in _places(job) if _is_place(place)]
    return np.array(places, dtype=float) if places else None


def _places(job: dict[str, Any]) -> Iterator[Any]:
    course, reservoir, trees = (job.get(name) for name in ("course", "reservoir", "trees"))
    if isinstance(course, dict) and isinstance(course.get("line_m"), list):
        yield from course["line_m"]
    if isinstance(reservoir, dict):
        yield reservoir.get("centre_m")
    for tree in trees if isinstance(trees, list) else []:
        if isinstance(tree, dict):
            yield [tree.get("x_m"), tree.get("y_m")]


def _is_place(place: Any) -> bool:
    return isinstance(place, list) and len(place) == 2 and all(type(number) in (int, float) for number in place)
