"""The section on the reservoir sheet: pit and chamber cut along the pit through the pump, natural scale both ways."""

from dataclasses import replace

import numpy as np

from beckwright.base.quantities import FloatArray, Length
from beckwright.compose import Design
from beckwright.job.model import Reservoir
from beckwright.papers import pens
from beckwright.papers.drawing import (
    BLACK,
    WHITE,
    Circle,
    Mark,
    Pen,
    Point,
    Polyline,
    Stamp,
    Text,
    Window,
    rectangle,
    section_window,
)
from beckwright.papers.sheets.ground.plan import PLAN_SCALES
from beckwright.papers.sheets.reservoir.names import SIDES, running_levels, winter_water
from beckwright.papers.sheets.reservoir.place import Standing, gives_way, layers_of, on_site
from beckwright.papers.sheets.reservoir.plan import FILLS, GEOTEXTILE
from beckwright.stages.crates import CrateLayout
from beckwright.stages.earthworks.values import PitDig
from beckwright.stages.ground import inside, level_at
from beckwright.stages.reservoir import Pit

SCALES = (5.0, 10.0, *PLAN_SCALES)
NAMES_LEFT, NAMES_RIGHT = 46.0, 52.0
"""Room for the names of layers and of levels, mm."""
GROUND_WATER = Pen(width=0.35, dash=(3.0, 1.0, 0.35, 1.0))
LEAST_LEVEL = Pen(width=0.35, dash=(1.2, 0.8))
AIR = 10.0
"""Left free over what is highest and under what is lowest, together, mm."""
AT_END: Length = 5e-4
"""A hose that leaves this near an end of the pit leaves by it."""


def section_over(design: Design, dig: PitDig, corner: tuple[float, float], size: tuple[float, float]) -> Window:
    """The window of the section: the pit in its middle, from under the dig to over ground, cover and lid."""
    filled, pit = design.reservoir, design.job.reservoir
    below = min(filled.pit.sump_floor - (filled.pit.floor - dig.floor_level), dig.floor_level)
    above = max(filled.pit.cover, filled.ground_level or filled.pit.cover)
    wide = size[0] - NAMES_LEFT - NAMES_RIGHT - 2 * SIDES
    need = max(1000.0 * pit.length / wide, 1000.0 * (above - below) / (size[1] - AIR))
    scale = next((each for each in SCALES if each >= need), float(np.ceil(need)))
    spare = size[1] * scale / 1000.0 - (above - below)
    left = pit.length / 2 - (NAMES_LEFT + SIDES + wide / 2) * scale / 1000.0
    return section_window(corner=corner, size=size, scale=scale, left=left, low=below - spare / 2)


def section_marks(
    design: Design, layout: CrateLayout | None, dig: PitDig, stands: Standing, window: Window
) -> tuple[Mark, ...]:
    """Fill, chamber, pump, pipes, lining and dig, and the ground beside them."""
    return (
        *_dug(design, dig, stands),
        *_ground(design, stands, window),
        *_filled(design, layout, stands),
        *_waters(design, stands, window),
        *_shaft(design, stands, window),
        *_pipes(design, stands, window),
    )


def between_names(design: Design, window: Window) -> Window:
    """The part of the section's window that is drawn on: beyond it stand the names."""
    half = 500.0 * design.job.reservoir.length / window.scale + SIDES
    middle = NAMES_LEFT + (window.size[0] - NAMES_LEFT - NAMES_RIGHT) / 2
    corner = (window.corner[0] + middle - half, window.corner[1])
    return replace(window, corner=corner, size=(2 * half, window.size[1]))


def _sump(design: Design, stands: Standing) -> tuple[Length, Length]:
    """Ends of the sump along the pit: as wide as the chamber that stands in it, else as the dig sheets have it."""
    if stands.chamber is not None:
        return stands.chamber.along, stands.chamber.along + stands.chamber.length
    if len(stands.sump):
        return float(stands.sump[:, 0].min()), float(stands.sump[:, 0].max())
    return 0.0, design.job.reservoir.length


def _basin(design: Design, stands: Standing, down: Length, out: Length) -> FloatArray:
    """Line (8, 2) down one side, over floor and sump, and up the other, ``down`` under and ``out`` outside the fill."""
    pit, length = design.reservoir.pit, design.job.reservoir.length
    left, right = _sump(design, stands)
    floor, sump = pit.floor - down, pit.sump_floor - down
    return np.array(
        [
            (-out, pit.cover),
            (-out, floor),
            (left - out, floor),
            (left - out, sump),
            (right + out, sump),
            (right + out, floor),
            (length + out, floor),
            (length + out, pit.cover),
        ]
    )


