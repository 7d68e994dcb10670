"""The lining cutting plan: where every piece lies, how it comes off the roll, and then each piece by itself."""

import numpy as np

from beckwright.base.findings import Finding
from beckwright.base.words import band, headed, metres, number_in, unit_called, with_unit
from beckwright.compose import Design
from beckwright.papers import pens
from beckwright.papers.drawing import (
    A3_FLAT,
    RED,
    Across,
    Mark,
    Polyline,
    Sheet,
    View,
    Window,
    scale_to_fit,
    section_window,
)
from beckwright.papers.labels import Label, paragraph, place
from beckwright.papers.sheets.lining.marks import (
    FlatFrame,
    across,
    edge_boxes,
    face_words,
    label_at,
    lap_marks,
    lap_words,
    letter_stamp,
    metre_ticks,
    middle_line,
    outline,
    piece_outline,
    shown_chainages,
    slack_marks,
    strip_boxes,
    strip_middle,
    whole_frame,
)
from beckwright.papers.sheets.lining.pieces import piece_pages, piece_sheet
from beckwright.papers.sheets.lining.rolls import pit_marks, roll_marks
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
    notes,
    scale_bar,
)
from beckwright.papers.sheets.shared.table import table
from beckwright.stages.findings.lining import lining_findings
from beckwright.stages.lining import Lining, Piece
from beckwright.stages.lining.carry import told_mass

READER = "for the crew: one cut, one lift, one letter"
KEY_HIGH = 92.0
COLUMN = RIGHT - TITLE_WIDE
TABLE_WIDTHS = (10.0, 31.0, 17.0, 27.0, 14.0, 20.0, 26.0)
TABLE_ACROSS: tuple[Across, ...] = ("left", "right", "right", "right", "right", "left", "left")
CAUTIONS = (
    "Cut nothing before the dig is checked against the dig sheets: lengths follow the levels.",
    "Lay from the lower end up, A first; every upper sheet over the lower one. No lap in a pool or below a fall.",
    "Sheet warm and slack, bedded by hand into every corner; never taut over a hollow. No shoes on it.",
    "Pleats straight up the bank, flap downstream. Corners of pools and box are folded in, never cut.",
    "Spare width and edge stay on until the water has run for a day; then trim, upright and dry at the edge.",
    "Fleece over the lining ends below its edge: over the edge it draws the water out.",
)


def lining_count(lining: Lining) -> int:
    """How many lining sheets there are: the plan, and the pieces."""
    return 1 + len(piece_pages(lining))


def lining_sheets(design: Design, lining: Lining, first: int, of: int) -> tuple[Sheet, ...]:
    """All lining sheets, numbered from ``first``."""
    pages = piece_pages(lining)
    return (
        _plan_sheet(design, lining, first, of),
        *(piece_sheet(design, lining, page, place, first + 1 + place, of) for place, page in enumerate(pages)),
    )


def _plan_sheet(design: Design, lining: Lining, number: int, of: int) -> Sheet:
    job = design.job
    key, window = _key_plan(lining)
    title = SheetTitle(title="Lining cutting plan", reader=READER, scale=f"1:{window.scale:g}", number=number, of=of)
    below = TOP - 16.0 - KEY_HIGH
    rule = np.array([(LEFT, below), (RIGHT, below)])
    column = np.array([(COLUMN - 5.0, below), (COLUMN - 5.0, LOW + TITLE_HIGH), (COLUMN, LOW + TITLE_HIGH)])
    return Sheet(
        name="lining-plan",
        title=f"{job.title.name}: lining cutting plan",
        paper=A3_FLAT,
        views=(View(name="course laid flat", window=window, marks=key),),
        marks=(
            *frame(job, title),
            heading((LEFT + 5, TOP - 8), "The course laid flat, the pieces over it. Water runs to the right."),
            *scale_bar((RIGHT - 80, TOP - 9), window.scale),
            Polyline(points=rule, layer="frame", pen=pens.MEDIUM),
            Polyline(points=column, layer="frame", pen=pens.MEDIUM),
            *_left_side(design, lining, below),
            *_right_side(design, lining, below),
        ),
        description=f"The course of {job.title.name} laid flat, the pieces of lining over it, the rolls they are cut "
        "from, the reservoir's sheet, a table of pieces and what to order.",
    )


