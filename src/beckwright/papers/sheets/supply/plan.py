"""The route plan of the supply sheet: cable, boxes and zones at scale, lamps with their beams, and who sees them."""

from collections.abc import Iterator
from math import degrees

import numpy as np

from beckwright.base.findings import Finding
from beckwright.base.quantities import FloatArray
from beckwright.base.words import metres, millimetres, number_in, share, unit_called, with_unit
from beckwright.compose import Design
from beckwright.job.model import ElectricsWork
from beckwright.papers import pens
from beckwright.papers.drawing import (
    A3_FLAT,
    BLACK,
    RED,
    WHITE,
    Circle,
    Mark,
    Pen,
    Point,
    Polyline,
    Sheet,
    Stamp,
    Text,
    View,
    Window,
    arc,
)
from beckwright.papers.labels import Label, paragraph, place
from beckwright.papers.sheets.ground.plan import keep_outs, kept_corners, white_corners, window_over, word_boxes
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
    scale_bar,
)
from beckwright.papers.sheets.shared.table import table
from beckwright.papers.sheets.supply.marks import box_mark, eye_mark, lamp_mark, transformer_mark
from beckwright.stages.electrics import Electrics, Placed, Seen, Sight
from beckwright.stages.findings.electrics import electrics_findings
from beckwright.stages.surroundings import pit_corners
from beckwright.tables.electrics import DUCT_FILL, TAPE_OVER, ZONE_1_OUT, ZONE_2_OUT

WIDE = RIGHT - TITLE_WIDE - LEFT
SUPPLY = Pen(width=0.7, dash=(7.0, 1.2, 1.2, 1.2))
LIGHTS = Pen(width=0.35, dash=(2.0, 1.0))
ZONE_1 = Pen(width=0.35, dash=(4.0, 1.5))
ZONE_2 = Pen(width=0.25, dash=(1.2, 1.2))
SIGHTS: dict[Seen, Pen] = {
    "in the beam": Pen(width=0.5, colour=RED),
    "beside it": Pen(width=0.35, dash=(3.0, 1.2), colour=RED),
    "turned away": Pen(width=0.13),
    "hidden by ground": Pen(width=0.18, dash=(0.0, 1.2)),
}
"""Lines of sight, the worst first."""
BEAM_LONG = 13.0
"""Length of a beam on the paper, mm."""
RIM = 12.0
"""An eye beyond the plan is drawn this far inside its rim, mm."""
MOST_SIGHTS = 60
"""With more lines of sight than this, only those that meet a lamp are drawn."""


def route_sheet(design: Design, work: ElectricsWork, electrics: Electrics, number: int, of: int) -> Sheet:
    """Draw the route, the lights and the sights on one A3."""
    window = window_over(
        _extent(design, electrics), (LEFT, LOW), (WIDE, TOP - LOW), margin=0.5, along=design.course.alignment.vertices
    )
    title = SheetTitle(
        title="Supply sheet: route plan",
        reader="for the electrician and the crew",
        scale=f"1:{window.scale:g}",
        number=number,
        of=of,
    )
    x = RIGHT - TITLE_WIDE
    marks = (
        *frame(design.job, title),
        Polyline(points=np.array([(x, LOW), (x, TOP)]), layer="frame", pen=pens.MEDIUM),
        *white_corners(LOW),
        *scale_bar((LEFT + 8, LOW + 5), window.scale),
        *north_point((LEFT + 14, TOP - 18), window.turn),
        *_column(design, work, electrics),
    )
    return Sheet(
        name="supply-route",
        title=f"{design.job.title.name}: supply sheet, route plan",
        paper=A3_FLAT,
        views=(View(name="route plan", window=window, marks=_plan(design, work, electrics, window), world=True),),
        marks=marks,
        description=f"Route of the supply cable of {design.job.title.name} at 1:{window.scale:g} with zones round the "
        f"water, {len(electrics.lamps)} lamps with their beams and {len(electrics.sights)} lines of sight.",
    )


def _extent(design: Design, electrics: Electrics) -> FloatArray:
    """Everything that must be on the plan; eyes farther off stand at its rim."""
    route = electrics.route
    spots = [spot for spot in (route.connection, route.transformer) if spot is not None]
    spots += [lamp.at for lamp in electrics.lamps]
    parts = [design.course.stations.points, *electrics.zones.second, np.array(spots).reshape(-1, 2)]
    return np.vstack(parts if route.line is None else [*parts, route.line])


