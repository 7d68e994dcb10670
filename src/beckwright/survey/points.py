"""Read a list of points: columns in any order, any usual separator, decimal points or commas, any usual encoding."""

import csv
import math
import re
from collections import Counter
from collections.abc import Sequence
from pathlib import Path

import numpy as np

from beckwright.base.errors import JobError, Problem
from beckwright.base.values import value
from beckwright.job.tables.files import MEGABYTE
from beckwright.job.wording.sentences import near_miss, shown
from beckwright.survey.gathered import MOST_POINTS, Answers, Gathered, nothing, refusal
from beckwright.survey.headings import MEANINGS, NEEDED, Columns, ask_columns, by_heading, by_names, is_degrees
from beckwright.survey.units import Unit
from beckwright.survey.unsure import Question

KIND = "a list of points"
LARGEST_FILE = 64 * MEGABYTE
LONGEST_LINE = 10_000
MOST_PROBLEMS = 20
LOOKED_AT = 200
"""Lines from which separator, decimals and columns are told."""
MOST_TITLES = 20
"""Lines that may stand above the points."""
NUMBER = re.compile(r"[+-]?(?:\d+[.,]?\d*|[.,]\d+)(?:[eE][+-]?\d+)?")
GROUPED_COMMA = re.compile(r"[+-]?\d{1,3}(?:,\d{3})+\.\d+")
GROUPED_POINT = re.compile(r"[+-]?\d{1,3}(?:\.\d{3})+,\d+")
THREE_AFTER_COMMA = re.compile(r"[+-]?[1-9]\d{0,2},\d{3}")
WIDE = {b"\xff\xfe": "utf-16", b"\xfe\xff": "utf-16"}
NAMES = ", ".join([*MEANINGS, "-"])

Line = tuple[int, str]
Row = tuple[int, list[str]]


@value
class Manner:
    """How a list is written: what parts its cells (None for spaces), and whether its decimals are commas."""

    separator: str | None
    comma: bool


def read_points(path: Path, answers: Answers) -> Gathered:
    """Read a list of points. Raises JobError naming every line that cannot be read."""
    text, notes = _text(path)
    lines = [(number, line) for number, line in enumerate(text.split("\n"), 1) if line.strip()]
    comments = [each for each in lines if each[1].lstrip().startswith("#")]
    lines = [each for each in lines if not each[1].lstrip().startswith("#")]
    _bounded(path.name, lines)
    separator = _separator([line for _, line in lines[:LOOKED_AT]])
    rows = [(number, _cells(line, separator)) for number, line in lines]
    comma, doubt = _decimals(rows, separator, answers)
    if doubt:
        return nothing(KIND, (doubt,), notes)
    manner = Manner(separator=separator, comma=comma)
    columns, rows, question = _columns(path.name, rows, comments, manner, answers)
    if question or columns is None:
        return nothing(KIND, (question,) if question else (), notes)
    return _gathered(path.name, rows, columns, manner, notes)


def _text(path: Path) -> tuple[str, tuple[str, ...]]:
    """The text of a file, and what is to be told of its encoding."""
    with path.open("rb") as file:
        raw = file.read(LARGEST_FILE + 1)
    if len(raw) > LARGEST_FILE:
        limit = f"{LARGEST_FILE / MEGABYTE:g} MB"
        raise refusal(path.name, f"it is larger than {limit}", f"A list may have {limit}", "Thin the points out")
    wide = WIDE.get(raw[:2])
    notes: tuple[str, ...] = ()
    try:
        text = raw.decode(wide or "utf-8-sig")
    except UnicodeDecodeError as error:
        if wide or b"\x00" in raw:
            rule, remedy = "It must be plain text", "Export the points again as text"
            raise refusal(path.name, "it holds bytes that are no text", rule, remedy) from error
        # Every byte means something here: an accented letter in a code is all that can come out wrong.
        text = raw.decode("latin-1")
        notes = ("The file is not UTF-8: letters with accents were read as Western European ones.",)
    if "\x00" in text:
        rule, remedy = "It must be plain text", "Export the points again as text"
        raise refusal(path.name, "it is not text but a binary file", rule, remedy)
    return text.replace("\r\n", "\n").replace("\r", "\n"), notes


def _bounded(file: str, lines: list[Line]) -> None:
    if not lines:
        raise refusal(file, "it holds no points", "A survey has at least three points", "Export them again")
    if len(lines) > MOST_POINTS + 1:
        found, rule = f"it has {len(lines)} lines", f"At most {MOST_POINTS} points are read"
        raise refusal(file, found, rule, "Leave out what the stream does not touch")
    long = [(number, len(line)) for number, line in lines if len(line) > LONGEST_LINE]
    if long:
        rule, remedy = f"A line may have {LONGEST_LINE}", "Look for missing line ends or pasted matter"
        raise JobError(
            [
                Problem(
                    place=f"{file} line {number}", found=f"the line has {length} characters", rule=rule, remedy=remedy
                )
                for number, length in long[:MOST_PROBLEMS]
            ]
        )


