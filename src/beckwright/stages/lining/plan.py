"""The cutting plan: which laps, which widths, and how each rectangle lies on its part of the strip.

Every part between two possible laps gets the shortest rectangle of each width on offer; the cheapest way through the
course is then found exactly, lap by lap down the stream (a shortest path in a net without loops).
"""

import numpy as np

from beckwright.base.quantities import FloatArray, IntArray, Length, Lengths, Points
from beckwright.base.values import value
from beckwright.equations.lining import joined_width, sheet_mass
from beckwright.job.model import Job
from beckwright.stages.lining.carry import people_for
from beckwright.stages.lining.flat import Traced, read, trace
from beckwright.stages.lining.rectangles import Fan, fan_of, least_area, least_length, lengthwise
from beckwright.stages.lining.values import Lap, Piece, Strip
from beckwright.tables.lining import CUT_STEP, LAP_BONDED

FEWER = 1e-6
"""What a piece more counts, m2: of two plans that cost the same the one with fewer pieces."""
LETTERS = "ABCDEFGHJKLMNPQSTUVWXYZ"
_CLOSE = 1e-7


@value
class Width:
    """A width to cut from: so many strips of one roll, joined along their sides."""

    roll: Length
    strips: int
    width: Length

    def counted(self, length: Length, seam_counts: Length) -> float:
        """Area of sheet for a length, and what its seams count as."""
        return length * (self.strips * self.roll + (self.strips - 1) * seam_counts)


@value
class Plan:
    """Numbers of the laps used, and what the plan counts: sheet, and seams as sheet."""

    used: tuple[int, ...]
    counted: float


@value
class Search:
    """Everything the search for the best plan looks at.

    starts  where a piece may start: the top, or the start of a lap
    ends    where a piece may end: the end of a lap, or the foot
    """

    strip: Strip
    laps: tuple[Lap, ...]
    starts: Lengths
    ends: Lengths
    widths: tuple[Width, ...]
    traced: Traced
    fan: Fan
    seam_counts: Length
    longest: Length | None

    def counted(self, first: int) -> FloatArray:
        """What each piece from start ``first`` counts, up to every end from ``first`` on; infinite where none fits."""
        along, ends = self.traced.along, self.ends[first:]
        row = int(np.searchsorted(along, self.starts[first] - _CLOSE))
        lasts: IntArray = np.searchsorted(along, ends + _CLOSE, side="right") - 1
        sizes, seams = [width.width for width in self.widths], [width.strips > 1 for width in self.widths]
        ways = ways_of(self.strip, self.starts[first], ends)
        # Stricter than the exact search that follows: what is found here is found again there.
        lengths = cut_length(self.fan.lengths(row, lasts, sizes, seams, ways), _CLOSE / 2)
        if self.longest is not None:
            lengths = np.where(lengths > self.longest + _CLOSE, np.inf, lengths)
        each = np.array([width.counted(1.0, self.seam_counts) for width in self.widths])
        counted: FloatArray = (lengths * each).min(axis=1)
        return counted

    def joined(self) -> FloatArray:
        """What each lap counts by its seam; nothing at the foot."""
        laps = [FEWER + (self.seam_counts * lap.across if lap.bonded else 0.0) for lap in self.laps]
        return np.array([*laps, 0.0])


def cut_length(length: FloatArray, close: float = _CLOSE) -> FloatArray:
    """Up to the next 50 mm, but for a ``close`` share of that."""
    return np.round(np.ceil(length / CUT_STEP.amount - close) * CUT_STEP.amount, 6)


def widths_of(job: Job, strip: Strip) -> tuple[Width, ...]:
    """Every roll on offer, single and as many joined as the widest girth asks for, and at least two."""
    need = float(strip.girths().max())
    found = []
    for roll in job.lining.rolls:
        strips = max(2, int(np.ceil((need - roll) / (roll - LAP_BONDED.amount) - _CLOSE)) + 1)
        found += [
            Width(roll=roll, strips=count, width=joined_width(count, roll, LAP_BONDED.amount))
            for count in range(1, strips + 1)
        ]
    return tuple(found)


def search_of(job: Job, strip: Strip, laps: tuple[Lap, ...]) -> Search:
    """Make ready to search among ``laps``."""
    traced = trace(strip, np.array([place for lap in laps for place in (lap.start, lap.end)]))
    return Search(
        strip=strip,
        laps=laps,
        starts=np.array([0.0, *(lap.start for lap in laps)]),
        ends=np.array([*(lap.end for lap in laps), strip.length]),
        widths=widths_of(job, strip),
        traced=traced,
        fan=fan_of(traced, strip.heading),
        seam_counts=job.lining.seam_counts,
        longest=job.lining.roll_length,
    )


