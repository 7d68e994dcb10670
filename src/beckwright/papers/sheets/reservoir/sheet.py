"""The reservoir sheet: the pit floor with whole crates laid, a section through pit and chamber, and the screening."""

import numpy as np

from beckwright.base.words import metres, one_unit, share
from beckwright.compose import Design, Works
from beckwright.papers import pens
from beckwright.papers.drawing import A3_FLAT, Mark, Polyline, Sheet, View, Window, plan_window
from beckwright.papers.labels import Box, paragraph
from beckwright.papers.sheets.reservoir.names import section_names
from beckwright.papers.sheets.reservoir.place import Standing, standing
from beckwright.papers.sheets.reservoir.plan import layer_marks
from beckwright.papers.sheets.reservoir.section import SCALES, between_names, section_marks, section_over
from beckwright.papers.sheets.reservoir.tables import cautions, column
from beckwright.papers.sheets.shared.frame import (
    LEFT,
    LOW,
    RIGHT,
    TITLE_HIGH,
    TITLE_WIDE,
    TOP,
    SheetTitle,
    bar_length,
    bullet,
    frame,
    heading,
    north_point,
    notes,
    scale_bar,
)
from beckwright.stages.crates import CrateLayout, Layer
from beckwright.stages.findings.crates import chamber_findings, crate_findings
from beckwright.stages.findings.pit import pit_findings

READER = "for the crew and the supplier's engineer"
COLUMN = RIGHT - TITLE_WIDE
WIDE = COLUMN - LEFT
SECTION_HIGH = 84.0
HEAD = 9.0
"""Room for the heading of a drawing."""
BESIDE, BELOW = 48.0, 17.5
"""Room for words beside a plan, and for dimensions and corner letters under and over it."""
ROOM = TITLE_WIDE - 6.0
NORTH: Box = (COLUMN - 26.0, TOP - 32.0, COLUMN, TOP)


def reservoir_sheet(design: Design, works: Works, number: int, of: int) -> Sheet:
    """One sheet for the pit and all that stands in it."""
    job, layout = design.job, works.crates
    stands, dig = standing(design, layout), works.dug.pit
    section = section_over(design, dig, (LEFT, LOW), (WIDE, SECTION_HIGH - HEAD))
    plans = _plans(design, layout, stands)
    scales = dict.fromkeys((f"1:{plans[0].window.scale:g}", f"1:{section.scale:g}"))
    title = SheetTitle(title="Reservoir", reader=READER, scale=" and ".join(scales), number=number, of=of)
    cut, names = section_marks(design, layout, dig, stands, section), section_names(design, layout, dig, section)
    return Sheet(
        name="reservoir",
        title=f"{job.title.name}: reservoir",
        paper=A3_FLAT,
        views=(
            *plans,
            View(name="section", window=between_names(design, section), marks=cut),
            View(name="section named", window=section, marks=names),
        ),
        marks=(
            *frame(job, title),
            *_rules(),
            *_headings(layout, plans),
            heading((LEFT + 5, LOW + SECTION_HIGH - 6), "Section along the pit, through the pump"),
            *north_point((COLUMN - 12, TOP - 18), -job.reservoir.turned),
            *scale_bar((COLUMN - 34 - _bar_wide(plans[0].window.scale), TOP - 6.5), plans[0].window.scale),
            *scale_bar((COLUMN - 8 - _bar_wide(section.scale), LOW + SECTION_HIGH - 6), section.scale),
            *_right(design, works, stands),
        ),
        description=f"The reservoir of {job.title.name}, {metres(job.reservoir.length)} by "
        f"{metres(job.reservoir.width)}: plan of each layer, section with levels, loads, uplift, chamber and cautions.",
    )


def _layers(layout: CrateLayout | None) -> tuple[tuple[str, tuple[Layer | None, Layer | None]], ...]:
    """Every plan there is: what it is called, the layer it shows and the one that lies under."""
    if layout is None:
        return (("The pit's floor", (None, None)),)
    if layout.layers == 1:
        return (("The layer of crates", (layout.lower, None)),)
    lower, upper = (", ".join(f"{n}" for n in range(first, layout.layers + 1, 2)) for first in (1, 2))
    return (
        (f"Crates, layer {lower} from the floor up", (layout.lower, None)),
        (
            f"Crates, layer {upper}; dashed: the layer under it, {share(layout.stacked)} of joints over joints",
            (layout.upper, layout.lower),
        ),
    )


def _plans(design: Design, layout: CrateLayout | None, stands: Standing) -> tuple[View, ...]:
    pit, layers = design.job.reservoir, _layers(layout)
    high = (TOP - LOW - SECTION_HIGH) / len(layers) - HEAD
    need = max(1000.0 * pit.length / (WIDE - 2 * BESIDE), 1000.0 * pit.width / (high - BELOW))
    scale = next((each for each in SCALES if each >= need), float(np.ceil(need)))
    return tuple(
        _plan(design, stands, (f"plan of layer {place}", shown), (TOP - (place * (high + HEAD)), high), scale)
        for place, (_, shown) in enumerate(layers, 1)
    )


def _plan(
    design: Design,
    stands: Standing,
    named: tuple[str, tuple[Layer | None, Layer | None]],
    room: tuple[float, float],
    scale: float,
) -> View:
    pit, (name, layers), (low, high) = design.job.reservoir, named, room
    window: Window = plan_window(
        corner=(LEFT, low), size=(WIDE, high), scale=scale, middle=(pit.length / 2, pit.width / 2)
    )
    return View(name=name, window=window, marks=layer_marks(design, stands, layers, window, (NORTH,)))


def _headings(layout: CrateLayout | None, plans: tuple[View, ...]) -> list[Mark]:
    return [
        heading((LEFT + 5, view.window.corner[1] + view.window.size[1] + 2.5), words)
        for (words, _), view in zip(_layers(layout), plans, strict=True)
    ]


def _rules() -> list[Mark]:
    lines = (((COLUMN, LOW + TITLE_HIGH), (COLUMN, TOP)), ((LEFT, LOW + SECTION_HIGH), (COLUMN, LOW + SECTION_HIGH)))
    return [Polyline(points=np.array(line), layer="frame", pen=pens.MEDIUM) for line in lines]


def _bar_wide(scale: float) -> float:
    return 1000.0 * bar_length(scale) * one_unit("m") / scale


def _right(design: Design, works: Works, stands: Standing) -> list[Mark]:
    left = COLUMN + 3.0
    marks, down = column(design, works.crates, works.chamber, left, TOP - 3.0)
    marks.append(heading((left, down - 3.2), "Before anybody goes near it", 2.6))
    said, down = notes((left, down - 8.0), tuple(cautions(design, works.crates, stands)), ROOM, 2.0)
    return [*marks, *said, *_findings(design, works, down - 1.0)]


def _findings(design: Design, works: Works, top: float) -> list[Mark]:
    """What was found here, the heaviest first, as many as there is room for."""
    job, layout = design.job, works.crates
    found = (
        *(crate_findings(job, layout) if layout else ()),
        *chamber_findings(job, works.chamber),
        *pit_findings(job, design.course, design.reservoir),
    )
    left, marks = COLUMN + 3.0, list[Mark]()
    for finding in sorted(found, key=lambda each: -each.severity):
        said = paragraph((left + 4.5, top), str(finding), ROOM - 4.5, 1.9)
        if said[-1].at[1] < LOW + TITLE_HIGH + 2.5:
            break
        marks += [*bullet((left + 1.2, top + 0.9), finding.severity), *said]
        top = said[-1].at[1] - 4.0
    return marks
