"""Level books of the slope as JSON: every row as typed and as reduced, and what it all comes to."""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from beckwright.base.words import (
    METRIC,
    US,
    as_typed,
    grouped,
    measure_called,
    number_in,
    opening,
    reads,
    units_told,
    with_own_unit,
    with_unit,
)
from beckwright.readings.notebook import Booked, Notebook, notebook
from beckwright.readings.rows import Row, standing
from beckwright.survey import largest_difference, level_findings
from beckwright.survey.blunders import Suspect
from beckwright.survey.level_findings import MOST_NAMED, SLIPS_IN_WORDS, line_in_words, millimetres
from beckwright.survey.reduction import Line, ReducedBook
from beckwright.web.desk.opened import Desk
from beckwright.web.desk.state import Told, finding_told
from beckwright.web.slope.bodies import LEVELS, WORDS

FIRST_ROW = 2
"""Line of the first row in a table whose first line is its heading."""
STANDS = {"closed": "It closes", "refused": "It does not close", "open": "Nothing checks it yet"}


def books(desk: Desk) -> dict[str, tuple[Row, ...]]:
    """The rows of every level book by its word, in the order the books were begun."""
    found: dict[str, list[Row]] = {}
    for row in standing(desk.keeper.readings(LEVELS), desk.keeper.readings(WORDS)):
        found.setdefault(row.text("book"), []).append(row)
    return {book: tuple(rows) for book, rows in found.items()}


def levels_told(desk: Desk) -> Told:
    """All level books, the newest first."""
    datum = desk.laid(desk.stands()).design.job.datum
    told = [_book(book, rows, notebook(rows, datum.level)) for book, rows in books(desk).items()]
    known = {"name": datum.name, "level": as_typed(datum.level, "m")}
    return {"datum": known, "units_told": units_told(), "books": told[::-1]}


def _book(book: str, rows: Sequence[Row], held: Notebook) -> Told:
    reduced = held.reduced
    return {
        "book": book,
        "title": rows[0].text("title"),
        "rows": _rows(held),
        "big": _big(held),
        "lines": [] if reduced is None else [_line(reduced, line) for line in reduced.lines],
        "likely": [opening(each) for each in _likely(reduced)],
        "findings": [] if reduced is None else _findings(reduced),
        "checks": [] if reduced is None else _checks(reduced),
        "problems": [{"place": one.place, "found": one.found, "rule": one.rule, "remedy": one.remedy}
                     for one in held.problems],
        "as_far": _as_far(held),
        "open": sum(bool(each.asked) for each in held.rows),
    }  # fmt: skip


def _big(held: Notebook) -> Told:
    """The two numerals of the page: what the last line misses by, and what it may."""
    unit = "ft" if reads() is US else "mm"
    if held.reduced is None:
        return {"missed": "", "allowed": "", "says": "Nothing is reduced yet", "refused": False, "unit": unit}
    line = held.reduced.lines[-1]
    checked = [each for each in held.reduced.lines if each.misclosure is not None]
    told = line if line.misclosure is not None or not checked else checked[-1]
    missed = "" if told.misclosure is None else _missed(told.misclosure, 0)
    says = f"{STANDS[told.standing]}, {line_in_words(held.reduced, told)}"
    if told is not line:
        says = f"{says}. {STANDS['open']}: {line_in_words(held.reduced, line)}"
    return {
        "missed": missed,
        "allowed": _missed(told.allowed, 1),
        "unit": unit,
        "says": says,
        "refused": any(each.standing == "refused" for each in held.reduced.lines),
    }


def _line(reduced: ReducedBook, line: Line) -> Told:
    count = f"{line.setups} set-up{'' if line.setups == 1 else 's'}"
    missed = "nothing checks it yet" if line.misclosure is None else f"misses by {millimetres(line.misclosure)}"
    return {
        "says": f"{line_in_words(reduced, line)}: {missed}, {_allowed(line.allowed)} allowed, {count}",
        "standing": line.standing,
    }


def _findings(reduced: ReducedBook) -> list[Told]:
    """All findings but that a line does not close: the page tells that by its own rows."""
    return [finding_told(each) for each in level_findings(reduced) if each.code != "levels-do-not-close"]


def _checks(reduced: ReducedBook) -> list[Told]:
    sums = [
        {"says": check.says, "one": _metres(check.one), "other": _metres(check.other), "holds": check.holds}
        for check in reduced.checks
    ]
    apart = largest_difference(reduced)
    says = "Height of collimation and rise and fall differ at most by"
    return [*sums, {"says": says, "one": _metres(apart), "other": _metres(0.0), "holds": round(apart, 6) == 0}]