def _plan(design: Design, work: ElectricsWork, electrics: Electrics, window: Window) -> tuple[Mark, ...]:
    labels: list[Label] = []
    marks: list[Mark] = [
        *_zones(electrics, labels),
        *keep_outs(design, labels, window),
        *(
            Polyline(points=np.array(each.line), layer="boundary", pen=pens.BOUNDARY)
            for each in design.job.site.boundaries
        ),
        *_stream(design),
        *_sights(electrics.sights),
        *_cables(work, electrics, labels),
        *(mark for lamp in electrics.lamps for mark in _lamp(lamp, window, labels)),
        *_eyes(electrics.sights, window, labels),
        *_boxes(work, electrics, labels),
    ]
    placing = place(labels, window, pens.THIN, keep_off=(*kept_corners(LOW), *word_boxes(marks, window)))
    return (*marks, *placing.marks)


def _zones(electrics: Electrics, labels: list[Label]) -> Iterator[Mark]:
    zones = electrics.zones
    for rings, pen, words in (
        (zones.second, ZONE_2, "zone 2, if it holds"),
        (zones.first, ZONE_1, "zone 1, if it holds"),
    ):
        for ring in rings:
            yield Polyline(points=ring, layer="zones", pen=pen, closed=True)
        longest = max(rings, key=len)
        at = longest[int(np.argmax(longest[:, 1]))]
        labels.append(Label(at=(float(at[0]), float(at[1])), words=words, height=2.0, gap=1.0, priority=3))


def _stream(design: Design) -> Iterator[Mark]:
    at, course = design.course.stations, design.course.alignment
    left, right = (course.beside(at.chainage, side * at.width / 2) for side in (1.0, -1.0))
    outline = np.vstack([left, right[::-1]])
    yield Polyline(points=outline, layer="bed", pen=pens.MEDIUM, closed=True, fill=WHITE, hatch=pens.WATER_RULING)
    for lip in design.water.lips:
        ends = course.beside(np.full(2, lip.chainage), np.array([lip.width, -lip.width]) / 2)
        yield Polyline(points=ends, layer="lip", pen=pens.LINER)
    pit = np.array(pit_corners(design.job.reservoir))
    yield Polyline(points=pit, layer="reservoir", pen=pens.HEAVY, closed=True, fill=WHITE, hatch=pens.WATER_RULING)


def _sights(sights: tuple[Sight, ...]) -> Iterator[Mark]:
    drawn = sights if len(sights) <= MOST_SIGHTS else [each for each in sights if each.seen in _SEEN]
    for sight in drawn:
        ends = np.array([sight.view.at, sight.light.at])
        yield Polyline(points=ends, layer="sight lines", pen=SIGHTS[sight.seen])


_SEEN = ("in the beam", "beside it")


def _cables(work: ElectricsWork, electrics: Electrics, labels: list[Label]) -> Iterator[Mark]:
    line = electrics.route.line
    if line is not None:
        yield Polyline(points=line, layer="supply cable", pen=SUPPLY)
        laid = "there already" if work.laid else f"{with_unit(work.cover * 1000, 'mm'):.0f} down"
        middle = line[:2].mean(axis=0)
        words = f"supply cable {work.cable:g} mm², {metres(electrics.feeder.length)}, {laid}"
        labels.append(_named((float(middle[0]), float(middle[1])), words, 2.2, gap=1.5, priority=9))
    for string in electrics.strings:
        yield Polyline(points=string.line, layer="light cable", pen=LIGHTS)


def _lamp(lamp: Placed, window: Window, labels: list[Label]) -> Iterator[Mark]:
    """A lamp, its beam as seen from above: a sector where it lies flat, a ring where it stands steep."""
    flat, steep = float(np.hypot(*lamp.way[:2])), abs(float(lamp.way[2]))
    long, half = BEAM_LONG * window.scale / 1000.0 * flat, lamp.light.beam / 2
    turn = float(np.arctan2(lamp.way[1], lamp.way[0]))
    if flat > steep * np.tan(half) and half < np.pi / 2:
        wide = min(half / max(flat, 0.2), np.pi / 2)
        edge = np.vstack([[lamp.at], arc(lamp.at, max(long, 1e-3), turn - wide, turn + wide)])
        yield Polyline(points=edge, layer="beams", pen=pens.THIN, closed=True)
    else:
        yield Circle(at=lamp.at, radius=BEAM_LONG * window.scale / 2000.0, layer="beams", pen=pens.THIN)
    yield Stamp(at=lamp.at, marks=lamp_mark((0.0, 0.0), 1.3))
    labels.append(_named(lamp.at, lamp.light.name, 2.0, gap=1.9, priority=6))


