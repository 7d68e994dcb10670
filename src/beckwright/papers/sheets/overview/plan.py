"""The plan: ground, trees, services, course, hose and reservoir, turned so that water runs left to right."""

from itertools import pairwise

import numpy as np

from beckwright.base.findings import Finding, Severity
from beckwright.base.quantities import FloatArray
from beckwright.base.words import (
    METRIC,
    headed,
    metres,
    millimetres,
    number_in,
    reads,
    retold,
    short_height,
    stride,
    with_unit,
)
from beckwright.compose import Design
from beckwright.job.model import Pool, Run, Step
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
    scale_to_fit,
    turn_to_run_right,
)
from beckwright.papers.labels import Box, Label, paragraph, place
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
from beckwright.stages.ground import contours
from beckwright.stages.surroundings import pit_corners

COLUMN = 112.0
ROOM = (RIGHT - LEFT - COLUMN, TOP - LOW)
OVERLAP = 2.0
"""Ground that neighbouring sheets share, m."""
MARGIN = 1.5
"""Ground shown round the works, m."""
INTERVALS = (0.05, 0.1, 0.2, 0.25, 0.5, 1.0, 2.0)
CAUTIONS = (
    "Before digging: get plans of buried services, have them traced by someone competent, dig slots by hand.",
    "No depth of pit is safe by rule. The supervisor decides on batter or support; heaps [1 m] back; look after rain.",
    "Trees and their roots may be protected by law: the tree officer decides, not this sheet.",
    "Children: standing water of [a few centimetres] is enough to drown in. Cover pit and pools overnight.",
    "Electrics by a licensed electrician, to local rules.",
)


def plan_sheets(design: Design, findings: tuple[Finding, ...], number: int, of: int) -> tuple[Sheet, ...]:
    """The plan on A3 at 1:50 if it fits one sheet, else at 1:100 or smaller over sheets that meet at match lines."""
    windows = plan_windows(design)
    return tuple(_plan_sheet(design, findings, windows, place, number + place, of) for place in range(len(windows)))


def _plan_sheet(
    design: Design, findings: tuple[Finding, ...], windows: tuple[Window, ...], place: int, number: int, of: int
) -> Sheet:
    window = windows[place]
    part = f", part {place + 1} of {len(windows)}" if len(windows) > 1 else ""
    view = View(name="plan", window=window, marks=_plan_marks(design, window), world=True)
    title = SheetTitle(
        title="Plan", reader=f"for everyone on site{part}", scale=f"1:{window.scale:g}", number=number, of=of
    )
    marks = (
        *frame(design.job, title),
        _divider(),
        *_match_lines(windows, place, number),
        *scale_bar((LEFT + 8, LOW + 6), window.scale),
        *north_point((LEFT + 14, TOP - 18), window.turn),
        *_column(design, findings),
    )
    return Sheet(
        name="plan" if len(windows) == 1 else f"plan-{place + 1}",
        title=f"{design.job.title.name}: plan{part}",
        paper=A3_FLAT,
        views=(view,),
        marks=marks,
        description=f"Plan of {design.job.title.name}{part} at 1:{window.scale:g}: a course of "
        f"{metres(design.course.length)} falling {metres(design.course.fall)} to a covered reservoir, with contours, "
        "trees, services and hose.",
    )


def _match_lines(windows: tuple[Window, ...], place: int, number: int) -> list[Mark]:
    """Where this sheet meets its neighbours: half the shared ground in from the side."""
    half = OVERLAP * 1000.0 / windows[place].scale / 2
    marks: list[Mark] = []
    for there, other, x in (
        (place > 0, number - 1, LEFT + half),
        (place + 1 < len(windows), number + 1, LEFT + ROOM[0] - half),
    ):
        if there:
            marks.append(
                Polyline(
                    points=np.array([(x, LOW + TITLE_HIGH + 4), (x, TOP - 36)]), layer="match line", pen=pens.BOUNDARY
                )
            )
            words = f"match line, sheet {other}"
            marks.append(
                Text(
                    at=(x - 1.2, TOP - 40),
                    words=words,
                    height=2.0,
                    weight=600,
                    turn=float(np.pi / 2),
                    across="right",
                    halo=0.3,
                )
            )
    return marks


def _divider() -> Mark:
    x = RIGHT - COLUMN
    return Polyline(points=np.array([(x, LOW + TITLE_HIGH), (x, TOP)]), layer="frame", pen=pens.MEDIUM)


