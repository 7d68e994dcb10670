"""The first morning on a telephone: expected beside each reading at once, and soon after what is likely wrong."""

from collections.abc import Iterator
from hashlib import sha256
from threading import Lock

from beckwright.base import words
from beckwright.base.errors import JobError, Problem
from beckwright.base.quantities import Duration
from beckwright.base.values import value
from beckwright.base.words.measures import US_GALLON
from beckwright.compose import Design
from beckwright.film import FLAT_OUT
from beckwright.readings.notebook import cell
from beckwright.readings.rows import Row, standing
from beckwright.readings.switch_on import (
    KINDS,
    Beside,
    Cause,
    Morning,
    Next,
    Reading,
    Readings,
    expectations,
    gathered,
    row,
    switch_on,
    wording,
)
from beckwright.readings.switch_on.kinds import RUNNING
from beckwright.readings.switch_on.morning import Films
from beckwright.readings.switch_on.read import CHECKED, UNTOLD
from beckwright.readings.switch_on.report import gives, likely, narrowed, tied
from beckwright.tables.switch_on import LEADING
from beckwright.web.desk.opened import Desk
from beckwright.web.desk.state import Told
from beckwright.web.slope.bodies import SWITCH_ON, WORDS
from beckwright.web.slope.files import write_table
from beckwright.web.slope.levels import row_told

HEAD = "kind,flow,place,amount,seconds,note"
_BUCKETS = {words.METRIC: 0.010, words.US: 5 * US_GALLON}
"""A bucket people have, m³."""
_HALF_HOUR: Duration = 1800.0


@value
class Typed:
    """One row as it was typed: its reading where it can be understood, and what keeps it from being one."""

    row: Row
    reading: Reading | None
    asked: tuple[str, ...]


class SwitchOn:
    """The readings of one job; films and the last answer are kept for as long as design and rows stand."""

    def __init__(self, desk: Desk) -> None:
        self.desk, self._lock = desk, Lock()
        self._films: tuple[Design | None, Films] = (None, {})
        self._answer: tuple[Design | None, str, Morning | None] = (None, "", None)

    def beside(self, flow: str) -> Told:
        """Every row beside what was expected, the newest first, and what is to be expected at a setting."""
        designed = self._design()
        settings = settings_of(designed)
        chosen = flow if flow in settings else settings[0]
        typed, readings = self._typed(designed)
        with self._lock:
            films = self._films_of(designed)
            told = {each.row.line: each for each in expectations(designed, readings, films)}
            ahead = _ahead(designed, chosen)
            expected = expectations(designed, Readings(rows=ahead, doubts=(), digest=""), films)
        asked = {doubt.line: f"{words.opening(doubt.found)}. {doubt.asks}" for doubt in readings.doubts}
        return {
            "settings": list(settings),
            "setting": chosen,
            "kinds": [_kind(name) for name in KINDS],
            "lips": [lip.name for lip in designed.water.lips],
            "length": f"{designed.course.length:g}",
            "expected": [
                {"what": words.opening(wording.what(each.row)), "band": wording.spread(each.row, each.expected)}
                for each in expected
            ],
            "rows": [_row(each, told, asked) for each in reversed(typed)],
        }

    def causes(self) -> Told:
        """What is likely wrong, what to read next, what it really gives."""
        designed = self._design()
        readings = self._typed(designed)[1]
        if not readings.rows:
            return {"rows": 0, "causes": [], "next": [], "gives": [], "learned": [], "wrong": False, "asked": []}
        found = self._worked(designed, readings)
        return {
            "rows": sum(each.counts for each in found.beside),
            "wrong": found.wrong,
            "causes": [_cause(each) for each in found.causes if each.chance >= 0.01],
            "says": list(likely(found))[1:],
            "next": [_next(each) for each in found.nexts[:2] if each.tells >= LEADING.amount],
            "gives": list(gives(designed, found)),
            "learned": [*tied(found), *narrowed(found)],
            "asked": [f"{doubt.found}. {doubt.asks}" for doubt in found.doubts if doubt not in readings.doubts],
        }

    def write(self) -> tuple[str, int]:
        """Write the rows as switch_on.csv: its name, and how many rows nobody could understand."""
        designed = self._design()
        typed = self._typed(designed)[0]
        rows = [each for each in typed if each.reading is not None and not each.row.struck]
        if not rows:
            rule, remedy = "A table has a row at least", "Write a reading first"
            raise JobError([Problem(place="switch-on", found="nothing was read", rule=rule, remedy=remedy)])
        lines = ["# The first morning, written on the slope.", HEAD, *(_line(each.row) for each in rows)]
        left_out = sum(each.reading is None and not each.row.struck for each in typed)
        return write_table(self.desk.folder, "switch_on", "\n".join(lines) + "\n"), left_out

    def _design(self) -> Design:
        return self.desk.laid(self.desk.stands()).design

    def _films_of(self, designed: Design) -> Films:
        if self._films[0] is not designed:
            self._films = (designed, {})
        return self._films[1]

    def _worked(self, designed: Design, readings: Readings) -> Morning:
        with self._lock:
            before, digest, found = self._answer
            if found is None or before is not designed or digest != readings.digest:
                found = switch_on(designed, readings, self._films_of(designed))
                self._answer = (designed, readings.digest, found)
            return found

    def _typed(self, designed: Design) -> tuple[tuple[Typed, ...], Readings]:
        rows = standing(self.desk.keeper.readings(SWITCH_ON), self.desk.keeper.readings(WORDS))
        typed = tuple(_understood(each, designed) for each in rows)
        counted = [each.reading for each in typed if each.reading is not None and not each.row.struck]
        digest = sha256(
            "\n".join(f"{each.row.key} {each.row.agreed} {each.row.struck}" for each in typed).encode()
        ).hexdigest()
        return typed, gathered(counted, designed, digest)