def _separator(lines: Sequence[str]) -> str | None:
    """What parts the cells. A comma parts them unless spaces do it better: then it is the decimal mark."""
    for mark in ";\t|":
        if sum(mark in line for line in lines) > len(lines) / 2:
            return mark
    if sum("," in line for line in lines) <= len(lines) / 2:
        return None
    return None if _spaces_part(lines) else ","


def _spaces_part(lines: Sequence[str]) -> bool:
    """Whether spaces leave more numbers whole than commas do, as in ``12,5 3,25 99,41``."""
    whole = [
        sum(bool(NUMBER.fullmatch(cell.strip())) for cell in cells)
        for cells in ([cell for line in lines for cell in line.split(mark)] for mark in (None, ","))
    ]
    return whole[0] > whole[1]


def _cells(line: str, separator: str | None) -> list[str]:
    if separator is None:
        return line.split()
    if '"' not in line:
        return [cell.strip() for cell in line.split(separator)]
    return [cell.strip() for cell in next(csv.reader([line], delimiter=separator, skipinitialspace=True))]


def _decimals(rows: list[Row], separator: str | None, answers: Answers) -> tuple[bool, Question | None]:
    """Whether decimals are commas, or the question where ``451,234`` may be either."""
    if answers.decimal:
        return answers.decimal == "comma", None
    if separator == ",":
        return False, None
    cells = [cell for _, row in rows[:LOOKED_AT] for cell in row if "," in cell and _is_number(cell)]
    if not cells or any(GROUPED_COMMA.fullmatch(cell) for cell in cells):
        return False, None
    if not all(THREE_AFTER_COMMA.fullmatch(cell) for cell in cells):
        return True, None
    says = f'Numbers such as "{cells[0]}" may be {cells[0].replace(",", ".")} or {cells[0].replace(",", "")}.'
    choices = (("--decimal comma", "the comma is the decimal mark"), ("--decimal point", "it parts the thousands"))
    return False, Question(about="decimals", says=says, choices=choices)


def _is_number(cell: str) -> bool:
    return any(form.fullmatch(cell) for form in (NUMBER, GROUPED_COMMA, GROUPED_POINT)) or bool(
        re.fullmatch(r"[+-]?\d{1,3}(?:,\d{3})+", cell)
    )


def number_of(cell: str, *, comma: bool) -> float | None:
    """A cell as a finite number; None where it is none. A mark between thousands is passed over."""
    if "," not in cell and NUMBER.fullmatch(cell):
        plain = cell
    elif not _is_number(cell):
        return None
    else:
        plain = cell.replace(".", "").replace(",", ".") if comma and "," in cell else cell.replace(",", "")
    try:
        number = float(plain)
    except ValueError:
        return None
    return number if math.isfinite(number) else None


def _columns(
    file: str, rows: list[Row], comments: list[Line], manner: Manner, answers: Answers
) -> tuple[Columns | None, list[Row], Question | None]:
    """Return what the columns are and the rows below any heading, or what must be asked first."""
    heading, body = _heading(rows, comments, manner)
    if not body:
        raise refusal(file, "it has a heading and no points", "A survey has at least three points", "Export it again")
    if answers.columns is not None:
        return _as_named(file, answers.columns), body, None
    if is_degrees(heading):
        found, rule = "its heading names latitude and longitude", "A survey is on a grid in metres"
        raise refusal(file, found, rule, "Have the points turned into the national grid or a site grid first")
    columns = by_heading(heading)
    if set(NEEDED) <= set(columns.places) and not _unclear(columns):
        return columns, body, None
    looked = [row for _, row in body[:LOOKED_AT]]
    numbers = [[number_of(cell, comma=manner.comma) for cell in row] for row in looked]
    return None, body, ask_columns(heading or looked[0], numbers)


def _heading(rows: list[Row], comments: list[Line], manner: Manner) -> tuple[list[str], list[Row]]:
    """The heading, empty where there is none, and the rows below it. Titles may stand above either."""
    for place, (_, cells) in enumerate(rows[:MOST_TITLES]):
        if set(NEEDED) <= set(by_heading(cells).places):
            return cells, rows[place + 1 :]
    titles = 0
    while titles < min(len(rows), MOST_TITLES) and not any(
        number_of(cell, comma=manner.comma) is not None for cell in rows[titles][1]
    ):
        titles += 1
    if titles:
        return rows[titles - 1][1], rows[titles:]
    above = [line for number, line in comments if number < rows[0][0]]
    commented = _cells(above[-1].lstrip("# "), manner.separator) if above and above[-1].strip("# ") else []
    # A comment is a heading only where it names what a heading must.
    return (commented if set(NEEDED) <= set(by_heading(commented).places) else []), rows


def _unclear(columns: Columns) -> bool:
    """Whether two columns may each be x, y or z."""
    return any(by_heading([cell]).places.keys() & set(NEEDED) for cell in columns.twice)


