"""The pit on a dig sheet: its plan with corners, strings and pegs, a look at it along one side, and huge numerals."""

from dataclasses import replace

import numpy as np

from beckwright.base.quantities import FloatArray
from beckwright.base.words import metres, number_in
from beckwright.compose import Design
from beckwright.papers import fonts, pens
from beckwright.papers.drawing import (
    A3_FLAT,
    WHITE,
    Circle,
    Dimension,
    Mark,
    Polyline,
    Sheet,
    Stamp,
    Text,
    View,
    Window,
    rectangle,
    section_window,
)
from beckwright.papers.labels import Box, Label, paragraph, place
from beckwright.papers.sheets.ground.plan import (
    PLAN_SCALES,
    STRING,
    keep_outs,
    kept_corners,
    over_pegs,
    white_corners,
    window_over,
    word_boxes,
)
from beckwright.papers.sheets.ground.setting_out import to_5_mm
from beckwright.papers.sheets.shared.frame import (
    LEFT,
    LOW,
    RIGHT,
    TITLE_WIDE,
    TOP,
    SheetTitle,
    frame,
    heading,
    north_point,
    notes,
    scale_bar,
)
from beckwright.papers.sheets.shared.spread import spread
from beckwright.papers.sheets.shared.table import table
from beckwright.stages.reservoir import Pit
from beckwright.stages.setting_out import Corner, PitSetOut, SettingOut
from beckwright.tables.practice import SPOIL_CLEARANCE

WIDE = RIGHT - TITLE_WIDE - LEFT
LOOK_HIGH = 106.0
"""Height of the look along one side, under the plan."""


def pit_sheet(design: Design, setting_out: SettingOut, reader: str, number: int, of: int) -> Sheet:
    """One sheet that digs the pit."""
    job, pit = design.job, setting_out.pit
    pegs = np.array([line.spot.at for line in pit.pegs])
    window = window_over(
        np.vstack([pit.dig.rim, pit.dig.top, pegs]),
        (LEFT, LOW + LOOK_HIGH),
        (WIDE, TOP - LOW - LOOK_HIGH),
        margin=0.35,
        along=pit.dig.floor[:2],
    )
    look = _look_window(pit)
    views = (
        View(name="pit plan", window=window, marks=_plan_marks(design, pit, window), world=True),
        View(name="pit along a to b", window=look, marks=_look_marks(design, pit, look)),
    )
    scale = " and ".join(dict.fromkeys((f"1:{window.scale:g}", f"1:{look.scale:g}")))
    return Sheet(
        name="dig-pit",
        title=f"{job.title.name}: dig sheet, the pit",
        paper=A3_FLAT,
        views=views,
        marks=(
            *frame(job, SheetTitle(title="Dig sheet: the pit", reader=reader, scale=scale, number=number, of=of)),
            *_rules(),
            replace(
                heading((LEFT + 32, TOP - 8), "The pit: floor heavy, top of batter dashed, strings thin"), halo=1.0
            ),
            heading((LEFT + 5, LOW + LOOK_HIGH - 7), "Looking square at the side from a to b"),
            *white_corners(LOW + LOOK_HIGH),
            *scale_bar((LEFT + 8, LOW + LOOK_HIGH + 5), window.scale),
            *scale_bar((RIGHT - TITLE_WIDE - 80, LOW + LOOK_HIGH - 9), look.scale),
            *north_point((LEFT + 14, TOP - 18), window.turn),
            *_column(design, pit),
        ),
        description=f"The pit of {job.title.name}: {metres(pit.sides[0])} by {metres(pit.sides[1])} on its floor, "
        f"{metres(pit.below)} below the string; corners, pegs and levels.",
    )


def _rules() -> tuple[Mark, ...]:
    x, y = RIGHT - TITLE_WIDE, LOW + LOOK_HIGH
    lines = (((x, LOW), (x, TOP)), ((LEFT, y), (x, y)))
    return tuple(Polyline(points=np.array(line), layer="frame", pen=pens.MEDIUM) for line in lines)


