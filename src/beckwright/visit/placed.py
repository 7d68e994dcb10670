"""A sketch put down on ground somebody has shot: between two pegs, at the survey's own levels."""

import math
from collections.abc import Mapping
from datetime import date
from itertools import pairwise
from pathlib import Path
from typing import Any

import numpy as np

from beckwright.base.errors import JobError, Problem
from beckwright.base.quantities import Length
from beckwright.base.values import value
from beckwright.base.words import with_unit
from beckwright.compose import design
from beckwright.job.edit.rewrite import Put, rewrite
from beckwright.job.model import Survey
from beckwright.job.read import read_job_text
from beckwright.stages.ground import Ground, build_ground, inside, level_at
from beckwright.tables import visit as rows
from beckwright.visit.ask import visit_of
from beckwright.visit.designed import sized
from beckwright.visit.sketch import GROUND_AT_FOOT, cover_below_ground, sketch_at
from beckwright.visit.tables import BENDS, course_points, hose_line, hose_of, pit_centre, pump_of
from beckwright.visit.text import DOUBTS, files_of

Spot = tuple[Length, Length]
MOST_STEPS = 12


@value
class Pegs:
    """Where a stream is to run: ``source`` and ``foot`` (east, north), m, and the ground at each."""

    source: Spot
    foot: Spot
    high: Length
    low: Length

    @property
    def apart(self) -> Length:
        """As the crow flies."""
        return math.dist(self.source, self.foot)

    @property
    def length(self) -> Length:
        """Of the gently bent line between them."""
        return self.apart * sum(math.dist(*pair) for pair in pairwise(BENDS)) / 1.001


def pegs_on(ground: Ground, source: Spot, foot: Spot) -> Pegs:
    """Put two pegs on the ground. Raises ``JobError`` where one is off it, or the water would run up."""
    problems = [
        Problem(
            place=name,
            found=f"{east:.2f}, {north:.2f} lies outside the points shot",
            rule="The whole stream lies on ground that is known",
            remedy="Put it between the points, or shoot one beyond it",
        )
        for name, (east, north) in (("source", source), ("foot", foot))
        if not inside(ground, np.array([[east, north]]))[0]
    ]
    if problems:
        raise JobError(problems)
    high, low = level_at(ground, np.array([source, foot])).tolist()
    if high <= low:
        found = f"the ground is at {high:.2f} at the source and at {low:.2f} at the foot"
        problem = Problem(place="source", found=found, rule="Water runs down", remedy="Change the two pegs round")
        raise JobError([problem])
    return Pegs(source=source, foot=foot, high=high, low=low)


def placed_text(
    survey: Survey, text: str, pegs: Pegs, *, mark: str, steps: int, flow_l_h: float | None, title: str, day: date
) -> dict[str, str]:
    """Texts of a job folder's files by their names, for a stream between two pegs.

    survey, text  the ground, and the same as survey.csv
    mark          what the first point shot is called: all levels are told from it until there is a nail
    steps         how many lips; the runs and pools between them are even, until somebody has looked at the slope
    Raises ``JobError`` with everything that stands in the way.
    """
    given = {"length": pegs.length, "fall": pegs.high - pegs.low, "flow": flow_l_h}
    visit = visit_of(given, measured=frozenset({"length", "fall"}))
    _refuse_crowded(pegs, steps)
    _, _, sketch = sized(sketch_at(visit, {}, steps=steps), visit)
    files = files_of(sketch, visit, title=title, day=day)
    crow = float(course_points(sketch)[0, 0])
    east, north = ((head - end) / crow for head, end in zip(pegs.source, pegs.foot, strict=True))

    def put(along: Length, beside: Length) -> list[Length]:
        """A place of the sketch, along the line from its foot and to the left of that, on the ground."""
        x, y = pegs.foot
        return [round(x + along * east - beside * north, 3), round(y + along * north + beside * east, 3)]

    centre = put(*pit_centre(sketch))
    up, ground = pegs.low - GROUND_AT_FOOT, build_ground(survey)
    spot = np.array([centre])
    at_pit = min(float(level_at(ground, spot)[0]) if inside(ground, spot)[0] else pegs.low, pegs.low)
    changes: dict[str, Any] = {
        "job.doubts": [doubt for doubt in (*DOUBTS, "site.access_width_m") if doubt != "survey.csv"],
        "job.invented": False,
        "datum.name": f"point {mark} of the survey",
        "datum.level_m": round(float(survey.levels[0]), 3),
        "course.line_m": [put(*point) for point in course_points(sketch).tolist()],
        "source.lip_level_m": round(GROUND_AT_FOOT - rows.DUG_IN.amount + sketch.fall + up, 3),
        "reservoir.centre_m": centre,
        "reservoir.turned_deg": round(math.degrees(math.atan2(north, east)), 2),
        "reservoir.cover_level_m": round(at_pit - cover_below_ground(), 2),
        "hose.line_m": [put(*point) for point in hose_line(sketch)],
    }
    toml = rewrite(
        _on_this_ground(files["job.toml"]), [Put(path=_path(key), held=held) for key, held in changes.items()]
    )
    made = {**files, "job.toml": toml, "survey.csv": text}
    _refuse_what_cannot_be(
        made["job.toml"], {"survey.csv": survey, "hoses.csv": (hose_of(sketch),), "pumps.csv": (pump_of(sketch),)}
    )
    return made


def _path(key: str) -> tuple[str | int, ...]:
    return tuple(key.split("."))


def _on_this_ground(toml: str) -> str:
    """The sketch's own remarks on ground that was not shot, put right."""
    said = {
        "# A first sketch from a first visit: five answers, and the trade's habits for all the rest.": (
            "# A first sketch on ground that was shot: two pegs, and the trade's habits for all the rest."
        ),
        "x runs up the slope and y to its left.": "x runs east and y north, as in survey.csv.",
        "# the ground is: set to false once survey.csv is shot": (
            "# the ground is shot; what nobody has measured is listed below"
        ),
    }
    for before, after in said.items():
        toml = toml.replace(before, after, 1)
    return toml


def _refuse_crowded(pegs: Pegs, steps: int) -> None:
    room = max(1, min(MOST_STEPS, int(pegs.length / rows.ROOM_FOR_A_STEP.amount)))
    if 1 <= steps <= room:
        return
    rule = f"A stream of {with_unit(pegs.length, 'm'):.1f} has from 1 to {room} of them"
    raise JobError([Problem(place="steps", found=f"{steps} of them", rule=rule, remedy="Write another number")])


def _refuse_what_cannot_be(toml: str, tables: Mapping[str, Any]) -> None:
    """Raise ``JobError`` where the job could not be read or designed: that is not worth a folder."""

    def take(read: Any, path: Path, problems: list[Problem], *told: str) -> Any:
        return tables.get(path.name)

    design(read_job_text(toml, Path(), take))
