"""The first sheet of a whole set: what is in it, for whom, what has changed, where the plans of a long course lie."""

from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby
from typing import NamedTuple

import numpy as np

from beckwright.base.values import value
from beckwright.compose import Design
from beckwright.papers import fonts, pens
from beckwright.papers.drawing import (
    A3_FLAT,
    BLACK,
    Across,
    Circle,
    Mark,
    Point,
    Polyline,
    Sheet,
    Text,
    View,
    Window,
    plan_window,
    rectangle,
    scale_to_fit,
)
from beckwright.papers.labels import paragraph
from beckwright.papers.readers import READERS, WHOLE
from beckwright.papers.sheets.overview.plan import plan_windows
from beckwright.papers.sheets.shared.frame import (
    LEFT,
    LOW,
    RIGHT,
    TITLE_HIGH,
    TOP,
    SheetTitle,
    frame,
    heading,
    north_point,
    scale_bar,
)
from beckwright.papers.sheets.shared.table import table

NAMED = tuple(reader for reader in READERS if reader is not WHOLE)
NUMBER, TITLE, SCALE, DOT = 8.0, 57.0, 15.0, 4.2
WIDE = NUMBER + TITLE + SCALE + DOT * len(NAMED)
STEP, HEIGHT = 3.7, 1.8
HEADS = 22.0
"""Room for the readers' names, which stand upright over their columns."""
TOP_ROW = TOP - 12.0
ROWS = int((TOP_ROW - HEADS - LOW - 3.0) / STEP)
COLUMNS = 2
BESIDE = LEFT + 4.0 + COLUMNS * (WIDE + 5.0)
ROOM = RIGHT - 4.0 - BESIDE
KEY_HIGH = 70.0
LEAST_ROW = 4.4
QR_WIDE = 24.0


@value
class Change:
    """One revision of the job, as the index tells it.

    revision  what it is called
    date      of it
    what      what changed since the one before, in words
    """

    revision: str
    date: str
    what: str