def _plan_marks(design: Design, pit: PitSetOut, window: Window) -> tuple[Mark, ...]:
    dig = pit.dig
    square = Polyline(points=rectangle((-0.9, -0.9), (1.8, 1.8)), layer="peg", pen=pens.THIN, closed=True, fill=WHITE)
    nail = Circle(at=(0.0, 0.0), radius=0.3, layer="peg", fill="#000000")
    by_line = {line: [peg.spot.at for peg in pit.pegs if peg.line == line] for line in ("ab", "bc", "cd", "ad")}
    labels: list[Label] = []
    marks: list[Mark] = [
        *keep_outs(design, labels, window),
        Polyline(points=dig.rim, layer="pit", pen=pens.DIG_LEVEL, closed=True),
        Polyline(points=dig.floor, layer="pit", pen=pens.HEAVY, closed=True, fill=WHITE),
        *(Polyline(points=np.array([dig.floor[n], dig.top[n]]), layer="pit", pen=pens.THIN) for n in range(4)),
        *(Polyline(points=np.array([dig.floor[n], dig.floor[n + 2]]), layer="pit", pen=pens.CENTRE) for n in (0, 1)),
        *(Polyline(points=np.array(ends), layer="string", pen=STRING) for ends in by_line.values()),
        *(Stamp(at=line.spot.at, marks=(square, nail)) for line in pit.pegs),
    ]
    labels += [
        *(
            Label(at=corner.floor.at, words=corner.name, height=5.0, weight=700, gap=1.6, priority=5, layer="pit")
            for corner in pit.corners
        ),
        *(
            Label(
                at=line.spot.at,
                words=f"{line.name}: {number_in(line.beyond, 'm'):.2f} beyond {line.corner}",
                height=2.5,
                weight=600,
                gap=1.8,
                priority=4,
                layer="peg",
            )
            for line in pit.pegs
        ),
        *(Label(at=corner.top.at, words=_top(pit, corner), height=2.0, gap=1.4, layer="pit") for corner in pit.corners),
    ]
    middle = window.on_paper(dig.floor.mean(axis=0))[0]
    numerals: Box = (float(middle[0]) - 45, float(middle[1]) - 13, float(middle[0]) + 45, float(middle[1]) + 13)
    at = tuple(map(float, dig.floor.mean(axis=0)))
    wide = 1000.0 * pit.sides[0] / window.scale
    words = (
        (f"{number_in(pit.sides[0], 'm'):.2f} by {number_in(pit.sides[1], 'm'):.2f}", 10.0, 1.0),
        (f"diagonals {to_5_mm(pit.diagonals[0])}, both", 3.5, -8.0),
    )
    floor = [
        Text(
            at=(at[0], at[1]),
            words=said,
            height=high * min(1.0, 0.8 * wide / fonts.width(said, high, weight=700, narrow=True)),
            weight=700,
            narrow=True,
            across="middle",
            offset=(0.0, up),
            halo=0.3,
            layer="pit",
        )
        for said, high, up in words
    ]
    title = (LEFT + 28.0, TOP - 12.0, LEFT + WIDE, TOP)
    spots = np.array([line.spot.at for line in pit.pegs])
    taken = (numerals, title, *word_boxes(marks, window), *over_pegs(spots, window), *kept_corners(LOW + LOOK_HIGH))
    placing = place(labels, window, pens.THIN, keep_off=taken)
    return (*marks, *floor, *placing.marks)


def _look(pit: PitSetOut) -> tuple[FloatArray, FloatArray]:
    """Distances along a to b of the corners on that side, floor and top: (2,), (2,)."""
    dig = pit.dig
    way = dig.floor[1] - dig.floor[0]
    way = way / np.hypot(*way)
    return (dig.floor[:2] - dig.floor[0]) @ way, (dig.top[:2] - dig.floor[0]) @ way


