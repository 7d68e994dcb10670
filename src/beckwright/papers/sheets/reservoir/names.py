"""Names beside the section of the reservoir: every level at the right, every layer at the left."""

from dataclasses import replace

import numpy as np

from beckwright.base.quantities import Length
from beckwright.base.words import millimetres, share, sizes, with_unit
from beckwright.compose import Design
from beckwright.figures.make import largest_flow, main_flow
from beckwright.job.model import Reservoir
from beckwright.papers import pens
from beckwright.papers.drawing import Across, Mark, Polyline, Window
from beckwright.papers.sheets.ground.setting_out import to_5_mm
from beckwright.papers.sheets.shared.spread import spread
from beckwright.papers.sheets.shared.table import cell
from beckwright.stages.crates import CrateLayout
from beckwright.stages.earthworks.values import PitDig
from beckwright.tables.crates import WRAP_LAP

SIDES = 14.0
"""Ground shown on each side of the pit, mm; the names stand beyond it."""
STEP, HEIGHT = 4.0, 2.0
RIGHTWARD: Across = "left"
LEFTWARD: Across = "right"


def section_names(design: Design, layout: CrateLayout | None, dig: PitDig, window: Window) -> tuple[Mark, ...]:
    """Every level named at the right, every layer at the left."""
    return (*_level_names(design, window), *_layer_names(design, layout, dig, window))


def running_levels(design: Design) -> list[tuple[str, float, float]]:
    """Name, lowest and highest level while it runs steadily, of the main and of the largest flow."""
    names = dict.fromkeys((main_flow(design.job), largest_flow(design.job)))
    levels = [design.reservoir.running[:, design.water.names.index(name)] for name in names]
    return [(name, float(level.min()), float(level.max())) for name, level in zip(names, levels, strict=True)]


def winter_water(design: Design) -> float | None:
    """Level of winter's ground water; None where nobody told it or the pit lies off the survey."""
    filled = design.reservoir
    return filled.pit.sump_floor + filled.uplifts[0].head if filled.uplifts else None


def _level_names(design: Design, window: Window) -> list[Mark]:
    """Levels at the right, each with a line to where it stands; what stands at one level shares a line."""
    pit, filled = design.reservoir.pit, design.reservoir
    kind = design.job.reservoir.fill
    over, under = ("under the lid", "floor") if kind == "open" else (f"top of the {kind}", f"under the {kind}")
    water = winter_water(design)
    named = [
        *([(filled.ground_level, "ground over the middle")] if filled.ground_level is not None else []),
        (pit.cover, "cover and lid"),
        (pit.fill_top, over),
        (pit.overflow, "overflow"),
        (pit.rested, "rest, pump off"),
        *((high, f"{name}, high end") for name, _, high in running_levels(design) if high > pit.floor),
        *((low, f"{name}, low end") for name, low, _ in running_levels(design) if low > pit.floor),
        (pit.pump_minimum, "pump stops"),
        (pit.floor, under),
        (pit.sump_floor, "pump stands"),
        *([(water, "winter water")] if water is not None else []),
    ]
    together: dict[str, list[tuple[float, str]]] = {}
    for level, name in named:
        together.setdefault(to_5_mm(level), []).append((level, name))
    levels = [each[0][0] for each in together.values()]
    words = [f"{said} {'; '.join(name for _, name in each)}" for said, each in together.items()]
    start = window.scale / 1000.0 * 0.6 + design.job.reservoir.length
    return _named(levels, words, start, window, right=True)


def _layer_names(design: Design, layout: CrateLayout | None, dig: PitDig, window: Window) -> list[Mark]:
    """What lies on what, from the cover down, at the left."""
    pit, given, layers = design.reservoir.pit, design.job.reservoir, design.job.layers
    levels: list[float] = []
    words: list[str] = []
    if given.cover_depth > 0:
        levels.append((pit.cover + pit.fill_top) / 2)
        kind = "lid over the pit" if given.fill == "open" else f"stone, voids {share(given.cover_voids)}"
        words.append(f"{millimetres(given.cover_depth)} {kind}")
    if layout is not None:
        levels.append(pit.fill_top)
        words.append(f"geotextile, laps {millimetres(WRAP_LAP.amount)}")
    levels.append((pit.fill_top + pit.floor) / 2)
    words.append(_fill_words(given, layout))
    down = pit.floor
    for depth, name in (
        (layers.fleece_over, "fleece"),
        (layers.lining, "lining"),
        (layers.fleece_under, "fleece"),
        (layers.blinding, "blinding"),
    ):
        if depth > 0:
            levels.append(down - depth / 2)
            words.append(f"{_thin(depth)} {name}")
        down -= depth
    levels.append(dig.floor_level)
    words.append(f"dig level {to_5_mm(dig.floor_level)}")
    return _named(levels, words, -0.6 * window.scale / 1000.0, window, right=False)


def _thin(depth: Length) -> str:
    """A thin layer keeps its parts of a millimetre."""
    return f"{with_unit(depth * 1000, 'mm'):.3g}"


def _fill_words(pit: Reservoir, layout: CrateLayout | None) -> str:
    if layout is None or pit.crate is None:
        kind = {"stones": "stone", "open": "open"}.get(pit.fill, pit.fill)
        return f"{millimetres(pit.fill_depth)} {kind}, voids {share(pit.voids)}"
    rows = f"{layout.layers} layers" if layout.layers > 1 else "1 layer"
    return f"{rows} of crates {sizes(pit.crate).removesuffix(' mm')}"


def _named(levels: list[float], words: list[str], start: Length, window: Window, *, right: bool) -> list[Mark]:
    """Names in a row beside the pit; a level off the window has no line, and says so."""
    step = window.scale / 1000.0
    low, high = window.origin[1], window.origin[1] + window.size[1] * step
    shown = np.array([level for level in levels if low < level < high])
    places = spread(np.clip(levels, shown.min() - STEP * step, shown.max() + STEP * step), STEP * step)
    # A long row near the rim must not be pushed over it.
    places += min(0.0, high - 1.6 * step - float(places.max()))
    places += max(0.0, low + 2.4 * step - float(places.min()))
    way, setting = (1.0, RIGHTWARD) if right else (-1.0, LEFTWARD)
    far = start + way * (SIDES + 5.0) * step
    rim = window.origin[0] + (window.size[0] * step if right else 0.0)
    room = abs(rim - far) / step - 3.0
    marks: list[Mark] = []
    for level, said, at in zip(levels, words, places, strict=True):
        seen = low < level < high
        words_at = (far + way * step, float(at))
        named = cell(words_at, said if seen else f"{said}, not drawn", room, HEIGHT, setting, head=False)
        if seen:
            knee = start + way * (SIDES - 1.0) * step
            line = np.array([(start, level), (knee, level), (far, float(at))])
            marks.append(Polyline(points=line, layer="levels", pen=pens.CONTOUR))
        marks.append(replace(named, up="middle", layer="levels"))
    return marks
