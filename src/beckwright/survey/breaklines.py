"""Breaklines of a drawing made fit for survey.csv, where a point names one breakline and lines do not cross."""

from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from beckwright.base.quantities import FloatArray, Length
from beckwright.base.values import value
from beckwright.job.tables import CLOSEST

GAP: Length = 0.01
"""How far short of another line a line stops, m: less than a staff is held to."""
MOST_TRIES = 8

Place = tuple[float, float, float]
Line = tuple[str, list[int]]


@value
class Untangled:
    """Breaklines that share no point and do not cross.

    added   (k, 3) places of points put in where a line had to stop short; they are numbered after the survey's
    lines   name and points of each piece, in order
    met     places where a line met or crossed another
    """

    added: FloatArray
    lines: tuple[tuple[str, tuple[int, ...]], ...]
    met: int


def untangle(places: FloatArray, lines: Sequence[Line]) -> Untangled:
    """Cut ``lines`` where they meet or cross: name and rows of ``places`` (n, 3). A closed one ends as it began."""
    net = _Net(places)
    pieces = [piece for name, rows in lines for piece in net.cut_at_points(name, rows)]
    pieces = net.cut_at_crossings(pieces)
    added = np.array(net.places[len(places) :]).reshape(-1, 3)
    used = sorted({row for _, rows in pieces for row in rows if row >= len(places)})
    renamed = {row: len(places) + place for place, row in enumerate(used)}
    added = added[[row - len(places) for row in used]]
    each = tuple((name, tuple(renamed.get(row, row) for row in rows)) for name, rows in _named_apart(pieces))
    return Untangled(added=added, lines=each, met=net.met)


def _named_apart(pieces: Sequence[Line]) -> list[Line]:
    """Pieces of one line get numbers after its name, so that each is a breakline of its own."""
    taken: set[str] = set()
    named = []
    for name, rows in pieces:
        own, count = name, 1
        while own in taken:
            count += 1
            own = f"{name}.{count}"
        taken.add(own)
        named.append((own, rows))
    return named


class _Net:
    """Points and edges in use while lines are laid one after another."""

    def __init__(self, places: FloatArray) -> None:
        self.places: list[Place] = [(float(x), float(y), float(z)) for x, y, z in places]
        self.cells: dict[tuple[int, int], list[int]] = {}
        for row in range(len(self.places)):
            self.cells.setdefault(self._cell(row), []).append(row)
        self.taken: set[int] = set()
        self.edges: set[tuple[int, int]] = set()
        self.met = 0

    def cut_at_points(self, name: str, rows: Sequence[int]) -> list[Line]:
        """Lay one line: it stops short of points another line has, and leaves out edges another has."""
        rows = [row for place, row in enumerate(rows) if place == 0 or row != rows[place - 1]]
        taken = [self._takes(row) for row in rows]
        pieces: list[list[int]] = [[] if taken[0] else [rows[0]]]
        for (here, there), (from_taken, to_taken) in zip(pairwise(rows), pairwise(taken), strict=True):
            edge = (min(here, there), max(here, there))
            if edge in self.edges:
                pieces.append([] if to_taken else [there])
                continue
            self.edges.add(edge)
            if from_taken:
                pieces[-1] += self._short_of(here, there)
            pieces[-1] += self._short_of(there, here) if to_taken else [there]
            if to_taken:
                pieces.append([])
        return [(name, piece) for piece in pieces if len(piece) > 1]

    def _takes(self, row: int) -> bool:
        """Note a point as in use; True where it was so already."""
        was = row in self.taken
        self.taken.add(row)
        self.met += was
        return was

    def cut_at_crossings(self, pieces: list[Line]) -> list[Line]:
        """Part the later of two lines that cross, a little to both sides of the other."""
        import shapely

        edges = [(line, place) for line, (_, rows) in enumerate(pieces) for place in range(len(rows) - 1)]
        if not edges:
            return pieces
        ends = np.array([[self.places[row][:2] for row in pieces[line][1][place : place + 2]] for line, place in edges])
        drawn = np.asarray(shapely.linestrings(ends))
        one, other = shapely.STRtree(drawn).query(drawn, predicate="crosses")
        later = one > other
        cuts: dict[tuple[int, int], list[Place]] = {}
        for high, low in zip(one[later], other[later], strict=True):
            x, y = shapely.get_coordinates(shapely.intersection(drawn[high], drawn[low]))[0].tolist()
            cuts.setdefault(edges[high], []).append((x, y, 0.0))
            self.met += 1
        return [piece for line, (name, rows) in enumerate(pieces) for piece in self._parted(line, name, rows, cuts)]

    def _parted(self, line: int, name: str, rows: list[int], cuts: dict[tuple[int, int], list[Place]]) -> list[Line]:
        parts: list[list[int]] = [[rows[0]]]
        for place, (here, there) in enumerate(pairwise(rows)):
            start = self.places[here]
            for cut in sorted(cuts.get((line, place), []), key=lambda cut: _apart(start, cut)):
                parts[-1] += self._between(here, there, _apart(start, cut) - GAP)
                parts.append(self._between(here, there, _apart(start, cut) + GAP))
            parts[-1].append(there)
        return [(name, part) for part in parts if len(part) > 1]

    def _short_of(self, row: int, towards: int) -> list[int]:
        """A new point near ``row`` on the way to another; nothing where the way is too short for one."""
        for times in range(1, MOST_TRIES + 1):
            point = self._between(row, towards, times * GAP)
            if point:
                return point
        return []

    def _between(self, row: int, towards: int, distance: Length) -> list[int]:
        """A new point ``distance`` along the way, if it keeps clear of both ends and of every other point."""
        start, end = self.places[row], self.places[towards]
        length = _apart(start, end)
        if not GAP / 2 < distance < length - GAP / 2:
            return []
        x, y, z = (a + (b - a) * distance / length for a, b in zip(start, end, strict=True))
        point = (round(x, 3), round(y, 3), round(z, 3))
        self.places.append(point)
        cell = self._cell(len(self.places) - 1)
        near = [
            other
            for east in (-1, 0, 1)
            for north in (-1, 0, 1)
            for other in self.cells.get((cell[0] + east, cell[1] + north), [])
        ]
        if any(_apart(self.places[other], point) < 1.2 * CLOSEST for other in near):
            self.places.pop()
            return []
        self.cells.setdefault(cell, []).append(len(self.places) - 1)
        return [len(self.places) - 1]

    def _cell(self, row: int) -> tuple[int, int]:
        x, y, _ = self.places[row]
        return int(x // GAP), int(y // GAP)


def _apart(one: Place, other: Place) -> Length:
    return float(np.hypot(one[0] - other[0], one[1] - other[1]))