def best_plan(search: Search) -> Plan | None:
    """The plan that counts least, exact over the laps, widths and turns tried; None where no piece is long enough.

    A piece never starts before the one above its neighbour has ended: nowhere do three sheets lie on each other.
    """
    starts, ends, joined = search.starts, search.ends, search.joined()
    best, came = np.full(len(ends), np.inf), np.full(len(ends), -1)
    for first in range(len(starts)):
        before = 0.0 if first == 0 else best[first - 1]
        if not np.isfinite(before):
            continue
        clear = np.ones(len(ends) - first, dtype=bool)
        if first:
            clear = np.append(starts[first + 1 :] >= ends[first - 1] - _CLOSE, True)
        total = np.where(clear, before + search.counted(first) + joined[first:], np.inf)
        better = total < best[first:] - 1e-12
        best[first:][better], came[first:][better] = total[better], first
    if not np.isfinite(best[-1]):
        return None
    return Plan(used=_path(came), counted=float(best[-1]))


def _path(came: IntArray) -> tuple[int, ...]:
    """Numbers of the laps on the way to the foot, downstream."""
    used: list[int] = []
    first = int(came[-1])
    while first > 0:
        used.append(first - 1)
        first = int(came[first - 1])
    return tuple(reversed(used))


def lay_pieces(job: Job, search: Search, plan: Plan) -> tuple[Piece, ...]:
    """The rectangles of a plan, each at its best turn, in order downstream. The lowest is A and is laid first."""
    laps = [search.laps[number] for number in plan.used]
    starts = [0.0, *(lap.start for lap in laps)]
    ends = [*(lap.end for lap in laps), search.strip.length]
    letters = letters_for(len(starts))[::-1]
    return tuple(
        _piece(job, search, letter, start, end) for letter, start, end in zip(letters, starts, ends, strict=True)
    )


def one_piece(job: Job, strip: Strip) -> Piece:
    """One sheet by need alone, where nobody has said what rolls there are."""
    points = trace(strip, np.array([])).part(0.0, strip.length)
    box = least_area(points)
    length, width = float(cut_length(np.array(box.length))), float(cut_length(np.array(box.width)))
    by_need = Width(roll=width, strips=1, width=width)
    return _made(job, strip, "A", by_need, length, box.turn, points, (0.0, strip.length), from_roll=False)


def letters_for(count: int) -> list[str]:
    """A, B, C and so on, then AA, AB; none that is taken for a figure, and none for R, the reservoir's."""
    many = len(LETTERS)
    return [LETTERS[n] if n < many else LETTERS[n // many - 1] + LETTERS[n % many] for n in range(count)]


def ways_of(strip: Strip, start: Length, ends: FloatArray) -> FloatArray:
    """Straight ways from one place on the strip to others, (k,)."""
    east, north = (strip.at(ends) - strip.at(np.array([start]))).T
    ways: FloatArray = np.arctan2(north, east)
    return ways


def _piece(job: Job, search: Search, letter: str, start: Length, end: Length) -> Piece:
    points, way = search.traced.part(start, end), float(ways_of(search.strip, start, np.array([end]))[0])
    offers = []
    for width in search.widths:
        box = least_length(points, width.width, way if width.strips > 1 else None)
        if box is None:
            continue
        length = float(cut_length(np.array(box.length)))
        if search.longest is None or length <= search.longest + _CLOSE:
            offers.append((width.counted(length, search.seam_counts), width, length, box.turn))
    _, width, length, turn = min(offers, key=lambda offer: offer[0])
    return _made(job, search.strip, letter, width, length, turn, points, (start, end))


def _made(
    job: Job,
    strip: Strip,
    letter: str,
    width: Width,
    length: Length,
    turn: float,
    points: Points,
    part: tuple[Length, Length],
    *,
    from_roll: bool = True,
) -> Piece:
    """A piece with its part of the strip in its middle. ``turn`` is the way of its cut length."""
    way = float(ways_of(strip, part[0], np.array([part[1]]))[0])
    along = bool(lengthwise(np.array(turn), way))
    size = (length, width.width) if along else (width.width, length)
    down = _unit(turn if along else turn + np.pi / 2)
    down = down if down @ _unit(way) >= 0 else -down
    side = np.array([-down[1], down[0]])
    reach = [points @ axis for axis in (down, side)]
    middles = [(each.min() + each.max() - room) / 2 for each, room in zip(reach, size, strict=True)]
    corner = down * middles[0] + side * middles[1]
    chainages = read(strip, strip.chainage, np.array(part))
    area = width.strips * width.roll * length
    mass = sheet_mass(area, job.layers.lining_mass)
    return Piece(
        letter=letter,
        roll=width.roll if from_roll else None,
        strips=width.strips,
        width=width.width,
        length=length,
        along=along,
        start=part[0],
        end=part[1],
        chainage=(float(chainages[0]), float(chainages[1])),
        corner=(float(corner[0]), float(corner[1])),
        turn=float(np.arctan2(down[1], down[0])),
        need=(float(np.ptp(reach[0])), float(np.ptp(reach[1]))),
        area=area,
        mass=mass,
        people=people_for(mass),
    )


def _unit(turn: float) -> FloatArray:
    return np.array([np.cos(turn), np.sin(turn)])
