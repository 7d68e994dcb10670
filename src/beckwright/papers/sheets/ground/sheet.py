"""The ground as surveyed: levels shot, which way it falls, where water runs over it, where the survey is too thin."""

from collections.abc import Iterator

import numpy as np

from beckwright.base.quantities import FloatArray, Length, Points
from beckwright.base.words import chainages, metres, millimetres, number_in, opening, with_unit
from beckwright.compose import Design, Works
from beckwright.papers import pens
from beckwright.papers.drawing import (
    A3_FLAT,
    BLACK,
    RED,
    Circle,
    Mark,
    Pen,
    Polyline,
    Sheet,
    Stamp,
    Text,
    View,
    Window,
    plan_window,
    turn_to_run_right,
)
from beckwright.papers.labels import Label, place
from beckwright.papers.sheets.overview.plan import (
    COLUMN,
    ROOM,
    ground_marks,
    inside_window,
    service_marks,
    tree_marks,
    works_on_paper,
)
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
    notes,
    scale_bar,
)
from beckwright.stages.ground import inside, slope_at, thin_places
from beckwright.stages.surroundings import Across, WaterPaths, pit_corners

SCALES = (20.0, 50.0, 100.0, 200.0, 250.0, 500.0, 1000.0)
AROUND: Length = 2.5
"""Ground shown round the works at the least, m; what else the paper has room for is shown too."""
ARROWS = 24.0
"""Slope arrows stand this far apart on the paper, mm."""
ARROW = 8.0
"""Length of a slope arrow on the paper, mm."""
REACH = 4.5
"""Nothing else is told nearer to the middle of an arrow than this, mm."""
SPOTS_APART = 9.0
"""Levels shot are told no closer than this on the paper, mm."""
FLAT = 1e-3
"""Ground that falls less than this for each metre has no arrow."""

WATER_WAY = Pen(width=0.7)
SEEN_WAY = Pen(width=0.7, dash=(3.0, 1.2))
THIN_HATCH = pens.slanted(3.0, RED, width=0.13)

CAUTIONS = (
    "The survey is as good as the staff was held: shoot again what decides a level of the stream.",
    "Ways of water are worked out on bare ground as it lies before digging; nothing soaks away. Look after rain.",
    "Water turned onto a neighbour's land is a matter of law: ask before the bank is built.",
)


def ground_sheet(design: Design, works: Works, number: int, of: int) -> Sheet:
    """The ground round the works on one A3."""
    window = _window(design)
    title = SheetTitle(
        title="Ground", reader="for the designer and the digger", scale=f"1:{window.scale:g}", number=number, of=of
    )
    marks = (
        *frame(design.job, title),
        Polyline(
            points=np.array([(RIGHT - COLUMN, LOW + TITLE_HIGH), (RIGHT - COLUMN, TOP)]),
            layer="frame",
            pen=pens.MEDIUM,
        ),
        *scale_bar((LEFT + 8, LOW + 6), window.scale),
        *north_point((LEFT + 14, TOP - 18), window.turn),
        *_column(design, works),
    )
    return Sheet(
        name="ground",
        title=f"{design.job.title.name}: ground",
        paper=A3_FLAT,
        views=(View(name="ground", window=window, marks=_marks(design, works, window), world=True),),
        marks=marks,
        description=f"Ground of {design.job.title.name} at 1:{window.scale:g}: {len(design.job.survey.levels)} levels "
        "shot, contours, slope arrows, ways of water, and where the survey is too thin to trust.",
    )


def _window(design: Design) -> Window:
    at = design.course.stations
    works = np.vstack(
        [at.points, np.array(pit_corners(design.job.reservoir)), np.array(design.job.route.line).reshape(-1, 2)]
    )
    turn = turn_to_run_right(design.course.alignment.vertices)
    rotation = np.array([(np.cos(turn), np.sin(turn)), (-np.sin(turn), np.cos(turn))])
    near = works @ rotation
    low, high = near.min(axis=0) - AROUND, near.max(axis=0) + AROUND
    east, north = (low + high) / 2 @ rotation.T
    wide, tall = high - low
    return plan_window(
        corner=(LEFT, LOW),
        size=ROOM,
        scale=_scale(float(wide), float(tall)),
        middle=(float(east), float(north)),
        turn=turn,
    )


def _scale(wide: Length, tall: Length) -> float:
    need = max(1000.0 * wide / ROOM[0], 1000.0 * tall / ROOM[1])
    return next((scale for scale in SCALES if scale >= need), need)


