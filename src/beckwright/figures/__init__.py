"""Every number of a design under a dotted name, with its unit, band, grade, source and working."""

from collections.abc import Iterator

from beckwright.base.figures import Figure
from beckwright.compose import Design, Works
from beckwright.figures.crates import crate_figures
from beckwright.figures.earthworks import earthworks_figures, raised_figures
from beckwright.figures.electrics import electrics_figures
from beckwright.figures.falls import fall_figures
from beckwright.figures.ground import ground_figures
from beckwright.figures.lining import lining_figures
from beckwright.figures.make import main_flow
from beckwright.figures.money import money_figures
from beckwright.figures.planting import planting_figures
from beckwright.figures.programme import programme_figures
from beckwright.figures.reservoir import reservoir_figures
from beckwright.figures.stones import stone_figures
from beckwright.figures.stonework import stonework_figures
from beckwright.figures.supply import supply_figures
from beckwright.figures.tolerance import tolerance_figures
from beckwright.figures.water import water_figures
from beckwright.stages.falls import Fall


def figures_of(design: Design) -> tuple[Figure, ...]:
    """All figures in the order of the work. Names are unique."""
    return (
        *ground_figures(design),
        *tolerance_figures(design),
        *water_figures(design),
        *fall_figures(design.job, design.water, design.falls, main_flow(design.job)),
        *stone_figures(design.job, _strongest(design), design.stability, design.plants),
        *reservoir_figures(design),
        *supply_figures(design),
    )


def figures_of_works(works: Works) -> Iterator[Figure]:
    """The figures of what is worked out after a design, part by part. No name among them is one of ``figures_of``."""
    job = works.design.job
    yield from earthworks_figures(job, works.dug)
    yield from raised_figures(works.groundwork)
    yield from lining_figures(job, works.design.course, works.lining)
    yield from stonework_figures(job, works.stonework)
    yield from crate_figures(job, works.crates, works.chamber)
    if works.electrics is not None:
        yield from electrics_figures(job, works.electrics)
    yield from planting_figures(job, works.planting)
    yield from programme_figures(job, works.programme)
    yield from money_figures(job, works.estimate, works.lives)


def _strongest(design: Design) -> tuple[Fall, ...]:
    """The falls at the largest flow there is: the stones are judged at it."""
    flat_out, named = design.flat_out.flows, design.water.flows
    return design.flat_out_falls if len(flat_out) and flat_out.max() > named.max() else design.falls


__all__ = ["figures_of", "figures_of_works"]
