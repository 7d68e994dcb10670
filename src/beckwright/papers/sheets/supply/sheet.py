"""The supply sheet for the electrician: the cable from end to end with its loads, drops and questions."""

from collections.abc import Iterator

import numpy as np

from beckwright.base.values import value
from beckwright.base.words import grouped, metres, opening, with_unit
from beckwright.compose import Design
from beckwright.job.model import ElectricsWork
from beckwright.papers import fonts, pens
from beckwright.papers.drawing import (
    A3_FLAT,
    BLACK,
    WHITE,
    Circle,
    Mark,
    Millimetres,
    Pen,
    Point,
    Polyline,
    Sheet,
    Text,
    rectangle,
)
from beckwright.papers.labels import paragraph
from beckwright.papers.sheets.shared.frame import LEFT, LOW, RIGHT, TITLE_HIGH, TOP, SheetTitle, frame, heading, notes
from beckwright.papers.sheets.shared.table import cell, table
from beckwright.papers.sheets.supply.marks import lamp_mark, pump_mark, transformer_mark
from beckwright.papers.sheets.supply.plan import route_sheet
from beckwright.stages.electrics import CableDrop, Electrics, LightString, questions

COLUMN = 124.0
"""Room for the questions at the right, mm."""
ASKED = Pen(width=0.35, dash=(2.0, 1.2))
"""Round what only the electrician can name."""
CABLE_Y, FIRST_ROW, ROW_HIGH = TOP - 34.0, TOP - 70.0, 27.0
LAMPS_A_ROW, MOST_ROWS = 10, 3
CAUTIONS = (
    "Advice only. A licensed electrician designs, connects, tests and certifies, to the rules of the place.",
    "Nobody reaches into water that has a live pump or lamp in it: isolate first, lock off, prove dead.",
    "Nothing is connected in the wet, on an extension lead or by a joint in the ground.",
    "Trace buried cables and pipes before digging; hand-dig near them.",
)


def electrics_count(electrics: Electrics | None) -> int:
    """Sheets there will be: none where the job says nothing about electrics."""
    return 0 if electrics is None else 2


def electrics_sheets(design: Design, electrics: Electrics | None, first: int, of: int) -> tuple[Sheet, ...]:
    """The supply sheet and its route plan; none where the job says nothing about electrics."""
    work = design.job.electrics
    if work is None or electrics is None:
        return ()
    return (_supply_sheet(design, work, electrics, first, of), route_sheet(design, work, electrics, first + 1, of))


def _supply_sheet(design: Design, work: ElectricsWork, electrics: Electrics, number: int, of: int) -> Sheet:
    title = SheetTitle(title="Supply sheet", reader="for the electrician", scale="not to scale", number=number, of=of)
    x = RIGHT - COLUMN
    marks = (
        *frame(design.job, title),
        Polyline(points=np.array([(x, LOW + TITLE_HIGH), (x, TOP)]), layer="frame", pen=pens.MEDIUM),
        heading((LEFT + 5, TOP - 9), "From the board to the pump and the lights", 5.0),
        *_cable_line(design, work, electrics),
        *_strings(work, electrics),
        *_tables(work, electrics),
        *_column(work, electrics),
    )
    feeder = electrics.feeder
    return Sheet(
        name="supply",
        title=f"{design.job.title.name}: supply sheet",
        paper=A3_FLAT,
        marks=marks,
        description=f"Supply of {design.job.title.name}: {metres(feeder.length)} of {work.cable:g} mm² cable from "
        f"{work.board} at {grouped(feeder.current, 1)} A, {_percent(feeder.chosen)} lost; {len(electrics.lamps)} "
        "lamps; questions for the electrician.",
    )


def _percent(row: CableDrop) -> str:
    return f"{grouped(100 * row.share, 1)} %"


def _line(*points: Point, pen: Pen = pens.MEDIUM) -> Polyline:
    return Polyline(points=np.array(points), layer="diagram", pen=pen)


def _box(corner: Point, size: Point, pen: Pen) -> Polyline:
    return Polyline(points=rectangle(corner, size), layer="diagram", pen=pen, closed=True, fill=WHITE)


def _middle(at: Point, words: str, room: Millimetres, height: Millimetres = 2.0, *, strong: bool = False) -> Text:
    return cell(at, words, room, height, "middle", head=strong)


