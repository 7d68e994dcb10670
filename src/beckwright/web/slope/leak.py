"""Leak or not on a telephone: each level as it was understood, what was lost, and when to read again."""

import tempfile
from datetime import datetime, timedelta
from pathlib import Path
from threading import Lock

import numpy as np

from beckwright.base import words
from beckwright.base.errors import JobError, Problem
from beckwright.base.quantities import FloatArray
from beckwright.base.values import value
from beckwright.compose import Design
from beckwright.readings.leak import (
    LeakBook,
    LeakTest,
    Measured,
    NextStep,
    Series,
    full_of,
    leak_book,
    leak_test,
    next_step,
    plain_sheet,
    read_leak_tests,
    report,
)
from beckwright.readings.leak.beside import STEM, TABLE, read_said
from beckwright.readings.leak.besides import splashed
from beckwright.readings.leak.report import hourly
from beckwright.readings.leak.state import OFF
from beckwright.readings.shots import lip_places
from beckwright.tables.leak import TOLD_TO
from beckwright.web.desk.opened import Desk
from beckwright.web.desk.state import Told
from beckwright.web.problems import told_problems
from beckwright.web.slope.bodies import LEAK, WORDS
from beckwright.web.slope.files import write_table
from beckwright.web.slope.leak_chart import chart
from beckwright.web.slope.leak_rows import rows_told


@value
class Answer:
    """What the readings tell: the tests as they were read, and what was found."""

    series: tuple[Series, ...]
    found: LeakTest
    next: NextStep


class Leak:
    """The leak tests of one job; the last answer is kept for as long as design and readings stand."""

    def __init__(self, desk: Desk) -> None:
        self.desk, self._lock = desk, Lock()
        self._last: tuple[Design | None, tuple[str, words.Measure], Answer | None] = (None, ("", words.METRIC), None)

    def told(self) -> Told:
        """Every row beside what was understood, every test with its loss, and what to do next."""
        designed = self._design()
        book = self._book(designed)
        answer = self._answer(designed, book)
        return {
            "flows": _flows(designed),
            "lips": [
                {"name": name, "at": f"{words.with_unit(at, 'm'):.1f}"}
                for name, at in lip_places(designed.course).items()
                if at > 0
            ],
            "full": words.millimetres(full_of(designed)),
            "problems": told_problems(book.problems),
            "rows": rows_told(book, answer.found),
            "now": _now(book, answer),
            "next": _next(book, answer.next),
            "tests": [_test(designed, each, answer) for each in reversed(answer.series)],
            "spills": _spills(designed),
            "units_told": words.units_told(),
            "says": list(report(designed, answer.found)) if answer.found.measured else [],
            "asked": [f"{each.test}: {each.found}. {each.asks}" for each in answer.found.doubts if not each.line],
            "left_out": len(book.left_out),
            "reads": read_said(self._table(), typed=True),
        }

    def write(self) -> tuple[str, int]:
        """Write the readings as a table of the job: its name, and how many rows are not in it."""
        designed = self._design()
        book = self._book(designed)
        _some(book)
        return write_table(self.desk.folder, STEM, book.text), len(book.left_out)

    def sheet(self) -> str:
        """The report as plain text. Raises JobError where nothing was read yet."""
        designed = self._design()
        book = self._book(designed)
        _some(book)
        return plain_sheet(designed, self._answer(designed, book).found, book)

    def _design(self) -> Design:
        return self.desk.laid(self.desk.stands()).design

    def _table(self) -> Path:
        return self.desk.folder / TABLE

    def _book(self, designed: Design) -> LeakBook:
        keeper = self.desk.keeper
        return leak_book(self._table(), keeper.readings(LEAK), keeper.readings(WORDS), designed)

    def _answer(self, designed: Design, book: LeakBook) -> Answer:
        asked = (book.text, words.reads())
        with self._lock:
            before, told, answer = self._last
            if answer is None or before is not designed or told != asked:
                answer = _answered(designed, book)
                self._last = (designed, asked, answer)
            return answer


def _answered(designed: Design, book: LeakBook) -> Answer:
    """Read the record as the table it makes, so that the page and the command line tell the same."""
    series: tuple[Series, ...] = ()
    found = LeakTest(measured=(), parts=(), doubts=(), digest="")
    if book.text:
        with tempfile.TemporaryDirectory() as folder:
            path = Path(folder) / TABLE
            path.write_bytes(as_bytes(book.text))
            series, doubts, digest = read_leak_tests(
                path, flows=designed.water.names, full=full_of(designed), length=designed.course.length
            )
        found = leak_test(designed, series, doubts, digest)
    return Answer(series=series, found=found, next=next_step(designed, found, series))


