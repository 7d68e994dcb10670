"""A level book reduced both ways, checked, and its misclosure shared out or refused."""

from typing import Literal, get_args

import numpy as np

from beckwright.base.errors import JobError, Problem
from beckwright.base.quantities import IntArray, Length, Lengths, Level, Levels
from beckwright.base.values import value
from beckwright.equations.levelling import (
    allowed_by_length,
    allowed_by_setups,
    closed_change_sigma,
    closed_point_sigma,
    collimation_height,
    level_from_collimation,
    open_level_sigma,
    rise,
    setup_correction,
)
from beckwright.survey.blunders import Suspect, suspects
from beckwright.survey.level_book import LevelBook
from beckwright.survey.sums import ROUNDING, Check, begins, sums
from beckwright.tables.levelling import ALLOWED_EACH_ROOT_LENGTH, ALLOWED_EACH_SETUP, READING_SIGMAS

Basis = Literal["set-ups", "length", "total"]
BASES: tuple[Basis, ...] = get_args(Basis)
Standing = Literal["closed", "refused", "open"]


@value
class Tolerance:
    """The misclosure allowed.

    basis   by the root of the number of set-ups, by the root of the length levelled, or the same for every line
    amount  m for one set-up, m^(1/2) for the root of the length, or m
    """

    basis: Basis
    amount: float


DEFAULTS: dict[Basis, float] = {"set-ups": ALLOWED_EACH_SETUP.amount, "length": ALLOWED_EACH_ROOT_LENGTH.amount}
"""What a tolerance allows unless another amount is stated."""


@value
class Line:
    """One line of levels, from a known level to the next, or to where the run ends.

    first, last  readings it goes from and to, both belonging to it
    setups       number of set-ups in it
    length       all sights added up, m; None where they were not measured
    misclosure   level reached less level known; None on an open line
    allowed      the misclosure allowed, m
    standing     closed and shared out, refused, or open: nothing checks it
    suspects     what single blunder would explain a refused line, the likeliest first
    """

    first: int
    last: int
    setups: int
    length: Length | None
    misclosure: Length | None
    allowed: Length
    standing: Standing
    suspects: tuple[Suspect, ...]


@value
class ReducedBook:
    """n readings reduced.

    collimations    n, level of the line of sight each was read from
    rises           n, rise from the staff position before, negative for a fall; zero at back sights
    levels          n, by height of collimation, as carried from the start of the run
    levels_by_rise  n, by rise and fall
    adjusted        n, hung on the known levels, misclosures shared out equally by set-up
    sigmas          n, m, one standard deviation of ``adjusted``; known levels are taken as exact
    checks          sums made two ways, run by run
    """

    book: LevelBook
    collimations: Levels
    rises: Lengths
    levels: Levels
    levels_by_rise: Levels
    adjusted: Levels
    sigmas: Lengths
    lines: tuple[Line, ...]
    checks: tuple[Check, ...]
    reading_sigma: Length

    @property
    def refused(self) -> bool:
        """Whether any line misses by more than is allowed."""
        return any(line.standing == "refused" for line in self.lines)


def reduce_book(
    book: LevelBook, tolerance: Tolerance | None = None, *, reading_sigma: Length = READING_SIGMAS["level"].amount
) -> ReducedBook:
    """Reduce a book by height of collimation and by rise and fall, check it, and share its misclosures out.

    A line that closes within the tolerance has its misclosure shared equally by set-up. One that does not is refused:
    its levels stay as carried, and the single blunders that would explain it are named. A line that ends on no known
    level is carried, and nothing checks it.

    tolerance      5 mm for the root of the number of set-ups, unless another is stated
    reading_sigma  m, one standard deviation of a staff reading

    JobError if the tolerance is by length and the sights were not measured.
    """
    tolerance = tolerance or Tolerance(basis="set-ups", amount=DEFAULTS["set-ups"])
    if tolerance.basis == "length" and book.sights is None:
        _refuse_unmeasured(book)
    collimations, levels = _by_collimation(book)
    rises, levels_by_rise = _by_rise_and_fall(book)
    lines = tuple(_line(book, levels, span, tolerance) for span in _spans(book))
    adjusted, sigmas = levels.copy(), np.zeros(len(levels))
    for line in lines:
        here = slice(line.first, line.last + 1)
        adjusted[here] = _adjusted(book, levels, line)
        sigmas[here] = _sigmas(book, line, reading_sigma)
    return ReducedBook(
        book=book,
        collimations=collimations,
        rises=rises,
        levels=levels,
        levels_by_rise=levels_by_rise,
        adjusted=adjusted,
        sigmas=sigmas,
        lines=lines,
        checks=sums(book, collimations, levels, levels_by_rise, rises),
        reading_sigma=reading_sigma,
    )