def _key_plan(lining: Lining) -> tuple[tuple[Mark, ...], Window]:
    strip, seen = lining.strip, whole_frame(lining.strip)
    corners = np.concatenate(
        [seen.seen(np.concatenate([strip.left, strip.right]))] + [seen.seen(piece.corners()) for piece in lining.pieces]
    )
    low, high = corners.min(axis=0), corners.max(axis=0)
    corner, size = (LEFT, TOP - 12.0 - KEY_HIGH), (RIGHT - LEFT, KEY_HIGH)
    scale = scale_to_fit((float(high[0] - low[0]), float(high[1] - low[1])), (size[0] - 24.0, size[1] - 26.0))
    room = np.array(size) * scale / 1000.0
    left, bottom = (low + high) / 2 - room / 2
    window = section_window(corner=corner, size=size, scale=scale, left=float(left), low=float(bottom))
    marks: list[Mark] = [outline(strip, seen, 0.0, strip.length)]
    for slack in lining.slacks:
        marks += slack_marks(strip, seen, slack)
    for lap in lining.laps:
        marks += lap_marks(strip, seen, lap)
    marks += [
        middle_line(strip, seen, 0.0, strip.length),
        *metre_ticks(strip, seen, 0.0, strip.length, 2 if scale <= 100 else 5),
        *(piece_outline(piece, seen) for piece in lining.pieces),
        *(letter_stamp(_letter_place(lining, seen, piece), piece.letter, 3.5) for piece in lining.pieces),
    ]
    off = [
        *strip_boxes(strip, seen, window, 0.0, strip.length),
        *(box for piece in lining.pieces for box in edge_boxes(piece, seen, window)),
    ]
    placed = place(_key_labels(lining, seen), window, pens.THIN, arrow="dot", keep_off=off)
    return (*marks, *placed.marks), window


def _letter_place(lining: Lining, seen: FlatFrame, piece: Piece) -> tuple[float, float]:
    """In the middle of the piece, aside of the middle line."""
    ends = across(lining.strip, seen, (piece.start + piece.end) / 2)
    at = ends.mean(axis=0) + (ends[1] - ends[0]) * 0.26
    return float(at[0]), float(at[1])


def _key_labels(lining: Lining, seen: FlatFrame) -> list[Label]:
    strip = lining.strip
    laps = [
        label_at(across(strip, seen, lap.end)[1:], lap_words(number, lap), colour=RED, priority=2)
        for number, lap in enumerate(lining.laps, 1)
    ]
    faces = [label_at(across(strip, seen, slack.along)[:1], face_words(slack), priority=1) for slack in lining.slacks]
    ends = [
        label_at(strip_middle(strip, seen, 0.0), "behind the outlet box"),
        label_at(strip_middle(strip, seen, strip.length), "over the reservoir's sheet"),
    ]
    return [*laps, *faces, *ends]


def _left_side(design: Design, lining: Lining, top: float) -> tuple[Mark, ...]:
    left, room = LEFT + 5.0, COLUMN - LEFT - 15.0
    rolls, down = roll_marks(lining, (left, top - 7.0), room)
    pit = pit_marks(design, lining, (left, down - 7.0), (room * 0.42, down - LOW - 14.0))
    said, _ = notes((left + room * 0.46, down - 13.0), CAUTIONS, room * 0.54, 2.2)
    cautions = heading((left + room * 0.46, down - 7.0), "Laying")
    return (*rolls, *pit, cautions, *said)


def _right_side(design: Design, lining: Lining, top: float) -> tuple[Mark, ...]:
    left = COLUMN
    marks: list[Mark] = [heading((left, top - 7.0), "Pieces in the order of laying")]
    rows = [
        ("", *(headed(name, "m") for name in ("cut", "roll", "from to")), unit_called("kg"), "people", "lies"),
        *map(_row, reversed(lining.pieces)),
    ]
    room = top - 10.0 - (LOW + TITLE_HIGH + 46.0)
    step = min(5.0, room / len(rows))
    drawn, down = table(
        (left, top - 9.5), TABLE_WIDTHS, rows, height=min(2.3, step * 0.5), step=step, across=TABLE_ACROSS
    )
    marks += [*drawn, heading((left, down - 6.0), "To order")]
    drawn, down = table(
        (left, down - 8.0),
        (62.0, 83.0),
        _order(design, lining),
        height=2.0,
        step=4.4,
        heads=0,
        across=("left", "right"),
    )
    lowest = LOW + TITLE_HIGH + 2.0
    said = [text for text in paragraph((left, down - 4.0), _beside(lining), 145.0, 1.9) if text.at[1] > lowest]
    low = min([text.at[1] for text in said], default=down)
    return (*marks, *drawn, *said, *_told(lining_findings(design.job, lining), (left, low - 5.0), 145.0, lowest))


