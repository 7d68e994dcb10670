"""Read surfaces and points of LandXML 1.2 (an open standard). Its points are northing, easting, level."""

import math
from collections.abc import Callable, Iterator
from pathlib import Path
from xml.etree import ElementTree as ET
from xml.parsers import expat

import numpy as np

from beckwright.base.errors import JobError, Problem
from beckwright.job.tables.files import MEGABYTE
from beckwright.job.wording.sentences import near_miss, shown
from beckwright.survey.counted import counted
from beckwright.survey.gathered import MOST_POINTS, Answers, Gathered, Progress, nothing, refusal
from beckwright.survey.units import Unit
from beckwright.survey.unsure import Question

KIND = "LandXML"
LARGEST_FILE = 200 * MEGABYTE
MOST_PROBLEMS = 20
LINEAR: dict[str, Unit] = {
    "meter": "m", "millimeter": "mm", "centimeter": "cm", "foot": "ft", "USSurveyFoot": "us-ft", "inch": "in",
}  # fmt: skip
"""Linear units of the standard that a garden is surveyed in."""
ELEVATION: dict[str, Unit] = {"meter": "m", "feet": "ft"}

Place = tuple[float, float, float]


class _Read:
    """What has been read so far."""

    def __init__(self, file: str) -> None:
        self.file = file
        self.unit: Unit | None = None
        self.level_unit: Unit | None = None
        self.surfaces: dict[str, _Surface] = {}
        self.points: list[tuple[str, str, Place]] = []
        self.passed_over = 0
        self.problems: list[Problem] = []

    def fault(self, place: str, found: str, rule: str, remedy: str) -> None:
        """Note a problem; only the first few are kept."""
        if len(self.problems) < MOST_PROBLEMS:
            self.problems.append(Problem(place=f"{self.file} {place}", found=found, rule=rule, remedy=remedy))


class _Surface:
    """One surface: its points by number, the faces' corners that show, its breaklines and its loose points."""

    def __init__(self) -> None:
        self.points: dict[str, Place] = {}
        self.used: set[str] = set()
        self.faces = self.hidden = 0
        self.breaklines: list[tuple[str, list[Place]]] = []
        self.loose: list[Place] = []


def read_landxml(path: Path, answers: Answers, progress: Progress) -> Gathered:
    """Read the chosen surface and the coded points. JobError for a broken or unsafe file, with all problems."""
    if path.stat().st_size > LARGEST_FILE:
        found, rule = "it is larger than 200 MB", "A file may have 200 MB"
        raise refusal(path.name, found, rule, "Export the part you need")
    read = _Read(path.name)
    try:
        _refuse_definitions(path)
        _walk(path, read, progress)
    except (ET.ParseError, expat.ExpatError, ValueError, LookupError) as error:
        # A name of an encoding that is not known comes as one of the last two.
        line = getattr(error, "position", (getattr(error, "lineno", 0), 0))[0]
        place = f"{path.name} line {line}" if line else path.name
        raise refusal(place, "it is not whole XML", "LandXML follows the rules of XML", "Export it again") from error
    if read.problems:
        raise JobError(read.problems)
    return _chosen(read, answers)


def _refuse_definitions(path: Path) -> None:
    """Refuse a file that defines entities or names a document type: that is how XML is made to reach elsewhere."""
    parser = expat.ParserCreate()

    def doctype(*_: object) -> None:
        rule, remedy = "LandXML needs no document type and no entities", "Ask for a plain export"
        raise refusal(path.name, "it begins with a document type", rule, remedy)

    def root(*_: object) -> None:
        raise _RootReachedError

    parser.StartDoctypeDeclHandler = doctype
    parser.StartElementHandler = root
    try:
        with path.open("rb") as file:
            parser.ParseFile(file)
    except _RootReachedError:
        return


class _RootReachedError(Exception):
    """The document has begun: nothing can be defined any more."""