def _marks(design: Design, works: Works, window: Window) -> tuple[Mark, ...]:
    labels: list[Label] = []
    arrows = _clear_spots(design, window)
    marks: list[Mark] = [
        *_thin(design, works),
        *ground_marks(design, window, labels),
        *tree_marks(design, labels),
        *service_marks(design, window, labels),
        *_outlines(design),
        *_slopes(design, window, arrows),
        *_shots(design, window, labels),
        *_waters(design, works.closer.paths, window, labels),
    ]
    taken = tuple((x - REACH, y - REACH, x + REACH, y + REACH) for x, y in arrows)
    keep_off = (*works_on_paper(design, window), *taken)
    return (*marks, *place(labels, window, pens.THIN, keep_off=keep_off).marks)


def _thin(design: Design, works: Works) -> Iterator[Mark]:
    """Triangles with a side too long to trust."""
    for triangle in thin_places(design.ground, works.closer.thin.wanted):
        yield Polyline(points=design.ground.corners[triangle], layer="thin survey", closed=True, hatch=THIN_HATCH)


def _outlines(design: Design) -> Iterator[Mark]:
    course, at = design.course, design.course.stations
    for side in (1.0, -1.0):
        bank = course.alignment.beside(at.chainage, side * at.width / 2)
        yield Polyline(points=bank, layer="course", pen=pens.MEDIUM)
    corners = np.array(pit_corners(design.job.reservoir))
    yield Polyline(points=corners, layer="reservoir", pen=pens.HEAVY, closed=True)


def _clear_spots(design: Design, window: Window) -> FloatArray:
    """A spot on the paper (n, 2) for the arrow of each square, as far from the levels shot as the square allows."""
    across, up = (np.arange(ARROWS / 2, size, ARROWS) for size in window.size)
    squares = np.stack(np.meshgrid(across, up), axis=-1).reshape(-1, 1, 2) + window.corner
    tries = np.stack(np.meshgrid(*[np.linspace(-0.3, 0.3, 5) * ARROWS] * 2), axis=-1).reshape(1, -1, 2)
    spots = squares + tries
    shots = window.on_paper(design.job.survey.points)
    nearest = np.hypot(*np.moveaxis(spots[:, :, np.newaxis] - shots, -1, 0)).min(axis=2)
    best = np.argmax(nearest, axis=1)
    chosen = spots[np.arange(len(spots)), best]
    clear: FloatArray = chosen[nearest[np.arange(len(spots)), best] > REACH]
    return clear


def _slopes(design: Design, window: Window, spots: FloatArray) -> Iterator[Mark]:
    """Arrows straight downhill with the fall beside them."""
    site = window.on_site(spots)
    on = inside(design.ground, site)
    for point, slope in zip(site[on], slope_at(design.ground, site[on]), strict=True):
        steep = float(np.hypot(*slope))
        if steep > FLAT:
            yield _arrow(point, float(np.arctan2(slope[1], slope[0])) + window.turn, f"1 in {1 / steep:.0f}")


def _arrow(at: FloatArray, turn: float, words: str) -> Mark:
    half = ARROW / 2
    shaft = Polyline(points=np.array([(-half, 0.0), (half, 0.0)]), layer="slope", pen=pens.THIN)
    head = Polyline(
        points=np.array([(half, 0.0), (half - 1.6, 0.5), (half - 1.6, -0.5)]),
        layer="slope",
        pen=pens.THIN,
        closed=True,
        fill=BLACK,
    )
    upright = np.cos(turn) >= 0
    told = Text(
        at=(0.0, 0.6 if upright else -0.6),
        words=words,
        height=1.8,
        layer="slope",
        across="middle",
        up="base",
        turn=0.0 if upright else float(np.pi),
        halo=0.2,
    )
    return Stamp(at=(float(at[0]), float(at[1])), marks=(shaft, head, told), turn=turn)


def _shots(design: Design, window: Window, labels: list[Label]) -> Iterator[Mark]:
    """Every point shot; its level where there is room."""
    survey = design.job.survey
    paper = window.on_paper(survey.points)
    low, high = np.array(window.corner), np.array(window.corner) + np.array(window.size)
    seen = np.all((paper > low + 1) & (paper < high - 1), axis=1)
    told: list[FloatArray] = []
    for point, spot, level in zip(survey.points[seen], paper[seen], survey.levels[seen], strict=True):
        at = (float(point[0]), float(point[1]))
        yield Circle(at=at, radius=0.4 * window.scale / 1000, layer="levels shot", fill=BLACK)
        if all(np.hypot(*(spot - other)) >= SPOTS_APART for other in told):
            told.append(spot)
            words = f"{number_in(level, 'm'):.2f}"
            labels.append(Label(at=at, words=words, height=1.8, gap=0.6, priority=-1, layer="levels shot"))


