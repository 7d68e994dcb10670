"""Cross-sections a person can measure: natural scale both ways, looking downstream, left on the left."""

from collections.abc import Callable

import numpy as np

from beckwright.base.quantities import FloatArray, Length
from beckwright.base.values import value
from beckwright.base.words import METRIC, number_in, reads, stepped, unit_called, with_unit
from beckwright.compose import Design
from beckwright.papers import fonts, pens
from beckwright.papers.drawing import (
    A3_FLAT,
    BLACK,
    Circle,
    Mark,
    Millimetres,
    Polyline,
    Sheet,
    Stamp,
    Text,
    View,
    Weight,
    Window,
    section_window,
)
from beckwright.papers.labels import paragraph
from beckwright.papers.sheets.ground.depths import IN_THE_DIG
from beckwright.papers.sheets.shared.fitted import fitted
from beckwright.papers.sheets.shared.frame import (
    LEFT,
    LOW,
    RIGHT,
    TITLE_HIGH,
    TOP,
    SheetTitle,
    frame,
    scale_bar,
)
from beckwright.papers.sheets.shared.spread import spread
from beckwright.stages.earthworks.values import Groundwork
from beckwright.stages.setting_out import Dug, Peg, SettingOut
from beckwright.stages.water.beds import HIGH

READER = "for the crew and the checker"
SCALES = (10.0, 20.0, 25.0, 50.0)
"""A length of 20 mm on the slope can still be read off the last one."""
MOST = 36
"""So many sections are all drawn; of more, those at changes and every fifth metre."""
EVERY = 5.0
UNDER = 21.0
"""Room under a section for its datum line and offsets."""
OVER = 17.0
"""Room over it for its name and levels."""
LEVEL_COLUMNS, LEVEL_STEP = (44.0, 44.0, 36.0), 3.1
LEVEL_ENDS = (29.0, 38.0, 29.0)
"""Where the levels end in each column: in the first the drop below the nails follows."""
_TOUCHING = 1e-9
PAD = 0.1
"""Ground shown beyond the toes, and above and below the lines, m."""


@value
class Cut:
    """One section to draw: a peg and the cut on one side of it."""

    peg: Peg
    dug: Dug


@value
class Grid:
    """How sections are laid out: scale, columns, rows, how far left of the line, m, and the window, mm."""

    scale: float
    columns: int
    rows: int
    left: float
    wide: float
    high: float


def section_cuts(setting_out: SettingOut) -> tuple[Cut, ...]:
    """Every cut at a peg; of more than ``MOST``, those where the course changes and every fifth metre."""
    cuts = tuple(Cut(peg=peg, dug=dug) for peg in setting_out.pegs for dug in peg.dug)
    if len(cuts) <= MOST:
        return cuts
    return tuple(cut for cut in cuts if cut.peg.places or cut.peg.chainage % EVERY == 0.0)