def _walk(path: Path, read: _Read, progress: Progress) -> None:
    above: list[str] = []
    names: list[str] = []
    # Safe: the document type was refused, so no entity can be defined.
    with path.open("rb") as file:
        for event, element in ET.iterparse(file, events=("start", "end")):  # noqa: S314
            tag = element.tag.rsplit("}", 1)[-1]
            if event == "start":
                if not above and tag != "LandXML":
                    found, rule = f"it begins with {shown(tag)}", "LandXML begins with <LandXML>"
                    raise refusal(path.name, found, rule, "Name a LandXML file, or export as one")
                above.append(tag)
                names.append(element.get("name", ""))
                continue
            above.pop()
            names.pop()
            taken = TAKEN.get(tag)
            if taken:
                taken(read, element, _surface(read, above, names))
                progress(f"Reading {tag} ...")
            if tag not in KEPT:
                element.clear()


def _surface(read: _Read, above: list[str], names: list[str]) -> _Surface | None:
    if "Surface" not in above:
        return None
    name = names[above.index("Surface")] or "surface"
    return read.surfaces.setdefault(name, _Surface())


def _take_units(read: _Read, element: ET.Element, _: _Surface | None) -> None:
    written = element.get("linearUnit", "")
    if written in LINEAR:
        read.unit = LINEAR[written]
    else:
        rule, remedy = f"It must be one of {', '.join(LINEAR)}", "Export it again in metres"
        read.fault("Units", f"linearUnit is {shown(written)}", rule, remedy)
    read.level_unit = ELEVATION.get(element.get("elevationUnit", ""))


def _take_point(read: _Read, element: ET.Element, surface: _Surface | None) -> None:
    if surface is None:
        return
    name = element.get("id", "")
    places = list(_places(read, element, f"P {name}", 3))
    if name in surface.points:
        read.fault(f"P {name}", "the point stands twice", "A number stands once in a surface", "Export it again")
    elif len(places) == 1:
        surface.points[name] = places[0]
    else:
        read.fault(f"P {name}", "it has no level", "A point is northing, easting and level", "Export it again")


def _take_face(read: _Read, element: ET.Element, surface: _Surface | None) -> None:
    if surface is None:
        return
    surface.faces += 1
    if element.get("i") == "1":
        surface.hidden += 1
        return
    corners = (element.text or "").split()[:4]
    # Zero is the fourth corner of a face that has none.
    corners = [corner for corner in corners if corner != "0"]
    unknown = [corner for corner in corners if corner not in surface.points]
    if unknown or len(corners) < 3:
        found = f"it names point {shown(unknown[0])}" if unknown else f"it has {len(corners)} corners"
        read.fault(f"face {surface.faces}", found, "A face names three points of its surface", "Export it again")
    surface.used.update(corners)


def _take_breakline(read: _Read, element: ET.Element, surface: _Surface | None) -> None:
    if surface is None:
        return
    name = element.get("name") or f"breakline {len(surface.breaklines) + 1}"
    lists = [part for part in element if part.tag.endswith("PntList3D")]
    places = [place for part in lists for place in _places(read, part, name, 3)]
    if len(places) > 1:
        surface.breaklines.append((name, places))
    else:
        read.passed_over += 1


def _take_loose(read: _Read, element: ET.Element, surface: _Surface | None) -> None:
    if surface is not None:
        for part in element:
            if part.tag.endswith("PntList3D"):
                surface.loose += _places(read, part, "DataPoints", 3)


def _take_coded(read: _Read, element: ET.Element, _: _Surface | None) -> None:
    numbers = (element.text or "").split()
    if len(numbers) != 3:
        read.passed_over += 1  # A reference to another point, or a point of the plan without a level.
        return
    name = element.get("name") or element.get("oID") or ""
    code = " ".join(filter(None, [element.get("code"), element.get("desc")]))
    read.points += [(name, code, place) for place in _places(read, element, f"CgPoint {name}", 3)]


def _places(read: _Read, element: ET.Element, about: str, size: int) -> Iterator[Place]:
    """Easting, northing, level of a list that has them the other way about."""
    words = (element.text or "").split()
    try:
        numbers = [float(word) for word in words]
    except ValueError:
        numbers = [math.nan]
    if len(numbers) % size or not all(map(math.isfinite, numbers)):
        found, rule = "its numbers cannot be read", "It holds northing, easting and level of each point"
        read.fault(about, found, rule, "Export it again")
        return
    for place in range(0, len(numbers), size):
        north, east, level = numbers[place : place + size]
        yield east, north, level


