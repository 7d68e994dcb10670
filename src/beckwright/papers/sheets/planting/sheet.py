"""The planting plan: pockets with letters, plants with numbers, the list that nursery and planting crew work from."""

from collections.abc import Iterator
from itertools import islice

import numpy as np

from beckwright.base.quantities import FloatArray
from beckwright.base.values import value
from beckwright.base.words import chainages, millimetres, number_in, retold, share, unit_called, with_unit
from beckwright.compose import Design
from beckwright.papers import fonts, pens
from beckwright.papers.drawing import (
    A3_FLAT,
    Circle,
    Mark,
    Pen,
    Point,
    Polyline,
    Sheet,
    Text,
    View,
    Window,
    plan_window,
)
from beckwright.papers.sheets.planting.plan import (
    LINING_EDGE,
    POCKET,
    POCKET_OUTSIDE,
    SPREAD,
    planting_marks,
    turned_extent,
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
    north_point,
    notes,
    scale_bar,
)
from beckwright.papers.sheets.shared.table import cell
from beckwright.stages.planting import PlacedPocket, Planted, Planting
from beckwright.tables.planting import UNDER_EDGE

PLAN_TALL = 166.0
"""Height of the plan at the top of the sheet, mm."""
STEP = 3.7
"""Height of a row of the list, mm."""
OVERLAP = 1.0
"""Ground that neighbouring sheets share, m."""
MARGIN = 0.8

COLUMNS = (7.0, 9.0, 64.0, 54.0, 14.0, 18.0, 18.0, 44.0)
HEADS = ("", "no.", "plant", "English", "order", "apart, mm", "height, mm", "J F M A M J J A S O N D")
_BAR = 42.0
"""Twelve months of a bar, mm."""

CAUTIONS = (
    "Positions are a pattern to plant to; the list tells how many. Circles are the spread of grown plants.",
    "Facts of plants are from memory where the design does not say otherwise: have the nursery confirm them.",
    "Dig near the lining by hand with a trowel, never with a fork, and never through the fleece.",
    (
        f"Soil and fleece end [{UNDER_EDGE.amount * 1000:.0f} mm] under the lining's edge, dry "
        "stones behind: else it wicks."
    ),
    "Wear gloves; wash hands after planting. Some plants here may harm people or animals: see the marks.",
    "Invasive plants: take none from a pond or the wild; nothing from these pockets goes into a stream or a ditch.",
)


@value
class Row:
    """One row of the list: a plant of a pocket, its number on the plan."""

    placed: PlacedPocket
    planted: Planted
    number: int
    first: bool


def planting_sheets(design: Design, planting: Planting, first: int, of: int) -> tuple[Sheet, ...]:
    """The planting plan on A3 with its list; none without pockets."""
    pages = _pages(design, planting)
    return tuple(
        _sheet(
            design, planting, page, f", part {place + 1} of {len(pages)}" if len(pages) > 1 else "", first + place, of
        )
        for place, page in enumerate(pages)
    )


def planting_pages(design: Design, planting: Planting) -> int:
    """How many sheets the planting plan takes."""
    return len(_pages(design, planting))


@value
class _Page:
    window: Window
    rows: tuple[Row, ...]


def numbers_of(planting: Planting) -> dict[str, int]:
    """Number of every plant on the plan, by its name, in the order of the list."""
    return {order.named.name: place for place, order in enumerate(planting.orders, 1)}


def _pages(design: Design, planting: Planting) -> tuple[_Page, ...]:
    """A page a window, and more of the same window where its list is too long for one."""
    if not planting.pockets:
        return ()
    windows = _windows(design, planting)
    pages: list[_Page] = []
    room = int((TOP - PLAN_TALL - LOW - 20.0) / STEP)
    left = list(planting.pockets)
    for window in windows:
        mine = [placed for placed in left if _seen(window, placed) or window is windows[-1]]
        left = [placed for placed in left if placed not in mine]
        rows = iter(list(_rows(planting, mine)))
        while part := tuple(islice(rows, room)):
            pages.append(_Page(window=window, rows=part))
    return tuple(pages)


def _rows(planting: Planting, pockets: list[PlacedPocket]) -> Iterator[Row]:
    numbers = numbers_of(planting)
    for placed in pockets:
        for place, planted in enumerate(placed.plants):
            yield Row(placed=placed, planted=planted, number=numbers[planted.named.name], first=place == 0)


def _seen(window: Window, placed: PlacedPocket) -> bool:
    middle = window.on_paper(placed.outline).mean(axis=0)
    low, size = np.array(window.corner), np.array(window.size)
    return bool(((middle >= low) & (middle <= low + size)).all())