def _as_far(held: Notebook) -> str:
    count = len(held.written)
    if held.as_far + held.waits == count:
        return "The last back sight waits for the sight that follows it." if held.waits else ""
    return f"Reduced as far as row {held.as_far} of {count}."


def _rows(held: Notebook) -> list[Told]:
    places = {each.row.key: place for place, each in enumerate(held.written)}
    suspects = _suspects(held.reduced)
    return [_row(each, held, places.get(each.row.key), suspects) for each in held.rows]


def _likely(reduced: ReducedBook | None) -> list[str]:
    """What single slip would close each line that does not, the likeliest first, by the rows of this page."""
    told: list[str] = []
    for line in () if reduced is None else reduced.lines:
        if line.standing == "refused" and not line.suspects:
            told.append("No single slip explains it: two readings are wrong, or the level or a change point moved.")
        told += [
            f"{_mends(one)} would leave {millimetres(one.left)}: {SLIPS_IN_WORDS[one.slip]}."
            for one in line.suspects[:MOST_NAMED]
            if one.mends
        ]
    return told


def _mends(one: Suspect) -> str:
    return " and ".join(
        f"row {mend.line - FIRST_ROW + 1}, {mend.what} on {mend.point}, "
        f"{_metres(mend.mended)} for {_metres(mend.booked)}"
        for mend in one.mends
    )


def _suspects(reduced: ReducedBook | None) -> dict[int, list[str]]:
    """By the place of a row, what it may have to be for its line to close."""
    found: dict[int, list[str]] = {}
    for line in () if reduced is None else reduced.lines:
        for one in line.suspects:
            for mend in one.mends:
                # Each row of the slope is one reading, so that its line tells the row.
                told = f"{_metres(mend.mended)} for {_metres(mend.booked)} would leave {millimetres(one.left)}"
                if told not in found.setdefault(mend.line - FIRST_ROW, []):
                    found[mend.line - FIRST_ROW].append(told)
    return found


def _row(each: Booked, held: Notebook, place: int | None, suspects: dict[int, list[str]]) -> Told:
    return row_told(each.row, each.asked, each.reading.meant, usable=each.usable) | {
        "place": None if place is None else place + 1,
        "point": each.row.text("point"),
        "sight": each.row.text("sight"),
        "hung": each.row.content.get("hung") is True,
        "level": with_own_unit(each.row.text("level"), "m", each.row.measure),
        "suspect": [] if place is None else suspects.get(place, []),
        **_reduced(held, place),
    }


def _reduced(held: Notebook, place: int | None) -> Told:
    """What a row was reduced to, as words; empty where it was not."""
    names = ("rise", "fall", "collimation", "reached", "adjusted", "sure")
    if held.reduced is None or place is None or place >= held.as_far:
        return dict.fromkeys(names, "")
    reduced, back = held.reduced, held.reduced.book.kinds[place] == "back"
    climbs = float(reduced.rises[place])
    refused = any(line.standing == "refused" and line.first <= place <= line.last for line in reduced.lines)
    return {
        "rise": "" if back or climbs < 0 else _metres(climbs),
        "fall": _metres(-climbs) if climbs < 0 else "",
        "collimation": _metres(float(reduced.collimations[place])) if back else "",
        "reached": _metres(float(reduced.levels[place])),
        "adjusted": "" if refused else _metres(float(reduced.adjusted[place])),
        "sure": f"±{with_unit(float(reduced.sigmas[place]) * 1000, 'mm'):.0f}" if reduced.sigmas[place] > 0 else "",
    }


def row_told(row: Row, asked: Iterable[str], meant: str = "", *, usable: bool) -> Told:
    """What every row of a notebook tells: itself as typed, what stood there before, what is asked about it."""
    return {
        "row": row.key,
        "seen": row.seen.isoformat(),
        "typed": with_own_unit(row.text("typed"), "m", row.measure),
        "note": row.text("note"),
        "before": [_before(each) for each in row.before],
        "struck": row.struck,
        "agreed": row.agreed,
        "asked": list(asked),
        "meant": meant,
        "usable": usable,
    }


def _before(content: Mapping[str, Any]) -> str:
    measure = measure_called(str(content.get("units", ""))) or METRIC
    return with_own_unit(str(content.get("typed", "")), "m", measure)


def _missed(length: float, decimals: int) -> str:
    """A misclosure as it stands before its unit: millimetres, or thousandths of a foot."""
    return f"{number_in(length, 'm'):.3f}" if reads() is US else grouped(length * 1000, decimals)


def _allowed(length: float) -> str:
    return f"{_missed(length, 1)} {'ft' if reads() is US else 'mm'}"


def _metres(length: float) -> str:
    """A level or a sum of rises, as it stands below a head; a rod is read to a millimetre or to 0.001 ft."""
    return f"{number_in(length, 'm'):,.3f}"