def _cable_line(design: Design, work: ElectricsWork, electrics: Electrics) -> Iterator[Mark]:
    """Board, devices asked for, cable with its drop, isolator asked for, pump."""
    y, feeder = CABLE_Y, electrics.feeder
    board, device, start, end, isolator, pump = (LEFT + each for each in (8.0, 42.0, 66.0, 174.0, 186.0, 230.0))
    yield _line((board + 24, y), (pump, y))
    yield _line((start, y), (end, y), pen=pens.LINER)
    yield _box((board, y - 7), (24.0, 14.0), pens.HEAVY)
    yield _middle((board + 12, y - 1), "board", 22.0, 2.5, strong=True)
    yield cell((board, y - 11.5), opening(work.board), 56.0, 2.0, "left", head=False)
    for left, name, below in (
        (device, "protection?", ("overcurrent?", "residual current 30 mA?")),
        (isolator, "isolator?", ("locked off?", "in sight?")),
    ):
        yield _box((left, y - 5), (20.0, 10.0), ASKED)
        yield _middle((left + 10, y - 0.9), name, 19.0, strong=True)
        yield from (
            _middle((left + 10, y - 8.7 - 3.2 * row - (6.5 if left == device else 0)), each, 34.0, 1.8)
            for row, each in enumerate(below)
        )
    row, middle = feeder.chosen, (start + end) / 2
    laid = "lies there already" if work.laid else f"{with_unit(work.cover * 1000, 'mm'):.0f} of cover, in a duct"
    yield _middle(
        (middle, y + 7.0), f"{metres(feeder.length)} of {row.size:g} mm² {work.insulation}", 104.0, 3.0, strong=True
    )
    yield _middle((middle, y + 3.0), f"{laid}; {_phases(work, electrics)}", 104.0)
    yield _middle(
        (middle, y - 5.0),
        f"{grouped(row.drop, 1)} V lost, {_percent(row)}, at {grouped(feeder.current, 1)} A; "
        f"limit {grouped(100 * feeder.limit, 1)} %{'' if row.within else ': over it'}",
        104.0,
        2.5,
        strong=not row.within,
    )
    yield from pump_mark((pump, y))
    pumps = design.job.pumps
    shared = "" if pumps.together == 1 else " on one cable" if feeder.each == 1 else ", a cable each"
    told = f"{pumps.together} x {pumps.chosen.name}{shared}" if shared else pumps.chosen.name
    yield _middle((pump, y + 10.0), told, 44.0, 2.5, strong=True)
    each = "each " if feeder.each > 1 else ""
    drawn = f"{each}{grouped(feeder.largest.power)} W, {grouped(feeder.largest.current, 1)} A"
    yield _middle((pump, y - 12.0), drawn, 44.0)


def _phases(work: ElectricsWork, electrics: Electrics) -> str:
    if work.phases == 1:
        return f"single-phase, {work.voltage:g} V"
    return f"three phases there: one pump of {electrics.feeder.each} on one of them"


@value
class _Row:
    """Part of a string on one line of the diagram."""

    string: LightString
    first: int
    last: int


def _rows(strings: tuple[LightString, ...]) -> tuple[_Row, ...]:
    return tuple(
        _Row(string=string, first=first, last=min(first + LAMPS_A_ROW, len(string.lamps)))
        for string in strings
        for first in range(0, len(string.lamps), LAMPS_A_ROW)
    )


def _strings(work: ElectricsWork, electrics: Electrics) -> Iterator[Mark]:
    rows = _rows(electrics.strings)
    if not rows:
        yield Text(at=(LEFT + 8, FIRST_ROW), words="The job tells of no lights.", height=2.2)
        return
    shown = rows[:MOST_ROWS]
    feed, knot = LEFT + 14.0, LEFT + 180.0
    low = FIRST_ROW - ROW_HIGH * max(place for place, row in enumerate(shown) if row.first == 0)
    down = CABLE_Y - 22.0
    yield _line((knot, CABLE_Y), (knot, down), (feed, down), (feed, low))
    yield Circle(at=(knot, CABLE_Y), radius=0.9, layer="diagram", fill=BLACK)
    for place, row in enumerate(shown):
        yield from _string_row(work, row, FIRST_ROW - ROW_HIGH * place)
    left = sum(row.last - row.first for row in rows[MOST_ROWS:])
    if left:
        words = f"{left} more lamps: their drops stand on the calculation sheets."
        yield Text(at=(LEFT + 60, FIRST_ROW - ROW_HIGH * len(shown) + 13.0), words=words, height=1.8, weight=600)


def _string_row(work: ElectricsWork, row: _Row, y: float) -> Iterator[Mark]:
    """Transformer, or where the row before left off, and the lamps with what is lost up to each."""
    string, start, end = row.string, LEFT + 70.0, RIGHT - COLUMN - 8.0
    step = (end - start) / LAMPS_A_ROW
    last = start + step * (row.last - row.first - 1)
    if row.first == 0:
        yield from _transformer(work, string, y)
    else:
        yield Text(at=(LEFT + 36, y + 1.5), words="the same, further on", height=1.8)
    yield _line((LEFT + 26.0 if row.first == 0 else LEFT + 36.0, y), (last, y))
    for place in range(row.first, row.last):
        x, lamp, span = start + step * (place - row.first), string.lamps[place], string.spans[place]
        yield from lamp_mark((x, y), 2.4)
        yield _middle((x, y + 4.0), f"{lamp.light.power:g} W", step - 1.0, 1.8)
        name = fonts.wrap(lamp.light.name, step - 1.0, 1.8, narrow=True)
        for line, said in enumerate(name):
            yield _middle((x, y - 5.5 - 2.7 * line), said, step - 1.0, 1.8)
        lost = f"{span.lost * 100:.1f} %"
        yield _middle((x, y - 6.0 - 2.7 * len(name)), lost, step - 1.0, 1.8, strong=True)