def plan_windows(design: Design) -> tuple[Window, ...]:
    """Windows side by side along the course, each ``OVERLAP`` into the next."""
    works = np.vstack(
        [
            design.course.stations.points,
            np.array(pit_corners(design.job.reservoir)),
            np.array(design.job.route.line).reshape(-1, 2),
        ]
    )
    turn = turn_to_run_right(design.course.alignment.vertices)
    rotation = np.array([(np.cos(turn), np.sin(turn)), (-np.sin(turn), np.cos(turn))])
    turned = works @ rotation
    low, high = turned.min(axis=0) - MARGIN, turned.max(axis=0) + MARGIN
    scale, count = _scale_and_sheets(high - low)
    room = ROOM[0] * scale / 1000
    first = (low[0] + high[0]) / 2 - (count - 1) * (room - OVERLAP) / 2
    middles = [
        np.array([first + place * (room - OVERLAP), (low[1] + high[1]) / 2]) @ rotation.T for place in range(count)
    ]
    return tuple(
        plan_window(corner=(LEFT, LOW), size=ROOM, scale=scale, middle=(float(x), float(y)), turn=turn)
        for x, y in middles
    )


def _scale_and_sheets(extent: FloatArray) -> tuple[float, int]:
    for scale, most in ((20.0, 1), (50.0, 1), (100.0, 4), (200.0, 6), (500.0, 8)):
        wide, tall = np.array(ROOM) * scale / 1000
        count = max(1, int(np.ceil((extent[0] - OVERLAP) / (wide - OVERLAP) - 1e-9)))
        if extent[1] <= tall and count <= most:
            return scale, count
    return scale_to_fit((float(extent[0]), float(extent[1])), ROOM), 1


def _plan_marks(design: Design, window: Window) -> tuple[Mark, ...]:
    labels: list[Label] = []
    marks: list[Mark] = [
        *ground_marks(design, window, labels),
        *tree_marks(design, labels),
        *service_marks(design, window, labels),
        *_course(design, window, labels),
        *_pit_and_hose(design, window, labels),
    ]
    placing = place(labels, window, pens.THIN, keep_off=works_on_paper(design, window))
    return (*marks, *placing.marks)


def works_on_paper(design: Design, window: Window) -> tuple[Box, ...]:
    """Boxes over the stream, the hose and the pit, so that no words cover what is to be built."""
    at = design.course.stations
    half = at.width / 2 * 1000.0 / window.scale
    spots = [(*xy, float(reach)) for xy, reach in zip(window.on_paper(at.points), half, strict=True)]
    if len(design.job.route.line) > 1:
        spots += [(*xy, 0.8) for xy in window.on_paper(dense(np.array(design.job.route.line)))]
    corners = np.array(pit_corners(design.job.reservoir))
    reach = 1000.0 * min(design.job.reservoir.length, design.job.reservoir.width) / 2 / window.scale
    spots += [
        (*xy, reach * 0.7)
        for xy in window.on_paper(np.vstack([corners.mean(axis=0), (corners + corners.mean(axis=0)) / 2]))
    ]
    title = (RIGHT - TITLE_WIDE, LOW, RIGHT, LOW + TITLE_HIGH)
    north = (LEFT, TOP - 34.0, LEFT + 28.0, TOP)
    bar = (LEFT, LOW, LEFT + 70.0, LOW + 14.0)
    return (*((x - r, y - r, x + r, y + r) for x, y, r in spots), title, north, bar)


def _interval(design: Design) -> float:
    levels = design.ground.levels
    span = float(levels.max() - levels.min())
    return next((each for interval in INTERVALS if span / (each := stride(interval, "m")) <= 25), stride(5.0, "m"))


def ground_marks(design: Design, window: Window, labels: list[Label]) -> list[Mark]:
    """Contours with their levels, and the outline of the survey."""
    interval = _interval(design)
    marks: list[Mark] = []
    for contour in contours(design.ground, interval):
        index = round(contour.level / interval) % 5 == 0
        marks.append(
            Polyline(
                points=contour.line,
                layer="contour",
                pen=pens.CONTOUR_INDEX if index else pens.CONTOUR,
                closed=contour.closed,
            )
        )
        if index and len(contour.line) > 2:
            at = inside_window(contour.line, window)
            if at is not None:
                labels.append(
                    Label(
                        at=at,
                        words=f"{number_in(contour.level, 'm'):.2f}",
                        height=1.8,
                        gap=0.3,
                        priority=-2,
                        layer="contour",
                    )
                )
    hull = design.ground.hull
    marks.append(Polyline(points=hull, layer="survey", pen=Pen(width=0.13, dash=(1.0, 1.0)), closed=True))
    return marks


def inside_window(line: FloatArray, window: Window) -> tuple[float, float] | None:
    """The point of a line that lies farthest inside the window's upper part, if any does."""
    paper = window.on_paper(line)
    low, size = np.array(window.corner), np.array(window.size)
    gap = np.minimum(paper - low, low + size - paper).min(axis=1)
    best = int(np.argmax(gap + 0.2 * paper[:, 1]))
    return (float(line[best, 0]), float(line[best, 1])) if gap[best] > 4 else None


