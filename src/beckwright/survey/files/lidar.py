"""Read a laser scan (LAS, LAZ) piece by piece into a thinned ground; memory is that of one piece and the grid."""

import re
import struct
from collections.abc import Iterator
from pathlib import Path
from typing import Any, BinaryIO

import numpy as np
from numpy.typing import NDArray

from beckwright.base.quantities import FloatArray, IntArray, Length
from beckwright.base.values import value
from beckwright.base.words import grouped
from beckwright.job.tables import WIDEST
from beckwright.survey.files.foreign import foreign, not_installed
from beckwright.survey.files.window import ask_window, inside, outside
from beckwright.survey.gathered import Answers, Gathered, Progress, nothing, refusal
from beckwright.survey.thin import Lowest, Means, grid_over, told
from beckwright.survey.units import UNITS, Unit

KIND = "a laser scan"
PIECE = 100_000
"""Points read at a time."""
GROUND, NOISE = 2, (7, 18)
"""Classes of the standard: ground; low and high noise (LAS 1.4, table of point classes)."""
SORTED = 0.01
"""Share of the points that must be called ground for the scan to count as sorted."""
SORTED_TOLD = "{} points called ground are used; each point written is the mean of a cell."
UNSORTED_TOLD = (
    "The scan is not sorted into ground and plants: the lowest point of each cell is used. Under dense plants and on "
    "roofs that is not the ground. Look before you dig."
)
CLASSES = 256
AT_MINOR, AT_POINTS, AT_RECORDS, AT_FORMAT, AT_LATE_RECORDS = 25, 96, 100, 104, 243
"""Bytes of the head: minor version, place of the points, count of records, point format, count of late records
(LAS 1.4, table of the head)."""
COUNT, PLACE, TABLE = struct.Struct("<I"), struct.Struct("<q"), struct.Struct("<II")
LONGEST_HEAD = AT_LATE_RECORDS + COUNT.size
PACKED = 0x80
"""Bit of the point format that says the points are packed."""
SHORTEST_POINT = 20
"""Bytes of the shortest point; a packed piece begins with one as it is."""
SHORTEST_RECORD = 54
LINEAR_UNIT = 3076
EPSG_UNITS: dict[int, Unit] = {9001: "m", 9002: "ft", 9003: "us-ft"}
WKT_UNIT = re.compile(r'(?:LENGTH)?UNIT\s*\[\s*"[^"]*"\s*,\s*([0-9.eE+-]+)')
DEGREES = re.compile(r"\s*(?:GEOGCS|GEOGCRS)\b", re.IGNORECASE)


@value
class Scan:
    """What the head of a scan says."""

    count: int
    low: FloatArray
    high: FloatArray
    unit: Unit | None


def read_lidar(path: Path, answers: Answers, progress: Progress) -> Gathered:
    """Thin a scan to its ground. Raises JobError where it is broken, in degrees, or holds no point of use."""
    try:
        import laspy
        import lazrs  # noqa: F401  # What unpacks LAZ; asked for here, so that the remedy is told before reading.
    except ImportError as error:
        raise not_installed(path, KIND, "lidar") from error
    _refuse_endless(path)
    with foreign(path, KIND), laspy.open(path) as reader:
        header = reader.header
    scan = _scan(path, header)
    metre = UNITS[answers.unit or scan.unit or "m"]
    low, high = _extent(scan, answers)
    if (high < low).any():
        raise outside(path, KIND)
    if (high - low).max() * metre > WIDEST:
        return nothing(KIND, (ask_window(low, high, metre),))
    spacing = None if answers.spacing is None else answers.spacing / metre
    grid = grid_over(low, high, points=answers.points, spacing=spacing)
    part = _Part(path=path, scan=scan, low=low, high=high)
    keeper: Means | Lowest = Means(grid)
    counts = _fill(keeper, part, classes=(GROUND,), progress=progress)
    sorted_out = counts[GROUND] > SORTED * counts.sum()
    if not sorted_out:
        # A second reading: only now is it known that the ground must be told by its being lowest.
        keeper = Lowest(grid)
        _fill(keeper, part, classes=tuple(set(range(CLASSES)) - set(NOISE)), progress=progress)
    return _gathered(part, keeper, counts, metre)


def _refuse_endless(path: Path) -> None:
    """Refuse a head that counts more than the file has room for.

    The library would read nothing for hours, or ask for memory until the whole program is ended.
    """
    with path.open("rb") as file:
        head = file.read(LONGEST_HEAD)
        size = file.seek(0, 2)
        counted = [(count, SHORTEST_RECORD) for count in _records(head)]
        counted += [(count, SHORTEST_POINT) for count in _packed_pieces(file, head, size)]
    if any(count * least > size for count, least in counted):
        found, rule = "it counts more parts than it has room for", "It must be whole"
        raise refusal(path.name, found, rule, "Copy the file again")


def _records(head: bytes) -> Iterator[int]:
    """Records the head counts: those before the points, and from version 1.4 those after."""
    if len(head) >= AT_RECORDS + COUNT.size:
        yield COUNT.unpack_from(head, AT_RECORDS)[0]
    if len(head) == LONGEST_HEAD and head[AT_MINOR] >= 4:
        yield COUNT.unpack_from(head, AT_LATE_RECORDS)[0]


def _packed_pieces(file: BinaryIO, head: bytes, size: int) -> Iterator[int]:
    """Pieces the table of a packed scan counts; its place stands before the points, or at the file's end."""
    if len(head) < LONGEST_HEAD or not head[AT_FORMAT] & PACKED:
        return
    for at in (COUNT.unpack_from(head, AT_POINTS)[0], size - PLACE.size):
        table = _unpacked(file, PLACE, at)
        if table and 0 <= table[0] < size and (counts := _unpacked(file, TABLE, table[0])):
            yield counts[1]