def _row(piece: Piece) -> tuple[str, ...]:
    roll = "by need" if piece.roll is None else f"{piece.strips} x {number_in(piece.roll, 'm'):.2f}"
    return (
        piece.letter,
        f"{number_in(piece.length, 'm'):.2f} x {number_in(piece.width, 'm'):.2f}",
        roll,
        shown_chainages(piece),
        told_mass(piece.mass).removesuffix(f" {unit_called('kg')}"),
        people_words(piece.people),
        "along" if piece.along else "across",
    )


def people_words(people: tuple[int | None, int | None]) -> str:
    """How many carry it by the filter values: strong carriers, and any."""
    few, many = people
    if few is None:
        return "trolley"
    if many is None:
        return f"{few}, or trolley"
    return f"{few}" if few == many else f"{few} to {many}"


def _order(design: Design, lining: Lining) -> list[tuple[str, str]]:
    rows = []
    thick = f"{with_unit(design.job.layers.lining * 1000, 'mm'):g}"
    for roll in lining.rolls:
        count = f", {len(roll.cuts)} rolls" if len(roll.cuts) > 1 else ""
        rows.append(
            (
                f"lining {thick}, roll {with_unit(roll.width, 'm'):.2f}",
                f"{with_unit(roll.length, 'm'):.2f}{count}, {with_unit(roll.length * roll.width, 'm²'):.0f}",
            )
        )
    if not lining.rolls:
        piece, pit = lining.pieces[0], lining.pit
        rows.append(
            (
                f"lining {thick}, course",
                f"{number_in(piece.length, 'm'):.2f} x {with_unit(piece.width, 'm'):.2f} in one",
            )
        )
        rows.append(
            (f"lining {thick}, reservoir", f"{number_in(pit.along, 'm'):.2f} x {with_unit(pit.across, 'm'):.2f} in one")
        )
    for layer in lining.fleece:
        widths = "; ".join(
            f"{with_unit(length, 'm'):.0f} of {number_in(width, 'm'):.1f}" for width, length in layer.lengths
        )
        rows.append(
            (f"fleece {layer.where}", f"{band(layer.lies_on, layer.area, 1, 'm²')}{f': {widths}' if widths else ''}")
        )
    if lining.seam > 0:
        rows.append(("bonded seam: tape, primer, cover strip", metres(lining.seam)))
    left = [cut.left * roll.width for roll in lining.rolls for cut in roll.cuts if cut.left > 0]
    if left:
        rows.append(("off-cuts, kept for patches", f"{with_unit(sum(left), 'm²'):.1f}"))
    return rows


def _beside(lining: Lining) -> str:
    """The plan beside other ways, in one breath."""
    other, thumb = lining.compared, lining.compared.thumb
    lies = (
        f"it is {with_unit(lining.strip.surface, 'm²'):.0f} where it lies, and no plan takes less than "
        f"{with_unit(other.bound, 'm²'):.0f}."
    )
    said = [f"{with_unit(other.bought, 'm²'):.0f} over the course; {lies}"]
    if other.single is not None and len(lining.pieces) > 1:
        saved = other.single - other.counted
        said.append(
            f"One sheet from these rolls: {with_unit(other.single, 'm²'):.0f}; this plan saves "
            f"{with_unit(saved, 'm²'):.0f}, seams counted."
        )
    if other.rolled_pleats > 0.05:
        size = f"{number_in(other.rolled[0], 'm'):.1f} x {with_unit(other.rolled[1], 'm'):.2f}"
        said.append(f"Led round every bend: {size}, and {with_unit(other.rolled_pleats, 'm'):.1f} of pleats.")
    short = max(lining.strip.length - thumb[0], 0.0)
    said.append(
        f"Rule of thumb: {number_in(thumb[0], 'm'):.1f} x {with_unit(thumb[1], 'm'):.2f}, too short "
        f"by {with_unit(short, 'm'):.1f}; it knows no bends."
    )
    return " ".join(said)


def _told(findings: tuple[Finding, ...], at: tuple[float, float], room: float, low: float) -> list[Mark]:
    """Findings on the lining, the heaviest first, as many as there is room for."""
    marks: list[Mark] = []
    down = at[1]
    for finding in sorted(findings, key=lambda each: -each.severity):
        said = paragraph((at[0] + 4.5, down), str(finding), room - 4.5, 1.9)
        if said[-1].at[1] < low:
            break
        marks += [*bullet((at[0] + 1.2, down + 0.9), finding.severity), *said]
        down = said[-1].at[1] - 4.0
    return marks
