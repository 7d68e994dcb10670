"""A survey file understood: what it holds in metres, what became of it, and what must be asked before it is written."""

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import compress
from pathlib import Path
from typing import Literal

import numpy as np

from beckwright.base.quantities import BoolArray, FloatArray, Length, Levels, Points
from beckwright.base.values import value
from beckwright.survey.codes import BOUNDARIES, LEVEL_UNSURE, SERVICES, CodeTold, Feature, read_code, told
from beckwright.survey.counted import counted
from beckwright.survey.files import read_file
from beckwright.survey.gathered import Answers, Gathered, Progress, Window, refusal, silent
from beckwright.survey.offers import offered
from beckwright.survey.settled import Rows, joined, settle
from beckwright.survey.units import UNITS, WORDS, Unit
from beckwright.survey.unsure import (
    Question,
    axis_doubts,
    left_at_zero,
    level_doubts,
    order_doubts,
    place_doubts,
    stray_levels,
    stray_question,
    unit_doubts,
)

OFFERED = {**SERVICES, **BOUNDARIES}
BEYOND: Length = 1e9
"""No grid on earth reaches so far, whatever the unit."""
LONGEST = 80
"""Characters of a name or code that are kept."""
AXES = ("xyz", "yxz", "zyx", "xzy", "yzx", "zxy")


@value
class Understood:
    """What a survey file holds.

    source      name of the file, and ``kind`` what it is
    names       (n,) one for each point, no two alike
    points      (n, 2), m, with ``shift`` taken off
    levels      (n,)
    codes       (n,) as survey.csv will hold them
    breaklines  (n,) name of the breakline a point is on, or empty; its points stand in order
    codes_told  what each code became
    shift       taken off every easting and northing, m
    offers      sections for job.toml: trees, walls and services
    questions   what must be answered before the survey is written
    notes       what was taken for granted, merged, left out or made
    """

    source: str
    kind: str
    names: tuple[str, ...]
    points: Points
    levels: Levels
    codes: tuple[str, ...]
    breaklines: tuple[str, ...]
    codes_told: tuple[CodeTold, ...]
    shift: tuple[Length, Length]
    offers: str
    questions: tuple[Question, ...]
    notes: tuple[str, ...]

    @property
    def breakline_counts(self) -> Counter[str]:
        """How many points each breakline has."""
        return Counter(name for name in self.breaklines if name)


def understand(
    path: Path,
    *,
    columns: Sequence[str] | None = None,
    unit: Unit | None = None,
    level_unit: Unit | None = None,
    decimal: Literal["point", "comma"] | None = None,
    axes: str | None = None,
    shift: tuple[Length, Length] | None = None,
    outliers: Literal["keep", "leave-out"] | None = None,
    duplicates: Literal["first", "lowest", "highest", "middle"] | None = None,
    layers: Sequence[str] | None = None,
    surface: str | None = None,
    window: Window | None = None,
    spacing: Length | None = None,
    points: int = 20_000,
    join_lines: bool = False,
    marks: Points | None = None,
    progress: Progress = silent,
) -> Understood:
    """Read a survey file and say what was understood. What is not sure is asked, never guessed.

    The options are what the person answered; see ``Answers``. ``marks`` (m, 2): places of the job known already, m.

    Raises JobError, all problems at once, where the file or an option cannot be used.
    """
    if axes is not None and axes not in AXES:
        rule, remedy = f"Axes are one of {', '.join(AXES)}", "Write yxz where x and y have changed places"
        raise refusal("--axes", f'it is "{axes}"', rule, remedy)
    answers = Answers(
        columns=None if columns is None else tuple(columns),
        unit=unit,
        level_unit=level_unit,
        decimal=decimal,
        axes=axes,
        shift=shift,
        outliers=outliers,
        duplicates=duplicates,
        layers=None if layers is None else tuple(layers),
        surface=surface,
        window=window,
        spacing=spacing,
        points=points,
        join_lines=join_lines,
    )
    gathered = read_file(path, answers, progress)
    progress("Looking the points over ...")
    return _understood(path.name, gathered, answers, marks)


def _understood(file: str, gathered: Gathered, answers: Answers, marks: Points | None) -> Understood:
    shift = answers.shift or (0.0, 0.0)
    metric = _metric(gathered, answers)
    if np.abs(metric).max(initial=0.0) > BEYOND:
        rule, remedy = f"Coordinates stay below {BEYOND:g} m", "Look for a slip of the point, the unit or the file"
        raise refusal(file, "a coordinate or level in it is beyond all measure", rule, remedy)
    asked = [*gathered.questions, *_doubts(metric, gathered, answers, marks)] if len(metric) else gathered.questions
    places = np.round(metric - (*shift, 0.0), 3)
    written = [_plain(code) for code in gathered.codes]
    features = {code: read_code(code) for code in set(written)}
    rows = Rows(
        places=places,
        names=tuple(_plain(name).lstrip("#") for name in gathered.names),
        features=tuple(map(features.__getitem__, written)),
        breaklines=tuple(_plain(name) for name in gathered.breaklines),
    )
    offers = offered(rows.features, places[:, :2], _drawn(gathered, answers, shift))
    left, stray_questions, stray_notes = _without_strays(rows, gathered, answers)
    left, join_notes = joined(left, wanted=answers.join_lines)
    settled = settle(left, duplicates=answers.duplicates or ("middle" if gathered.thinned else None))
    granted = _granted(gathered, answers, rows.features) if len(metric) else ()
    return Understood(
        source=file,
        kind=gathered.kind,
        names=settled.names,
        points=settled.points,
        levels=settled.levels,
        codes=settled.codes,
        breaklines=settled.breaklines,
        codes_told=told(written, rows.features),
        shift=shift,
        offers=offers,
        questions=(*asked, *stray_questions, *settled.questions),
        notes=(*gathered.notes, *granted, *stray_notes, *join_notes, *settled.notes),
    )