def tree_marks(design: Design, labels: list[Label]) -> list[Mark]:
    """Every tree with its root circle."""
    marks: list[Mark] = []
    for circle in design.surroundings.circles:
        tree = circle.tree
        marks.extend(pens.root_circle(tree.at, circle.radius))
        marks.append(Circle(at=tree.at, radius=max(circle.stem / 2, 0.08), layer="tree", pen=pens.MEDIUM, fill=BLACK))
        kept = ", protected" if tree.protected else ""
        words = f"{tree.species} {tree.name}{kept}, root circle {metres(circle.radius)}"
        labels.append(
            Label(at=tree.at, words=words, height=2.2, weight=600, gap=3.0, priority=5, colour=RED, layer="tree")
        )
    return marks


def service_marks(design: Design, window: Window, labels: list[Label]) -> list[Mark]:
    """Services with their depth as told, and boundaries."""
    marks: list[Mark] = []
    for service in design.job.site.services:
        line = np.array(service.line)
        depth = "depth unknown" if service.depth is None else f"{metres(service.depth)} down as told"
        if len(line) > 1:
            marks.extend(
                pens.water_main(line, window)
                if "water" in service.kind
                else (Polyline(points=line, layer="service", pen=pens.WATER_MAIN),)
            )
        else:
            marks.append(Circle(at=service.line[0], radius=0.15, layer="service", pen=pens.SHORT))
        at = inside_window(dense(line), window) if len(line) > 1 else service.line[0]
        if at is not None:
            labels.append(
                Label(
                    at=at,
                    words=f"{service.kind}, {depth}",
                    height=2.2,
                    weight=600,
                    colour=RED,
                    priority=4,
                    layer="service",
                )
            )
    for boundary in design.job.site.boundaries:
        line = np.array(boundary.line)
        marks.append(Polyline(points=line, layer="boundary", pen=pens.BOUNDARY))
        at = inside_window(dense(line), window)
        if at is not None:
            labels.append(Label(at=at, words=boundary.name, height=2.2, priority=1, layer="boundary"))
    return marks


def dense(line: FloatArray) -> FloatArray:
    """Forty points on every piece of a line."""
    return np.vstack([start + (end - start) * np.linspace(0, 1, 40)[:, None] for start, end in pairwise(line)])


def _course(design: Design, window: Window, labels: list[Label]) -> list[Mark]:
    course, at = design.course, design.course.stations
    marks: list[Mark] = []
    for number, stretch in enumerate(course.stretches):
        if isinstance(stretch.reach, Step):
            continue
        here = at.of(number)
        half = at.width[here] / 2
        banks = [course.alignment.beside(at.chainage[here], side * half) for side in (1.0, -1.0)]
        outline = np.vstack([banks[0], banks[1][::-1]])
        hatch = pens.WATER_RULING if isinstance(stretch.reach, Pool) else pens.STONES
        marks.append(Polyline(points=outline, layer="bed", closed=True, fill="#FFFFFF", hatch=hatch))
        marks.extend(Polyline(points=bank, layer="course", pen=pens.MEDIUM) for bank in banks)
    marks.append(Polyline(points=at.points, layer="course line", pen=pens.CENTRE))
    marks.extend(_lips(design, labels))
    marks.extend(_pegs(design, window))
    return marks


def _lips(design: Design, labels: list[Label]) -> list[Mark]:
    marks: list[Mark] = []
    for lip in design.water.lips:
        ends = design.course.alignment.beside(np.array([lip.chainage] * 2), np.array([lip.width, -lip.width]) * 0.6)
        marks.append(Polyline(points=ends, layer="lip", pen=pens.LINER))
        drop = f", drop {short_height(lip.drop)}" if lip.drop else ""
        labels.append(
            Label(
                at=_pair(ends[0]),
                words=f"{lip.name} {metres(lip.crest)}{drop}",
                height=2.5,
                weight=600,
                gap=1.5,
                priority=6,
                layer="lip",
            )
        )
    return marks


def _pair(point: FloatArray) -> tuple[float, float]:
    return float(point[0]), float(point[1])


