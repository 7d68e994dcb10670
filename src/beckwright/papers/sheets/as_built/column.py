"""The column beside the as-built plan: what lies hidden, levels, pump and settings, the key."""

from collections.abc import Sequence

from beckwright.base.words import millimetres, with_unit
from beckwright.compose import Design, Works
from beckwright.papers.drawing import RED, Across, Mark, Millimetres, Text
from beckwright.papers.labels import paragraph
from beckwright.papers.seen import Seen
from beckwright.papers.sheets.as_built.pages import (
    NOTHING,
    state,
)
from beckwright.papers.sheets.as_built.plan import key_marks
from beckwright.papers.sheets.as_built.rows import (
    lowest,
)
from beckwright.papers.sheets.as_built.words import Pair, hidden, levels, pump, settings, told
from beckwright.papers.sheets.ground.depths import TABLE_LEFT, red_box
from beckwright.papers.sheets.reservoir.place import standing
from beckwright.papers.sheets.shared.frame import (
    LOW,
    TITLE_HIGH,
    TITLE_WIDE,
    TOP,
    heading,
)
from beckwright.papers.sheets.shared.table import table
from beckwright.readings import AsBuilt

KEY = {
    "hose": "hose",
    "supply cable": "supply cable",
    "light cable": "light cable",
    "service": "service",
    "lap": "lap of the lining",
    "edge left": "lining's edge, left",
    "edge right": "lining's edge, right",
    "chamber": "chamber",
    "low edge": "edge to be raised",
}


def column(design: Design, works: Works, seen: Seen, built: AsBuilt | None, trouble: tuple[str, ...]) -> list[Mark]:
    """The column beside the plan, as large as it fits."""
    drawn: list[tuple[list[Mark], float]] = []
    for height in (2.5, 2.3, 2.1, 1.9, 1.8):
        drawn.append(_column_set(design, works, seen, built, trouble, height))
        if drawn[-1][1] >= LOW + TITLE_HIGH + 2.0:
            break
    return drawn[-1][0]


def _column_set(
    design: Design, works: Works, seen: Seen, built: AsBuilt | None, trouble: tuple[str, ...], height: Millimetres
) -> tuple[list[Mark], Millimetres]:
    left, room, step = TABLE_LEFT + 5.0, TITLE_WIDE - 10.0, 2.05 * height
    marks: list[Mark] = []
    down = TOP - 4.0
    if not seen.shots:
        lines = ("Levels and places are those drawn. Shoot them before anybody trusts them.", *trouble)
        box, down = red_box((left, down), room, NOTHING, lines, height)
        marks += box
    else:
        marks.append(heading((left, down - 5.0), f"{state(seen)}. Lines as drawn", 3.2))
        down -= 7.0
        for line in trouble:
            rows = paragraph((left, down - 3.0), line, room, height, weight=600, colour=RED)
            marks += rows
            down = rows[-1].at[1] - 1.0
    for words, pairs in (
        ("What lies hidden, and how deep", tuple(hidden(design, works))),
        ("Reservoir and chamber", tuple(levels(design, works))),
    ):
        listed, down = _pairs((left, down), words, pairs, room, height, step)
        marks += listed
    marks.append(heading((left, down - 5.5), pump(design), 3.0))
    across: tuple[Across, ...] = ("left", *("right",) * 4)
    drawn, down = table(
        (left, down - 7.0), (36, 34, 26, 22, 22), settings(design), height=height, step=step, across=across
    )
    marks += drawn
    if built is not None and built.edges:
        marks_of, down = _edges(left, down, built, height, step)
        marks += marks_of
    keyed, down = _key(left, down, room, height, _keyed(design, works, built))
    marks += keyed
    return _remarks(design, left, down, room, height, marks)


def _pairs(
    at: tuple[float, float], words: str, pairs: Sequence[Pair], room: Millimetres, height: Millimetres, step: float
) -> tuple[list[Mark], Millimetres]:
    marks: list[Mark] = [heading((at[0], at[1] - 5.5), words, 3.0)]
    drawn, down = table((at[0], at[1] - 7.0), (48.0, room - 48.0), pairs, height=height, step=step, heads=0)
    return [*marks, *drawn], down


def _edges(
    left: float, down: Millimetres, built: AsBuilt, height: Millimetres, step: float
) -> tuple[list[Mark], Millimetres]:
    """The lowest edges at the strongest flow, and by how much to raise them."""
    rows = [("lowest edges", "chainage", f"over water, {built.flows[-1]}", "raise")]
    rows += [
        (
            off.what,
            f"{with_unit(off.chainage, 'm'):.1f}",
            millimetres(float(off.freeboard[-1])),
            millimetres(off.raised) if off.raised else "",
        )
        for off in lowest(built, 5)
    ]
    drawn, down = table(
        (left, down - 4.0), (42, 24, 50, 24), rows, height=height, step=step, across=("left", "right", "right", "right")
    )
    return [*drawn], down


def _keyed(design: Design, works: Works, built: AsBuilt | None) -> tuple[str, ...]:
    """The lines that are on this plan."""
    electrics = works.electrics
    there = {
        "hose": len(design.job.route.line) > 1,
        "supply cable": electrics is not None and electrics.route.line is not None,
        "light cable": electrics is not None and bool(electrics.strings),
        "service": bool(design.job.site.services),
        "lap": bool(works.lining.laps),
        "chamber": standing(design, works.crates).chamber is not None,
        "low edge": built is not None and any(off.raised > 0 for off in built.edges),
    }
    return tuple(which for which in KEY if there.get(which, True))


def _key(
    left: float, down: Millimetres, room: Millimetres, height: Millimetres, keyed: Sequence[str]
) -> tuple[list[Mark], Millimetres]:
    marks: list[Mark] = []
    third, base = room / 3, down - 6.0
    for number, which in enumerate(keyed):
        at = (left + third * (number % 3), base - 4.4 * (number // 3))
        words = Text(at=(at[0] + 13.5, at[1] - 0.8), words=KEY[which], height=min(height, 2.2))
        marks += [*key_marks(at, which), words]
    return marks, base - 4.4 * ((len(keyed) - 1) // 3) - 2.0


def _remarks(
    design: Design, left: float, down: Millimetres, room: Millimetres, height: Millimetres, marks: list[Mark]
) -> tuple[list[Mark], Millimetres]:
    """Cautions always; remarks of the job as far as there is room."""
    rows = paragraph(
        (left, down - 4.0),
        "Trace and hand-dig before any spade: services lie as told, nobody has seen them. Power off and locked off, "
        "then the pump comes up by its rope; nobody climbs into the chamber. Lid on and locked.",
        room,
        height,
        weight=600,
    )
    marks += rows
    low = rows[-1].at[1]
    end = low
    for line in told(design):
        said = paragraph((left, end - 2.1 * height), line, room, height)
        if said[-1].at[1] < LOW + TITLE_HIGH + 2.0:
            break
        marks += said
        end = said[-1].at[1]
    return marks, low
