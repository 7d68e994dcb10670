"""How each run of the course carries water: its slope, its laws, and what its stones let through."""

import numpy as np

from beckwright.base.quantities import FloatArray, Ratio, Viscosity
from beckwright.base.values import value
from beckwright.job.model import Run
from beckwright.stages.course import SetOutCourse, Stretch
from beckwright.stages.water.beds import BedLaw, law_of
from beckwright.stages.water.hidden import layer_velocity


@value
class RunWater:
    """How one run carries water.

    number       of its stretch
    stations     along it
    gradient     fall for each metre along the bed itself
    law          resistance of the bed
    through      (3,) flow for each square metre of its full stone layer
    """

    number: int
    stations: slice
    run: Run
    stretch: Stretch
    gradient: Ratio
    law: BedLaw
    through: FloatArray


def runs_of(course: SetOutCourse, viscosity: Viscosity) -> tuple[RunWater, ...]:
    """Every run with its laws, in order downstream."""
    runs = []
    for number, stretch in enumerate(course.stretches):
        run = stretch.reach
        if isinstance(run, Run):
            gradient = float(stretch.slope / np.hypot(1.0, stretch.slope))
            law = law_of(run.bed, stretch.slope)
            through = layer_velocity(run, law, gradient, viscosity)
            runs.append(
                RunWater(
                    number=number,
                    stations=course.stations.of(number),
                    run=run,
                    stretch=stretch,
                    gradient=gradient,
                    law=law,
                    through=through,
                )
            )
    return tuple(runs)