def _as_named(file: str, names: tuple[str, ...]) -> Columns:
    columns = by_names(names)
    known = [word for words in MEANINGS.values() for word in words]
    problems = [
        Problem(
            place="--columns",
            found=f"{shown(name)} is no column",
            rule=f"Columns are {NAMES}",
            remedy=f'Did you mean "{near_miss(name, known)}"' if near_miss(name, known) else "Write - to pass it over",
        )
        for name in columns.passed_over
    ]
    problems += [
        Problem(place="--columns", found=f"{shown(name)} stands twice", rule="A column stands once", remedy="Write -")
        for name in columns.twice
    ]
    missing = [name for name in NEEDED if name not in columns.places]
    if missing and not problems:
        found = f"{', '.join(missing)} {'is' if len(missing) == 1 else 'are'} not named"
        remedy = f"Name every column of {file} in its order"
        problems.append(Problem(place="--columns", found=found, rule="x, y and z must be there", remedy=remedy))
    if problems:
        raise JobError(problems)
    return columns


def _gathered(file: str, rows: list[Row], columns: Columns, manner: Manner, notes: tuple[str, ...]) -> Gathered:
    problems: list[Problem] = []
    joined = manner.separator is None and columns.places.get("code") == columns.width - 1
    kept, places = [], []
    for number, cells in rows:
        whole = _fitted(cells, columns.width, joined=joined)
        if whole is None:
            problems.append(_too_many(file, number, len(cells), columns.width))
        else:
            kept.append((number, whole))
            places.append(_place(file, kept[-1], columns, manner, problems))
    if problems:
        raise JobError(_bound(file, problems))
    return Gathered(
        places=np.array(places),
        names=_texts(kept, columns, "id"),
        codes=_texts(kept, columns, "code"),
        breaklines=_texts(kept, columns, "breakline"),
        lines=tuple(number for number, _ in kept),
        kind=KIND,
        unit=_unit(file, columns, ("x", "y")),
        level_unit=_unit(file, columns, ("z",)),
        notes=(*notes, *_told(columns, manner)),
    )


def _fitted(cells: list[str], width: int, *, joined: bool) -> list[str] | None:
    """A row as wide as the columns; where spaces part them, words beyond the last belong to the code."""
    if joined and len(cells) > width:
        return [*cells[: width - 1], " ".join(cells[width - 1 :])]
    return None if any(cells[width:]) else cells + [""] * (width - len(cells))


def _too_many(file: str, line: int, found: int, width: int) -> Problem:
    return Problem(
        place=f"{file} line {line}",
        found=f"the line has {found} cells",
        rule=f"There are {width} columns",
        remedy="Part the cells by semicolons where decimals are commas, and put text that holds the mark in quotes",
    )


def _place(file: str, row: Row, columns: Columns, manner: Manner, problems: list[Problem]) -> tuple[float, ...]:
    number, cells = row
    read = {name: number_of(cells[columns.places[name]], comma=manner.comma) for name in NEEDED}
    for name, got in read.items():
        cell = cells[columns.places[name]]
        if got is None:
            found = f"{name} is {shown(cell)}" if cell else f"{name} is empty"
            rule, remedy = "It must be a number", "Mend it, or put # before the line to leave the point out"
            problems.append(Problem(place=f"{file} line {number}", found=found, rule=rule, remedy=remedy))
    return tuple(0.0 if got is None else got for got in read.values())


def _bound(file: str, problems: list[Problem]) -> list[Problem]:
    if len(problems) <= MOST_PROBLEMS:
        return problems
    more = f"there are {len(problems) - MOST_PROBLEMS} more problems like these"
    last = Problem(place=file, found=more, rule="Only the first are listed", remedy="Mend these and read it again")
    return [*problems[:MOST_PROBLEMS], last]


def _texts(rows: list[Row], columns: Columns, name: str) -> tuple[str, ...]:
    place = columns.places.get(name)
    return ("",) * len(rows) if place is None else tuple(cells[place] for _, cells in rows)


def _unit(file: str, columns: Columns, names: tuple[str, ...]) -> Unit | None:
    units = {columns.units[name] for name in names if name in columns.units}
    if len(units) > 1:
        found = f"its heading gives {' and '.join(sorted(units))} for x and y"
        raise refusal(file, found, "Both are in one unit", "Mend the heading")
    return units.pop() if units else None  # type: ignore[return-value]  # The heading's words map to units only.


def _told(columns: Columns, manner: Manner) -> list[str]:
    parted = {None: "spaces", ",": "commas", ";": "semicolons", "\t": "tabs", "|": "upright strokes"}
    decimals = "commas" if manner.comma else "points"
    notes = [f"Cells are parted by {parted[manner.separator]}, decimals are {decimals}."]
    over = Counter([*columns.passed_over, *columns.twice])
    if over:
        notes.append(f"Columns passed over: {', '.join(over)}.")
    return notes