def _look_window(pit: PitSetOut) -> Window:
    _, top = _look(pit)
    high = max(pit.nail, float(pit.dig.top_levels.max()))
    room = (WIDE - 66.0, LOOK_HIGH - 30.0)
    wide, tall = float(np.ptp(top)) + 0.4, high - pit.floor_level + 0.2
    need = max(1000.0 * wide / room[0], 1000.0 * tall / room[1])
    scale = next((each for each in PLAN_SCALES if each >= need), float(np.ceil(need)))
    return section_window(
        corner=(LEFT + 4.0, LOW + 4.0),
        size=(WIDE - 8.0, LOOK_HIGH - 14.0),
        scale=scale,
        left=float(top.mean()) - (WIDE - 46.0) / 2 * scale / 1000,
        low=pit.floor_level - 0.012 * scale,
    )


def _look_marks(design: Design, pit: PitSetOut, window: Window) -> tuple[Mark, ...]:
    (floor_a, floor_b), (top_a, top_b) = _look(pit)
    dig, filled, job = pit.dig, design.reservoir.pit, design.job
    ground = np.array(
        [
            (top_a - 0.2, dig.top_levels[0]),
            (top_a, dig.top_levels[0]),
            (top_b, dig.top_levels[1]),
            (top_b + 0.2, dig.top_levels[1]),
        ]
    )
    sides = np.array(
        [(top_a, dig.top_levels[0]), (floor_a, dig.floor_level), (floor_b, dig.floor_level), (top_b, dig.top_levels[1])]
    )
    hatch = {"crates": pens.CRATES, "stones": pens.STONES}.get(job.reservoir.fill)
    middle = (floor_a + floor_b) / 2
    half = job.reservoir.length / 2
    fill = rectangle((middle - half, filled.floor), (2 * half, filled.fill_top - filled.floor))
    string = np.array([(top_a - 0.2, pit.nail), (top_b + 0.2, pit.nail)])
    marks: list[Mark] = [
        Polyline(points=fill, layer="reservoir", pen=pens.THIN, closed=True, hatch=hatch),
        *pens.existing_ground(ground, window),
        Polyline(points=sides, layer="pit", pen=pens.LINER),
        Polyline(points=string, layer="string", pen=pens.MEDIUM),
        Dimension(
            start=(float(floor_a), dig.floor_level),
            end=(float(floor_b), dig.floor_level),
            offset=-7.0,
            words=f"{number_in(pit.sides[0], 'm'):.2f}",
            pen=pens.THIN,
            height=3.5,
            weight=600,
        ),
    ]
    marks += _level_arrows(filled, pit, window, float(max(top_b, floor_b)))
    numeral_high = min(20.0, 320.0 * pit.below / window.scale)
    numeral = Text(
        at=(float(middle), (dig.floor_level + pit.nail) / 2),
        words=f"{number_in(pit.below, 'm'):.2f}",
        height=numeral_high,
        weight=700,
        narrow=True,
        across="middle",
        up="middle",
        halo=1.0,
        layer="pit",
    )
    said = Text(
        at=(float(middle), (dig.floor_level + pit.nail) / 2),
        words="below the string",
        height=3.0,
        weight=600,
        across="middle",
        offset=(0.0, -0.82 * numeral_high - 3.4),
        halo=1.0,
        layer="pit",
    )
    return (*marks, numeral, said)


def _level_arrows(filled: Pit, pit: PitSetOut, window: Window, right: float) -> list[Mark]:
    """Levels named at the right, each with a line to where it stands."""
    named = (
        (pit.nail, "string"),
        (filled.cover, "cover"),
        (filled.overflow, "overflow"),
        (filled.fill_top, "top of the fill"),
        (filled.floor, "under the fill"),
        (pit.floor_level, "floor as dug"),
    )
    step = window.scale / 1000.0
    places = spread([level for level, _ in named], 4.4 * step)
    marks: list[Mark] = []
    for (level, words), at in zip(named, places, strict=True):
        line = np.array([(right + 2 * step, level), (right + 8 * step, level), (right + 14 * step, at)])
        marks.append(Polyline(points=line, layer="levels", pen=STRING))
        marks.append(
            Text(
                at=(right + 15 * step, float(at)),
                words=f"{to_5_mm(level)} {words}",
                height=2.5,
                up="middle",
                layer="levels",
            )
        )
    return marks