def _dug(design: Design, dig: PitDig, stands: Standing) -> list[Mark]:
    """Dig level with room to work round the fill, its sides at the batter up to the ground over the middle."""
    pit = design.reservoir.pit
    floor = _basin(design, stands, pit.floor - dig.floor_level, design.job.earthworks.working_space)
    up = (design.reservoir.ground_level or pit.cover) - dig.floor_level
    floor[0] = floor[1] + (-dig.batter * up, up)
    floor[-1] = floor[-2] + (dig.batter * up, up)
    return [Polyline(points=floor, layer="dig level", pen=pens.DIG_LEVEL)]


def _ground(design: Design, stands: Standing, window: Window) -> list[Mark]:
    """The ground as surveyed, beside the pit only, and winter's water in it."""
    pit, step = design.job.reservoir, window.scale / 1000.0
    reach = (SIDES - 1.0) * step
    marks: list[Mark] = []
    for start in (-reach, pit.length):
        along = np.linspace(start, start + reach, 9)
        points = on_site(design, np.column_stack([along, np.full(9, stands.pump[1])]))
        known = inside(design.ground, points)
        if known.sum() > 1:
            line = np.column_stack([along[known], level_at(design.ground, points[known])])
            marks += pens.existing_ground(line, window)
        water = winter_water(design)
        if water is not None:
            ends = np.array([(start, water), (start + reach, water)])
            marks.append(Polyline(points=ends, layer="ground water", pen=GROUND_WATER))
    return marks


def _filled(design: Design, layout: CrateLayout | None, stands: Standing) -> list[Mark]:
    pit, given = design.reservoir.pit, design.job.reservoir
    marks: list[Mark] = []
    for low, high, hatch in (
        (pit.floor, pit.fill_top, None if given.fill == "open" else FILLS[given.fill]),
        (pit.fill_top, pit.cover, None if given.fill == "open" else pens.STONES),
    ):
        if high > low:
            box = rectangle((0.0, low), (given.length, high - low))
            marks.append(Polyline(points=box, layer="fill", pen=pens.THIN, closed=True, fill=WHITE, hatch=hatch))
    if given.fill == "open":
        marks.append(_water((0.0, pit.floor), (given.length, pit.rested - pit.floor)))
    if layout is not None:
        marks += _crates(layout, given, pit.floor, stands)
        wrap = rectangle((0.0, pit.floor), (given.length, given.fill_depth))
        marks.append(Polyline(points=wrap, layer="geotextile", pen=GEOTEXTILE, closed=True))
    marks.append(Polyline(points=_basin(design, stands, 0.0, 0.0), layer="liner", pen=pens.LINER))
    return marks


def _water(corner: Point, size: Point) -> Mark:
    return Polyline(points=rectangle(corner, size), layer="still water", closed=True, hatch=pens.WATER_RULING)


def _crates(layout: CrateLayout, pit: Reservoir, floor: float, stands: Standing) -> list[Mark]:
    """Crates that the section cuts, layer by layer from the floor."""
    high, cut = pit.fill_depth / layout.layers, float(stands.pump[1])
    marks: list[Mark] = []
    for number, layer in enumerate(layers_of(layout)):
        low = floor + number * high
        for crate in layer.crates:
            if crate.across <= cut < crate.across + crate.width and not gives_way(crate, stands.chamber):
                box = rectangle((crate.along, low), (crate.length, high))
                marks += [
                    Polyline(points=box, layer="crates", pen=pens.MEDIUM, closed=True, fill=WHITE),
                    Polyline(points=box[[0, 2]], layer="crate crossed", pen=pens.CONTOUR),
                ]
    return marks


def _waters(design: Design, stands: Standing, window: Window) -> list[Mark]:
    pit, length = design.reservoir.pit, design.job.reservoir.length
    marks: list[Mark] = list(pens.still_water(np.array([(0.0, pit.rested), (length, pit.rested)]), window))
    for number, (_, low, high) in enumerate(running_levels(design)):
        pen = (pens.RUNNING_EVERYDAY, pens.RUNNING_FULL)[number]
        marks += [
            Polyline(points=np.array([(0.0, level), (length, level)]), layer="running water", pen=pen)
            for level in (low, high)
            if level > pit.floor
        ]
    left, right = _sump(design, stands)
    least = np.array([(left, pit.pump_minimum), (right, pit.pump_minimum)])
    marks.append(Polyline(points=least, layer="pump least", pen=LEAST_LEVEL))
    return marks


