"""Level books of the slope as JSON: every row as typed and as reduced, and what it all comes to."""

from collections.abc import Iterable, Sequence

from beckwright.base.words import grouped, opening
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
    datum = desk.laid(desk.stands().text).design.job.datum
    told = [_book(book, rows, notebook(rows, datum.level)) for book, rows in books(desk).items()]
    return {"datum": {"name": datum.name, "level": f"{datum.level:.3f}"}, "books": told[::-1]}


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
    if held.reduced is None:
        return {"missed": "", "allowed": "", "says": "Nothing is reduced yet", "refused": False}
    line = held.reduced.lines[-1]
    checked = [each for each in held.reduced.lines if each.misclosure is not None]
    told = line if line.misclosure is not None or not checked else checked[-1]
    missed = "" if told.misclosure is None else grouped(told.misclosure * 1000, 0)
    says = f"{STANDS[told.standing]}, {line_in_words(held.reduced, told)}"
    if told is not line:
        says = f"{says}. {STANDS['open']}: {line_in_words(held.reduced, line)}"
    return {
        "missed": missed,
        "allowed": f"{told.allowed * 1000:.1f}",
        "says": says,
        "refused": any(each.standing == "refused" for each in held.reduced.lines),
    }


def _line(reduced: ReducedBook, line: Line) -> Told:
    count = f"{line.setups} set-up{'' if line.setups == 1 else 's'}"
    missed = "nothing checks it yet" if line.misclosure is None else f"misses by {millimetres(line.misclosure)}"
    return {
        "says": f"{line_in_words(reduced, line)}: {missed}, {line.allowed * 1000:.1f} mm allowed, {count}",
        "standing": line.standing,
    }


def _findings(reduced: ReducedBook) -> list[Told]:
    """All findings but that a line does not close: the page tells that by its own rows."""
    return [finding_told(each) for each in level_findings(reduced) if each.code != "levels-do-not-close"]


def _checks(reduced: ReducedBook) -> list[Told]:
    sums = [
        {"says": check.says, "one": grouped(check.one, 3), "other": grouped(check.other, 3), "holds": check.holds}
        for check in reduced.checks
    ]
    apart = largest_difference(reduced)
    says = "Height of collimation and rise and fall differ at most by"
    return [*sums, {"says": says, "one": f"{apart:.3f}", "other": "0.000", "holds": round(apart, 6) == 0}]


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
        f"row {mend.line - FIRST_ROW + 1}, {mend.what} on {mend.point}, {mend.mended:.3f} for {mend.booked:.3f}"
        for mend in one.mends
    )


def _suspects(reduced: ReducedBook | None) -> dict[int, list[str]]:
    """By the place of a row, what it may have to be for its line to close."""
    found: dict[int, list[str]] = {}
    for line in () if reduced is None else reduced.lines:
        for one in line.suspects:
            for mend in one.mends:
                # Each row of the slope is one reading, so that its line tells the row.
                told = f"{mend.mended:.3f} for {mend.booked:.3f} would leave {millimetres(one.left)}"
                if told not in found.setdefault(mend.line - FIRST_ROW, []):
                    found[mend.line - FIRST_ROW].append(told)
    return found


def _row(each: Booked, held: Notebook, place: int | None, suspects: dict[int, list[str]]) -> Told:
    return row_told(each.row, each.asked, each.reading.meant, usable=each.usable) | {
        "place": None if place is None else place + 1,
        "point": each.row.text("point"),
        "sight": each.row.text("sight"),
        "hung": each.row.content.get("hung") is True,
        "level": each.row.text("level"),
        "suspect": [] if place is None else suspects.get(place, []),
        **_reduced(held, place),
    }


def _reduced(held: Notebook, place: int | None) -> Told:
    """What a row was reduced to, in metres and as words; empty where it was not."""
    names = ("rise", "fall", "collimation", "reached", "adjusted", "sure")
    if held.reduced is None or place is None or place >= held.as_far:
        return dict.fromkeys(names, "")
    reduced, back = held.reduced, held.reduced.book.kinds[place] == "back"
    climbs = float(reduced.rises[place])
    refused = any(line.standing == "refused" and line.first <= place <= line.last for line in reduced.lines)
    return {
        "rise": "" if back or climbs < 0 else f"{climbs:.3f}",
        "fall": f"{-climbs:.3f}" if climbs < 0 else "",
        "collimation": f"{reduced.collimations[place]:.3f}" if back else "",
        "reached": f"{reduced.levels[place]:.3f}",
        "adjusted": "" if refused else f"{reduced.adjusted[place]:.3f}",
        "sure": f"±{reduced.sigmas[place] * 1000:.0f} mm" if reduced.sigmas[place] > 0 else "",
    }


def row_told(row: Row, asked: Iterable[str], meant: str = "", *, usable: bool) -> Told:
    """What every row of a notebook tells: itself as typed, what stood there before, what is asked about it."""
    return {
        "row": row.key,
        "seen": row.seen.isoformat(),
        "typed": row.text("typed"),
        "note": row.text("note"),
        "before": [str(each.get("typed", "")) for each in row.before],
        "struck": row.struck,
        "agreed": row.agreed,
        "asked": list(asked),
        "meant": meant,
        "usable": usable,
    }
