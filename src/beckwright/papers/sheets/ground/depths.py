"""The depth table of one stretch of the course, in digits that are read from the cab, with the plan of that stretch."""

import numpy as np

from beckwright.base.values import value
from beckwright.base.words import METRIC, headed, number_in, opening, reads, with_unit
from beckwright.compose import Design
from beckwright.papers import fonts, pens
from beckwright.papers.drawing import (
    A3_FLAT,
    BLACK,
    RED,
    WHITE,
    Circle,
    Mark,
    Point,
    Polyline,
    Sheet,
    Text,
    View,
    Window,
    rectangle,
)
from beckwright.papers.labels import paragraph
from beckwright.papers.sheets.ground.plan import (
    ground_plan,
    kept_corners,
    white_corners,
    window_over,
)
from beckwright.papers.sheets.shared.fitted import fitted
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
    north_point,
    notes,
    scale_bar,
)
from beckwright.stages.earthworks.values import Groundwork
from beckwright.stages.setting_out import Dug, Peg, SettingOut

TABLE_LEFT = RIGHT - TITLE_WIDE
PLAN_WIDE = TABLE_LEFT - LEFT
BOXES_HIGH = 56.0
HEAD_HIGH, ROW_HIGH = 14.0, 18.5
ROWS = int((TOP - LOW - TITLE_HIGH - HEAD_HIGH) // ROW_HIGH)
NUMERAL = 12.5
"""Height of the digits of a depth, mm."""
COLUMNS = (31.0, 41.0, 24.0, 24.0, 30.0)
SHADE = "#EFEFEA"
IN_THE_DIG = "Nobody in a dig that is not supported or battered. A service may lie elsewhere than told: look first."
"""Said wherever depths are read off."""


@value
class DigRow:
    """One row of the depth table: a peg and the cut on one side of it."""

    peg: Peg
    dug: Dug


def dig_pages(setting_out: SettingOut) -> tuple[tuple[DigRow, ...], ...]:
    """Rows for one sheet each, the two rows of a peg never parted."""
    pages: list[list[DigRow]] = [[]]
    for peg in setting_out.pegs:
        if len(pages[-1]) + len(peg.dug) > ROWS:
            pages.append([])
        pages[-1].extend(DigRow(peg=peg, dug=dug) for dug in peg.dug)
    return tuple(map(tuple, pages))


def red_box(
    at: Point, room: float, title: str, lines: tuple[str, ...], height: float = 2.5
) -> tuple[list[Mark], float]:
    """A box with a heavy red rim, its upper left corner at ``at``; gives back its lower edge."""
    marks: list[Mark] = [
        Text(at=(at[0] + 3, at[1] - 6.5), words=title, height=4.0, weight=700, narrow=True, colour=RED)
    ]
    down = at[1] - 12.0
    for line in lines:
        rows = paragraph((at[0] + 3, down), line, room - 6, height, weight=600)
        marks += rows
        down = rows[-1].at[1] - 2.0 * height
    low = down + 2.6
    return [
        Polyline(points=rectangle((at[0], low), (room, at[1] - low)), layer="frame", pen=pens.SHORT, closed=True),
        *marks,
    ], low


def in_runs(numbers: list[int]) -> str:
    """``1 to 4, 7`` for 1, 2, 3, 4, 7."""
    parts = np.split(numbers, np.flatnonzero(np.diff(numbers) > 1) + 1)
    return ", ".join(f"{part[0]} to {part[-1]}" if len(part) > 1 else f"{part[0]}" for part in parts)


def divider(low: float = LOW + TITLE_HIGH) -> tuple[Mark, ...]:
    """The rule between plan and column, from ``low`` up."""
    return (Polyline(points=np.array([(TABLE_LEFT, low), (TABLE_LEFT, TOP)]), layer="frame", pen=pens.MEDIUM),)


def stretch_sheet(
    design: Design,
    groundwork: Groundwork,
    setting_out: SettingOut,
    rows: tuple[DigRow, ...],
    place: int,
    reader: str,
    number: int,
    of: int,
) -> Sheet:
    """Plan and depths of the pegs of ``rows``."""
    job = design.job
    pegs = tuple({row.peg.number: row.peg for row in rows}.values())
    between = f"pegs {pegs[0].number} to {pegs[-1].number}" if len(pegs) > 1 else f"peg {pegs[0].number}"
    window = _stretch_window(pegs)
    low = LOW + BOXES_HIGH
    marks = ground_plan(design, groundwork, setting_out, window, named=pegs, keep_off=kept_corners(low))
    title = SheetTitle(title=f"Dig sheet: {between}", reader=reader, scale=f"1:{window.scale:g}", number=number, of=of)
    return Sheet(
        name=f"dig-{place + 1}",
        title=f"{job.title.name}: dig sheet, {between}",
        paper=A3_FLAT,
        views=(View(name="dig plan", window=window, marks=marks, world=True),),
        marks=(
            *frame(job, title),
            *divider(LOW),
            *white_corners(low),
            *scale_bar((LEFT + 8, low + 5), window.scale),
            *north_point((LEFT + 14, TOP - 18), window.turn),
            *_boxes(pegs),
            *_depths(rows),
        ),
        description=f"{opening(between)} of {job.title.name}: plan, and for each peg how far to dig below the string.",
    )


def _stretch_window(pegs: tuple[Peg, ...]) -> Window:
    ends = np.array([side.spot.at for peg in pegs for side in (peg.left, peg.right)])
    middles = np.array([peg.spot.at for peg in pegs])
    along = middles if len(pegs) > 1 else ends[:2] @ np.array([(0.0, 1.0), (-1.0, 0.0)])
    corner, size = (LEFT, LOW + BOXES_HIGH), (PLAN_WIDE, TOP - LOW - BOXES_HIGH)
    return window_over(ends, corner, size, margin=0.5, along=along)


def _boxes(pegs: tuple[Peg, ...]) -> list[Mark]:
    """Under the plan: how the numbers are measured, and what is dug by hand here."""
    top, half = LOW + BOXES_HIGH, PLAN_WIDE / 2
    marks: list[Mark] = [
        Polyline(points=np.array([(LEFT, top), (TABLE_LEFT, top)]), layer="frame", pen=pens.MEDIUM),
        heading((LEFT + 5, top - 8), "How to read it"),
    ]
    said, _ = notes(
        (LEFT + 5, top - 14),
        (
            "String from the left nail to the right nail: it hangs level. Left is left looking downstream.",
            "Dig: straight down from the string to the bare ground under the lining's layers.",
            "Floor: from the line to where the flat floor ends. Edge: down from the string to the lining's edge.",
            (
                "At a step two rows: upstream side above the lip, downstream side at its foot. All to "
                f"{'10 mm' if reads() is METRIC else '0.01 ft'}."
            ),
        ),
        half - 8,
        2.5,
    )
    marks += said
    names = sorted({name for peg in pegs for name in peg.by_hand})
    lines = tuple(
        f"{opening(name)}: peg{'s' if len(numbers) > 1 else ''} {in_runs(numbers)}"
        for name in names
        for numbers in [[peg.number for peg in pegs if name in peg.by_hand]]
    )
    down = top - 9.0
    if lines:
        box, down = red_box((LEFT + half + 4, top - 4), half - 8, "By hand here, no machine", lines)
        marks += box
        down -= 6.5
    return [*marks, *paragraph((LEFT + half + 5, down), IN_THE_DIG, half - 12, 2.5, weight=600)]


def _depths(rows: tuple[DigRow, ...]) -> list[Mark]:
    lefts = TABLE_LEFT + np.concatenate([[0.0], np.cumsum(COLUMNS)])
    marks: list[Mark] = [
        Polyline(
            points=rectangle((TABLE_LEFT, TOP - HEAD_HIGH), (TITLE_WIDE, HEAD_HIGH)),
            layer="frame",
            closed=True,
            fill=BLACK,
        )
    ]
    heads = (
        ("peg", ""),
        ("dig below", headed("the string", "m")),
        ("floor", "off the line"),
        ("edge below", "the string"),
        ("ground", "on the line"),
    )
    for column, lines in enumerate(heads):
        middle = float(lefts[column] + lefts[column + 1]) / 2
        for up, words in zip((8.2, 3.6), lines, strict=True):
            if words:
                at, room = (middle, TOP - HEAD_HIGH + up), COLUMNS[column] - 2.0
                marks.append(fitted(at, words, room, 2.8, weight=600, colour=WHITE, across="middle"))
    down = TOP - HEAD_HIGH
    for number, row in enumerate(rows):
        down -= ROW_HIGH
        marks += _depth_row(row, down, lefts.tolist(), shaded=number % 2 == 1)
    marks += [
        Polyline(points=np.array([(x, down), (x, TOP - HEAD_HIGH)]), layer="frame", pen=pens.THIN) for x in lefts[1:-1]
    ]
    return marks


def _depth_row(row: DigRow, low: float, lefts: list[float], *, shaded: bool) -> list[Mark]:
    peg, dug = row.peg, row.dug
    middle = low + ROW_HIGH / 2
    marks: list[Mark] = []
    if shaded:
        box = rectangle((TABLE_LEFT, low), (TITLE_WIDE, ROW_HIGH))
        marks.append(Polyline(points=box, layer="frame", closed=True, fill=SHADE))
    marks.append(Polyline(points=np.array([(TABLE_LEFT, low), (RIGHT, low)]), layer="frame", pen=pens.THIN))
    marks += _peg_cell(peg, dug, (lefts[0], middle))
    marks.append(
        Text(
            at=(lefts[2] - 3.0, middle),
            words=f"{number_in(dug.below, 'm'):.2f}",
            height=NUMERAL,
            weight=700,
            narrow=True,
            across="right",
            up="middle",
        )
    )
    marks += _sides((lefts[2], middle), lefts[3] - 2.0, dug.floor[0], -dug.floor[1])
    marks += _sides((lefts[3], middle), lefts[4] - 2.0, *dug.edges_below)
    marks += _ground_cell(peg, dug, (lefts[4], low), lefts[5])
    return marks


def _peg_cell(peg: Peg, dug: Dug, at: Point) -> list[Mark]:
    """A black disc with the number, beside it the chainage and what stands there."""
    marks: list[Mark] = [
        Circle(at=(at[0] + 7.2, at[1]), radius=6.2, layer="peg", fill=BLACK),
        Text(
            at=(at[0] + 7.2, at[1]),
            words=f"{peg.number}",
            height=6.0,
            weight=700,
            narrow=True,
            colour=WHITE,
            across="middle",
            up="middle",
        ),
    ]
    said = [f"{with_unit(peg.chainage, 'm'):.2f}"]
    for words in (*peg.places[:1], dug.side):
        said += fonts.wrap(words, 15.6, 2.0, narrow=True)[:2]
    up = at[1] + 1.65 * len(said) - 2.6
    for number, words in enumerate(said):
        marks.append(
            Text(
                at=(at[0] + 14.6, up - 3.3 * number),
                words=words,
                height=2.4 if number == 0 else 2.0,
                weight=600 if number == 0 else 400,
                narrow=True,
            )
        )
    return marks


def _sides(at: Point, right: float, left_side: float, right_side: float) -> list[Mark]:
    """Left over right, as on the plan."""
    marks: list[Mark] = []
    for letter, amount, up in (("L", left_side, 4.1), ("R", right_side, -4.1)):
        marks.append(Text(at=(at[0] + 2.0, at[1] + up), words=letter, height=3.5, up="middle"))
        marks.append(
            Text(
                at=(right, at[1] + up),
                words=f"{number_in(amount, 'm'):.2f}",
                height=5.0,
                weight=600,
                across="right",
                up="middle",
            )
        )
    return marks


def _ground_cell(peg: Peg, dug: Dug, at: Point, right: float) -> list[Mark]:
    word, told = "dig" if dug.lift >= 0 else "fill", f"{number_in(abs(dug.lift), 'm'):,.2f}"
    room = right - at[0] - 4.6 - fonts.width(told, 4.5, weight=600, narrow=True)
    marks: list[Mark] = [
        fitted((at[0] + 2.0, at[1] + 10.6), word, room, 3.5),
        Text(at=(right - 2.0, at[1] + 10.6), words=told, height=4.5, weight=600, narrow=True, across="right"),
    ]
    if peg.by_hand:
        marks += [
            Polyline(
                points=rectangle((at[0] + 1.5, at[1] + 2.2), (right - at[0] - 3.0, 5.4)),
                layer="frame",
                closed=True,
                fill=RED,
            ),
            Text(
                at=((at[0] + right) / 2, at[1] + 4.9),
                words="by hand",
                height=2.8,
                weight=700,
                colour=WHITE,
                across="middle",
                up="middle",
            ),
        ]
    return marks