def as_bytes(text: str) -> bytes:
    """A text as it is written: bytes of a table that are no letters stay what they were."""
    return text.encode("utf-8", "surrogateescape")


def _some(book: LeakBook) -> None:
    if not book.text:
        rule, remedy = "A table has a row at least", "Write a reading first"
        raise JobError([Problem(place="leak test", found="nothing was read", rule=rule, remedy=remedy)])


def _flows(designed: Design) -> list[str]:
    """The pump's states: at rest, then the flows with the largest first."""
    return [OFF, *(each.name for each in sorted(designed.job.flows, key=lambda each: -each.flow))]


def _now(book: LeakBook, answer: Answer) -> Told:
    """The numeral of the page: what is left of the loss in the test last read."""
    if not answer.series:
        return {"left": "", "way": "nothing read yet", "says": "Write the first level."}
    last = answer.series[-1]
    here = next((each for each in answer.found.measured if each.series.name == last.name), None)
    counted = f"{len(last.times)} reading{'' if len(last.times) == 1 else 's'}"
    if here is None:
        says = f"{last.name}, {last.condition}: {counted}. Three make a line."
        return {"left": "", "way": "not yet", "says": says}
    low, high = words.ends_outward(float(here.leak[0]) * 3.6e6, float(here.leak[2]) * 3.6e6, 0.05, "L/h")
    span = float(last.times[-1] - last.times[0]) / 3600
    shown = "A loss was shown." if here.leak[0] >= TOLD_TO.amount else "No loss was shown so far."
    return {
        "left": f"{low} to {high}",
        "way": f"{words.unit_called('L/h')} left in {last.name}",
        "says": f"{last.condition}: {counted} over {span:.3g} h, evaporation taken off. {shown}",
    }


def _next(book: LeakBook, step: NextStep) -> Told:
    """What to do next, with the clock's time where the readings have one."""
    rows = [each for each in book.entries if each.counts and each.test == step.test and each.at is not None]
    again = until = ""
    if step.test and rows:
        first, last = rows[0].at, rows[-1].at
        if first and last:
            again = _clock(last + timedelta(seconds=step.again), last)
            until = _clock(first + timedelta(seconds=step.whole), last) if step.whole else ""
    elif step.test:
        again = f"{step.again / 60:.0f} min after the last"
        until = f"{step.whole / 3600:.3g} h in all" if step.whole else ""
    return {"do": step.do, "why": step.why, "test": step.test, "again": again, "until": until}


def _clock(when: datetime, last: datetime) -> str:
    whole = when.replace(second=0, microsecond=0) + timedelta(minutes=when.second >= 30)
    return f"{whole:%H:%M}" if whole.date() == last.date() else f"{whole:%H:%M on %d.%m.}"


def _test(designed: Design, series: Series, answer: Answer) -> Told:
    here = next((each for each in answer.found.measured if each.series.name == series.name), None)
    return {
        "name": series.name,
        "condition": series.condition,
        "count": len(series.times),
        "rows": [] if here is None else _losses(designed, here),
        "left": "" if here is None else hourly(here.leak),
        "chart": None if here is None else chart(designed, here),
    }


def _losses(designed: Design, here: Measured) -> list[Told]:
    """What went and what came, one under the other; splash is told, for a level cannot tell it from a leak."""
    splash = [("Splash off the lining may be", hourly(splashed(designed, here.series)))] if here.series.running else []
    told = [
        ("Lost", hourly(here.loss.rate)),
        ("Evaporated", hourly(here.evaporation)),
        ("Rain given back", words.litres(here.fallen) if here.fallen > 0 else "none"),
        ("Filled up, given back", words.litres(here.added) if here.added > 0 else "none"),
        ("Left over", hourly(here.leak)),
        *splash,
    ]
    if here.without is not None:
        told.append(("Left over without those asked about", hourly(here.without)))
    return [{"what": what, "band": band} for what, band in told]


def _spills(designed: Design) -> list[str]:
    """What each stop throws over the overflow by the design: no leak, and in no test that was not stopped."""
    filled = designed.reservoir
    over: FloatArray = np.maximum(np.sort(filled.lent, axis=0) - filled.useful, 0.0)
    return [
        f"{words.opening(name)}: {words.band(float(over[0, place]), float(over[2, place]), 1, 'L', scale=1000)}"
        for place, name in enumerate(designed.water.names)
        if over[2, place] > 0
    ]