def _column(design: Design, pit: PitSetOut) -> list[Mark]:
    left, room = RIGHT - TITLE_WIDE + 5, TITLE_WIDE - 10
    marks: list[Mark] = [
        heading((left, TOP - 8), "Dig below the string"),
        Text(at=(left, TOP - 32), words=f"{number_in(pit.below, 'm'):.2f}", height=20.0, weight=700, narrow=True),
        *paragraph(
            (left + 62, TOP - 14),
            f"All nails of the pit at {to_5_mm(pit.nail)}. Floor as dug {to_5_mm(pit.floor_level)}, "
            f"{metres(pit.depth)} below the ground at most. {_sides(pit)}",
            room - 62,
            2.8,
        ),
    ]
    rows = [
        ("peg", "on the string", "beyond", "nail over ground"),
        *(
            (
                line.name,
                f"{line.line[0]} to {line.line[1]}",
                f"{line.corner} by {number_in(line.beyond, 'm'):.2f}",
                f"{number_in(line.out, 'm'):.2f}",
            )
            for line in pit.pegs
        ),
    ]
    drawn, down = table((left, TOP - 40), (22, 36, 42, 40), rows, height=3.2, step=6.8)
    marks += drawn
    check = (
        f"Square when both diagonals of the floor read {to_5_mm(pit.diagonals[0])}: a to c, and b to d. "
        f"Sides {number_in(pit.sides[0], 'm'):.2f} and {number_in(pit.sides[1], 'm'):.2f}. Tapes to "
        "every corner: setting-out sheets."
    )
    said = paragraph((left, down - 6), check, room, 3.2, weight=600)
    marks += said
    down = said[-1].at[1] - 9
    marks.append(heading((left, down), "Before anybody goes in, and while digging"))
    drawn, _ = notes((left, down - 7), _cautions(design, pit), room, 3.2)
    return [*marks, *drawn]


def _sides(pit: PitSetOut) -> str:
    return f"Sides {pit.dig.batter:g} out for each 1 up." if pit.dig.batter > 0 else "Sides upright: they want support."


def _top(pit: PitSetOut, corner: Corner) -> str:
    return "top off the survey: shoot it" if corner.name in pit.guessed else f"ground {to_5_mm(corner.top.ground)}"


def _cautions(design: Design, pit: PitSetOut) -> tuple[str, ...]:
    winter, summer = design.job.site.groundwater_winter, design.job.site.groundwater_summer
    told = [
        f"{season} {metres(depth)} down"
        for season, depth in (("winter", winter), ("summer", summer))
        if depth is not None
    ]
    water = (
        f"Water in the ground as told: {', '.join(told)}." if told else "Nobody has measured the water in the ground."
    )
    sump = design.job.reservoir.sump
    deeper = (f"Under the pump's chamber dig {metres(sump)} deeper still.",) if sump > 0 else ()
    hands = (f"By hand, no machine: {', '.join(pit.by_hand)} within reach of the batter.",) if pit.by_hand else ()
    return (
        *hands,
        *deeper,
        "The competent person named for this job says how the sides are held. No depth is safe by rule.",
        "That person has looked at all four sides this shift, and again after rain.",
        f"Heaps, machine and stacked crates stand {metres(SPOIL_CLEARANCE.amount)} or more from the top of the batter.",
        "There is a way out that does not need the machine, and somebody stays on top.",
        f"{water} If it comes in: stop, get out, ring.",
        "Cover or fence it whenever it is left: it is deep enough to drown in.",
    )
