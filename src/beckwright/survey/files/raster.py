"""Read a grid of levels (GeoTIFF) block by block into a thinned ground."""

import warnings
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np

from beckwright.base.quantities import FloatArray, Length
from beckwright.base.words import grouped
from beckwright.job.tables import WIDEST
from beckwright.job.tables.files import MEGABYTE
from beckwright.survey.files.foreign import foreign, not_installed
from beckwright.survey.files.window import ask_window, inside, outside
from beckwright.survey.gathered import Answers, Gathered, Progress, nothing, refusal
from beckwright.survey.thin import Means, Thinned, grid_over, told
from beckwright.survey.units import UNITS, Unit

KIND = "a grid of levels"
SMALLEST, BEYOND, FLATTEST = 1e-6, 1e9, 1e6
"""Least size of a pixel, what no coordinate reaches, and how many times longer than wide a pixel may be."""
BLOCK = 1024
"""Rows and columns of pixels read at a time."""
LARGEST_PIECE = 128 * MEGABYTE
"""Bytes one packed piece of the file may become: a whole piece is unpacked for every pixel that is read of it."""


def read_raster(path: Path, answers: Answers, progress: Progress) -> Gathered:
    """Thin a grid of levels. Each level stands at the middle of its pixel.

    Raises JobError where the grid is broken, in degrees, not placed on a map, or holds no levels.
    """
    try:
        import rasterio
        from rasterio.errors import NotGeoreferencedWarning
    except ImportError as error:
        raise not_installed(path, KIND, "raster") from error
    # The library only warns of a picture without a place; here it is an error, and told as one.
    with warnings.catch_warnings():
        warnings.simplefilter("error", NotGeoreferencedWarning)
        try:
            with foreign(path, KIND):
                # One driver: a file that merely points at others, near or far, is not followed.
                source = rasterio.open(path, driver="GTiff")
        except Exception as error:
            if isinstance(error.__cause__, NotGeoreferencedWarning):
                raise _unplaced(path) from error
            raise
    with source:
        return _read(path, source, answers, progress)


def _unplaced(path: Path) -> Exception:
    rule, remedy = "A grid of levels says where it lies", "Export it again with its coordinates"
    return refusal(path.name, "it is a picture without a place on the map", rule, remedy)


def _placed(turn: FloatArray, corner: FloatArray) -> bool:
    """Whether pixels have a place and a shape that can be."""
    largest, smallest = np.abs(turn).max(), np.abs(turn).max(axis=0).min()
    # Written so that a number that is none fails too.
    return bool(SMALLEST < smallest <= largest < BEYOND and np.abs(corner).max() < BEYOND) and bool(
        np.linalg.cond(turn) < FLATTEST
    )


def _read(path: Path, source: Any, answers: Answers, progress: Progress) -> Gathered:
    system = source.crs
    if system is not None and system.is_geographic:
        rule, remedy = "A survey is on a grid in metres", "Have it turned into the national grid first"
        raise refusal(path.name, "it is in degrees of latitude and longitude", rule, remedy)
    if not _placed(*_transform(source)):
        raise _unplaced(path)
    _refuse_swelling(path, source)
    unit = _unit(system)
    metre = UNITS[answers.unit or unit or "m"]
    low, high = _extent(source, answers)
    if (high < low).any():
        raise outside(path, KIND)
    if (high - low).max() * metre > WIDEST:
        return nothing(KIND, (ask_window(low, high, metre),))
    spacing = None if answers.spacing is None else answers.spacing / metre
    means = Means(grid_over(low, high, points=answers.points, spacing=spacing))
    count = 0
    for x, y, z in _blocks(path, source, low, high, progress):
        wanted = inside(x, y, low, high)
        means.add(x[wanted], y[wanted], z[wanted])
        count += int(wanted.sum())
    if not count:
        rule, remedy = "A survey has at least three points", "Look at the window, or ask for the file again"
        raise refusal(path.name, "it holds no level there", rule, remedy)
    return _gathered(means.thinned(), unit, _notes(source, count, metre), metre)


def _refuse_swelling(path: Path, source: Any) -> None:
    """Refuse a file whose pieces would fill the memory: a megabyte can be packed to become gigabytes."""
    rows, columns = source.block_shapes[0]
    size = rows * columns * np.dtype(source.dtypes[0]).itemsize
    if size > LARGEST_PIECE:
        found = f"one piece of it would swell to {grouped(size / MEGABYTE)} MB"
        rule = f"A piece may have {LARGEST_PIECE // MEGABYTE} MB"
        raise refusal(path.name, found, rule, "Export it again in tiles")