def _windows(design: Design, planting: Planting) -> tuple[Window, ...]:
    """Windows side by side over the pockets and the stream between them, as large as up to four sheets allow."""
    low, high, turn, rotation = turned_extent(design, planting, MARGIN)
    room = np.array((RIGHT - LEFT, PLAN_TALL))
    scale, count = _scale_and_sheets(high - low, room)
    wide = room[0] * scale / 1000
    first = (low[0] + high[0]) / 2 - (count - 1) * (wide - OVERLAP) / 2
    middles = [
        np.array([first + place * (wide - OVERLAP), (low[1] + high[1]) / 2]) @ rotation.T for place in range(count)
    ]
    return tuple(
        plan_window(
            corner=(LEFT, TOP - PLAN_TALL),
            size=(RIGHT - LEFT, PLAN_TALL),
            scale=scale,
            middle=(float(east), float(north)),
            turn=turn,
        )
        for east, north in middles
    )


def _scale_and_sheets(extent: FloatArray, room: FloatArray) -> tuple[float, int]:
    for scale, most in ((20.0, 1), (50.0, 2), (100.0, 3), (200.0, 4), (500.0, 8)):
        wide, tall = room * scale / 1000
        count = max(1, int(np.ceil((extent[0] - OVERLAP) / (wide - OVERLAP) - 1e-9)))
        if extent[1] <= tall and count <= most:
            return scale, count
    return float(np.ceil((extent / room).max() * 1000)), 1


def _sheet(design: Design, planting: Planting, page: _Page, part: str, number: int, of: int) -> Sheet:
    window = page.window
    title = SheetTitle(
        title="Planting plan",
        reader=f"for the planting crew and the nursery{part}",
        scale=f"1:{window.scale:g}",
        number=number,
        of=of,
    )
    name = design.job.title.name
    return Sheet(
        name="planting" if not part else f"planting-{part.split()[2]}",
        title=f"{name}: planting plan{part}",
        paper=A3_FLAT,
        views=(
            View(
                name="planting",
                window=window,
                marks=planting_marks(design, planting, window, numbers_of(planting)),
                world=True,
            ),
        ),
        marks=(
            *frame(design.job, title),
            *_rulings(),
            *scale_bar((LEFT + 8, TOP - PLAN_TALL + 5), window.scale),
            *north_point((LEFT + 12, TOP - 18), window.turn),
            *_list(page.rows),
            *_right(planting),
            *_key((RIGHT - 4.0, TOP - PLAN_TALL + 4.0)),
        ),
        description=f"Planting plan of {name}{part} at 1:{window.scale:g}: {len(planting.pockets)} pockets, "
        f"{sum(order.number for order in planting.orders)} plants of {len(planting.orders)} kinds.",
    )


def _rulings() -> Iterator[Mark]:
    down = TOP - PLAN_TALL
    yield Polyline(points=np.array([(LEFT, down), (RIGHT, down)]), layer="frame", pen=pens.MEDIUM)
    middle = RIGHT - TITLE_WIDE
    yield Polyline(points=np.array([(middle, LOW + TITLE_HIGH), (middle, down)]), layer="frame", pen=pens.MEDIUM)


def _list(rows: tuple[Row, ...]) -> Iterator[Mark]:
    top = TOP - PLAN_TALL - 6.5
    yield heading((LEFT + 4, top), "What to plant where")
    lefts = LEFT + 4 + np.concatenate([[0.0], np.cumsum(COLUMNS)])
    down = top - 5.5
    for left, room, words in zip(lefts, COLUMNS[:-1], HEADS[:-1], strict=False):
        if words:
            told = words.replace(", mm", f", {unit_called('mm')}")
            yield cell((float(left), down), told, room - 1.0, 1.8, "left", head=True)
    for month, letter in enumerate(HEADS[-1].split()):
        at = float(lefts[-2]) + (month + 0.5) * _BAR / 12
        yield Text(at=(at, down), words=letter, height=1.8, weight=600, narrow=True, across="middle")
    for row in rows:
        yield Polyline(
            points=np.array([(LEFT + 4, down - 1.0), (lefts[-1], down - 1.0)]),
            layer="list",
            pen=pens.MEDIUM if row.first else pens.CONTOUR,
        )
        down -= STEP
        yield from _line(row, lefts, down)
    yield Polyline(points=np.array([(LEFT + 4, down - 1.0), (lefts[-1], down - 1.0)]), layer="list", pen=pens.MEDIUM)
    yield Text(
        at=(LEFT + 4, down - STEP - 0.5), words="h harms people, a harms animals if eaten or touched", height=1.8
    )