def _unpacked(file: BinaryIO, form: struct.Struct, at: int) -> tuple[int, ...] | None:
    file.seek(at)
    raw = file.read(form.size)
    return form.unpack(raw) if len(raw) == form.size else None


def _scan(path: Path, header: Any) -> Scan:
    low, high = np.array(header.mins[:2], dtype=float), np.array(header.maxs[:2], dtype=float)
    if not header.point_count:
        raise refusal(path.name, "it holds no points", "A scan has points", "Ask for the file again")
    if not (np.isfinite(low).all() and np.isfinite(high).all() and (high >= low).all()):
        found, rule = "its head gives no extent that can be", "The head of a scan gives its extent"
        raise refusal(path.name, found, rule, "Ask for the file again")
    unit, degrees = _unit(header)
    in_degrees = np.abs([low[0], high[0]]).max() <= 360 and np.abs([low[1], high[1]]).max() <= 90
    if degrees or (in_degrees and max(header.scales[:2]) < 1e-5):
        rule, remedy = "A survey is on a grid in metres", "Have it turned into the national grid first"
        raise refusal(path.name, "it is in degrees of latitude and longitude", rule, remedy)
    return Scan(count=int(header.point_count), low=low, high=high, unit=unit)


def _unit(header: Any) -> tuple[Unit | None, bool]:
    """The unit the head names, if it does, and whether it says the plan is in degrees."""
    for record in [*header.vlrs, *(header.evlrs or [])]:
        for key in getattr(record, "geo_keys", []):
            if key.id == LINEAR_UNIT and key.value_offset in EPSG_UNITS:
                return EPSG_UNITS[key.value_offset], False
        text = getattr(record, "string", "")
        if isinstance(text, str) and text:
            return _unit_of_text(text), bool(DEGREES.match(text))
    return None, False


def _unit_of_text(text: str) -> Unit | None:
    """Unit of a coordinate system in words: the one its lengths agree on."""
    sizes = {float(size) for size in WKT_UNIT.findall(text)}
    units = [unit for unit in ("m", "ft", "us-ft") if any(abs(size / UNITS[unit] - 1) < 1e-7 for size in sizes)]
    return units[0] if len(units) == 1 else None  # type: ignore[return-value]  # One of the three above.


def _extent(scan: Scan, answers: Answers) -> tuple[FloatArray, FloatArray]:
    if answers.window is None:
        return scan.low, scan.high
    west, south, east, north = answers.window
    return np.maximum(scan.low, (west, south)), np.minimum(scan.high, (east, north))


@value
class _Part:
    """The part of a scan that is wanted: a rectangle in its own coordinates."""

    path: Path
    scan: Scan
    low: FloatArray
    high: FloatArray


def _fill(keeper: Means | Lowest, part: _Part, *, classes: tuple[int, ...], progress: Progress) -> IntArray:
    """Give the points of some classes to ``keeper``; return how many of each class lie in the part, noise left out."""
    counts, kept_classes = np.zeros(CLASSES, dtype=np.int64), np.zeros(CLASSES, dtype=bool)
    kept_classes[list(classes)] = True
    for x, y, z, called in _pieces(part.path, part.scan.count, progress):
        within = inside(x, y, part.low, part.high) & np.isfinite(z)
        counts += np.bincount(called[within], minlength=CLASSES)
        kept = within & kept_classes[called]
        keeper.add(x[kept], y[kept], z[kept])
    counts[list(NOISE)] = 0
    return counts


def _pieces(
    path: Path, count: int, progress: Progress
) -> Iterator[tuple[FloatArray, FloatArray, FloatArray, NDArray[np.uint8]]]:
    """Coordinates and classes, a piece at a time."""
    import laspy

    with foreign(path, KIND):
        reader = laspy.open(path)
    done = 0
    with reader:
        pieces = reader.chunk_iterator(PIECE)
        while True:
            with foreign(path, KIND):
                piece = next(pieces, None)
                if not piece:
                    break
                x, y, z = (np.asarray(numbers, dtype=np.float64) for numbers in (piece.x, piece.y, piece.z))
                classes = np.asarray(piece.classification, dtype=np.uint8)
            yield x, y, z, classes
            done += len(x)
            progress(f"Reading the scan, {done / 1e6:.1f} of {count / 1e6:.1f} million points ...")
    if done < count:
        found, rule = f"it ends after {done} of {count} points", "It must be whole"
        raise refusal(path.name, found, rule, "Copy the file again")


def _gathered(part: _Part, keeper: Means | Lowest, counts: IntArray, metre: Length) -> Gathered:
    if not counts.sum():
        rule, remedy = "A survey has at least three points", "Look at the window, or ask for the file again"
        raise refusal(part.path.name, "nothing is left of it without noise and what lies outside", rule, remedy)
    thinned = keeper.thinned()
    count = len(thinned.places)
    return Gathered(
        places=thinned.places,
        names=("",) * count,
        codes=("GL",) * count,
        breaklines=("",) * count,
        lines=(0,) * count,
        kind=KIND,
        unit=part.scan.unit,
        notes=(
            f"{grouped(part.scan.count)} points in the scan, {grouped(counts.sum())} of them wanted and not noise.",
            SORTED_TOLD.format(grouped(counts[GROUND])) if isinstance(keeper, Means) else UNSORTED_TOLD,
            told(thinned, metre),
        ),
        thinned=True,
    )