TAKEN: dict[str, Callable[[_Read, ET.Element, _Surface | None], None]] = {
    "Metric": _take_units,
    "Imperial": _take_units,
    "P": _take_point,
    "F": _take_face,
    "Breakline": _take_breakline,
    "DataPoints": _take_loose,
    "CgPoint": _take_coded,
}
KEPT = ("PntList3D", "PntList2D")
"""Elements read with the one they stand in."""


def _chosen(read: _Read, answers: Answers) -> Gathered:
    surfaces = {name: surface for name, surface in read.surfaces.items() if surface.points or surface.loose}
    if answers.surface is not None and answers.surface not in surfaces:
        remedy = f"Did you mean {shown(near_miss(answers.surface, surfaces))}" if surfaces else "Leave the option out"
        rule = f"Surfaces of {read.file} are {', '.join(surfaces) or 'none'}"
        raise refusal("--surface", f"{shown(answers.surface)} is not in the file", rule, remedy)
    if len(surfaces) > 1 and answers.surface is None:
        says = f"The file holds {len(surfaces)} surfaces. Which one is the ground as it is?"
        choices = tuple(
            (f'--surface "{name}"', counted(len(surface.points) or len(surface.loose), "point"))
            for name, surface in surfaces.items()
        )
        return nothing(KIND, (Question(about="surface", says=says, choices=choices),))
    name = answers.surface or next(iter(surfaces), "")
    gathered = _gathered(read, name, surfaces.get(name, _Surface()))
    if not len(gathered.places):
        rule, remedy = "A surface or points with levels are read", "Export the surface of the ground"
        raise refusal(read.file, "it holds no points with levels", rule, remedy)
    return gathered


def _gathered(read: _Read, name: str, surface: _Surface) -> Gathered:
    shown_points = surface.used or surface.points.keys()
    rows: list[tuple[str, str, str, Place]] = [
        (number, "GL", "", place) for number, place in surface.points.items() if number in shown_points
    ]
    rows += [("", "GL", "", place) for place in surface.loose]
    labels = _apart([line for line, _ in surface.breaklines])
    rows += [
        ("", "GL", label, place)
        for label, (_, places) in zip(labels, surface.breaklines, strict=True)
        for place in places
    ]
    rows += [(number, code, "", place) for number, code, place in read.points]
    if len(rows) > MOST_POINTS:
        found, rule = f"it holds {len(rows)} points", f"At most {MOST_POINTS} points are read"
        raise refusal(read.file, found, rule, "Export the part you need")
    return Gathered(
        places=np.array([row[3] for row in rows]).reshape(-1, 3),
        names=tuple(row[0] for row in rows),
        codes=tuple(row[1] for row in rows),
        breaklines=tuple(row[2] for row in rows),
        lines=(0,) * len(rows),
        kind=KIND,
        unit=read.unit,
        level_unit=read.level_unit,
        notes=_notes(read, name, surface),
    )


def _apart(names: list[str]) -> list[str]:
    """Names of breaklines, numbered where two bear the same."""
    seen: dict[str, int] = {}
    each = []
    for name in names:
        seen[name] = seen.get(name, 0) + 1
        each.append(name if seen[name] == 1 else f"{name} ({seen[name]})")
    return each


def _notes(read: _Read, name: str, surface: _Surface) -> tuple[str, ...]:
    notes = []
    if name:
        notes.append(f"Surface {shown(name)}: {counted(len(surface.points) or len(surface.loose), 'point')}.")
    if surface.faces:
        left = sum(number not in surface.used for number in surface.points)
        notes.append(
            f"{counted(surface.faces, 'face')}, {surface.hidden} of them hidden: {counted(left, 'point')} of hidden "
            "ones alone left out. The triangles are drawn anew; only breaklines keep their edges."
        )
    if read.points:
        notes.append(f"{counted(len(read.points), 'point')} with a code.")
    if read.passed_over:
        over = counted(read.passed_over, "point or line", "points or lines")
        notes.append(f"Passed over for want of levels: {over}.")
    return tuple(notes)
