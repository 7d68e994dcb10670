"""Read a table of plain text: the usual separators, decimal commas, comments; bounded, every fault with its line."""

import csv
import math
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

from beckwright.base.errors import Problem
from beckwright.base.values import value
from beckwright.job.tables.files import MEGABYTE, take_text
from beckwright.job.wording.sentences import near_miss, shown, unit_of

LARGEST_FILE = 64 * MEGABYTE
MOST_ROWS = 500_000
LONGEST_LINE = 10_000
MOST_PROBLEMS = 20
"""Problems listed for one file; a last one says how many more there are."""

Row = tuple[int, list[str]]
Reporter = Callable[[int | None, str, str, str], None]


@value
class Column:
    """One column: its name, and for a number the bounds it must lie within. ``low`` None is a column of text.

    other  what an absent or empty cell means; None where the column must be there and filled
    """

    name: str
    low: float | None = None
    high: float = math.inf
    other: float | str | None = None


@value
class Table:
    """A table read: the file's name, the line each row stood on, and each column's cells."""

    file: str
    lines: tuple[int, ...]
    texts: dict[str, list[str]]
    numbers: dict[str, list[float]]


def read_table(path: Path, columns: Sequence[Column], problems: list[Problem]) -> Table | None:
    """Read a table whose first line names its columns; None after noting why not.

    Separators: comma, semicolon, tab or spaces, whichever the first line uses. Decimal commas are taken wherever a
    comma does not separate. Columns may stand in any order, others are passed over, lines that start with # are
    comments.
    """
    text = take_text(path, largest=LARGEST_FILE, problems=problems)
    return None if text is None else read_table_text(path.name, text, columns, problems)


def read_table_text(name: str, text: str, columns: Sequence[Column], problems: list[Problem]) -> Table | None:
    """Read a table as ``read_table`` does, from the text of a file called ``name``."""
    found: list[Problem] = []
    report = _reporter(name, found)
    table = _table(name, text, columns, report)
    problems.extend(found[:MOST_PROBLEMS])
    if len(found) > MOST_PROBLEMS:
        more = f"there are {len(found) - MOST_PROBLEMS} more problems like these"
        rule, remedy = "Only the first are listed", "Mend these and read the job again"
        problems.append(Problem(place=name, found=more, rule=rule, remedy=remedy))
    return None if found else table


def _reporter(file: str, found: list[Problem]) -> Reporter:
    def report(line: int | None, what: str, rule: str, remedy: str) -> None:
        place = f"{file} line {line}" if line else file
        found.append(Problem(place=place, found=what, rule=rule, remedy=remedy))

    return report


def _table(file: str, text: str, columns: Sequence[Column], report: Reporter) -> Table | None:
    lines = [
        (number, line) for number, line in enumerate(text.split("\n"), 1) if line.strip() and line.lstrip()[0] != "#"
    ]
    if not _bounded(lines, report):
        return None
    separator = _separator(lines[0][1])
    head, *rows = _split(lines, separator, report)
    heads = [_head(name) for name in head[1]]
    if not _complete(head[0], heads, columns, report):
        return None
    if not rows:
        report(None, "it has a heading and no rows", "There must be at least one row", "Fill in the rows")
        return None
    rows = [row for row in rows if _fits(row, len(heads), report)]
    cells = {name: [row[1][place] if place < len(row[1]) else "" for row in rows] for place, name in enumerate(heads)}
    numbered = tuple(row[0] for row in rows)
    texts = {one.name: _texts(one, numbered, cells, report) for one in columns if one.low is None}
    numbers = {
        one.name: _numbers(one, numbered, cells, report, commas=separator != ",")
        for one in columns
        if one.low is not None
    }
    return Table(file=file, lines=numbered, texts=texts, numbers=numbers)


def _bounded(lines: list[tuple[int, str]], report: Reporter) -> bool:
    if not lines:
        report(None, "it holds nothing but comments", "Its first line must name the columns", "Fill it in")
    elif len(lines) > MOST_ROWS + 1:
        report(None, f"it has {len(lines) - 1} rows", f"At most {MOST_ROWS} are read", "Thin the points out")
    else:
        long = [(number, len(line)) for number, line in lines if len(line) > LONGEST_LINE]
        for number, length in long:
            remedy = "Look for missing line ends or pasted matter"
            report(number, f"the line has {length} characters", f"A line may have {LONGEST_LINE}", remedy)
        return not long
    return False


def _separator(head: str) -> str | None:
    return next((mark for mark in ";\t," if mark in head), None)