def settings_of(designed: Design) -> tuple[str, ...]:
    """The job's flows, the largest first, those out of the pump's reach last; flat out where it can lift the water."""
    out_of_reach = {each.name for each in designed.supply.chosen.flows if each.duty is None}
    flows = sorted(designed.job.flows, key=lambda each: (each.name in out_of_reach, -each.flow))
    flat_out = (FLAT_OUT,) if designed.supply.chosen.flat_out is not None else ()
    return (*(each.name for each in flows), *flat_out)


def _understood(each: Row, designed: Design) -> Typed:
    cells: dict[str, object] = {name: each.text(name) for name in ("kind", "flow", "place")}
    asked = []
    for name, unit in (("amount", _unit_of(each)), ("seconds", "s")):
        text = each.text(name).strip()
        read = words.understood(text, unit, each.measure)
        if text and read.amount is None:
            asked.append(f"{name} {read.asked}")
        cells[name] = UNTOLD if read.amount is None else read.amount
    place = words.understood(each.text("place"), "m", each.measure)
    if _at_chainage(each) and place.amount is not None:
        cells["place"] = f"{place.amount:.10g}"
    # A row that a person has called right is one that was looked at again.
    cells["note"] = CHECKED if each.agreed else each.text("note")
    made = row(cells, each.number, designed, "row")
    if isinstance(made, list):
        asked = asked or [f"{words.opening(problem.found)}. {problem.rule}." for problem in made]
        return Typed(row=each, reading=None, asked=tuple(asked))
    return Typed(row=each, reading=None if asked else made, asked=tuple(asked))


def _row(each: Typed, told: dict[int, Beside], asked: dict[int, str]) -> Told:
    beside = told.get(each.row.number)
    reading = each.reading
    questions = [*each.asked, *([each.row.asked] if each.row.asked else [])]
    if each.row.number in asked:
        questions.append(asked[each.row.number])
    open_questions = [] if each.row.struck or (each.row.agreed and reading is not None) else questions
    given = {name: each.row.text(name) for name in ("kind", "flow", "place", "amount", "seconds")}
    given["amount"] = words.with_own_unit(given["amount"], _unit_of(each.row), each.row.measure)
    if _at_chainage(each.row):
        given["place"] = words.with_own_unit(given["place"], "m", each.row.measure)
    return row_told(each.row, open_questions, usable=reading is not None) | {
        **given,
        "typed": " ".join(part for part in (given["amount"], given["seconds"] and f"{given['seconds']} s") if part),
        "what": words.opening(wording.what(reading)) if reading else each.row.text("kind"),
        "seen": wording.one(reading, beside.seen) if reading and beside else "",
        "expected": wording.spread(reading, beside.expected) if reading and beside else "",
        "outside": bool(beside and beside.outside),
        "why_not": beside.why_not if beside else "",
    }