def section_count(design: Design, groundwork: Groundwork, setting_out: SettingOut) -> int:
    """How many sheets of sections there are."""
    cuts = section_cuts(setting_out)
    grid = _grid(design, groundwork, cuts)
    return -(-len(cuts) // (grid.columns * grid.rows))


def section_sheets(
    design: Design, groundwork: Groundwork, setting_out: SettingOut, first: int, of: int
) -> tuple[Sheet, ...]:
    """All sheets of sections, numbered from ``first``."""
    cuts = section_cuts(setting_out)
    grid = _grid(design, groundwork, cuts)
    each = grid.columns * grid.rows
    pages = [cuts[start : start + each] for start in range(0, len(cuts), each)]
    return tuple(
        _sheet(design, groundwork, grid, page, place, len(pages), first + place, of) for place, page in enumerate(pages)
    )


def _extent(design: Design, groundwork: Groundwork, cut: Cut) -> tuple[float, float, float, float]:
    """Offsets of both toes, lowest and highest level that a section shows; a peg farther out is cut off."""
    ground, formation = _profile(groundwork, cut)
    station = cut.dug.station
    wet = float(design.water.level[HIGH, :, station].max())
    levels = np.concatenate([ground[:, 1], formation[:, 1], [wet, cut.peg.nail]])
    return *cut.dug.works, float(levels.min()), float(levels.max())


def _profile(groundwork: Groundwork, cut: Cut) -> tuple[FloatArray, FloatArray]:
    """Offset and level of the ground from peg to peg, and of the formation from toe to toe."""
    section, left, right = groundwork.sections[cut.dug.station], cut.peg.left, cut.peg.right
    between = (section.offsets < left.offset) & (section.offsets > right.offset)
    ground = np.column_stack([section.offsets, section.ground])[between]
    ends = ((left.offset, left.spot.ground), (right.offset, right.spot.ground))
    return np.vstack([ends[:1], ground, ends[1:]]), np.column_stack([section.offsets, section.formation])


def _grid(design: Design, groundwork: Groundwork, cuts: tuple[Cut, ...]) -> Grid:
    """The largest scale at which the largest section leaves room for two abreast, one under another."""
    extents = np.array([_extent(design, groundwork, cut) for cut in cuts])
    left, right = float(extents[:, 0].max()) + PAD, float(-extents[:, 1].min()) + PAD
    high = float((extents[:, 3] - extents[:, 2]).max()) + 2 * PAD
    tall = (TOP - LOW - TITLE_HIGH) / 2 - UNDER - OVER
    scale, columns = _scale_and_columns(left + right, high, tall)
    high = 1000.0 * high / scale
    return Grid(
        scale=scale,
        columns=columns,
        rows=max(1, int((TOP - LOW - TITLE_HIGH) // (high + UNDER + OVER))),
        left=left,
        wide=1000.0 * (left + right) / scale,
        high=high,
    )


def _scale_and_columns(wide: Length, high: Length, tall: Millimetres) -> tuple[float, int]:
    """The largest scale that fits two abreast, else one; where even that is too wide, the bare need."""
    for columns in (2, 1):
        room = (RIGHT - LEFT) / columns - 6.0
        for scale in SCALES:
            if 1000.0 * wide / scale <= room and 1000.0 * high / scale <= tall:
                return scale, columns
    return float(np.ceil(max(1000.0 * wide / room, 1000.0 * high / tall))), 1


def _sheet(
    design: Design,
    groundwork: Groundwork,
    grid: Grid,
    cuts: tuple[Cut, ...],
    place: int,
    pages: int,
    number: int,
    of: int,
) -> Sheet:
    job = design.job
    between = f"{number_in(cuts[0].peg.chainage, 'm'):.2f} to {with_unit(cuts[-1].peg.chainage, 'm'):.2f}"
    views, marks = [], []
    apart = (RIGHT - LEFT) / grid.columns
    for row, cut in enumerate(cuts):
        across, down = row % grid.columns, row // grid.columns
        corner = (LEFT + 3.0 + across * apart, TOP - OVER - grid.high - down * (grid.high + UNDER + OVER))
        window = _window(design, groundwork, grid, cut, corner)
        name = f"section {cut.peg.number} {cut.dug.side}".strip()
        views.append(View(name=name, window=window, marks=_section(design, groundwork, cut, window)))
        marks += _over(design, cut, window)
        marks += _under(cut, window)
    title = SheetTitle(
        title=f"Cross-sections {between}", reader=READER, scale=f"1:{grid.scale:g}", number=number, of=of
    )
    return Sheet(
        name=f"sections-{place + 1}",
        title=f"{job.title.name}: cross-sections, part {place + 1} of {pages}",
        paper=A3_FLAT,
        views=tuple(views),
        marks=(
            *frame(job, title),
            *marks,
            *_key(),
            *scale_bar((LEFT + 8, LOW + 4), grid.scale),
        ),
        description=f"Cross-sections of {job.title.name} from {between} at 1:{grid.scale:g}, looking downstream: "
        "ground, dig, lining, bed, water and edges.",
    )


def _window(design: Design, groundwork: Groundwork, grid: Grid, cut: Cut, corner: tuple[float, float]) -> Window:
    """Looking downstream: sideways is the offset, right positive, so that left stands on the left."""
    _, _, low, high = _extent(design, groundwork, cut)
    spare = grid.high * grid.scale / 1000.0 - (high - low)
    return section_window(
        corner=corner,
        size=(grid.wide, grid.high),
        scale=grid.scale,
        left=-grid.left,
        low=low - spare / 2,
    )


def _section(design: Design, groundwork: Groundwork, cut: Cut, window: Window) -> tuple[Mark, ...]:
    ground, formation = _profile(groundwork, cut)
    dug, peg, station = cut.dug, cut.peg, cut.dug.station
    at, water = design.course.stations, design.water
    lining = _right_positive(dug.lining)
    wet = float(water.level[HIGH, :, station].max())
    marks: list[Mark] = [
        *pens.existing_ground(_right_positive(ground), window),
        Polyline(points=_right_positive(formation), layer="dig level", pen=pens.DIG_LEVEL),
        Polyline(points=lining, layer="liner", pen=pens.LINER),
    ]
    surface = _level_within(lining, wet)
    if surface is not None:
        marks.append(
            Polyline(points=_filled(lining, surface), layer="running water", closed=True, hatch=pens.WATER_RULING)
        )
        marks.append(Polyline(points=surface, layer="running water", pen=pens.RUNNING_FULL))
    bed = _level_within(lining, float(at.bed[station]))
    if bed is not None and at.stone[station] > 0:
        marks += pens.bed(bed, window)
    still = _level_within(lining, float(water.still[station]))
    if still is not None and water.held[station]:
        marks += pens.still_water(still, window)
    marks += [
        Polyline(points=np.array([(0.0, dug.dig), (0.0, peg.nail)]), layer="course line", pen=pens.CENTRE),
        Polyline(
            points=np.array([(-peg.left.offset, peg.nail), (-peg.right.offset, peg.nail)]),
            layer="string",
            pen=pens.THIN,
        ),
    ]
    for side in (peg.left, peg.right):
        stake = np.array([(-side.offset, side.spot.ground), (-side.offset, peg.nail)])
        marks.append(Polyline(points=stake, layer="peg", pen=pens.HEAVY))
        nail = Circle(at=(0.0, 0.0), radius=0.6, layer="peg", fill=BLACK)
        marks.append(Stamp(at=(-side.offset, peg.nail), marks=(nail,)))
    return tuple(marks)


def _right_positive(points: FloatArray) -> FloatArray:
    return points * (-1.0, 1.0)


def _level_within(lining: FloatArray, level: float) -> FloatArray | None:
    """A level line between the two sides of the lining, from left to right; None below the lowest of it."""
    low = int(np.argmin(lining[:, 1]))
    if level <= lining[low, 1]:
        return None
    left = np.interp(level, lining[low::-1, 1], lining[low::-1, 0])
    right = np.interp(level, lining[low:, 1], lining[low:, 0])
    return np.array([(left, level), (right, level)])


def _filled(lining: FloatArray, surface: FloatArray) -> FloatArray:
    """The area between a level line and the lining under it."""
    between = (lining[:, 0] >= surface[0, 0] - _TOUCHING) & (lining[:, 0] <= surface[1, 0] + _TOUCHING)
    under = lining[(lining[:, 1] < surface[0, 1]) & between]
    return np.vstack([surface[:1], under, surface[1:]])


def _over(design: Design, cut: Cut, window: Window) -> list[Mark]:
    """Name of a section, and under it its levels in three columns."""
    dug, peg = cut.dug, cut.peg
    left, top = window.corner[0], window.corner[1] + window.size[1]
    what = ", ".join([*peg.places[:1], *([dug.side] if dug.side else [])])
    name = f"Peg {peg.number}, {with_unit(peg.chainage, 'm'):.2f}{f': {what}' if what else ''}"
    marks: list[Mark] = [
        Text(at=(left, top + 12.0), words=name, height=3.0, weight=600, narrow=True),
        Text(at=(left + 108.0, top + 12.0), words=f"datum line {number_in(window.origin[1], 'm'):.2f}", height=1.9),
    ]
    for number, (words, level, below) in enumerate(_levels(design, cut)):
        column, row = divmod(number, 3)
        x, y = left + sum(LEVEL_COLUMNS[:column]), top + 8.0 - LEVEL_STEP * row
        weight: Weight = 400 if below is None else 600
        written = "–" if level is None else stepped(level, 0.005, "m")
        end = LEVEL_ENDS[column]
        room = end - 1.5 - fonts.width(written, 1.9, weight=weight)
        marks.append(fitted((x, y), words, room, 1.9, weight=weight))
        marks.append(Text(at=(x + end, y), words=written, height=1.9, weight=weight, across="right"))
        if below is not None:
            fall = f"\u2193{stepped(below, 0.005, 'm')}"
            marks.append(Text(at=(x + 40.5, y), words=fall, height=1.9, weight=600, across="right"))
    return marks


def _levels(design: Design, cut: Cut) -> tuple[tuple[str, float | None, float | None], ...]:
    """What, its level if it has one, and how far below the nails where that is what is set."""
    dug, station = cut.dug, cut.dug.station
    at, water = design.course.stations, design.water
    still = float(water.still[station]) if water.held[station] else None
    return (
        ("edge L", dug.edge_levels[0], dug.edges_below[0]),
        ("edge R", dug.edge_levels[1], dug.edges_below[1]),
        ("dig", dug.dig, dug.below),
        ("highest water", float(water.level[HIGH, :, station].max()), None),
        ("still water", still, None),
        ("bed", float(at.bed[station]), None),
        ("lining", float(at.liner[station]), None),
        ("ground", dug.ground, None),
        ("nails", cut.peg.nail, None),
    )


def _under(cut: Cut, window: Window) -> list[Mark]:
    """Datum line, and under it the offsets of pegs, limits of the works, edges and floor."""
    dug, peg = cut.dug, cut.peg
    (left, low), (wide, _) = window.corner, window.size
    level = window.origin[1]
    left_side = (peg.left.offset, dug.works[0], dug.edges[0], dug.floor[0])
    offsets = (*left_side, 0.0, dug.floor[1], dug.edges[1], dug.works[1], peg.right.offset)
    drawn = window.on_paper(np.array([(-offset, level) for offset in offsets]))[:, 0]
    wanted = np.clip(drawn, left, left + wide)
    places = spread(wanted, 3.4)
    marks: list[Mark] = [
        Polyline(points=np.array([(left, low), (left + wide, low)]), layer="datum", pen=pens.MEDIUM),
    ]
    for number, (offset, x, at) in enumerate(zip(offsets, wanted, places, strict=True)):
        line = np.array([(x, low), (x, low - 1.6), (at, low - 4.2), (at, low - 5.2)])
        marks.append(Polyline(points=line, layer="datum", pen=pens.THIN))
        marks.append(
            Text(
                at=(float(at), low - 6.0),
                words=f"{'peg ' if number in (0, len(offsets) - 1) else ''}{number_in(abs(offset), 'm'):.2f}",
                height=2.0,
                turn=float(np.pi / 2),
                across="right",
                up="middle",
            )
        )
    return marks


def _key_words() -> str:
    fine = "5 mm" if reads() is METRIC else "0.01 ft"
    return (
        f"Looking downstream. Under the datum line: off the line, {unit_called('m')}. \u2193 is below the nails. "
        f"Levels to {fine}."
    )


def _key() -> tuple[Mark, ...]:
    """What each line means, drawn with its own pen."""
    left, top = LEFT + 6.0, LOW + TITLE_HIGH - 4.0
    window = section_window(corner=(0.0, 0.0), size=A3_FLAT, scale=1000.0, left=0.0, low=0.0)
    marks: list[Mark] = []
    entries: tuple[tuple[str, Callable[[FloatArray], tuple[Mark, ...]]], ...] = (
        ("existing ground", lambda line: pens.existing_ground(line, window)),
        ("dig level and banks", lambda line: (Polyline(points=line, layer="key", pen=pens.DIG_LEVEL),)),
        ("lining, edge to edge", lambda line: (Polyline(points=line, layer="key", pen=pens.LINER),)),
        ("bed, top of stones", lambda line: pens.bed(line, window)),
        ("still water", lambda line: pens.still_water(line, window)),
        ("highest running water", lambda line: (Polyline(points=line, layer="key", pen=pens.RUNNING_FULL),)),
        ("string between nails", lambda line: (Polyline(points=line, layer="key", pen=pens.THIN),)),
    )
    for number, (words, draw) in enumerate(entries):
        x, y = left + (number // 3) * 70.0, top - (number % 3) * 6.6
        marks.extend(draw(np.array([(x, y), (x + 18.0, y)])))
        marks.append(Text(at=(x + 21.0, y), words=words, height=2.0, up="middle"))
    said = paragraph((left + 140.0, top - 7.0), _key_words(), 88.0, 2.2, weight=600)
    return (*marks, *said, *paragraph((left + 140.0, said[-1].at[1] - 5.0), IN_THE_DIG, 88.0, 2.2, weight=600))