def index_count(sheets: int) -> int:
    """How many sheets the index of so many others takes."""
    return max(1, -(-sheets // (ROWS * COLUMNS - 1)))


def index_sheets(
    design: Design, sheets: Sequence[Sheet], *, changes: Iterable[Change] = (), address: str | None = None
) -> tuple[Sheet, ...]:
    """The index of the ``sheets`` of a whole set, in their order.

    changes  newest first; nothing but the revision that stands where nobody knows of any
    address  of the page the job is served at just now: drawn as a QR code
    """
    count = index_count(len(sheets))
    of, titles = count + len(sheets), _title_rows(design, sheets, count)
    pages = [titles[row : row + ROWS * COLUMNS] for row in range(0, len(titles), ROWS * COLUMNS)]
    return tuple(
        Sheet(
            name="index" if count == 1 else f"index-{number}",
            title=f"{design.job.title.name}: index" + ("" if count == 1 else f", part {number} of {count}"),
            paper=A3_FLAT,
            views=_key_plan(design, sheets, count) if number == 1 else (),
            marks=(
                *frame(
                    design.job,
                    SheetTitle(
                        title="Index",
                        reader="for everyone: what the set holds",
                        scale="no drawing",
                        number=number,
                        of=of,
                    ),
                ),
                *_lists(page),
                *(_first(design, sheets, tuple(changes), address) if number == 1 else ()),
            ),
            description="Index of the set: number, title, scale and readers of each sheet; revisions.",
        )
        for number, page in enumerate(pages, 1)
    )


class Row(NamedTuple):
    """One sheet in the list; ``read`` reader by reader."""

    number: str
    title: str
    scale: str
    read: tuple[bool, ...]


def _title_rows(design: Design, sheets: Sequence[Sheet], count: int) -> list[Row]:
    """Number, title and scale of every sheet, and who reads it; the index itself is everybody's."""
    rows = [Row(str(number), "index", "-", tuple(True for _ in NAMED)) for number in range(1, count + 1)]
    for number, sheet in enumerate(sheets, count + 1):
        title = sheet.title.removeprefix(f"{design.job.title.name}: ")
        read = tuple(reader.key in sheet.readers for reader in NAMED)
        rows.append(Row(str(number), title, scales_of(sheet), read))
    return rows


def scales_of(sheet: Sheet) -> str:
    """The scales a sheet's views are drawn at; a dash where nothing is in scale, or stretched to fit the paper."""
    both = {each for view in sheet.views for each in (view.window.scale, view.window.scale_up)}
    scales = sorted(scale for scale in both if scale == round(scale))
    if not scales:
        return "-"
    if len(scales) > 3:
        return f"1:{scales[0]:g} to {scales[-1]:g}"
    return f"1:{', '.join(f'{scale:g}' for scale in scales)}"


def _lists(rows: Sequence[Row]) -> Iterator[Mark]:
    across: tuple[Across, ...] = ("right", "left", "left", "left")
    for column in range(COLUMNS):
        part = rows[column * ROWS : (column + 1) * ROWS]
        if not part:
            continue
        left = LEFT + 4.0 + column * (WIDE + 5.0)
        yield from _heads(left)
        words = [(*row[:3], "") for row in part]
        widths = (NUMBER, TITLE, SCALE, DOT * len(NAMED))
        yield from table((left, TOP_ROW - HEADS), widths, words, height=HEIGHT, step=STEP, across=across, heads=0)[0]
        for down, row in enumerate(part):
            for number, read in enumerate(row.read):
                if read:
                    at = (_column(left, number), TOP_ROW - HEADS - (down + 0.5) * STEP)
                    yield Circle(at=at, radius=0.8, layer="text", fill=BLACK)


def _column(left: float, number: int) -> float:
    """Middle of a reader's column."""
    return left + NUMBER + TITLE + SCALE + (number + 0.5) * DOT


def _heads(left: float) -> Iterator[Mark]:
    foot = TOP_ROW - HEADS + 1.2
    for x, words in ((left + 1.0, "sheet"), (left + NUMBER + 3.0, "title"), (left + NUMBER + TITLE + 1.0, "scale")):
        yield Text(at=(x, foot), words=words, height=HEIGHT, weight=600)
    for number, reader in enumerate(NAMED):
        yield Text(
            at=(_column(left, number) + 0.9, foot),
            words=reader.name,
            height=HEIGHT,
            weight=600,
            narrow=fonts.width(reader.name, HEIGHT, weight=600) > HEADS - 1.0,
            turn=float(np.pi / 2),
        )


def _first(design: Design, sheets: Sequence[Sheet], changes: tuple[Change, ...], address: str | None) -> Iterator[Mark]:
    name = design.job.title.name
    yield heading((LEFT + 4.0, TOP - 8.0), f"{name}: the whole set of {len(sheets)} sheets after this index")
    foot = LOW + TITLE_HIGH + 6.0
    if len(plan_windows(design)) > 1:
        window = _key_window(design)
        yield heading((BESIDE, foot + KEY_HIGH + 3.0), f"Key plan, 1:{window.scale:g}")
        yield from scale_bar((BESIDE + 3.0, foot + 2.0), window.scale)
        yield from north_point((RIGHT - 12.0, foot + KEY_HIGH - 12.0), window.turn)
        foot += KEY_HIGH + 8.0
    if address is not None:
        yield from _code(address, (RIGHT - 4.0 - QR_WIDE, foot))
        yield from paragraph(
            (BESIDE, foot + 14.0), f"The job's page, while it is served: {address}", ROOM - QR_WIDE - 4.0, 2.0
        )
        foot += QR_WIDE + 4.0
    yield from _revisions(design, changes, foot)


def _revisions(design: Design, changes: tuple[Change, ...], foot: float) -> Iterator[Mark]:
    """Revisions, newest first, as many as there is room for; how many were left out is said."""
    title = design.job.title
    told = changes or (Change(revision=title.revision, date=title.date, what="what changed has not been told"),)
    yield heading((BESIDE, TOP - 8.0), "Revisions")
    down = TOP_ROW
    columns = (BESIDE + 1.0, BESIDE + 24.0, BESIDE + 44.0)
    for x, words in zip(columns, ("revision", "date", "what changed since the one before"), strict=True):
        yield Text(at=(x, down - 3.0), words=words, height=HEIGHT, weight=600)
    down -= LEAST_ROW
    for number, change in enumerate(told):
        said = paragraph((columns[2], down - 3.0), change.what, RIGHT - 5.0 - columns[2], HEIGHT)
        name = paragraph((columns[0], down - 3.0), change.revision, 22.0, HEIGHT, weight=600)
        high = LEAST_ROW + max(0.0, down - 3.0 - min(rows[-1].at[1] for rows in (said, name) if rows))
        if down - high < foot + LEAST_ROW:
            yield Text(at=(columns[0], down - 3.0), words=f"and {len(told) - number} earlier", height=HEIGHT)
            return
        yield _rule(down)
        yield from (*name, Text(at=(columns[1], down - 3.0), words=change.date, height=HEIGHT), *said)
        down -= high
    yield _rule(down)


def _rule(down: float) -> Mark:
    return Polyline(points=np.array([(BESIDE, down), (RIGHT - 4.0, down)]), layer="frame", pen=pens.THIN)


def _key_plan(design: Design, sheets: Sequence[Sheet], count: int) -> tuple[View, ...]:
    """Where the plans of a long course lie: the windows of the plan sheets over the course."""
    windows = plan_windows(design)
    if len(windows) < 2:
        return ()
    window = _key_window(design)
    numbers = [number for number, sheet in enumerate(sheets, count + 1) if any(v.name == "plan" for v in sheet.views)]
    marks: list[Mark] = [
        Polyline(points=design.course.stations.points, layer="course line", pen=pens.HEAVY),
        *(
            Polyline(points=each.on_site(each.outline()), layer="match line", pen=pens.BOUNDARY, closed=True)
            for each in windows
        ),
    ]
    names = (
        Text(
            at=(float(x), float(y)),
            words=f"sheet {number}",
            height=2.5,
            weight=600,
            across="middle",
            offset=(0.0, 1.5),
        )
        for number, each in zip(numbers, windows, strict=False)
        for x, y in [each.on_site(each.outline()[2:].mean(axis=0)[None])[0].tolist()]
    )
    return (View(name="key plan", window=window, marks=(*marks, *names), world=True),)


def _key_window(design: Design) -> Window:
    windows = plan_windows(design)
    turn = windows[0].turn
    cosine, sine = np.cos(turn), np.sin(turn)
    rotation = np.array([(cosine, sine), (-sine, cosine)])
    turned = np.vstack([each.on_site(each.outline()) for each in windows]) @ rotation
    low, high = turned.min(axis=0), turned.max(axis=0)
    size = (ROOM, KEY_HIGH)
    scale = scale_to_fit((float(high[0] - low[0]), float(high[1] - low[1])), (size[0] - 4.0, size[1] - 14.0))
    middle = (low + high) / 2 @ rotation.T
    at = (float(middle[0]), float(middle[1]))
    return plan_window(corner=(BESIDE, LOW + TITLE_HIGH + 4.0), size=size, scale=scale, middle=at, turn=turn)


def _code(address: str, corner: Point) -> Iterator[Mark]:
    """A QR code (ISO/IEC 18004) as black rectangles; the paper around it is its quiet zone."""
    import segno

    rows = [[bool(cell) for cell in row] for row in segno.make(address, micro=False, error="m").matrix]
    cell = QR_WIDE / len(rows)
    for down, row in enumerate(rows):
        at = 0
        for dark, same in groupby(row):
            wide = len(list(same))
            if dark:
                low = (corner[0] + at * cell, corner[1] + QR_WIDE - (down + 1) * cell)
                yield Polyline(points=rectangle(low, (wide * cell, cell)), layer="code", closed=True, fill=BLACK)
            at += wide
