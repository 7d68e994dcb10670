"""Every number of a design under a dotted name, with its unit, band, grade, source and working."""

from beckwright.base.figures import Figure
from beckwright.compose import Design
from beckwright.figures.ground import ground_figures
from beckwright.figures.order import order_figures
from beckwright.figures.reservoir import reservoir_figures
from beckwright.figures.supply import supply_figures
from beckwright.figures.water import water_figures


def figures_of(design: Design) -> tuple[Figure, ...]:
    """All figures in the order of the work. Names are unique."""
    return (
        *ground_figures(design),
        *water_figures(design),
        *reservoir_figures(design),
        *supply_figures(design),
        *order_figures(design),
    )


__all__ = ["figures_of"]
