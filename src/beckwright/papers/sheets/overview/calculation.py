"""The calculation sheets: the stations, then every figure with its equation, inputs, source and grade."""

from collections.abc import Iterator

import numpy as np

from beckwright.base.figures import Figure
from beckwright.base.words import METRIC, US, both, flow, number_in, reads, unit_called, unit_word
from beckwright.compose import Design, Works
from beckwright.figures import figures_of, figures_of_works
from beckwright.figures.spoken import came, credited
from beckwright.languages import Said, say
from beckwright.papers import pens
from beckwright.papers.drawing import A3_FLAT, Across, Mark, Polyline, Sheet, Text, Weight
from beckwright.papers.labels import paragraph
from beckwright.papers.sheets.shared.frame import (
    LEFT,
    LOW,
    RIGHT,
    TITLE_HIGH,
    TITLE_WIDE,
    TOP,
    SheetTitle,
    frame,
    heading,
)
from beckwright.papers.sheets.shared.table import table
from beckwright.stages.water.beds import HIGH, MIDDLE
from beckwright.stages.water.beds import LOW as LOW_DEPTH

COLUMNS = 4
GAP = 4.0
WIDE = (RIGHT - LEFT - (COLUMNS + 1) * GAP) / COLUMNS
HEIGHT, LINE = 1.8, 3.05
TOP_LINE = TOP - 14.0

HEADS = (
    *("m", "ground", "dig", "lining", "bed", "width", "hidden L/s", "low mm", "mid mm", "high mm"),
    *("water", "left", "right", "free L", "free R"),
)
RIGHTWARD: tuple[Across, ...] = ("right",) * 15

Block = tuple[tuple[str, Weight, float], ...]
"""Lines of one figure: words, weight, indent."""


Page = list[Mark]


def calculation_pages(design: Design, works: Works) -> list[Page]:
    """As many pages as the figures need; the first holds the stations at the largest flow."""
    return [_stations(design), *_pages([*_blocks(design, works)])]


def calculation_sheets(design: Design, pages: list[Page], number: int, of: int) -> tuple[Sheet, ...]:
    """Pages made by ``calculation_pages``, framed as A3 sheets."""
    return tuple(
        Sheet(
            name=f"calculation-{place + 1}",
            title=f"{design.job.title.name}: calculation, part {place + 1} of {len(pages)}",
            paper=A3_FLAT,
            marks=(
                *frame(
                    design.job,
                    SheetTitle(
                        title="Calculation",
                        reader=f"for the checker, part {place + 1} of {len(pages)}",
                        scale="no drawing",
                        number=number + place,
                        of=of,
                    ),
                ),
                heading(
                    (LEFT + GAP, TOP - 8.0),
                    f"Every figure, as it can be followed by hand{_worked_in()}" if place else "Stations",
                ),
                *marks,
            ),
            description="Tables of figures with equation, inputs, source and grade." if place else "Table of stations.",
        )
        for place, marks in enumerate(pages)
    )


def _blocks(design: Design, works: Works) -> Iterator[Block]:
    for figure in (*figures_of(design), *figures_of_works(works)):
        yield _block(figure)


def _block(figure: Figure) -> Block:
    """The lines of one figure. Each part is said by itself: its name, its keys and its formula stay as they are."""
    amount = _amount(figure.amount, figure.unit)
    if figure.high != figure.low:
        low, high = _amount(figure.low, figure.unit), _amount(figure.high, figure.unit)
        amount += f"  ({low} {say('to')} {high})"
    told = f"{figure.name}. {say(figure.grade.value)}. {credited(figure.source)}"
    lines: list[tuple[str, Weight, float]] = [
        (Said(f"{say(figure.label)}: {amount}"), 600, 0.0),
        (Said(f"{told}; {say(figure.note)}" if figure.note else told), 400, 2.0),
    ]
    if figure.equation is not None:
        letters = {symbol.name: symbol.letter for symbol in figure.equation.symbols}
        given = [
            f"{letters[item.name]} = {_amount(item.amount, item.unit)} ({came(item.comes)})" for item in figure.inputs
        ]
        lines.append((Said(f"{figure.equation.formula}, {say('with')} {'; '.join(given)}"), 400, 2.0))
    return tuple(lines)


def _amount(amount: float, unit: str) -> str:
    return say(both(amount, unit))