def _line(row: Row, lefts: FloatArray, down: float) -> Iterator[Mark]:
    planted, plant = row.planted, row.planted.named.plant
    words = (
        row.placed.letter if row.first else "",
        f"{row.number}",
        f"{planted.named.name}{_marks(planted)}",
        plant.english if plant else "not in the plant table",
        f"{planted.number}" if planted.spacing is not None else "?",
        f"{number_in(planted.spacing * 1000, 'mm'):.0f}" if planted.spacing is not None else "?",
        f"{number_in(plant.height * 1000, 'mm'):.0f}" if plant else "?",
    )
    for column, (left, room, told) in enumerate(zip(lefts, COLUMNS, words, strict=False)):
        if told:
            yield cell((float(left), down), told, room - 1.0, 1.8, "left", head=column == 0)
    if plant:
        yield from _bar(plant.months, (float(lefts[-2]), down))


def _marks(planted: Planted) -> str:
    """What may harm, after the name: h people, a animals."""
    plant = planted.named.plant
    marks = "".join(mark for mark, told in (("h", plant.people), ("a", plant.pets)) if told) if plant else ""
    return f" ({marks})" if marks else ""


def _bar(months: tuple[int, ...], at: Point) -> Iterator[Mark]:
    """Twelve boxes, those of the flowering months filled."""
    wide = _BAR / 12
    for month in range(12):
        left, low = at[0] + month * wide, at[1] - 0.4
        yield Polyline(
            points=np.array([(left, low), (left + wide, low), (left + wide, low + 2.2), (left, low + 2.2)]),
            layer="list",
            pen=pens.CONTOUR,
            closed=True,
            fill="#355C2C" if month + 1 in months else None,
        )


def _right(planting: Planting) -> Iterator[Mark]:
    left, room = RIGHT - TITLE_WIDE + 4, TITLE_WIDE - 8
    top = TOP - PLAN_TALL - 6.5
    yield heading((left, top), "Pockets")
    told, down = notes_of(planting, (left, top - 5.0), room)
    yield from told
    yield heading((left, down - 2.5), "Cautions")
    cautions, _ = notes((left, down - 7.0), tuple(map(retold, CAUTIONS)), room, 1.8)
    yield from cautions


_KEY: tuple[tuple[str, Pen | None], ...] = (
    ("pocket inside the lining", POCKET),
    ("pocket outside", POCKET_OUTSIDE),
    ("edge of the lining", LINING_EDGE),
    ("grown plant with its number", None),
)


def _key(at: Point) -> Iterator[Mark]:
    """What the lines of the plan mean, in one row, set from the right."""
    left = at[0]
    for words, pen in reversed(_KEY):
        left -= fonts.width(words, 1.8)
        yield Text(at=(left, at[1]), words=words, height=1.8, halo=0.4)
        if pen is None:
            yield Circle(at=(left - 3.0, at[1] + 0.9), radius=1.8, layer="key", pen=SPREAD)
        else:
            yield Polyline(
                points=np.array([(left - 9.5, at[1] + 0.9), (left - 1.5, at[1] + 0.9)]), layer="key", pen=pen
            )
        left -= 16.0


MOST_POCKETS = 8
"""Pockets told one by one beside the list; of more, only the sum."""


def notes_of(planting: Planting, at: Point, room: float) -> tuple[list[Mark], float]:
    """A line a pocket: where, how large, how wet, how deep its soil; then soil and fleece of all."""
    marks: list[Mark] = []
    down = at[1]
    for placed in planting.pockets[:MOST_POCKETS]:
        pocket = placed.pocket
        where = f"{pocket.side}, {'inside' if pocket.inside else 'outside'} the lining"
        words = (
            f"{pocket.name}, {chainages(pocket.start, pocket.end)} {where}: {with_unit(placed.ground, 'm²'):,.1f}, "
            f"{placed.zone}, {pocket.light}; {'soil' if pocket.inside else 'compost'} {millimetres(placed.soil_depth)}"
        )
        marks.append(Text(at=(at[0], down), words=placed.letter, height=1.8, weight=600))
        marks.append(cell((at[0] + 5.0, down), words, room - 5.0, 1.8, "left", head=False))
        down -= STEP
    more = len(planting.pockets) - MOST_POCKETS
    left_out = f"{more} more pockets: see the list. " if more > 0 else ""
    total = (
        f"{left_out}Soil {with_unit(planting.soil, 'm³'):,.1f}, compost "
        f"{with_unit(planting.compost, 'm³'):,.1f}, barrier fleece "
        f"{with_unit(planting.fleece, 'm²'):,.1f} before laps; {share(planting.loss)} more "
        "plants than cover the ground."
    )
    marks.append(cell((at[0], down), total, room, 1.8, "left", head=False))
    return marks, down - STEP