def _eyes(sights: tuple[Sight, ...], window: Window, labels: list[Label]) -> Iterator[Mark]:
    lamps = np.array([sight.light.at for sight in sights]).reshape(-1, 2)
    for name, view in {sight.view.name: sight.view for sight in sights}.items():
        at, beyond = _at_rim(np.array(view.at), lamps.mean(axis=0), window)
        yield Stamp(at=at, marks=eye_mark((0.0, 0.0)))
        words = f"{name}, {with_unit(beyond, 'm'):.0f} farther off" if beyond > 0 else name
        labels.append(_named(at, words, 2.5, gap=3.2, priority=10, strong=True))


def _at_rim(eye: FloatArray, start: FloatArray, window: Window) -> tuple[tuple[float, float], float]:
    """Where an eye is drawn: in its place, or where the line to it leaves the plan; and what is left to go, m."""
    low, high = window.outline()[0] + RIM, window.outline()[2] - RIM
    begin, end = window.on_paper(np.array([start, eye]))
    way = end - begin
    far = np.where(way > 0, high, low) - begin
    part = min(float(np.divide(far, way, out=np.full(2, np.inf), where=way != 0).min()), 1.0)
    at = start + (eye - start) * part
    return (float(at[0]), float(at[1])), float(np.hypot(*(eye - at)))


def _boxes(work: ElectricsWork, electrics: Electrics, labels: list[Label]) -> Iterator[Mark]:
    route = electrics.route
    if route.line is not None:
        board = (float(route.line[0, 0]), float(route.line[0, 1]))
        yield Stamp(at=board, marks=box_mark((0.0, 0.0), BLACK))
        labels.append(_named(board, work.board, 2.5, gap=2.5, priority=10, strong=True))
    if route.connection is not None and route.connection_water is not None:
        yield Stamp(at=route.connection, marks=box_mark((0.0, 0.0), WHITE))
        words = f"pump connected here, {metres(route.connection_water)} from water"
        labels.append(_named(route.connection, words, 2.2, gap=2.5, priority=9))
    if route.transformer is not None and route.transformer_water is not None:
        yield Stamp(at=route.transformer, marks=transformer_mark((0.0, 0.0), 1.5))
        words = f"transformer, {metres(route.transformer_water)} from water"
        labels.append(_named(route.transformer, words, 2.2, gap=3.0, priority=9))
    for crossed in route.services:
        yield Circle(at=crossed.at, radius=0.15, layer="supply cable", pen=pens.SHORT)


def _named(
    at: tuple[float, float], words: str, height: float, *, gap: float, priority: int, strong: bool = False
) -> Label:
    return Label(at=at, words=words, height=height, weight=600 if strong else 400, gap=gap, priority=priority)


def _column(design: Design, work: ElectricsWork, electrics: Electrics) -> list[Mark]:
    left, room, foot = RIGHT - TITLE_WIDE + 5, TITLE_WIDE - 10, LOW + TITLE_HIGH + 4
    marks: list[Mark] = [heading((left, TOP - 8), "Key")]
    drawn, down = _key(left, TOP - 14)
    marks += drawn
    marks.append(heading((left, down - 4), "The route"))
    said = paragraph((left, down - 9.5), _route_words(work, electrics), room, 2.2)
    marks += said
    down = said[-1].at[1] - 4
    findings = tuple(electrics_findings(design.job, design.supply, electrics))
    marks.append(heading((left, down - 4), "Look at these first"))
    drawn, down = _findings(findings, (left, down - 10), room, foot + (52 if electrics.sights else 0))
    marks += drawn
    if electrics.sights:
        marks.append(heading((left, down - 4), "Who sees which lamp"))
        marks += _sight_table(electrics.sights, (left, down - 7), foot)
    return marks


