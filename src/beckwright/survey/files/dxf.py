"""Read points, levels and breaklines from a drawing (DXF). The layer a thing is drawn on is its code."""

from collections import Counter
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import numpy as np

from beckwright.base.errors import JobError, Problem
from beckwright.job.tables.files import MEGABYTE
from beckwright.job.wording.sentences import near_miss, shown
from beckwright.survey.files.foreign import foreign
from beckwright.survey.gathered import MOST_POINTS, Answers, Gathered, PlanLine, Progress, nothing, refusal
from beckwright.survey.points import number_of
from beckwright.survey.units import WORDS, Unit
from beckwright.survey.unsure import Question

KIND = "a drawing"
LARGEST_FILE = 150 * MEGABYTE
INSERT_UNITS: dict[int, Unit] = {1: "in", 2: "ft", 4: "mm", 5: "cm", 6: "m", 21: "us-ft"}
"""What the format's header calls its units."""
FLATTENED = 0.01
"""How far a chord may lie from its arc, in the drawing's unit times the number below."""
PER_METRE = {"m": 1.0, "mm": 1000.0, "cm": 100.0, "ft": 3.3, "us-ft": 3.3, "in": 39.0}
LEVEL_TAGS = ("level", "z", "height", "elev", "elevation", "rl", "h", "ht", "lvl")
NAME_TAGS = ("no", "id", "point", "pt", "number", "name", "pt_no", "nr")
CODE_TAGS = ("code", "desc", "description", "feature", "remark")

Place = tuple[float, float, float]


class _Read:
    """What has been read so far."""

    def __init__(self, unit: Unit | None) -> None:
        self.places: list[Place] = []
        self.names: list[str] = []
        self.codes: list[str] = []
        self.breaklines: list[str] = []
        self.plan_lines: list[PlanLine] = []
        self.lines: Counter[str] = Counter()
        self.counts: Counter[str] = Counter()
        self.chord = FLATTENED * PER_METRE[unit or "m"]

    def point(self, place: Place, code: str, name: str = "", breakline: str = "") -> None:
        """Take a point in."""
        self.places.append(place)
        self.codes.append(code)
        self.names.append(name)
        self.breaklines.append(breakline)

    def line(self, vertices: list[Place], code: str) -> None:
        """Take a line in: a breakline where it has levels, else a line of the plan."""
        if len(vertices) < 2:
            return
        if not any(z for _, _, z in vertices):
            self.counts["lines without levels"] += 1
            self.plan_lines.append(PlanLine(code=code, points=np.array(vertices)[:, :2]))
            return
        self.counts["breaklines"] += 1
        self.lines[code] += 1
        for place in vertices:
            self.point(place, code, breakline=f"{code} {self.lines[code]}")


def read_dxf(path: Path, answers: Answers, progress: Progress) -> Gathered:
    """Read the model space of a drawing. Raises JobError where it is broken or holds nothing with a level."""
    if path.stat().st_size > LARGEST_FILE:
        rule = f"A drawing may have {LARGEST_FILE / MEGABYTE:g} MB"
        raise refusal(path.name, "it is too large", rule, "Write only the layers with levels into a new drawing")
    progress("Opening the drawing ...")
    with foreign(path, KIND):
        drawing, mended = _opened(path)
        written = int(drawing.header.get("$INSUNITS", 0))
        space = drawing.modelspace()
        layers = Counter(entity.dxf.get("layer", "0") for entity in space)
    unit = INSERT_UNITS.get(written)
    if unit is None and answers.unit is None:
        return nothing(KIND, (_ask_unit(written),))
    _refuse_layers(answers.layers, layers)
    read = _Read(answers.unit or unit)
    for entity in space:
        layer = entity.dxf.get("layer", "0")
        if answers.layers is None or layer in answers.layers:
            with foreign(path, KIND):
                _take(read, entity, layer)
        if len(read.places) > MOST_POINTS:
            rule, remedy = f"At most {MOST_POINTS} points are read", "Choose the layers of the ground: --layers"
            raise refusal(path.name, "it holds too many points", rule, remedy)
    if not read.places:
        rule, remedy = "Points, blocks, faces or lines with levels are read", "Export the drawing in three dimensions"
        raise refusal(path.name, "it holds nothing with a level", rule, remedy)
    return _gathered(read, unit, mended=mended)


def _opened(path: Path) -> tuple[Any, bool]:
    """The drawing, and whether it had to be mended."""
    from ezdxf import recover
    from ezdxf.filemanagement import readfile
    from ezdxf.lldxf.const import DXFError

    try:
        return readfile(path), False
    except (DXFError, UnicodeDecodeError, ValueError):
        return recover.readfile(path)[0], True


def _ask_unit(written: int) -> Question:
    said = "names no unit" if written == 0 else f"is in a unit no garden is drawn in (number {written})"
    choices = tuple((f"--unit {unit}", WORDS[unit]) for unit in ("m", "mm", "ft"))
    return Question(about="unit", says=f"The drawing {said}. Which unit is it in?", choices=choices)