def _shaft(design: Design, stands: Standing, window: Window) -> list[Mark]:
    """Chamber, lid in its pieces and the grille under it, and the pump on the sump's floor."""
    pit, given = design.reservoir.pit, design.job.chamber
    open_pit = design.job.reservoir.fill == "open"
    marks: list[Mark] = []
    if stands.chamber is not None or open_pit:
        left, right = _sump(design, stands)
        if not open_pit:
            marks += _walls((left, right), pit, given.wall)
        marks.append(Polyline(points=np.array([(left, pit.cover), (right, pit.cover)]), layer="lid", pen=pens.LINER))
        cuts = np.linspace(left, right, given.lid_pieces + 1)[1:-1]
        split = Polyline(points=np.array([(0.0, -1.4), (0.0, 1.4)]), layer="lid", pen=pens.MEDIUM)
        marks += [Stamp(at=(float(cut), pit.cover), marks=(split,)) for cut in cuts]
        if given.grille:
            under = pit.cover - 2.2 * window.scale / 1000.0
            bars = np.array([(left, under), (right, under)])
            marks.append(Polyline(points=bars, layer="grille", pen=Pen(width=0.5, dash=(0.8, 0.8))))
    return [*marks, *_pump(design, stands)]


def _walls(ends: tuple[Length, Length], pit: Pit, wall: Length) -> list[Mark]:
    """The chamber cut, with the water that stands in it at rest."""
    left, right, low = ends[0], ends[1], pit.sump_floor
    outer = rectangle((left, low), (right - left, pit.cover - low))
    inner = rectangle((left + wall, low), (right - left - 2 * wall, pit.cover - low))
    return [
        Polyline(points=outer, layer="chamber", pen=pens.HEAVY, closed=True, fill=WHITE),
        _water((left + wall, low), (right - left - 2 * wall, pit.rested - low)),
        Polyline(points=inner, layer="chamber", pen=pens.THIN, closed=True),
    ]


def _pump(design: Design, stands: Standing) -> list[Mark]:
    size, floor = design.job.chamber.pump, design.reservoir.pit.sump_floor
    x = float(stands.pump[0])
    if size is None:
        axis = np.array([(x, floor), (x, design.reservoir.pit.cover)])
        return [Polyline(points=axis, layer="pump", pen=pens.CENTRE)]
    wide = max(size[:2])
    body = rectangle((x - wide / 2, floor), (wide, size[2]))
    return [
        Polyline(points=body, layer="pump", pen=pens.MEDIUM, closed=True, fill=WHITE),
        Polyline(points=body, layer="pump", pen=pens.MEDIUM, closed=True, hatch=pens.HEAP_HATCH),
        Text(
            at=(x, floor + size[2] / 2),
            words="pump",
            height=1.8,
            layer="pump",
            across="middle",
            up="middle",
            halo=0.4,
        ),
    ]


def _pipes(design: Design, stands: Standing, window: Window) -> list[Mark]:
    """The overflow at its invert; the hose up the chamber and out over the lining's edge, to the end it leaves by."""
    pit, given = design.reservoir.pit, design.job.reservoir
    step, x = window.scale / 1000.0, float(stands.overflow[0])
    ends = sorted((x, x + stands.outward * 11.0 * step))
    bore = rectangle((ends[0], pit.overflow), (ends[1] - ends[0], given.overflow_bore))
    marks: list[Mark] = [Polyline(points=bore, layer="overflow", pen=pens.MEDIUM, closed=True, fill=WHITE)]
    if len(stands.hose) < 2:
        return marks
    foot = pit.sump_floor + (design.job.chamber.pump or (0.0, 0.0, 0.0))[2]
    top = pit.cover + 1.6 * step
    riser = [(float(stands.pump[0]), foot), (float(stands.pump[0]), top)]
    along = None if stands.leaves is None else float(stands.leaves[0])
    if along is not None and min(along, given.length - along) < AT_END:
        riser.append((along + (11.0 if along > AT_END else -11.0) * step, top))
    else:
        ring = (
            Circle(at=(0.0, 0.0), radius=1.1, layer="hose", pen=pens.MEDIUM, fill=WHITE),
            Circle(at=(0.0, 0.0), radius=0.35, layer="hose", fill=BLACK),
            Text(at=(2.0, 0.6), words="hose", height=1.8, layer="hose", halo=0.3),
        )
        return [*marks, *pens.hose(np.array(riser), window), Stamp(at=riser[-1], marks=ring)]
    return [*marks, *pens.hose(np.array(riser), window)]
