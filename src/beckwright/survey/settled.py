"""Points made into the rows of a survey: one row a place, each with a name of its own, breaklines that do not meet."""

from collections.abc import Sequence

import numpy as np

from beckwright.base.quantities import FloatArray, Levels, Points
from beckwright.base.values import value
from beckwright.survey.breaklines import GAP, Line, untangle
from beckwright.survey.codes import EDGES, Feature
from beckwright.survey.counted import counted
from beckwright.survey.twice import SAME, Merged, merge
from beckwright.survey.unsure import Question, twice_question

PLAIN = ("", "GL")
"""Codes that give way to any other shot at the same place."""


@value
class Rows:
    """Rows as read: places (n, 3) in metres, and for each its name, its code taken apart, and its breakline."""

    places: FloatArray
    names: tuple[str, ...]
    features: tuple[Feature, ...]
    breaklines: tuple[str, ...]

    def __len__(self) -> int:
        return len(self.places)


@value
class Settled:
    """Rows as survey.csv will hold them: points on no breakline first, then each breakline in order."""

    names: tuple[str, ...]
    points: Points
    levels: Levels
    codes: tuple[str, ...]
    breaklines: tuple[str, ...]
    questions: tuple[Question, ...]
    notes: tuple[str, ...]


def settle(rows: Rows, *, duplicates: str | None) -> Settled:
    """Merge what was shot twice, stop breaklines short of each other, and name every row."""
    merged = merge(rows.places, duplicates or "first")
    places = np.column_stack([rows.places[merged.kept, :2], merged.levels])
    lines, lonely = _lines(rows, merged)
    untangled = untangle(places, lines)
    codes, names = _codes(rows, merged), _first(rows.names, merged)
    labels = [""] * (len(places) + len(untangled.added))
    for name, line in untangled.lines:
        for row in line:
            labels[row] = name
    codes += _codes_of_added(untangled.lines, codes, len(untangled.added))
    order = [row for row in range(len(places)) if not labels[row]]
    order += [row for _, line in untangled.lines for row in line]
    every = np.concatenate([places, untangled.added])[order]
    asked = duplicates is None and merged.differing
    return Settled(
        names=_unlike([*names, *[""] * len(untangled.added)], order),
        points=every[:, :2],
        levels=every[:, 2],
        codes=tuple(codes[row] for row in order),
        breaklines=tuple(labels[row] for row in order),
        questions=(twice_question(merged.differing, merged.worst, _named(rows, merged.worst_row)),) if asked else (),
        notes=(*_merged_notes(merged, duplicates), *_line_notes(untangled.met, lonely)),
    )


def joined(rows: Rows, *, wanted: bool) -> tuple[Rows, tuple[str, ...]]:
    """Join the points of one numbered edge into a breakline where that is wanted, else say that it can be done."""
    labels = [
        label or (feature.code + feature.string if feature.code in EDGES and feature.string else "")
        for label, feature in zip(rows.breaklines, rows.features, strict=True)
    ]
    new = {label: labels.count(label) for label, was in zip(labels, rows.breaklines, strict=True) if label and not was}
    edges = ", ".join(f"{label} ({counted(count, 'point')})" for label, count in new.items() if count > 1)
    if not edges:
        return rows, ()
    if not wanted:
        return rows, (f"With --join-lines these would become breaklines, in the order they were shot: {edges}.",)
    return (
        Rows(places=rows.places, names=rows.names, features=rows.features, breaklines=tuple(labels)),
        (f"Joined into breaklines: {edges}.",),
    )


def _lines(rows: Rows, merged: Merged) -> tuple[list[Line], list[str]]:
    """Breaklines as rows of the merged places, and the names of those with one point."""
    lines: dict[str, list[int]] = {}
    for label, row in zip(rows.breaklines, merged.into.tolist(), strict=True):
        if label:
            lines.setdefault(label, []).append(row)
    lonely = [name for name, line in lines.items() if len(set(line)) < 2]
    return [(name, line) for name, line in lines.items() if name not in lonely], lonely


def _codes(rows: Rows, merged: Merged) -> list[str]:
    """The code of each merged place: the first that says more than that it is ground."""
    codes = [""] * len(merged.kept)
    for feature, into in zip(rows.features, merged.into.tolist(), strict=True):
        if codes[into] in PLAIN and (feature.code not in PLAIN or not codes[into]):
            codes[into] = feature.written
    return codes


def _codes_of_added(lines: Sequence[tuple[str, tuple[int, ...]]], codes: list[str], count: int) -> list[str]:
    added = [""] * count
    for _, line in lines:
        code = next((codes[row] for row in line if row < len(codes)), "")
        for row in line:
            if row >= len(codes):
                added[row - len(codes)] = code
    return added


def _first(names: Sequence[str], merged: Merged) -> list[str]:
    first = [""] * len(merged.kept)
    for name, into in zip(names, merged.into.tolist(), strict=True):
        first[into] = first[into] or name
    return first


def _unlike(names: Sequence[str], order: Sequence[int]) -> tuple[str, ...]:
    """Names in the order of the rows, no two alike: a point without one is numbered, a second of one name too."""
    taken: set[str] = set(names)
    given: set[str] = set()
    counts: dict[str, int] = {}
    each = []
    for row in order:
        stem = names[row]
        name = stem
        while not name or name in given or (name != stem and name in taken):
            counts[stem] = counts.get(stem, 1 if stem else 0) + 1
            name = f"{stem}.{counts[stem]}" if stem else f"P{counts[stem]}"
        given.add(name)
        each.append(name)
    return tuple(each)


def _named(rows: Rows, row: int) -> str:
    x, y, _ = rows.places[row]
    return rows.names[row] or f"at {x:.3f}, {y:.3f}"


def _merged_notes(merged: Merged, duplicates: str | None) -> list[str]:
    notes = []
    if merged.repeats > 0:
        repeats = counted(merged.repeats, "point")
        notes.append(f"{repeats} merged with another at the same place and level, within {SAME * 1000:g} mm.")
    if merged.differing and duplicates:
        notes.append(f"{counted(merged.differing, 'place')} with several levels: the {duplicates} was taken.")
    return notes


def _line_notes(met: int, lonely: Sequence[str]) -> list[str]:
    notes = []
    if met:
        notes.append(
            f"Breaklines meet or cross at {counted(met, 'place')}: there the later one stops {GAP * 1000:g} mm short, "
            "since a point names one breakline."
        )
    if lonely:
        notes.append(f"Breaklines with one point became plain points: {', '.join(lonely[:10])}.")
    return notes