def _refuse_layers(wanted: tuple[str, ...] | None, layers: Counter[str]) -> None:
    problems = []
    for name in wanted or ():
        if name not in layers:
            nearest = near_miss(name, layers)
            remedy = f"Did you mean {shown(nearest)}" if nearest else f"There are {', '.join(list(layers)[:20])}"
            found = f"nothing is drawn on a layer {shown(name)}"
            problems.append(Problem(place="--layers", found=found, rule="A layer holds something", remedy=remedy))
    if problems:
        raise JobError(problems)


def _take(read: _Read, entity: Any, layer: str) -> None:
    kind = entity.dxftype()
    taken = TAKEN.get(kind)
    if taken is None:
        read.counts[f"{kind} passed over"] += 1
    else:
        taken(read, entity, layer)


def _take_point(read: _Read, entity: Any, layer: str) -> None:
    read.counts["points"] += 1
    read.point(_xyz(entity.dxf.location), layer)


def _take_block(read: _Read, entity: Any, layer: str) -> None:
    """A block stands for one point; its texts may hold number, level and code."""
    texts = {text.dxf.tag.lower(): text.dxf.text.strip() for text in entity.attribs}
    x, y, z = _xyz(entity.ocs().to_wcs(entity.dxf.insert))
    level = next((number_of(texts[tag], comma="," in texts[tag]) for tag in LEVEL_TAGS if texts.get(tag)), None)
    if level is not None:
        read.counts["levels taken from the text of a block"] += z == 0.0
        read.counts["levels of a block that its text contradicts"] += z not in (0.0, level)
    name = next((texts[tag] for tag in NAME_TAGS if texts.get(tag)), "")
    code = next((texts[tag] for tag in CODE_TAGS if texts.get(tag)), layer)
    read.counts["blocks"] += 1
    read.point((x, y, z if z or level is None else level), code, name)


def _take_straight(read: _Read, entity: Any, layer: str) -> None:
    read.line([_xyz(entity.dxf.start), _xyz(entity.dxf.end)], layer)


def _take_curve(read: _Read, entity: Any, layer: str) -> None:
    """A line of the plan with one level, arcs cut into chords."""
    from ezdxf.path import make_path

    read.line([_xyz(vertex) for vertex in make_path(entity).flattening(read.chord)], layer)


def _take_polyline(read: _Read, entity: Any, layer: str) -> None:
    if entity.is_poly_face_mesh or entity.is_polygon_mesh:
        _take_corners(read, [_xyz(v.dxf.location) for v in entity.vertices if not v.is_face_record], layer)
    else:
        _take_curve(read, entity, layer)


def _take_face(read: _Read, entity: Any, layer: str) -> None:
    _take_corners(read, [_xyz(corner) for corner in entity.wcs_vertices()], layer)


def _take_mesh(read: _Read, entity: Any, layer: str) -> None:
    _take_corners(read, [_xyz(vertex) for vertex in entity.vertices], layer)


def _take_corners(read: _Read, corners: list[Place], layer: str) -> None:
    read.counts["corners of faces"] += len(corners)
    for corner in corners:
        read.point(corner, layer)


def _xyz(vector: Any) -> Place:
    x, y, z = (float(number) for number in vector)
    if not all(np.isfinite((x, y, z))):
        raise refusal("the drawing", "a coordinate in it is not finite", "Coordinates are numbers", "Export it again")
    return x, y, z


TAKEN: dict[str, Callable[[_Read, Any, str], None]] = {
    "POINT": _take_point,
    "INSERT": _take_block,
    "LINE": _take_straight,
    "LWPOLYLINE": _take_curve,
    "POLYLINE": _take_polyline,
    "3DFACE": _take_face,
    "MESH": _take_mesh,
}


def _gathered(read: _Read, unit: Unit | None, *, mended: bool) -> Gathered:
    return Gathered(
        places=np.array(read.places).reshape(-1, 3),
        names=tuple(read.names),
        codes=tuple(read.codes),
        breaklines=tuple(read.breaklines),
        lines=(0,) * len(read.places),
        kind=KIND,
        unit=unit,
        plan_lines=tuple(read.plan_lines),
        notes=tuple(_notes(read, mended=mended)),
    )


def _notes(read: _Read, *, mended: bool) -> Iterator[str]:
    if mended:
        yield "The drawing was broken and had to be mended: look whether all of it is there."
    taken = [f"{kind} {count}" for kind, count in read.counts.items() if count and "passed over" not in kind]
    yield f"Read: {', '.join(taken)}."
    over = [f"{kind.split()[0]} {count}" for kind, count in read.counts.items() if count and "passed over" in kind]
    if over:
        yield f"Passed over: {', '.join(over)}."