def _route_words(work: ElectricsWork, electrics: Electrics) -> str:
    """The cable, its cover and its duct in words."""
    route, feeder = electrics.route, electrics.feeder
    duct = route.duct
    taken = (
        "none on the usual list is as wide" if duct.taken is None else f"take {with_unit(1000 * duct.taken, 'mm'):.0f}"
    )
    drawn = (
        f"No line is drawn: {metres(feeder.length)} as measured, and held against no service and no tree. "
        if route.line is None
        else f"Cable {metres(feeder.length)} with what it takes to lay it. "
    )
    ducted = (
        "It lies there already: prove where before digging. "
        if work.laid
        else f"Duct: a cable of about {with_unit(1000 * duct.cable, 'mm'):.0f} wants a bore of "
        f"{with_unit(1000 * duct.bore, 'mm'):.0f} at "
        f"{share(DUCT_FILL.amount)} fill; {taken}, with a draw cord and a spare beside it. "
    )
    return (
        f"{drawn}Cover {millimetres(work.cover)}, warning tape {millimetres(TAPE_OVER.amount)} over it (UK habit). "
        f"{ducted}Zones are drawn as round a basin; whether they hold for a stream that nobody enters is for the "
        "electrician."
    )


def _key(left: float, top: float) -> tuple[list[Mark], float]:
    """Lines in one column, marks in another."""
    lines: tuple[tuple[str, Pen], ...] = (
        ("supply cable", SUPPLY),
        ("light cable", LIGHTS),
        (f"zone 1, {with_unit(ZONE_1_OUT.amount, 'm'):g} out", ZONE_1),
        (f"zone 2, {with_unit(ZONE_2_OUT.amount, 'm'):g} more", ZONE_2),
        *((f"sight: {seen}", pen) for seen, pen in SIGHTS.items()),
    )
    signs: tuple[tuple[str, tuple[Mark, ...]], ...] = (
        ("board", box_mark((0.0, 0.0), BLACK)),
        ("box of the pump", box_mark((0.0, 0.0), WHITE)),
        ("transformer", transformer_mark((0.0, 0.0), 1.5)),
        ("lamp, its beam a sector", lamp_mark((0.0, 0.0), 1.3)),
        ("eye", eye_mark((0.0, 0.0))),
    )
    marks: list[Mark] = []
    for row, (words, pen) in enumerate(lines):
        y = top - 4.4 * row
        marks.append(Polyline(points=np.array([(left, y), (left + 20, y)]), layer="key", pen=pen))
        marks.append(Text(at=(left + 23, y), words=words, height=2.0, up="middle"))
    for row, (words, drawn) in enumerate(signs):
        y = top - 5.4 * row
        marks.append(Stamp(at=(left + 76, y), marks=drawn))
        marks.append(Text(at=(left + 82, y), words=words, height=2.0, up="middle"))
    return marks, top - 4.4 * len(lines)


def _findings(findings: tuple[Finding, ...], at: Point, room: float, foot: float) -> tuple[list[Mark], float]:
    """As many findings as stand over ``foot``, the heaviest first."""
    marks: list[Mark] = []
    down = at[1]
    for finding in sorted(findings, key=lambda each: -each.severity):
        said = paragraph((at[0] + 4.5, down), str(finding), room - 4.5, 2.0)
        if said[-1].at[1] < foot + 6:
            marks.append(Text(at=(at[0] + 4.5, down), words="More: run the check.", height=2.0, weight=600))
            return marks, down - 5
        marks += [*bullet((at[0] + 1.2, down + 0.9), finding.severity), *said]
        down = said[-1].at[1] - 4.6
    return marks, down


def _sight_table(sights: tuple[Sight, ...], at: Point, foot: float) -> list[Mark]:
    order = list(SIGHTS)
    rows = sorted(sights, key=lambda sight: (order.index(sight.seen), sight.off))
    step = 4.2
    most = int((at[1] - foot - step) / step)
    cut = rows if len(rows) <= most else rows[: most - 1]
    cells = [("from", "lamp", unit_called("m"), "off axis", "seen"), *map(_sight_row, cut)]
    if len(cut) < len(rows):
        cells.append((f"{len(rows) - len(cut)} more, none worse", "", "", "", ""))
    drawn, _ = table(at, (42, 34, 14, 18, 32), cells, height=1.8, step=step)
    return list(drawn)


def _sight_row(sight: Sight) -> tuple[str, str, str, str, str]:
    mirrored = f", in {sight.mirrored}" if sight.mirrored else ""
    return (
        sight.view.name,
        sight.light.light.name,
        f"{number_in(sight.distance, 'm'):.1f}",
        f"{degrees(sight.off):.0f}°",
        f"{sight.seen}{mirrored}",
    )
