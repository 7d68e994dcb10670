"""Every number of a design under a dotted name, with its unit, band, grade, source and working."""

from beckwright.base.figures import Figure
from beckwright.compose import Design
from beckwright.figures.falls import fall_figures
from beckwright.figures.ground import ground_figures
from beckwright.figures.make import main_flow
from beckwright.figures.order import order_figures
from beckwright.figures.reservoir import reservoir_figures
from beckwright.figures.stones import stone_figures
from beckwright.figures.supply import supply_figures
from beckwright.figures.water import water_figures
from beckwright.stages.falls import Fall


def figures_of(design: Design) -> tuple[Figure, ...]:
    """All figures in the order of the work. Names are unique."""
    return (
        *ground_figures(design),
        *water_figures(design),
        *fall_figures(design.job, design.water, design.falls, main_flow(design.job)),
        *stone_figures(design.job, _strongest(design), design.stability, design.plants),
        *reservoir_figures(design),
        *supply_figures(design),
        *order_figures(design),
    )


def _strongest(design: Design) -> tuple[Fall, ...]:
    """The falls at the largest flow there is: the stones are judged at it."""
    flat_out, named = design.flat_out.flows, design.water.flows
    return design.flat_out_falls if len(flat_out) and flat_out.max() > named.max() else design.falls


__all__ = ["figures_of"]
