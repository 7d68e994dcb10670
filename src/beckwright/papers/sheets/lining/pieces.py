"""Each piece of lining by itself: its rectangle square on the paper, and what is sprayed on it."""

import numpy as np

from beckwright.base.words import number_in, short_height, unit_called, with_unit
from beckwright.compose import Design
from beckwright.papers import pens
from beckwright.papers.drawing import (
    A3_FLAT,
    RED,
    Dimension,
    Mark,
    Millimetres,
    Polyline,
    Sheet,
    Text,
    View,
    Window,
    scale_to_fit,
    section_window,
)
from beckwright.papers.labels import Label, place
from beckwright.papers.sheets.lining.marks import (
    FlatFrame,
    across,
    face_words,
    label_at,
    lap_marks,
    letter_stamp,
    metre_ticks,
    middle_line,
    outline,
    piece_frame,
    piece_outline,
    pleat_marks,
    shown_chainages,
    slack_marks,
    strip_boxes,
    strip_middle,
)
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
    notes,
    scale_bar,
)
from beckwright.stages.lining import Lap, Lining, Piece, Slack
from beckwright.stages.lining.carry import told_mass

READER = "for the crew: spray before unrolling"
LOWEST = LOW + TITLE_HIGH + 4.0
CELL_HIGH = (TOP - LOWEST) / 2
MARGIN = 14.0
HEAD = 11.0
SPRAYED = (
    "Spray on the upper face: the letter, the arrow upstream, the middle line at both ends, the lips and the laps.",
    "Ends of the middle line are measured from the right-hand side of the sheet, looking downstream.",
    "Red hatch: lap. At the left end the sheet goes under the one upstream; at the right end over the one downstream.",
    "Black hatch: upright face, loose sheet. Wedges: dashed to fold, whole to cut out. Grey: covered.",
)


def piece_pages(lining: Lining) -> tuple[tuple[Piece, ...], ...]:
    """Pieces for one sheet each, the first laid first: four where that costs no scale, else two."""
    pieces = tuple(reversed(lining.pieces))
    small, large = (max(_scale(piece, wide) for piece in pieces) for wide in (_half(), RIGHT - LEFT))
    many = 4 if small == large and len(pieces) > 2 else 2
    return tuple(pieces[start : start + many] for start in range(0, len(pieces), many))


def piece_sheet(design: Design, lining: Lining, page: tuple[Piece, ...], place_of: int, number: int, of: int) -> Sheet:
    """One sheet of pieces."""
    job = design.job
    small = len(piece_pages(lining)[0]) > 2
    wide = _half() if small else RIGHT - LEFT
    scale = max(_scale(piece, wide) for piece in page)
    cells = [_cell(lining, piece, scale, _corner(spot, wide, small=small), wide) for spot, piece in enumerate(page)]
    letters = ", ".join(piece.letter for piece in page)
    title = SheetTitle(
        title=f"Lining: {'piece' if len(page) == 1 else 'pieces'} {letters}",
        reader=READER,
        scale=f"1:{scale:g}",
        number=number,
        of=of,
    )
    said, _ = notes((LEFT + 5.0, LOW + TITLE_HIGH - 6.0), SPRAYED, RIGHT - TITLE_WIDE - LEFT - 12.0, 2.2)
    rule = np.array([(LEFT, LOW + TITLE_HIGH), (RIGHT, LOW + TITLE_HIGH)])
    return Sheet(
        name=f"lining-pieces-{place_of + 1}",
        title=f"{job.title.name}: lining, pieces {letters}",
        paper=A3_FLAT,
        views=tuple(view for view, _ in cells),
        marks=(
            *frame(job, title),
            Polyline(points=rule, layer="frame", pen=pens.MEDIUM),
            *(mark for _, marks in cells for mark in marks),
            *scale_bar((RIGHT - TITLE_WIDE - 80.0, LOW + 3.0), scale),
            *said,
        ),
        description=f"Pieces {letters} of the lining, each drawn flat to scale with its laps, lips, pleats and sizes.",
    )


def _half() -> Millimetres:
    return (RIGHT - LEFT) / 2


def _scale(piece: Piece, wide: Millimetres) -> float:
    return scale_to_fit(piece.size, (wide - 2 * MARGIN - 6.0, CELL_HIGH - HEAD - 2 * MARGIN))