def _pages(blocks: list[Block]) -> Iterator[list[Mark]]:
    """Blocks down one column after another, none broken, the last column kept off the title block."""
    column, down = 0, TOP_LINE
    marks: list[Mark] = []
    for block in blocks:
        rows = [
            row
            for words, weight, indent in block
            for row in paragraph((indent, 0.0), words, WIDE - indent, HEIGHT, weight=weight)
        ]
        if down - len(rows) * LINE < _foot(column):
            column, down = column + 1, TOP_LINE
            if column == COLUMNS:
                yield marks
                column, marks = 0, []
        left = LEFT + GAP + column * (WIDE + GAP)
        for row in rows:
            down -= LINE
            marks.append(Text(at=(left + row.at[0], down), words=row.words, height=HEIGHT, weight=row.weight))
        down -= 1.2
        marks.append(Polyline(points=np.array([(left, down), (left + WIDE, down)]), layer="frame", pen=pens.CONTOUR))
    yield marks


def _worked_in() -> str:
    return "" if reads() is METRIC else ": worked in SI, as its equation was published, with US units beside it"


def _foot(column: int) -> float:
    right = LEFT + GAP + column * (WIDE + GAP) + WIDE
    return LOW + TITLE_HIGH + 4.0 if right > RIGHT - TITLE_WIDE else LOW + 4.0


def _head(words: str) -> str:
    """A head in the reader's units."""
    name, _, unit = words.rpartition(" ")
    told = "gpm" if unit == "L/s" and reads() is US else unit_called(unit)
    return f"{name} {told}".strip() if unit in ("m", "mm", "L/s") else words


def _stations(design: Design) -> list[Mark]:
    """Levels and water at every station, at the largest flow; thinned to what fits, and saying so."""
    at, water = design.course.stations, design.water
    full = int(np.argmax(water.flows))
    room = int((TOP_LINE - LOW - TITLE_HIGH - 14.0) / 3.4) * 2 - 2
    every = int(np.ceil(len(at.chainage) / room))
    picked = range(0, len(at.chainage), every)
    rows = [
        (
            f"{number_in(at.chainage[n], 'm'):.2f}",
            f"{number_in(at.ground[n], 'm'):.3f}",
            f"{number_in(at.dig[n], 'm'):.3f}",
            f"{number_in(at.liner[n], 'm'):.3f}",
            f"{number_in(at.bed[n], 'm'):.3f}",
            f"{number_in(at.width[n], 'm'):.2f}",
            f"{number_in(water.hidden[MIDDLE, full, n] * 1000, 'L/s'):.2f}",
            *(f"{number_in(water.depth[end, full, n] * 1000, 'mm'):.0f}" for end in (LOW_DEPTH, MIDDLE, HIGH)),
            f"{number_in(water.level[HIGH, full, n], 'm'):.3f}",
            f"{number_in(at.edge_left[n], 'm'):.3f}",
            f"{number_in(at.edge_right[n], 'm'):.3f}",
            f"{number_in(design.freeboard.settled_left[full, n] * 1000, 'mm'):.0f}",
            f"{number_in(design.freeboard.settled_right[full, n] * 1000, 'mm'):.0f}",
        )
        for n in picked
    ]
    half = (len(rows) + 1) // 2
    step = min(4.8, (TOP_LINE - LOW - TITLE_HIGH - 6.0) / (half + 1))
    widths = (11, 13.5, 13.5, 13.5, 13.5, 10.5, 15.5, 11.5, 11.5, 12.0, 13.5, 13.5, 13.5, 11, 11)
    thinned = "" if every == 1 else f"; one station in {every}"
    marks: list[Mark] = [
        Text(
            at=(LEFT + GAP, TOP - 12.5),
            words=f"Levels in {unit_called('m')}; water at {water.names[full]}, "
            f"{flow(float(water.flows[full]))}: hidden by the middle "
            "law, visible depth by the low, middle and high law, water level at its high end; "
            f"freeboard in {unit_word('mm')} once settled{thinned}.",
            height=2.0,
        )
    ]
    for part, x in ((rows[:half], LEFT + 2.5), (rows[half:], LEFT + 197.0)):
        if part:
            drawn, _ = table(
                (x, TOP_LINE), widths, [tuple(map(_head, HEADS)), *part], height=HEIGHT, step=step, across=RIGHTWARD
            )
            marks.extend(drawn)
    return marks