def _waters(design: Design, paths: WaterPaths, window: Window, labels: list[Label]) -> Iterator[Mark]:
    for across in paths.across:
        yield from _way(across.line, WATER_WAY, window)
        at = inside_window(across.line, window)
        if at is not None:
            words = f"runs in from the {across.side}, off {with_unit(across.area, 'm²'):,.0f}"
            labels.append(Label(at=at, words=words, height=2.2, weight=600, priority=4, layer="water way"))
    if paths.overflow is not None:
        yield from _way(paths.overflow.line, WATER_WAY, window)
        at = inside_window(paths.overflow.line, window)
        if at is not None:
            labels.append(
                Label(at=at, words="overflow runs this way", height=2.2, weight=600, priority=4, layer="water way")
            )
    for runoff in design.job.site.runoff:
        line = np.array(runoff.line)
        yield from _way(line, SEEN_WAY, window)
        at = inside_window(line, window)
        if at is not None:
            words = f"seen: {runoff.name}"
            labels.append(Label(at=at, words=words, height=2.2, weight=600, priority=5, layer="water way"))


def _way(line: Points, pen: Pen, window: Window) -> Iterator[Mark]:
    """A line with a head at its lower end."""
    if len(line) < 2:
        return
    yield Polyline(points=line, layer="water way", pen=pen)
    away = np.diff(window.on_paper(line[-2:]), axis=0)[0]
    head = np.array([(0.0, 0.0), (-2.6, 0.9), (-2.6, -0.9)])
    tip = Polyline(points=head, layer="water way", closed=True, fill=BLACK)
    yield Stamp(at=(float(line[-1, 0]), float(line[-1, 1])), marks=(tip,), turn=float(np.arctan2(away[1], away[0])))


def _column(design: Design, works: Works) -> tuple[Mark, ...]:
    left, room = RIGHT - COLUMN + 4, COLUMN - 8
    marks: list[Mark] = [heading((left, TOP - 8), "How well the ground is known")]
    known, down = notes((left, TOP - 14), tuple(_known(design, works)), room, 2.0)
    marks.append(heading((left, down - 5), "Where water runs in rain"))
    waters, down = notes((left, down - 11), tuple(_told(works.closer.paths)), room, 2.0)
    marks.append(heading((left, down - 5), "Key"))
    marks.extend(_key(left, down - 11))
    cautions, _ = notes((left, LOW + TITLE_HIGH + 24), CAUTIONS, room, 1.8)
    marks.append(heading((left, LOW + TITLE_HIGH + 29), "Cautions"))
    return (*marks, *known, *waters, *cautions)


def _known(design: Design, works: Works) -> Iterator[str]:
    thin, survey = works.closer.thin, design.job.survey
    yield (
        f"{len(survey.levels)} levels shot, about {metres(thin.mean)} apart; each is good to "
        f"{millimetres(design.job.tolerances.survey)} either way."
    )
    spots = {"the line": thin.stream, "the left bank": thin.left, "the right bank": thin.right}
    for name, spans in spots.items():
        if spans:
            told = ", ".join(chainages(*span) for span in spans)
            yield f"Too thin to trust under {name}: {told}. Shoot points there, {metres(thin.wanted)} apart at most."
    if thin.pit > 0:
        yield f"Too thin to trust under {with_unit(thin.pit, 'm²'):,.1f} of the pit: shoot its corners and its middle."
    if not any(spots.values()) and thin.pit == 0:
        yield f"Nowhere under the works do points lie more than {metres(thin.wanted)} apart."


def _told(paths: WaterPaths) -> Iterator[str]:
    if not paths.across:
        yield "On the ground as surveyed no way of water meets the stream."
    for across in paths.across:
        yield _one(across)
    if paths.overflow is not None:
        way = paths.overflow
        crosses = f", over {' and '.join(way.crosses)}" if way.crosses else ""
        yield f"From the overflow water runs on the ground and {way.ended}{crosses}."


def _one(across: Across) -> str:
    dams = f" Its bank stands {millimetres(across.dams)} in the way: cut it off above." if across.dams > 0 else ""
    where = chainages(across.start, across.end)
    return (
        f"{opening(across.side)}, {where}: {with_unit(across.area, 'm²'):,.0f} of ground sheds onto the stream.{dams}"
    )


def _key(left: float, top: float) -> Iterator[Mark]:
    rows = (
        (WATER_WAY, None, "way of water, worked out on the survey"),
        (SEEN_WAY, None, "way of water, seen on site"),
        (pens.CONTOUR_INDEX, None, "contour; the thin ones lie between"),
        (None, THIN_HATCH, "survey too thin to trust"),
    )
    for number, (pen, hatch, words) in enumerate(rows):
        y = top - 5.0 * number
        if hatch is None:
            yield Polyline(points=np.array([(left, y + 0.8), (left + 12, y + 0.8)]), layer="key", pen=pen)
        else:
            box = np.array([(left, y - 0.8), (left + 12, y - 0.8), (left + 12, y + 2.4), (left, y + 2.4)])
            yield Polyline(points=box, layer="key", pen=pens.THIN, closed=True, hatch=hatch)
        yield Text(at=(left + 15, y), words=words, height=2.0, layer="key")
