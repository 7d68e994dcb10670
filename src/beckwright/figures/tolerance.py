"""Figures of the tolerance budget: how far an edge may stand lower than drawn."""

from collections.abc import Iterator

import numpy as np

from beckwright.base.figures import Figure
from beckwright.base.published import Grade
from beckwright.base.words import with_unit
from beckwright.compose import Design
from beckwright.equations.tolerance import combined_tolerance
from beckwright.figures.make import by, worked


def tolerance_figures(design: Design) -> Iterator[Figure]:
    """Each side's budget where it is largest."""
    budget, at = design.budget, design.course.stations
    for side, together, settling in (
        ("left", budget.left, budget.settling_left),
        ("right", budget.right, budget.settling_right),
    ):
        most = int(np.argmax(together))
        yield worked(
            design.job,
            f"tolerance.{side}",
            f"How far the {side} edge may stand lower than drawn, at {with_unit(at.chainage[most], 'm'):.2f}",
            together[most],
            by(
                combined_tolerance,
                survey=(budget.survey, "job: tolerances.survey_mm"),
                dig=(budget.dig, "job: tolerances.dig_mm"),
                stone=(budget.stone, "job: tolerances.stone_mm"),
                settlement=(float(settling[most]), "levels: fill under the edge, beyond the share allowed for"),
            ),
            grade=Grade.PRACTICE,
            note="levels shot as built leave only the survey's part",
        )