def _corner(spot: int, wide: Millimetres, *, small: bool) -> tuple[Millimetres, Millimetres]:
    column, row = (spot % 2, spot // 2) if small else (0, spot)
    return LEFT + column * wide, TOP - (row + 1) * CELL_HIGH


def _cell(
    lining: Lining, piece: Piece, scale: float, corner: tuple[Millimetres, Millimetres], wide: Millimetres
) -> tuple[View, tuple[Mark, ...]]:
    """The view of one piece, and its heading."""
    high = CELL_HIGH - HEAD
    (far, over), each = piece.size, scale / 1000.0
    window = section_window(
        corner=corner,
        size=(wide, high),
        scale=scale,
        left=float(far / 2 - wide * each / 2),
        low=float(over / 2 - high * each / 2),
    )
    view = View(name=f"piece {piece.letter}", window=window, marks=_piece_marks(lining, piece, window))
    roll = "by need" if piece.roll is None else f"roll {with_unit(piece.roll, 'm'):.2f}"
    strips = "" if piece.strips == 1 else f", {piece.strips} strips bonded side by side"
    said = f"{roll}{strips}; {shown_chainages(piece)} {unit_called('m')}; {told_mass(piece.mass)}"
    top = corner[1] + CELL_HIGH - 7.0
    head = heading(
        (corner[0] + 5.0, top),
        f"{piece.letter}  {number_in(piece.length, 'm'):.2f} x {with_unit(piece.width, 'm'):.2f}",
        4.0,
    )
    return view, (head, Text(at=(corner[0] + 62.0, top), words=said, height=2.2))


def _piece_marks(lining: Lining, piece: Piece, window: Window) -> tuple[Mark, ...]:
    strip, seen = lining.strip, piece_frame(piece)
    start, end = piece.start, piece.end
    marks: list[Mark] = [outline(strip, seen, start, end)]
    for slack in lining.slacks:
        if _holds(piece, slack):
            marks += slack_marks(strip, seen, slack)
    laps = _laps_of(lining, piece)
    for lap, _ in laps:
        marks += lap_marks(strip, seen, lap)
    marks += [
        *pleat_marks(lining, seen, start, end),
        middle_line(strip, seen, start, end),
        *metre_ticks(strip, seen, start, end, 1),
        *_seams(piece),
        piece_outline(piece, seen),
        letter_stamp(_free_spot(lining, seen, piece), piece.letter, 5.0),
        *_sizes(lining, piece, seen),
    ]
    off = [*strip_boxes(strip, seen, window, start, end), *_size_boxes(piece, window)]
    placed = place(_labels(lining, piece, seen, laps), window, pens.THIN, arrow="dot", keep_off=off)
    return (*marks, *placed.marks)


def _laps_of(lining: Lining, piece: Piece) -> list[tuple[Lap, str]]:
    """The laps at both ends of a piece, and what they say."""
    number = lining.pieces.index(piece)
    found = []
    if number > 0:
        found.append((lining.laps[number - 1], f"under {lining.pieces[number - 1].letter}"))
    if number < len(lining.laps):
        found.append((lining.laps[number], f"over {lining.pieces[number + 1].letter}"))
    return found


def _seams(piece: Piece) -> list[Mark]:
    """Seams between strips of one piece."""
    far, over = piece.size
    step = over / piece.strips
    return [
        Polyline(points=np.array([(0.0, step * n), (far, step * n)]), layer="seams", pen=pens.SHORT)
        for n in range(1, piece.strips)
    ]


def _free_spot(lining: Lining, seen: FlatFrame, piece: Piece) -> tuple[float, float]:
    """A quarter across, near the middle and as clear of faces and laps as it gets."""
    kept = np.array([piece.start, piece.end, *(slack.along - slack.face / 2 for slack in lining.slacks)])
    places = piece.start + (piece.end - piece.start) * np.linspace(0.3, 0.7, 9)
    clear = np.minimum(np.abs(places[:, None] - kept).min(axis=1), 1.5)
    ends = across(lining.strip, seen, float(places[np.argmax(clear)]))
    at = ends.mean(axis=0) + (ends[1] - ends[0]) * 0.27
    return float(at[0]), float(at[1])


def _sizes(lining: Lining, piece: Piece, seen: FlatFrame) -> tuple[Mark, ...]:
    """The sheet's two sizes, and where the middle line comes in and goes out over its right-hand side."""
    far, over = piece.size
    ends = [strip_middle(lining.strip, seen, at)[0] for at in (piece.start, piece.end)]
    in_at, out_at = (float(each[1]) for each in ends)
    return (
        Dimension(start=(0.0, 0.0), end=(far, 0.0), offset=-6.0, words=f"{number_in(far, 'm'):.2f}", pen=pens.THIN),
        Dimension(start=(0.0, 0.0), end=(0.0, over), offset=10.0, words=f"{number_in(over, 'm'):.2f}", pen=pens.THIN),
        Dimension(
            start=(0.0, 0.0),
            end=(0.0, in_at),
            offset=4.5,
            words=f"{number_in(in_at, 'm'):.2f}",
            pen=pens.THIN,
            height=1.8,
        ),
        Dimension(
            start=(far, 0.0),
            end=(far, out_at),
            offset=-4.5,
            words=f"{number_in(out_at, 'm'):.2f}",
            pen=pens.THIN,
            height=1.8,
        ),
    )


def _size_boxes(piece: Piece, window: Window) -> list[tuple[float, float, float, float]]:
    far, over = piece.size
    (left, low), (right, high) = window.on_paper(np.array([(0.0, 0.0), (far, over)])).tolist()
    return [(left - 13.0, low, left, high), (left, low - 9.0, right, low), (right, low, right + 7.0, high)]


def _labels(lining: Lining, piece: Piece, seen: FlatFrame, laps: list[tuple[Lap, str]]) -> list[Label]:
    strip = lining.strip
    labels: list[Label] = []
    for lap, words in laps:
        how = "bond" if lap.bonded else "loose"
        where = across(strip, seen, lap.start if words.startswith("under") else lap.end)[:1]
        labels.append(label_at(where, f"{short_height(lap.end - lap.start)} {words}, {how}", colour=RED, priority=2))
    faces = (each for each in lining.slacks if _holds(piece, each))
    labels += [label_at(across(strip, seen, each.along)[:1], face_words(each), priority=1) for each in faces]
    return labels


def _holds(piece: Piece, slack: Slack) -> bool:
    """Whether an upright face lies wholly on a piece."""
    return piece.start <= slack.along - slack.face - slack.slack and slack.along <= piece.end
