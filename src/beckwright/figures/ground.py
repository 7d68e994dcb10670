"""Figures of the course, its edges and what stands beside it."""

from collections.abc import Iterator

import numpy as np

from beckwright.base.figures import Figure, dotted
from beckwright.base.published import Grade
from beckwright.base.words import with_unit
from beckwright.compose import Design
from beckwright.equations.lining import edge_over_water
from beckwright.figures.make import by, told, worked
from beckwright.figures.site import site_figures
from beckwright.stages.water.beds import HIGH


def ground_figures(design: Design) -> Iterator[Figure]:
    """Length, fall, freeboard, and the surroundings."""
    course = design.course
    yield told("course.length", "Length of the course", course.length, "m", source="sum of the reaches")
    yield told(
        "course.fall", "Fall from the source's lip to the lower end", course.fall, "m", source="sum of falls and drops"
    )
    yield told("course.end_level", "Bed at the lower end", course.end_level, "m", source="source lip less the fall")
    yield from freeboard_figures(design)
    yield from site_figures(design)


def freeboard_figures(design: Design) -> Iterator[Figure]:
    """The least freeboard of either edge at each flow, flat out too."""
    at = design.course.stations
    for water, board, number in (
        *((design.water, design.freeboard, number) for number in range(len(design.water.names))),
        *((design.flat_out, design.flat_out_freeboard, number) for number in range(len(design.flat_out.names))),
    ):
        flow = water.names[number]
        for side, settled, edges in (
            ("left", board.settled_left, at.settled_left),
            ("right", board.settled_right, at.settled_right),
        ):
            worst = int(np.argmin(settled[number]))
            yield worked(
                design.job,
                f"freeboard.{dotted(flow)}.{side}",
                f"Least freeboard of the {side} edge at {flow}, at {with_unit(at.chainage[worst], 'm'):.2f}",
                settled[number, worst],
                by(
                    edge_over_water,
                    edge=(at_level(edges, worst), "levels: edge once settled"),
                    running=(float(water.level[HIGH, number, worst]), "levels: running water, high end"),
                ),
                grade=Grade.PUBLISHED,
                note="edge once the fill has settled, water at its high end",
            )


def at_level(levels: np.ndarray[tuple[int, ...], np.dtype[np.float64]], station: int) -> float:
    """One level as a plain number."""
    return float(levels[station])