def _split(lines: list[tuple[int, str]], separator: str | None, report: Reporter) -> Iterator[Row]:
    for number, line in lines:
        if separator is None:
            yield number, line.split()
        elif '"' not in line:
            yield number, [cell.strip() for cell in line.split(separator)]
        else:
            yield number, _quoted(number, line, separator, report)


def _quoted(number: int, line: str, separator: str, report: Reporter) -> list[str]:
    try:
        cells = next(csv.reader([line], delimiter=separator, strict=True, skipinitialspace=True))
    except csv.Error:
        report(
            number, "a quotation mark is not closed", "Quotation marks stand in pairs around a cell", "Close or drop it"
        )
        return []
    return [cell.strip() for cell in cells]


def _head(name: str) -> str:
    return "_".join(name.lower().split())


def _complete(line: int, heads: list[str], columns: Sequence[Column], report: Reporter) -> bool:
    known = [column.name for column in columns]
    unknown = [name for name in heads if name not in known]
    good = True
    for column in columns:
        nearest = near_miss(column.name, unknown)
        twice = heads.count(column.name) > 1
        missing = column.name not in heads and (column.other is None or nearest)
        if twice:
            report(line, f"the column {column.name} stands twice", "A column stands once", "Take one out")
        elif missing:
            remedy = _renamed(nearest, column.name) if nearest else f"Add it; columns are {', '.join(known)}"
            report(line, f"the column {column.name} is missing", "The first line names the columns", remedy)
        good = good and not twice and not missing
    return good


def _renamed(nearest: str, name: str) -> str:
    """How a column gets its name: one that ends in another unit may hold other numbers too."""
    told, unit = f"Rename {shown(nearest)} to {name}", unit_of(name)
    other = unit and nearest.rpartition("_")[2] != name.rpartition("_")[2]
    return f"{told}, and convert its numbers where they are not in {unit}" if other else told


def _fits(row: Row, width: int, report: Reporter) -> bool:
    number, cells = row
    if not any(cells[width:]):
        return bool(cells)
    remedy = "Put text that holds the separator in quotation marks, and write decimals with a point"
    report(number, f"the line has {len(cells)} cells", f"The heading has {width} columns", remedy)
    return False


def _texts(column: Column, lines: tuple[int, ...], cells: dict[str, list[str]], report: Reporter) -> list[str]:
    given = cells.get(column.name, [""] * len(lines))
    for line, cell in zip(lines, given, strict=True):
        if not cell and column.other is None:
            report(line, f"{column.name} is empty", "Every row must have one", f"Write {column.name}")
        elif not cell.isprintable():
            report(
                line,
                f"{column.name} holds a character that cannot be printed",
                "Text is plain",
                "Type it again by hand",
            )
    return [cell or str(column.other) for cell in given]


def _numbers(
    column: Column, lines: tuple[int, ...], cells: dict[str, list[str]], report: Reporter, *, commas: bool
) -> list[float]:
    given = cells.get(column.name, [""] * len(lines))
    if commas:
        given = [cell.replace(",", ".") for cell in given]
    at_once = _all_sound(column, given)
    if at_once is not None:
        return at_once
    return [_number(column, line, cell, report) for line, cell in zip(lines, given, strict=True)]


def _all_sound(column: Column, cells: list[str]) -> list[float] | None:
    """All cells as numbers when every one is sound; the quick way, for surveys are long."""
    try:
        numbers = list(map(float, cells))
    except ValueError:
        return None
    return numbers if all(_sound(column, number) for number in numbers) and "_" not in "".join(cells) else None


def _sound(column: Column, number: float) -> bool:
    return column.low is not None and column.low <= number <= column.high and math.isfinite(number)


def _number(column: Column, line: int, cell: str, report: Reporter) -> float:
    """One cell as a number, with every way it can be wrong reported."""
    unit = unit_of(column.name)
    if not cell and column.other is not None:
        return float(column.other)
    try:
        number = float(cell.replace("_", "?"))
    except ValueError:
        found = f"{column.name} is {shown(cell)}" if cell else f"{column.name} is empty"
        report(line, found, "It must be a number", f"Write {column.name}{f', in {unit}' if unit else ''}")
        return math.nan
    if not _sound(column, number):
        rule = f"It must be a finite number from {column.low:.10g} to {column.high:.10g} {unit}".rstrip()
        report(
            line, f"{column.name} is {shown(number, column.name)}", rule, "Look for a slip of the point or of the unit"
        )
    return number
