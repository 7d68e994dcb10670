"""What single blunder would explain a line that does not close: each leaves its own mark on the misclosure.

A metre misread leaves a metre; two digits swapped leave a multiple of nine; two sights booked for each other leave
twice their difference. Every reading is tried in every way, and what would close the line is named.
"""

from collections.abc import Iterator
from itertools import pairwise
from typing import Literal, get_args

from beckwright.base.quantities import Length
from beckwright.base.values import value
from beckwright.survey.level_book import LevelBook
from beckwright.tables.levelling import SIGHT_TILT, STAFFS

Slip = Literal[
    "metre", "decimetre", "centimetre", "digits", "sights", "column", "upside down", "known level", "uneven sights"
]
SLIPS: tuple[Slip, ...] = get_args(Slip)
STEPS: dict[Slip, Length] = {"metre": 1.0, "decimetre": 0.1, "centimetre": 0.01}
HALVED = 0.5
"""A mend that leaves more of the misclosure than this explains nothing."""
MILLIMETRES = 1000
FINEST = 4
"""Misclosures that agree to this many decimals of a metre are one and the same."""


@value
class Mend:
    """One number of the book and what it would have to be.

    what    such as ``back sight``
    booked  as it stands, m; ``mended`` as it would close
    """

    line: int
    point: str
    what: str
    booked: Length
    mended: Length


@value
class Suspect:
    """One blunder that would explain the misclosure: all its mends together leave ``left`` of it, m.

    For uneven sights ``mends`` is empty and ``tilt`` says how much the line of sight would have to climb.
    """

    slip: Slip
    mends: tuple[Mend, ...]
    left: Length
    tilt: float = 0.0


def suspects(book: LevelBook, first: int, last: int, misclosure: Length, allowed: Length) -> tuple[Suspect, ...]:
    """Every single blunder that would close the line from reading ``first`` to ``last``, the best fit first."""
    tried = [
        *_readings(book, first, last, misclosure),
        *_exchanges(book, first, last, misclosure),
        *_known_level(book, first, last, misclosure),
        *_uneven(book, first, last, misclosure),
    ]
    fits = [one for one in tried if abs(one.left) <= min(allowed, HALVED * abs(misclosure))]
    return tuple(sorted(fits, key=lambda one: (one.slip == SLIPS[-1], round(abs(one.left), FINEST), _order(one))))


def _order(one: Suspect) -> int:
    return SLIPS.index(one.slip)


def _mend(book: LevelBook, row: int, mended: Length) -> Mend:
    return Mend(
        line=book.lines[row],
        point=book.points[row],
        what=f"{book.kinds[row]} sight",
        booked=float(book.readings[row]),
        mended=mended,
    )


def _readings(book: LevelBook, first: int, last: int, misclosure: Length) -> Iterator[Suspect]:
    """One reading misread: what is added to a back sight raises the end of the line, to a fore sight lowers it."""
    for row in range(first, last + 1):
        if book.kinds[row] == "intermediate":
            continue
        sign = 1 if book.kinds[row] == "back" else -1
        booked = float(book.readings[row])
        for slip, mended in (*_misread(booked), *_upside_down(booked)):
            left = misclosure + sign * (mended - booked)
            yield Suspect(slip=slip, mends=(_mend(book, row, mended),), left=left)


def _misread(booked: Length) -> Iterator[tuple[Slip, Length]]:
    """What a number may have been before it was misread or two of its digits were swapped, its sign kept."""
    longest = max(staff.amount for staff in STAFFS.values())
    for slip, step in STEPS.items():
        for mended in (booked - step, booked + step):
            if mended * booked >= 0 and abs(mended) <= longest:
                yield slip, mended
    digits = f"{round(abs(booked) * MILLIMETRES):04d}"
    for place, (one, other) in enumerate(pairwise(digits)):
        swapped = int(f"{digits[:place]}{other}{one}{digits[place + 2 :]}") / MILLIMETRES
        if one != other and swapped <= longest:
            yield "digits", swapped if booked >= 0 else -swapped


def _upside_down(booked: Length) -> Iterator[tuple[Slip, Length]]:
    """A staff held on its head reads its length less the truth; one that hung and was not booked so, less nothing."""
    yield "upside down", -booked
    for staff in STAFFS.values():
        if 0 < booked < staff.amount:
            yield "upside down", staff.amount - booked


def _exchanges(book: LevelBook, first: int, last: int, misclosure: Length) -> Iterator[Suspect]:
    """Two readings booked for each other."""
    backs = [row for row in range(first, last + 1) if book.kinds[row] == "back"]
    fores = [row for row in range(first, last + 1) if book.kinds[row] == "fore"]
    for back, fore in [*zip(backs, fores, strict=True), *zip(backs[1:], fores[:-1], strict=True)]:
        yield _exchanged(book, "sights", (back, fore), misclosure + 2 * _less(book, fore, back))
    for back, fore in zip(backs, fores, strict=True):
        for passing in range(back + 1, fore):
            yield _exchanged(book, "column", (passing, fore), misclosure + _less(book, fore, passing))
            yield _exchanged(book, "column", (back, passing), misclosure + _less(book, passing, back))


def _less(book: LevelBook, one: int, other: int) -> Length:
    return float(book.readings[one] - book.readings[other])


def _exchanged(book: LevelBook, slip: Slip, rows: tuple[int, int], left: Length) -> Suspect:
    one, other = rows
    mends = (_mend(book, one, float(book.readings[other])), _mend(book, other, float(book.readings[one])))
    return Suspect(slip=slip, mends=mends, left=left)


def _known_level(book: LevelBook, first: int, last: int, misclosure: Length) -> Iterator[Suspect]:
    """The level of the mark it closes on copied wrong; a line that comes back to its start cannot tell."""
    mark = next(mark for mark in book.known if mark.point == book.points[last])
    if mark.point == book.points[first]:
        return
    for step in (step * way for step in STEPS.values() for way in (-1, 1)):
        mended = mark.level + step
        mend = Mend(line=mark.line, point=mark.point, what="known level", booked=mark.level, mended=mended)
        yield Suspect(slip="known level", mends=(mend,), left=misclosure - step)


def _uneven(book: LevelBook, first: int, last: int, misclosure: Length) -> Iterator[Suspect]:
    """A line of sight out of level shows where the back sights of a line are longer or shorter than the fore sights."""
    if book.sights is None:
        return
    rows = range(first, last + 1)
    signs = {"back": 1.0, "intermediate": 0.0, "fore": -1.0}
    longer = float(sum(book.sights[row] * signs[book.kinds[row]] for row in rows))
    if abs(misclosure) <= SIGHT_TILT.high * abs(longer):
        yield Suspect(slip="uneven sights", mends=(), left=0.0, tilt=misclosure / longer)
