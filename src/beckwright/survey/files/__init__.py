"""Files of points: what a file is, by its first bytes, and the reader for it."""

import re
from collections.abc import Callable
from pathlib import Path
from typing import Literal

from beckwright.base.errors import JobError, Problem
from beckwright.job.tables.files import PACKED
from beckwright.survey.gathered import Answers, Gathered, Progress, refusal

Kind = Literal["a laser scan", "a grid of levels", "LandXML", "a drawing", "a list of points"]
Reader = Callable[[Path, Answers, Progress], Gathered]

ONLY: dict[str, tuple[Kind, ...]] = {
    "columns": ("a list of points",),
    "decimal": ("a list of points",),
    "layers": ("a drawing",),
    "surface": ("LandXML",),
    "window": ("a laser scan", "a grid of levels"),
    "spacing": ("a laser scan", "a grid of levels"),
}
"""Answers that only some kinds of file can use."""
OPTIONS = {"spacing": "--spacing-m"}
LOOKED_AT = 4096
TIFF = (b"II*\x00", b"MM\x00*", b"II+\x00", b"MM\x00+")
DRAWING = re.compile(rb"\A(?:\xef\xbb\xbf)?(?:\s*999[^\n]*\n[^\n]*\n)*\s*0\s*\n\s*SECTION")
BINARY_DRAWING = re.compile(rb"\A[A-Za-z0-9 ]{4,20} DXF\r\n\x1a\x00")
SHUT_DRAWING = re.compile(rb"\AAC10\d\d")
CELL_GRID = re.compile(rb"\A\s*ncols\s", re.IGNORECASE)


def read_file(path: Path, answers: Answers, progress: Progress) -> Gathered:
    """Gather the points of a file. Raises JobError where it cannot be read, or an option is of no use to it."""
    start = _start(path)
    _refuse_packed(path, start)
    kind = _kind(path, start)
    _refuse_useless(path, kind, answers)
    return _reader(kind)(path, answers, progress)


def _refuse_useless(path: Path, kind: Kind, answers: Answers) -> None:
    useless = [name for name, kinds in ONLY.items() if kind not in kinds and getattr(answers, name) is not None]
    problems = [
        Problem(
            place=OPTIONS.get(name, f"--{name}"),
            found=f"{path.name} is {kind}",
            rule=f"The option is for {' and '.join(ONLY[name])}",
            remedy="Leave it out",
        )
        for name in useless
    ]
    if problems:
        raise JobError(problems)


def _start(path: Path) -> bytes:
    if path.is_dir():
        raise refusal(path.name, "it is a folder", "One file is read at a time", "Name the file itself")
    try:
        with path.open("rb") as file:
            start = file.read(LOOKED_AT)
    except OSError as error:
        found = f"it cannot be opened ({error.strerror})"
        raise refusal(path.name, found, "It must be a file you may read", "Look at its name and place") from error
    if not start.strip():
        raise refusal(path.name, "it is empty", "A survey has at least three points", "Export it again")
    return start


def _refuse_packed(path: Path, start: bytes) -> None:
    kinds = [kind for mark, kind in PACKED.items() if start.startswith(mark)]
    if kinds:
        remedy = "Unpack it, or save the sheet as CSV, and name that"
        raise refusal(path.name, f"it is really a {kinds[0]} file", "The points themselves are read", remedy)
    if SHUT_DRAWING.match(start):
        remedy = "Save the drawing as DXF, and name that"
        raise refusal(path.name, "it is a drawing in a closed format (DWG)", "Drawings are read as DXF", remedy)
    if CELL_GRID.match(start):
        remedy = "Export it as GeoTIFF, or as a list of x, y and z"
        raise refusal(path.name, "it is a grid of levels in text", "Grids are read as GeoTIFF", remedy)


def _kind(path: Path, start: bytes) -> Kind:
    """What a file holds; its name's ending only decides where its bytes say nothing."""
    ending = path.suffix.lower()
    if start.startswith(b"LASF") or ending in (".las", ".laz"):
        return "a laser scan"
    if start.startswith(TIFF) or ending in (".tif", ".tiff"):
        return "a grid of levels"
    if b"<LandXML" in start or ending in (".xml", ".landxml"):
        return "LandXML"
    if DRAWING.match(start) or BINARY_DRAWING.match(start) or ending == ".dxf":
        return "a drawing"
    return "a list of points"


def _reader(kind: Kind) -> Reader:
    if kind == "a laser scan":
        from beckwright.survey.files.lidar import read_lidar

        return read_lidar
    if kind == "a grid of levels":
        from beckwright.survey.files.raster import read_raster

        return read_raster
    if kind == "LandXML":
        from beckwright.survey.files.landxml import read_landxml

        return read_landxml
    if kind == "a drawing":
        from beckwright.survey.files.dxf import read_dxf

        return read_dxf
    from beckwright.survey.points import read_points

    return lambda path, answers, _: read_points(path, answers)
