"""The setting-out sheets: where marks, pegs and pit stand, the tapes that find them, and every level that is set."""

import numpy as np

from beckwright.base.words import (
    METRIC,
    headed,
    metres,
    millimetres,
    number_in,
    reads,
    retold,
    stepped,
    unit_called,
    with_unit,
)
from beckwright.compose import Design
from beckwright.papers import pens
from beckwright.papers.drawing import A3_FLAT, RED, Across, Mark, Pen, Polyline, Sheet, View
from beckwright.papers.labels import paragraph
from beckwright.papers.sheets.ground.plan import ground_plan, kept_corners, landmarks, white_corners, window_over
from beckwright.papers.sheets.shared.frame import (
    LEFT,
    LOW,
    RIGHT,
    TITLE_HIGH,
    TITLE_WIDE,
    TOP,
    SheetTitle,
    bullet,
    frame,
    heading,
    north_point,
    notes,
    scale_bar,
)
from beckwright.papers.sheets.shared.table import table
from beckwright.stages.earthworks.values import Groundwork
from beckwright.stages.setting_out import LevelToSet, Peg, SettingOut, SidePeg, Spot, Tape, worst_taped
from beckwright.stages.setting_out.tapes import SHARPEST, TAPE

READER = "for the crew that sets out"
TAPE_PEN = Pen(width=0.5, colour=RED)
PLAN_WIDE = RIGHT - TITLE_WIDE - LEFT
HEIGHT, STEP = 2.5, 5.2
FOOT = LOW + TITLE_HIGH + 3.0
PEG_ROWS = int((TOP - 18.0 - FOOT - 2 * STEP) // (3 * STEP))
"""Pegs to a sheet: three rows each."""
LEVEL_ROWS = int((TOP - 18.0 - FOOT) // STEP) - 1
LEVEL_COLUMNS = 3
PEG_HEADS = (
    ("peg", "at m", "what", "side", "off line", "x", "y", "tape", "tape", "check", "meet at", "nail", "over ground"),
    ("", "", "", "", "m", "m", "m", "m", "m", "m", "degrees", "m", "m"),
)
PEG_WIDTHS = (12, 16, 42, 12, 17, 19, 19, 30, 30, 30, 17, 22, 21, 26, 26, 21, 20)
PEG_ACROSS: tuple[Across, ...] = (
    *("right", "right", "left", "left", "right", "right", "right"),
    *("right",) * 10,
)
PIT_WIDTHS = (17, 16, 16, 20, 24, 24, 24)
TRACED = "Pegs go in only where services have been traced and marked: an iron or a peg finds a cable as a spade does."


def setting_out_pages(setting_out: SettingOut) -> tuple[tuple[Peg, ...], ...]:
    """Pegs for one sheet each."""
    pegs = setting_out.pegs
    return tuple(pegs[start : start + PEG_ROWS] for start in range(0, len(pegs), PEG_ROWS))


def level_pages(setting_out: SettingOut) -> tuple[tuple[LevelToSet, ...], ...]:
    """Levels for one sheet each."""
    levels, room = setting_out.levels, LEVEL_ROWS * LEVEL_COLUMNS
    return tuple(levels[start : start + room] for start in range(0, len(levels), room))


def setting_out_count(setting_out: SettingOut) -> int:
    """How many setting-out sheets there are: marks and pit, pegs, levels."""
    return 1 + len(setting_out_pages(setting_out)) + len(level_pages(setting_out))


def setting_out_sheets(
    design: Design, groundwork: Groundwork, setting_out: SettingOut, first: int, of: int
) -> tuple[Sheet, ...]:
    """All setting-out sheets, numbered from ``first``."""
    pegs, levels = setting_out_pages(setting_out), level_pages(setting_out)
    return (
        _marks_sheet(design, groundwork, setting_out, first, of),
        *(_pegs_sheet(design, part, place, first + 1 + place, of) for place, part in enumerate(pegs)),
        *(
            _levels_sheet(design, part, place, len(levels), first + 1 + len(pegs) + place, of)
            for place, part in enumerate(levels)
        ),
    )


def to_5_mm(length: float) -> str:
    """A length or level as a tape or staff shows it."""
    return stepped(length, 0.005, "m")


def to_grid(coordinate: float) -> str:
    """An easting or northing to 10 mm, nothing below nothing."""
    return stepped(coordinate, 0.01, "m")


def _to_1_mm(length: float) -> str:
    """A level as a lip is set to it."""
    return f"{number_in(length, 'm'):,.3f}"


def _head(name: str) -> str:
    """A head with the reader's metre in it."""
    return unit_called(name) if name == "m" else name.replace(" m", f" {unit_called('m')}") if name == "at m" else name


def _slanted() -> str:
    """What a tape laid on a slope of 1 in 10 reads too long: near enough half the square of the slope."""
    return retold("[5 mm] a metre") if reads() is METRIC else "1/2 in in 8 ft"


def _told_to() -> str:
    if reads() is METRIC:
        return "Lips are told to 1 mm, everything else to 5 mm. A made lip is level across to 2 mm, wherever it stands."
    return (
        "Lips are told to 0.001 ft, everything else to 0.01 ft. A made lip is level across to 1/16 in, wherever it is."
    )


def _marks_sheet(design: Design, groundwork: Groundwork, setting_out: SettingOut, number: int, of: int) -> Sheet:
    job = design.job
    spots = [spot.at for peg in setting_out.pegs for spot in (peg.left.spot, peg.right.spot)]
    shown = np.array(
        [*spots, *(line.spot.at for line in setting_out.pit.pegs), *(mark.at for mark in setting_out.marks)]
    )
    corner, size = (LEFT, LOW), (PLAN_WIDE, TOP - LOW)
    window = window_over(shown, corner, size, margin=1.0, along=design.course.alignment.vertices)
    marks = ground_plan(
        design,
        groundwork,
        setting_out,
        window,
        named=landmarks(setting_out),
        also=_worst_tapes(setting_out),
        heaps=False,
        keep_off=kept_corners(LOW),
    )
    title = SheetTitle(
        title="Setting out: marks and pit", reader=READER, scale=f"1:{window.scale:g}", number=number, of=of
    )
    rule = np.array([(RIGHT - TITLE_WIDE, LOW + TITLE_HIGH), (RIGHT - TITLE_WIDE, TOP)])
    return Sheet(
        name="setting-out-marks",
        title=f"{job.title.name}: setting out, marks and pit",
        paper=A3_FLAT,
        views=(View(name="setting-out plan", window=window, marks=marks, world=True),),
        marks=(
            *frame(job, title),
            Polyline(points=rule, layer="frame", pen=pens.MEDIUM),
            *white_corners(LOW),
            *scale_bar((LEFT + 8, LOW + 6), window.scale),
            *north_point((LEFT + 14, TOP - 18), window.turn),
            *_marks_column(setting_out),
        ),
        description=f"Plan of {job.title.name} with the fixed marks, every peg and its string; tapes to the pit.",
    )


def _worst_tapes(setting_out: SettingOut) -> tuple[Mark, ...]:
    """The two tapes that meet worst, from their marks to their spot."""
    worst = worst_taped(setting_out)
    if worst is None:
        return ()
    _, spot, marks = worst
    ends = (np.array([mark.at, spot.at]) for mark in marks)
    return tuple(Polyline(points=line, layer="tape", pen=TAPE_PEN) for line in ends)


def _marks_column(setting_out: SettingOut) -> list[Mark]:
    left, room = RIGHT - TITLE_WIDE + 5, TITLE_WIDE - 10
    marks: list[Mark] = [heading((left, TOP - 8), "Fixed marks")]
    rows = [
        ("mark", *(headed(name, "m") for name in ("x", "y", "level"))),
        *(
            (
                mark.name,
                to_grid(mark.at[0]),
                to_grid(mark.at[1]),
                "–" if mark.level is None else f"{number_in(mark.level, 'm'):.3f}",
            )
            for mark in setting_out.marks
        ),
    ]
    drawn, down = table((left, TOP - 11), (65, 25, 25, 25), rows, height=HEIGHT, step=STEP, across=_right(4))
    marks += [*drawn, heading((left, down - 8), "The pit: corners, and pegs on its produced sides")]
    drawn, down = table((left, down - 11), PIT_WIDTHS, _pit_rows(setting_out), height=2.3, step=STEP, across=_right(7))
    marks += drawn
    drawn, down = notes((left, down - 7), _how(setting_out), room, HEIGHT)
    marks += drawn
    for finding in setting_out.findings:
        said = paragraph((left + 4.5, down - 1), str(finding), room - 4.5, 2.2)
        if said[-1].at[1] < LOW + TITLE_HIGH + 3:
            break
        marks += [*bullet((left + 1.2, down - 0.1), finding.severity), *said]
        down = said[-1].at[1] - 3.6
    return marks


def _right(columns: int) -> tuple[Across, ...]:
    right: Across = "right"
    return ("left", *[right] * (columns - 1))


def _pit_rows(setting_out: SettingOut) -> list[tuple[str, ...]]:
    pit = setting_out.pit
    return [
        ("", *(headed(name, "m") for name in ("x", "y", "level", "tape", "tape", "check"))),
        *(_pit_row(f"{corner.name} floor", corner.floor, pit.floor_level) for corner in pit.corners),
        *(_pit_row(f"{corner.name} top", corner.top, corner.top.ground) for corner in pit.corners),
        *(_pit_row(f"{line.name} nail", line.spot, pit.nail) for line in pit.pegs),
    ]


def _pit_row(name: str, spot: Spot, level: float) -> tuple[str, ...]:
    east, north, *tapes, _ = _spot_cells(spot)
    return (name, east, north, to_5_mm(level), *tapes)


def _tape(tape: Tape | None) -> str:
    return "–" if tape is None else f"{tape.mark} {to_5_mm(tape.length)}"


def _how(setting_out: SettingOut) -> tuple[str, ...]:
    pit = setting_out.pit
    square, nails = to_5_mm(pit.diagonals[0]), to_5_mm(pit.nail)
    lines = [
        TRACED,
        f"Pit is square when both diagonals read {square}; all its nails at {nails}, {metres(pit.below)} over the dig.",
        f"Tapes are held level, plumbed at the low end: laid on a slope of 1 in 10 a tape reads {_slanted()} long.",
        "Swing both tapes to their readings: the spot is where they meet, and the check then reads what is printed.",
    ]
    worst = worst_taped(setting_out)
    if worst is not None:
        name, spot, _ = worst
        degrees = 0.0 if spot.tapes is None else float(np.degrees(spot.tapes.angle))
        lines.append(f"Red: the two tapes that meet worst, at {degrees:.0f} degrees, peg {name}. Check that one twice.")
    return tuple(lines)


def _pegs_sheet(design: Design, pegs: tuple[Peg, ...], place: int, number: int, of: int) -> Sheet:
    job = design.job
    between = f"pegs {pegs[0].number} to {pegs[-1].number}" if len(pegs) > 1 else f"peg {pegs[0].number}"
    title = SheetTitle(title=f"Setting out: {between}", reader=READER, scale="no drawing", number=number, of=of)
    heads = (
        (*(_head(name) for name in PEG_HEADS[0]), "below nail,", "below nail,", "lip below", "to next,"),
        (*(_head(name) for name in PEG_HEADS[1]), "upstream", "downstream", headed("nail", "m"), headed("across", "m")),
    )
    rows = [*heads, *(row for peg in pegs for row in _peg_rows(peg))]
    drawn, down = table((LEFT + 5, TOP - 11), PEG_WIDTHS, rows, height=HEIGHT, step=STEP, across=PEG_ACROSS, heads=2)
    heavy = [
        Polyline(points=np.array([(LEFT + 5, y), (LEFT + 5 + sum(PEG_WIDTHS), y)]), layer="frame", pen=pens.MEDIUM)
        for y in TOP - 11 - STEP * (2 + 3 * np.arange(len(pegs) + 1))
    ]
    survey, dig, stone = (
        millimetres(each) for each in (job.tolerances.survey, job.tolerances.dig, job.tolerances.stone)
    )
    said, _ = notes(
        (LEFT + 5, min(down - 5, LOW + TITLE_HIGH - 5)),
        (
            TRACED,
            "Left is left looking downstream. L and R are pegs that stay; line is a spot on the course.",
            "Below nail: L and R give the lining's edge, line the dig level. Both nails of a peg are at one level.",
            f"Nails to {survey}, dig to {dig}, edges to {stone} either way; lips as listed with the levels.",
            (
                f"* these tapes meet flatter than {np.degrees(SHARPEST):.0f} degrees or are longer "
                f"than {with_unit(TAPE, 'm'):.0f}."
            ),
            "Last column: line row, straight to the next peg's spot; R row, from the left peg to the right one.",
        ),
        RIGHT - TITLE_WIDE - LEFT - 12,
        2.2,
    )
    return Sheet(
        name=f"setting-out-{place + 1}",
        title=f"{job.title.name}: setting out, {between}",
        paper=A3_FLAT,
        marks=(
            *frame(job, title),
            heading((LEFT + 5, TOP - 8), "Where every peg stands, what its nail says"),
            *drawn,
            *heavy,
            *said,
        ),
        description=f"Table of {between}: coordinates, tapes, nails, dig and edges below the nail.",
    )


def _peg_rows(peg: Peg) -> list[tuple[str, ...]]:
    """Left peg, spot on the line, right peg."""
    return [
        _side_row(peg, peg.left, "L", 0, ""),
        (
            f"{peg.number}",
            f"{number_in(peg.chainage, 'm'):.2f}",
            ", ".join(peg.places),
            "line",
            "0.00",
            *_spot_cells(peg.spot),
            "",
            "",
            *_pair([f"{number_in(dug.below, 'm'):.2f} dig" for dug in peg.dug]),
            "" if peg.lip_below is None else f"{number_in(peg.lip_below, 'm'):,.3f}",
            "" if peg.to_next is None else to_5_mm(peg.to_next),
        ),
        _side_row(peg, peg.right, "R", 1, to_5_mm(peg.across)),
    ]


def _pair(cells: list[str]) -> tuple[str, str]:
    return cells[0], cells[1] if len(cells) > 1 else ""


def _side_row(peg: Peg, side: SidePeg, letter: str, which: int, across: str) -> tuple[str, ...]:
    edges = [f"{to_5_mm(dug.edges_below[which])} edge" for dug in peg.dug]
    return (
        "",
        "",
        "",
        letter,
        f"{number_in(abs(side.offset), 'm'):.2f}",
        *_spot_cells(side.spot),
        to_5_mm(peg.nail),
        f"{number_in(side.out, 'm'):.2f}",
        *_pair(edges),
        "",
        across,
    )


def _spot_cells(spot: Spot) -> tuple[str, ...]:
    """East, north, two tapes, check and the angle; a star where the tapes meet badly."""
    at = (to_grid(spot.at[0]), to_grid(spot.at[1]))
    tapes = spot.tapes
    if tapes is None:
        return (*at, "–", "–", "–", "–")
    star = "" if tapes.good else " *"
    angle = f"{np.degrees(tapes.angle):.0f}{star}"
    return (*at, _tape(tapes.first), _tape(tapes.second), _tape(tapes.check), angle)


def _levels_sheet(
    design: Design, levels: tuple[LevelToSet, ...], place: int, pages: int, number: int, of: int
) -> Sheet:
    job = design.job
    part = f", part {place + 1} of {pages}" if pages > 1 else ""
    title = SheetTitle(title=f"Levels to set{part}", reader=READER, scale="no drawing", number=number, of=of)
    marks: list[Mark] = [heading((LEFT + 5, TOP - 8), "Every level, and how far off it may be")]
    widths = (33, 43, 19, 13, 17)
    for column in range(LEVEL_COLUMNS):
        shown = levels[column * LEVEL_ROWS : (column + 1) * LEVEL_ROWS]
        if shown:
            rows = [
                ("what", "where", headed("level", "m"), f"± {unit_called('mm')}", "below nail"),
                *map(_level_row, shown),
            ]
            drawn, _ = table(
                (LEFT + 5 + column * (sum(widths) + 3), TOP - 11),
                widths,
                rows,
                height=2.3,
                step=STEP,
                across=("left", "left", "right", "right", "right"),
            )
            marks += drawn
    said, _ = notes(
        (LEFT + 5, LOW + TITLE_HIGH - 8),
        (
            _told_to(),
            "Below nail: from the nails of the peg at that chainage. Where none is told, from the datum.",
        ),
        RIGHT - TITLE_WIDE - LEFT - 12,
        2.5,
    )
    return Sheet(
        name=f"levels-{place + 1}",
        title=f"{job.title.name}: levels to set{part}",
        paper=A3_FLAT,
        marks=(*frame(job, title), *marks, *said),
        description="Table of every level that is set, with its tolerance and its distance below the nail.",
    )


def told_level(row: LevelToSet) -> tuple[str, str]:
    """The level and how far it lies below the nail, as finely as it is set: the same on every sheet."""
    written = _to_1_mm if row.tolerance < 0.005 else to_5_mm
    return written(row.level), "" if row.below is None else written(row.below)


def _level_row(row: LevelToSet) -> tuple[str, ...]:
    level, below = told_level(row)
    return (row.what, row.where, level, f"{number_in(row.tolerance * 1000, 'mm'):,.0f}", below)