def largest_difference(reduced: ReducedBook) -> Length:
    """By how much the two methods differ at most, m: nothing but rounding."""
    return float(np.abs(reduced.levels - reduced.levels_by_rise).max())


def _by_collimation(book: LevelBook) -> tuple[Levels, Levels]:
    known, collimations, levels = book.known_levels, np.zeros(len(book.kinds)), np.zeros(len(book.kinds))
    for row, reading in enumerate(book.readings):
        if book.kinds[row] == "back":
            levels[row] = known[book.points[row]] if begins(book, row) else levels[row - 1]
            collimations[row] = collimation_height(levels[row], reading)
        else:
            collimations[row] = collimations[row - 1]
            levels[row] = level_from_collimation(collimations[row], reading)
    return collimations, levels


def _by_rise_and_fall(book: LevelBook) -> tuple[Lengths, Levels]:
    known, rises, levels = book.known_levels, np.zeros(len(book.kinds)), np.zeros(len(book.kinds))
    for row, reading in enumerate(book.readings):
        if book.kinds[row] == "back":
            levels[row] = known[book.points[row]] if begins(book, row) else levels[row - 1]
        else:
            rises[row] = rise(book.readings[row - 1], reading)
            levels[row] = levels[row - 1] + rises[row]
    return rises, levels


def _spans(book: LevelBook) -> list[tuple[int, int]]:
    """First and last reading of each line: runs, cut at every fore sight on a known level."""
    spans, first = [], 0
    for row, kind in enumerate(book.kinds):
        ends = row + 1 == len(book.kinds) or begins(book, row + 1)
        if ends or (kind == "fore" and book.points[row] in book.known_levels):
            spans.append((first, row))
            first = row + 1
    return spans


def _line(book: LevelBook, levels: Levels, span: tuple[int, int], tolerance: Tolerance) -> Line:
    first, last = span
    setups = int(book.setups[last] - book.setups[first]) + 1
    length = None if book.sights is None else float(book.sights[first : last + 1].sum())
    allowed = _allowed(tolerance, setups, length if tolerance.basis == "length" else None)
    known, reached = book.known_levels, book.points[last]
    misclosure = None
    if reached in known:
        misclosure = float(levels[last] - levels[first]) - (known[reached] - known[book.points[first]])
    refused = misclosure is not None and abs(misclosure) > allowed + ROUNDING
    return Line(
        first=first,
        last=last,
        setups=setups,
        length=length,
        misclosure=misclosure,
        allowed=allowed,
        standing="open" if misclosure is None else "refused" if refused else "closed",
        suspects=suspects(book, first, last, misclosure, allowed) if refused and misclosure is not None else (),
    )


def _allowed(tolerance: Tolerance, setups: int, length: Length | None) -> Length:
    if tolerance.basis == "set-ups":
        return allowed_by_setups(tolerance.amount, setups)
    return tolerance.amount if length is None else allowed_by_length(tolerance.amount, length)


def _refuse_unmeasured(book: LevelBook) -> None:
    found = "the sights have no lengths"
    rule = "A tolerance by length levelled needs the length of every back and fore sight"
    remedy = "Fill in back_sight_m and fore_sight_m, or take the tolerance by set-ups"
    raise JobError([Problem(place=book.file, found=found, rule=rule, remedy=remedy)])


def _setup_numbers(book: LevelBook, line: Line) -> IntArray:
    numbers: IntArray = book.setups[line.first : line.last + 1] - book.setups[line.first] + 1
    return numbers


def _adjusted(book: LevelBook, levels: Levels, line: Line) -> Levels:
    """Levels of one line hung on the known level it starts from; a back sight repeats the level it stands on."""
    here = slice(line.first, line.last + 1)
    hung: Levels = levels[here] + (_start(book, line) - levels[line.first])
    if line.standing != "closed" or line.misclosure is None:
        return hung
    backs = np.array([kind == "back" for kind in book.kinds[here]])
    return hung + setup_correction.over(line.misclosure, _setup_numbers(book, line) - backs, line.setups)


def _start(book: LevelBook, line: Line) -> Level:
    return book.known_levels[book.points[line.first]]


def _sigmas(book: LevelBook, line: Line, reading_sigma: Length) -> Lengths:
    here = slice(line.first, line.last + 1)
    numbers = _setup_numbers(book, line)
    kinds = np.array(book.kinds[here])
    changes = numbers - (kinds == "back")
    if line.standing != "closed":
        return open_level_sigma.over(reading_sigma, changes)
    passing = closed_point_sigma.over(reading_sigma, numbers, line.setups)
    return np.where(kinds == "intermediate", passing, closed_change_sigma.over(reading_sigma, changes, line.setups))