def _transformer(work: ElectricsWork, string: LightString, y: float) -> Iterator[Mark]:
    made = string.transformer
    size = "none on offer" if made.taken is None else f"{made.taken:g} VA"
    yield _line((LEFT + 14.0, y), (LEFT + 20.0, y))
    yield from transformer_mark((LEFT + 23.5, y), 3.2)
    yield Text(at=(LEFT + 30, y + 5.4), words=f"{work.voltage:g} to {string.voltage:g} V", height=2.2, weight=600)
    yield Text(at=(LEFT + 30, y + 1.6), words=size, height=2.0, weight=600)
    words = (
        f"{made.rating:.0f} VA or more, outside the zones",
        f"{metres(string.length)} of {string.chosen.size:g} mm²",
        f"at the last lamp {_percent(string.chosen)}",
    )
    for place, said in enumerate(words):
        yield cell((LEFT + 17, y - 6.5 - 3.2 * place), said, 44.0, 1.8, "left", head=place == 2)


def _tables(work: ElectricsWork, electrics: Electrics) -> Iterator[Mark]:
    left, feeder, top = LEFT + 5.0, electrics.feeder, _tables_top(electrics)
    each = f", one pump of {feeder.each}" if feeder.each > 1 else ""
    yield heading((left, top), f"Loads at the wall{each}")
    loads = [
        ("what", "W", "A"),
        *((load.name, grouped(load.power), grouped(load.current, 2)) for load in (*feeder.pumps, *feeder.others)),
        ("largest pump and all others", "", grouped(feeder.current, 2)),
    ]
    step = min(5.4, (top - LOW - 24.0) / len(loads))
    drawn, down = table((left, top - 3), (60, 20, 20), loads, height=2.2, step=step, across=("left", "right", "right"))
    yield from drawn
    yield from paragraph(
        (left, down - 5),
        f"Power factor of the pump {work.power_factor:g}, of lights 0.9. Starting currents are not in it.",
        100.0,
        1.8,
    )
    yield from _cables(work, electrics, (left + 112.0, top))


def _tables_top(electrics: Electrics) -> float:
    """Tables begin under the last row of lamps."""
    rows = min(len(_rows(electrics.strings)), MOST_ROWS)
    return FIRST_ROW - ROW_HIGH * max(rows - 0.1, 0.6)


def _cables(work: ElectricsWork, electrics: Electrics, at: Point) -> Iterator[Mark]:
    (left, top), feeder = at, electrics.feeder
    yield heading((left, top), f"Supply cable, {work.insulation}, at {grouped(feeder.current, 1)} A")
    drawn, down = _drops((left, top - 3), feeder.sizes, work.cable, feeder.smallest)
    yield from drawn
    for string in electrics.strings:
        if down - 11.0 - 4.8 * (len(string.sizes) + 1) < LOW + 18.0:
            break
        yield heading((left, down - 8), f"Light cable at {string.voltage:g} V, last lamp")
        drawn, down = _drops((left, down - 11), string.sizes, work.light_cable, string.smallest)
        yield from drawn
    yield from paragraph(
        (left, down - 5),
        "Lost = mV/A/m x A x m / 1000, BS 7671 Appendix 4. Limits there 3 % for lighting, 5 % for other uses, counted "
        "from the meter (UK). The drop wished for at low voltage is common practice. No size here is held against the "
        "current it may carry.",
        112.0,
        1.8,
    )


def _drops(
    at: Point, sizes: tuple[CableDrop, ...], chosen: float, smallest: float | None
) -> tuple[tuple[Mark, ...], float]:
    rows = [("mm²", "mV/A/m", "V lost", "% lost", "")]
    for row in sizes:
        says = [
            word for word, so in (("in the job", row.size == chosen), ("least by drop", row.size == smallest)) if so
        ]
        says += [] if row.within else ["over the limit"]
        rows.append(
            (
                f"{row.size:g}",
                f"{1000 * row.rate:g}",
                grouped(row.drop, 2),
                grouped(100 * row.share, 1),
                ", ".join(says),
            )
        )
    return table(
        at, (14, 18, 18, 18, 44), rows, height=2.2, step=4.8, across=("right", "right", "right", "right", "left")
    )


def _column(work: ElectricsWork, electrics: Electrics) -> Iterator[Mark]:
    left, room = RIGHT - COLUMN + 5.0, COLUMN - 10.0
    yield heading((left, TOP - 9), "Questions for the electrician")
    drawn, down = notes((left, TOP - 15), questions(work, electrics), room, 2.2)
    yield from drawn
    yield heading((left, down - 4), "Cautions")
    drawn, _ = notes((left, down - 10.5), CAUTIONS, room, 2.2)
    yield from drawn