def _pegs(design: Design, window: Window) -> list[Mark]:
    """A peg each metre along the line, its chainage beside every second or fifth."""
    every = stride(1.0 if design.course.length <= 30 else 2.0, "m")
    chain = np.arange(0.0, design.course.length + 1e-9, every)
    points = design.course.alignment.at(chain)
    away = design.course.alignment.direction(chain)
    angles = np.arctan2(away[:, 1], away[:, 0]) + window.turn
    marks: list[Mark] = []
    for number, (point, angle) in enumerate(zip(points, angles, strict=True)):
        square = Polyline(
            points=np.array([(-0.8, -0.8), (0.8, -0.8), (0.8, 0.8), (-0.8, 0.8)]),
            layer="peg",
            pen=pens.THIN,
            closed=True,
            fill="#FFFFFF",
        )
        nail = Circle(at=(0.0, 0.0), radius=0.3, layer="peg", fill=BLACK)
        marks.append(Stamp(at=_pair(point), marks=(square, nail), turn=float(angle)))
        if number % 2 == 0:
            words = Text(
                at=(0.0, -1.6),
                words=f"{number_in(chain[number], 'm'):g}",
                height=1.8,
                layer="peg",
                across="middle",
                up="top",
                halo=0.2,
            )
            marks.append(Stamp(at=_pair(point), marks=(words,), turn=float(angle)))
    return marks


def _pit_and_hose(design: Design, window: Window, labels: list[Label]) -> list[Mark]:
    job = design.job
    marks: list[Mark] = []
    if len(job.route.line) > 1:
        line = np.array(job.route.line)
        marks.extend(pens.hose(line, window))
        labels.append(
            Label(
                at=_pair(dense(line)[20]),
                words=f"hose {job.route.chosen.name}, {metres(job.route.length)}",
                height=2.2,
                priority=3,
                gap=2.0,
                layer="hose",
            )
        )
    corners = np.array(pit_corners(job.reservoir))
    hatch = {"crates": pens.CRATES, "stones": pens.STONES}.get(job.reservoir.fill)
    marks.append(Polyline(points=corners, layer="reservoir", pen=pens.HEAVY, closed=True, fill="#FFFFFF", hatch=hatch))
    words = f"reservoir {number_in(job.reservoir.length, 'm'):.2f} x {with_unit(job.reservoir.width, 'm'):.2f}"
    labels.append(
        Label(
            at=job.reservoir.centre,
            words=words,
            height=2.5,
            weight=600,
            gap=1000 * max(job.reservoir.length, job.reservoir.width) / 2 / window.scale + 1.5,
            priority=6,
            layer="reservoir",
        )
    )
    return marks


def _column(design: Design, findings: tuple[Finding, ...]) -> tuple[Mark, ...]:
    left, room = RIGHT - COLUMN + 4, COLUMN - 8
    marks: list[Mark] = [heading((left, TOP - 8), "Course from the source")]
    rows = [("reach", "from, to", "what", headed("bed", "m")), *_reach_rows(design)]
    drawn, down = table(
        (left, TOP - 11),
        (24, 27, 35, 18),
        rows,
        across=("left", "left", "left", "right"),
        height=1.8,
        step=_step(len(rows)),
    )
    marks.extend(drawn)
    marks.append(heading((left, down - 7), "Look at these first"))
    down -= 12.5
    for finding in findings:
        said = paragraph(
            (left + 4.5, down),
            str(finding) if finding.severity is Severity.FAIL else f"{finding.place}. {finding.says}",
            room - 4.5,
            1.8,
        )
        lower = said[-1].at[1] - 4.0
        if lower < LOW + TITLE_HIGH + 46:
            marks.append(
                Text(
                    at=(left + 4.5, down),
                    words="More: run the check, or see the calculation sheet.",
                    height=1.8,
                    weight=600,
                )
            )
            break
        marks.extend((*bullet((left + 1.2, down + 0.9), finding.severity), *said))
        down = lower
    marks.append(heading((left, LOW + TITLE_HIGH + 37), "Cautions"))
    cautions, _ = notes((left, LOW + TITLE_HIGH + 32.5), cautions_told(), room, 1.8)
    return (*marks, *cautions)


def cautions_told() -> tuple[str, ...]:
    """The cautions in the reader's units."""
    shallow = "a few centimetres" if reads() is METRIC else "an inch or two"
    return tuple(retold(each.replace("[a few centimetres]", shallow)) for each in CAUTIONS)


def _step(rows: int) -> float:
    """Rows closer together on a long course, so that the findings keep their room."""
    return 4.2 if rows <= 16 else 3.6


def _reach_rows(design: Design) -> list[tuple[str, str, str, str]]:
    rows = []
    for stretch in design.course.stretches:
        reach = stretch.reach
        if isinstance(reach, Step):
            rows.append(
                (
                    reach.name,
                    f"{with_unit(stretch.start, 'm'):.2f}",
                    f"drop {millimetres(reach.drop)}",
                    f"{number_in(stretch.bed_end, 'm'):.2f}",
                )
            )
        else:
            what = f"falls {millimetres(reach.fall)}" if isinstance(reach, Run) else f"{millimetres(reach.depth)} deep"
            rows.append(
                (
                    reach.name,
                    f"{number_in(stretch.start, 'm'):.2f}, {number_in(stretch.end, 'm'):.2f}",
                    what,
                    f"{number_in(stretch.bed_end, 'm'):.2f}",
                )
            )
    return rows