def _unit(system: Any) -> Unit | None:
    if system is None or not system.is_projected:
        return None
    _, size = system.linear_units_factor
    return next((unit for unit in ("m", "ft", "us-ft") if abs(size / UNITS[unit] - 1) < 1e-7), None)


def _extent(source: Any, answers: Answers) -> tuple[FloatArray, FloatArray]:
    turn, corner = _transform(source)
    corners = np.array([(0, 0), (0, source.height), (source.width, source.height), (source.width, 0)]) @ turn.T + corner
    low, high = corners.min(axis=0), corners.max(axis=0)
    if answers.window is None:
        return low, high
    west, south, east, north = answers.window
    return np.maximum(low, (west, south)), np.minimum(high, (east, north))


def _blocks(
    path: Path, source: Any, low: FloatArray, high: FloatArray, progress: Progress
) -> Iterator[tuple[FloatArray, FloatArray, FloatArray]]:
    """Places of the pixels that hold a level, a block at a time."""
    from rasterio.windows import Window

    first, last = _pixels(source, low, high)
    turn, corner = _transform(source)
    tall, wide = _piece(source, last[0] - first[0])
    for row in range(first[1], last[1], tall):
        for column in range(first[0], last[0], wide):
            window = Window(column, row, min(wide, last[0] - column), min(tall, last[1] - row))
            with foreign(path, KIND):
                levels = source.read(1, window=window, masked=True)
                scale, offset = source.scales[0], source.offsets[0]
            known = ~np.ma.getmaskarray(levels) & np.isfinite(levels.data)
            down, right = np.nonzero(known)
            x, y = turn @ (column + right + 0.5, row + down + 0.5) + corner[:, np.newaxis]
            yield x, y, levels.data[known].astype(np.float64) * scale + offset
        progress(f"Reading the grid, {grouped(min(row + tall, last[1]))} of {grouped(last[1])} rows ...")


def _piece(source: Any, width: int) -> tuple[int, int]:
    """Rows and columns to read at a time. A file packed row by row is read down once: going back begins it anew."""
    by_rows = source.block_shapes[0][0] == 1
    return (max(1, BLOCK * BLOCK // max(width, 1)), max(width, 1)) if by_rows else (BLOCK, BLOCK)


def _pixels(source: Any, low: FloatArray, high: FloatArray) -> tuple[tuple[int, int], tuple[int, int]]:
    """First column and row, and the ones after the last, that may hold something of the rectangle."""
    turn, corner = _transform(source)
    corners = np.array([(low[0], low[1]), (low[0], high[1]), (high[0], high[1]), (high[0], low[1])])
    columns, rows = np.linalg.solve(turn, (corners - corner).T)
    first = (max(int(columns.min()) - 1, 0), max(int(rows.min()) - 1, 0))
    return first, (min(int(columns.max()) + 2, source.width), min(int(rows.max()) + 2, source.height))


def _transform(source: Any) -> tuple[FloatArray, FloatArray]:
    """What turns column and row into x and y: a matrix (2, 2), and the outer corner of the first pixel."""
    given = source.transform
    return np.array([[given.a, given.b], [given.d, given.e]]), np.array([given.c, given.f])


def _notes(source: Any, count: int, metre: Length) -> tuple[str, ...]:
    across, down = np.hypot(*_transform(source)[0]) * metre
    size = (
        f"{grouped(source.width)} by {grouped(source.height)} pixels of {across:.2f} by {down:.2f} m, "
        f"{grouped(count)} with a level in the window; each stands at the middle of its pixel."
    )
    notes = [size]
    if source.crs is None:
        notes.append("The file names no grid: its coordinates are taken as they stand.")
    if source.count > 1:
        notes.append(f"The file has {source.count} bands; the first is read.")
    return tuple(notes)


def _gathered(thinned: Thinned, unit: Unit | None, notes: tuple[str, ...], metre: Length) -> Gathered:
    count = len(thinned.places)
    return Gathered(
        places=thinned.places,
        names=("",) * count,
        codes=("GL",) * count,
        breaklines=("",) * count,
        lines=(0,) * count,
        kind=KIND,
        unit=unit,
        notes=(*notes, told(thinned, metre)) if thinned.within else notes,
        thinned=True,
    )
