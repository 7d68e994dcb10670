"""The rows of the as-built sheets: place by place as shot beside as drawn, and what that leaves of freeboard."""

from dataclasses import replace

import numpy as np

from beckwright.base.quantities import Length, Level
from beckwright.base.values import value
from beckwright.base.words import grouped, millimetres, number_in, with_unit
from beckwright.compose import Design, Works
from beckwright.papers.seen import Seen
from beckwright.readings import AsBuilt, LipBuilt, Off
from beckwright.tables.notebook import LEAST_TILT

Cell = tuple[str, bool]
"""Words, and whether they are marked: farther off than the work allows, or less freeboard than wanted."""

HEADS = (
    *("place", "left: shot", "drawn", "off", "bed, lip: shot", "drawn", "off", "right: shot", "drawn", "off"),
    *("over water L", "R", "raise", "note"),
)
WIDTHS = (34.0, 24.0, 22.0, 16.0, 26.0, 22.0, 16.0, 24.0, 22.0, 16.0, 24.0, 17.0, 17.0, 98.0)


@value
class Level3:
    """Shot and drawn at one spot across; None where not."""

    shot: Level | None
    drawn: Level | None
    off: Length | None = None
    allowed: Length = 0.0


@value
class LevelRow:
    """One place.

    freeboard  left and right, at the strongest flow, settlement to come taken off; None where not shot
    raised     by how much the lower edge is to be raised
    """

    chainage: Length
    name: str
    left: Level3
    middle: Level3
    right: Level3
    freeboard: tuple[Length | None, Length | None] = (None, None)
    raised: Length = 0.0
    note: str = ""

    def cells(self, wanted: Length) -> tuple[Cell, ...]:
        """As they stand in the table."""
        at = f"{with_unit(self.chainage, 'm'):.1f}"
        boards = [("", False) if each is None else (_signed(each), each < wanted) for each in self.freeboard]
        return (
            (f"{self.name}, {at}" if self.name else at, False),
            *(cell for three in (self.left, self.middle, self.right) for cell in _three(three)),
            *boards,
            (millimetres(self.raised) if self.raised else "", True),
            (self.note, False),
        )


def _three(level: Level3) -> tuple[Cell, Cell, Cell]:
    """What no staff shows is no reason for a mark."""
    off = "" if level.off is None else _signed(level.off)
    beyond = level.off is not None and abs(level.off) - level.allowed > LEAST_TILT.amount
    return (_level(level.shot), False), (_level(level.drawn), False), (off, beyond)


def _level(level: Level | None) -> str:
    return "" if level is None else f"{number_in(level, 'm'):.3f}"


def _signed(length: Length) -> str:
    whole = round(length * 1000)
    return f"{'+' if whole > 0 else ''}{number_in(whole, 'mm'):,.0f}"


def rows_count(works: Works, seen: Seen) -> int:
    """How many rows there will be."""
    if seen.shots:
        return len(seen.shots)
    return len(works.setting_out.pegs)


def level_rows(design: Design, works: Works, seen: Seen, built: AsBuilt | None) -> tuple[LevelRow, ...]:
    """A row for each shot, or, where nothing was shot, for each peg as drawn, to be filled in."""
    if not seen.shots:
        return _drawn(design, works)
    return _shot(seen, built)


def _drawn(design: Design, works: Works) -> tuple[LevelRow, ...]:
    rows = []
    for peg in works.setting_out.pegs:
        dug = peg.dug[0]
        bed = peg.lip if peg.lip is not None else float(design.course.stations.bed[dug.station])
        left, right = (Level3(shot=None, drawn=level) for level in dug.edge_levels)
        name = next((place for place in peg.places if place.startswith("lip")), "") or f"peg {peg.number}"
        rows.append(
            LevelRow(
                chainage=peg.chainage, name=name, left=left, middle=Level3(shot=None, drawn=bed), right=right, note=""
            )
        )
    return tuple(rows)


def _shot(seen: Seen, built: AsBuilt | None) -> tuple[LevelRow, ...]:
    edges = {} if built is None else {(off.what, off.chainage): off for off in built.edges}
    beds = {} if built is None else {off.chainage: off for off in built.others if off.what == "bed"}
    lips = {} if built is None else {lip.name: lip for lip in built.lips}
    rows = []
    for shot in seen.shots:
        ends = [Level3(shot=level, drawn=None) for level in (shot.left, shot.middle, shot.right)]
        row = LevelRow(
            chainage=shot.chainage, name=shot.lip, left=ends[0], middle=ends[1], right=ends[2], note=shot.note
        )
        lip = lips.get(shot.lip)
        if lip is not None:
            rows.append(_lip_row(row, lip))
            continue
        sides = [edges.get((f"{side} edge", shot.chainage)) for side in ("left", "right")]
        row = replace(row, left=_with(row.left, sides[0]), right=_with(row.right, sides[1]))
        row = replace(row, middle=_with(row.middle, beds.get(shot.chainage)))
        boards = [None if off is None else float(off.freeboard[-1]) for off in sides]
        raised = max((off.raised for off in sides if off is not None), default=0.0)
        rows.append(replace(row, freeboard=(boards[0], boards[1]), raised=raised))
    return tuple(rows)


def _with(level: Level3, off: Off | None) -> Level3:
    return level if off is None else Level3(shot=off.shot, drawn=off.drawn, off=off.off, allowed=off.allowed)


def _lip_row(row: LevelRow, lip: LipBuilt) -> LevelRow:
    """Ends as shot; in the middle the mean of what was shot, as it counts for the water."""
    words = [row.note] if row.note else []
    if lip.tilt is not None and abs(lip.tilt) >= LEAST_TILT.amount:
        high = "right" if lip.tilt > 0 else "left"
        words.insert(0, f"{high} end {millimetres(abs(lip.tilt))} high: shim the {lip.shimmed} end")
    return replace(row, middle=_with(row.middle, lip.off), note="; ".join(words))


def lowest(built: AsBuilt | None, count: int) -> tuple[Off, ...]:
    """The edges with the least freeboard."""
    return () if built is None else built.edges[:count]


def dug_levels(built: AsBuilt | None) -> tuple[Off, ...]:
    """Dig levels that were shot before the lining went in."""
    return () if built is None else tuple(off for off in built.others if off.what == "dig level")


def how_many(rows: tuple[LevelRow, ...], wanted: Length) -> str:
    """How many edges shot stand lower over the water than wanted."""
    boards = np.array([each for row in rows for each in row.freeboard if each is not None])
    return f"{grouped(int((boards < wanted).sum()))} of {grouped(len(boards))}"
