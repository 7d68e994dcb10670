"""The level table of the as-built sheets: as shot beside as drawn, or to be filled in."""

from collections.abc import Iterator, Sequence

import numpy as np

from beckwright.base.words import METRIC, metres, millimetres, reads, unit_called
from beckwright.compose import Design
from beckwright.papers import pens
from beckwright.papers.drawing import A3_FLAT, BLACK, RED, Mark, Millimetres, Polyline, Sheet, Text
from beckwright.papers.labels import paragraph
from beckwright.papers.seen import Seen
from beckwright.papers.sheets.as_built.pages import (
    FOOT,
    HEIGHT,
    NOTHING,
    READER,
    STEP,
    TALLEST,
    TOP_ROW,
    AsBuiltPages,
    state,
)
from beckwright.papers.sheets.as_built.rows import (
    HEADS,
    WIDTHS,
    Cell,
    LevelRow,
    dug_levels,
    how_many,
)
from beckwright.papers.sheets.shared.fitted import fitted, ruled
from beckwright.papers.sheets.shared.frame import (
    LEFT,
    LOW,
    RIGHT,
    TITLE_HIGH,
    TITLE_WIDE,
    TOP,
    SheetTitle,
    frame,
)
from beckwright.readings import AsBuilt


def level_sheet(
    design: Design,
    pages: AsBuiltPages,
    built: AsBuilt | None,
    rows: tuple[tuple[LevelRow, ...], tuple[LevelRow, ...]],
    place: int,
    number: int,
    of: int,
) -> Sheet:
    """One page of the level table."""
    job, seen, (every, here) = design.job, pages.seen, rows
    part = f", part {place + 1} of {pages.levels}" if pages.levels > 1 else ""
    title = SheetTitle(title="As built: levels", reader=f"{READER}{part}", scale="no drawing", number=number, of=of)
    left, wanted = LEFT + 6.0, job.course.freeboard_wanted
    head = f"Levels as shot beside as drawn{part}" if seen.shots else f"{NOTHING}: levels to be filled in{part}"
    return Sheet(
        name=f"as-built-levels-{place + 1}" if pages.levels > 1 else "as-built-levels",
        title=f"{job.title.name}: as built, levels{part}",
        paper=A3_FLAT,
        marks=(
            *frame(job, title),
            Text(
                at=(left, TOP - 9.0),
                words=head,
                height=5.0,
                weight=600,
                narrow=True,
                colour=BLACK if seen.shots else RED,
            ),
            fitted((left, TOP - 15.0), _under(design, seen, built, every), 372.0, 2.3),
            *_levels(here, wanted),
            *_foot(design, pages, built),
        ),
        description=f"Levels of {job.title.name}, place by place: left edge, bed or lip, right edge, as shot beside as "
        f"drawn, freeboard now, and what to raise. {state(seen)}.",
    )


def _under(design: Design, seen: Seen, built: AsBuilt | None, rows: tuple[LevelRow, ...]) -> str:
    """What the table is told in, and how many edges stand too low."""
    small, wanted = "mm" if reads() is METRIC else "inches", design.job.course.freeboard_wanted
    units = f"Levels in {unit_called('m')}, places along the course in {unit_called('m')}, the rest in {small}."
    if not seen.shots:
        return f"{units} {design.job.datum.name} = {metres(design.job.datum.level)}."
    if built is None:
        return f"{units} The shots cannot be held against the drawing: see the plan."
    return (
        f"{units} Over water: at the flow “{built.flows[-1]}”, high end of its band, settlement to come taken off; "
        f"wanted {millimetres(wanted)}: {how_many(rows, wanted)} edges stand lower. Red: beyond {_allowed(design)} "
        "either way, or lower than wanted."
    )


def _allowed(design: Design) -> str:
    return millimetres(design.job.tolerances.stone)


def _levels(rows: tuple[LevelRow, ...], wanted: float) -> Iterator[Mark]:
    lefts = [LEFT + 6.0 + sum(WIDTHS[:column]) for column in range(len(WIDTHS) + 1)]
    step = min(max((TOP_ROW - FOOT) / (len(rows) + 1), STEP), TALLEST)
    down = TOP_ROW - step
    yield ruled((lefts[0], TOP_ROW), (lefts[-1], TOP_ROW))
    heads: tuple[Cell, ...] = tuple((words, False) for words in HEADS)
    yield from _row(heads, lefts, down, step, bold=True)
    for row in rows:
        down -= step
        yield from _row(row.cells(wanted), lefts, down, step, bold=False)
    for edge in (1, 4, 7, 10, 13):
        yield Polyline(points=np.array([(lefts[edge], TOP_ROW), (lefts[edge], down)]), layer="frame", pen=pens.THIN)


def _row(
    cells: Sequence[Cell], lefts: Sequence[float], down: Millimetres, step: Millimetres, *, bold: bool
) -> Iterator[Mark]:
    height = min(HEIGHT + (step - STEP) * 0.2, 2.7)
    for column, (words, marked) in enumerate(cells):
        edge = column in (0, len(cells) - 1)
        at = lefts[column] + 1.2 if edge else lefts[column + 1] - 1.2
        if words:
            yield fitted(
                (at, down + 0.27 * step),
                words,
                WIDTHS[column] - 2.0,
                height,
                weight=600 if bold or marked else 400,
                across="left" if edge else "right",
                colour=RED if marked else BLACK,
            )
    yield ruled((lefts[0], down), (lefts[-1], down))


def _foot(design: Design, pages: AsBuiltPages, built: AsBuilt | None) -> Iterator[Mark]:
    """What is not in the table: dig levels, photographs, who shot it."""
    left, room = LEFT + 6.0, RIGHT - TITLE_WIDE - LEFT - 14.0
    dug = dug_levels(built)
    words = [f"{len(dug)} dig levels shot, {sum(off.beyond for off in dug)} farther off than allowed."] if dug else []
    pictures = len(pages.seen.photographs)
    words.append(
        f"{pictures} photographs, by chainage: next sheet." if pictures else "Photographs: none kept with this job."
    )
    words.append("A lip's level is the mean of what was shot along it. Levels shot are kept as they were read.")
    yield from paragraph((left, LOW + TITLE_HIGH - 5.0), " ".join(words), room, 2.2)
    for at, end, name in ((0.0, 84.0, "shot by"), (90.0, 162.0, "instrument"), (168.0, 222.0, "date")):
        yield Text(at=(left + at, LOW + 8.0), words=name, height=2.2)
        yield ruled((left + at + 20.0, LOW + 7.2), (left + end, LOW + 7.2))