def _ahead(designed: Design, flow: str) -> tuple[Reading, ...]:
    """What can be expected at a setting before anything is read."""
    lips = [("arrival", lip.name, 0.0, 0.0) for lip in designed.water.lips]
    steady = (
        [("steady", "", 0.0, 0.0)]
        if float(designed.reservoir.running.min()) > designed.reservoir.pit.pump_minimum
        else [("draws air", "", 0.0, 0.0)]
    )
    bucket = ("bucket", "", _BUCKETS[words.reads()], 0.0)
    wanted = [bucket, *lips, ("arrival", "reservoir", 0.0, 0.0), *steady, ("watts", "", 0.0, 0.0)]
    return tuple(
        Reading(kind=kind, flow=flow, place=place, amount=amount, seconds=seconds, chainage=0.0, note="", line=line)
        for line, (kind, place, amount, seconds) in enumerate(wanted)
    )


def _unit_of(each: Row) -> str:
    """Metric unit of what a row's kind reads; none where there is no such kind."""
    kind = KINDS.get(each.text("kind"))
    return "" if kind is None else kind.amount


def _at_chainage(each: Row) -> bool:
    kind = KINDS.get(each.text("kind"))
    return kind is not None and kind.place == "chainage"


def _called(unit: str) -> str:
    """What a field of a kind's amount is called; nobody says L for what a bucket holds."""
    return "Litres" if unit == "L" and words.reads() is words.METRIC else words.unit_called(unit)


def _tells(what: str) -> str:
    """A kind for a person; a bucket may be read in gallons."""
    return what.replace("litres caught", "water caught") if words.reads() is words.US else what


def _kind(name: str) -> Told:
    kind = KINDS[name]
    return {
        "name": name,
        "place": kind.place,
        "amount": kind.amount,
        "label": _called(kind.amount),
        "seconds": kind.seconds or name == "steady",
        "needs_seconds": kind.seconds,
        "flow": name in RUNNING,
        "tells": words.opening(_tells(kind.tells)),
    }


def _next(each: Next) -> Told:
    return {
        "do": f"{words.opening(wording.asked(each.row))}.",
        "tells": f"It would tell the leading causes apart {each.tells * 100:.0f} times in 100.",
        "shows": [
            {"name": words.opening(name), "band": wording.would_show(each.row, low, high)}
            for name, low, high in each.means
        ],
    }


def _cause(each: Cause) -> Told:
    return {
        "name": words.opening(each.name),
        "chance": f"{each.chance * 100:.0f} in 100",
        "before": f"{each.before * 100:.0f} before",
    }


def _line(each: Row) -> str:
    return ",".join(_cells(each))


def _cells(each: Row) -> Iterator[str]:
    typed = []
    for name, unit in (("kind", ""), ("flow", ""), ("place", "m"), ("amount", _unit_of(each)), ("seconds", "s")):
        text = each.text(name).strip()
        read = words.understood(text, unit, each.measure) if unit and (name != "place" or _at_chainage(each)) else None
        if read is None or read.amount is None:
            yield cell(text)
            continue
        plain = read.bare and "/" not in text and (each.measure is words.METRIC or name == "seconds")
        typed += [] if plain else [f"{name} typed {words.with_own_unit(text, unit, each.measure)}"]
        yield cell(text.replace(",", ".") if plain else f"{read.amount:.10g}")
    note = "; ".join(part for part in (each.text("note"), *typed) if part)
    yield cell(f"{CHECKED} {note}".strip() if each.agreed else note)