def _metric(gathered: Gathered, answers: Answers) -> FloatArray:
    """Places (n, 3) in metres: axes put in order, units turned."""
    order = ["xyz".index(axis) for axis in answers.axes or "xyz"]
    plan = UNITS[answers.unit or gathered.unit or "m"]
    level = UNITS[answers.level_unit or _file_level_unit(gathered, answers) or answers.unit or gathered.unit or "m"]
    return gathered.places[:, order] * (plan, plan, level)


def _file_level_unit(gathered: Gathered, answers: Answers) -> Unit | None:
    """The unit the file names for its levels alone; a unit the person gave overrules what the file says of both."""
    return gathered.level_unit if answers.unit is None or answers.unit == gathered.unit else None


def _doubts(metric: FloatArray, gathered: Gathered, answers: Answers, marks: Points | None) -> Iterator[Question]:
    """What is to be asked of units, axes and place; the place only once the unit is sure."""
    filled = metric[~left_at_zero(metric[:, 2])]
    plan_unit = answers.unit or gathered.unit
    of_unit = [] if plan_unit else list(unit_doubts(filled))
    yield from of_unit
    if of_unit:
        return
    of_axes: list[Question] = []
    if answers.axes is None:
        of_axes = list(axis_doubts(filled)) or list(order_doubts(filled[:, :2], marks))
        yield from of_axes
    if not of_axes and answers.level_unit is None and gathered.level_unit is None:
        yield from level_doubts(filled, plan_unit or "m")
    if answers.shift is None:
        yield from place_doubts(metric[:, :2], marks)


def _drawn(gathered: Gathered, answers: Answers, shift: tuple[Length, Length]) -> list[tuple[Feature, Points]]:
    """Lines of the plan whose layer names a wall, a boundary or a service, in metres."""
    metre = UNITS[answers.unit or gathered.unit or "m"]
    turned = slice(None, None, -1 if (answers.axes or "xyz").startswith("yx") else 1)
    each = [(read_code(_plain(line.code)), line.points[:, turned] * metre - shift) for line in gathered.plan_lines]
    return [(feature, points) for feature, points in each if feature.code in OFFERED]


def _without_strays(
    rows: Rows, gathered: Gathered, answers: Answers
) -> tuple[Rows, tuple[Question, ...], tuple[str, ...]]:
    """Rows without levels far off those around them, if the person said so; else the question."""
    if gathered.thinned or answers.outliers == "keep" or not len(rows):
        return rows, (), ()
    stray = stray_levels(rows.places)
    if not stray.any():
        return rows, (), ()
    if answers.outliers is None:
        shown = tuple(_shown(rows, gathered, row) for row in range(len(rows)))
        return rows, (stray_question(rows.places, stray, shown),), ()
    return _picked(rows, ~stray), (), (f"{counted(int(stray.sum()), 'level')} far off those around: left out.",)


def _picked(rows: Rows, kept: BoolArray) -> Rows:
    return Rows(
        places=rows.places[kept],
        names=tuple(compress(rows.names, kept)),
        features=tuple(compress(rows.features, kept)),
        breaklines=tuple(compress(rows.breaklines, kept)),
    )


def _shown(rows: Rows, gathered: Gathered, row: int) -> str:
    """A point as a message names it."""
    if gathered.lines[row]:
        return f"line {gathered.lines[row]}"
    x, y, _ = rows.places[row]
    return rows.names[row] or f"{x:.2f}, {y:.2f}"


def _granted(gathered: Gathered, answers: Answers, features: Sequence[Feature]) -> Iterator[str]:
    """What was taken for granted, for the person to shake their head at."""
    if answers.unit and gathered.unit and answers.unit != gathered.unit:
        yield f"The file says {WORDS[gathered.unit]}; it was read in {WORDS[answers.unit]}, as you said."
    elif not answers.unit and not gathered.unit:
        yield "The file names no unit: it was taken for metres."
    elif gathered.unit:
        yield f"The file says {WORDS[gathered.unit]}."
    counts = Counter(feature.code for feature in features)
    for code, doubt in LEVEL_UNSURE.items():
        if counts[code] and not gathered.thinned:
            points = counted(counts[code], "point")
            yield f"{points} coded {code}: was the staff on {doubt}? The survey takes each for the ground."


def _plain(text: str) -> str:
    """A name or code without what cannot be printed, and not endless."""
    if not text.isprintable():
        text = "".join(mark if mark.isprintable() else " " for mark in text)
    return text.strip()[:LONGEST].strip()
