"""Every number of a design under a dotted name, with its unit, band, grade, source and working."""

from collections.abc import Callable, Iterable, Iterator

from beckwright.base.figures import Figure
from beckwright.care import drops
from beckwright.compose import Design, Works
from beckwright.figures.care import care_figures
from beckwright.figures.crates import crate_figures
from beckwright.figures.earthworks import earthworks_figures, raised_figures
from beckwright.figures.electrics import electrics_figures
from beckwright.figures.falls import fall_figures
from beckwright.figures.ground import freeboard_figures, ground_figures
from beckwright.figures.lining import lining_figures
from beckwright.figures.make import main_flow
from beckwright.figures.money import money_figures
from beckwright.figures.planting import planting_figures
from beckwright.figures.programme import programme_figures
from beckwright.figures.reservoir import reservoir_answers, reservoir_figures
from beckwright.figures.season import season_figures
from beckwright.figures.stones import stone_figures
from beckwright.figures.stonework import stonework_figures
from beckwright.figures.supply import supply_answers, supply_figures
from beckwright.figures.tolerance import tolerance_figures
from beckwright.figures.water import water_answers, water_figures
from beckwright.stages.falls import Fall

Part = Callable[[], Iterable[Figure]]
"""Figures of one part of the work, made when asked for."""


def parts_of(design: Design) -> tuple[Part, ...]:
    """The parts of ``figures_of``."""
    job = design.job
    return (
        lambda: ground_figures(design),
        lambda: tolerance_figures(design),
        lambda: water_figures(design),
        lambda: fall_figures(job, design.water, design.falls, main_flow(job)),
        lambda: stone_figures(job, _strongest(design), design.stability, design.plants),
        lambda: reservoir_figures(design),
        lambda: supply_figures(design),
    )


def figures_in_hand(design: Design) -> Iterator[Figure]:
    """Of ``figures_of`` those that answers are read off while the line moves: no figure nobody looks at is made."""
    yield from freeboard_figures(design)
    yield from water_answers(design)
    yield from reservoir_answers(design)
    yield from supply_answers(design)


def parts_of_works(works: Works) -> tuple[Part, ...]:
    """The parts of ``figures_of_works``."""
    job = works.design.job
    return (
        lambda: earthworks_figures(job, works.dug),
        lambda: raised_figures(works.groundwork),
        lambda: lining_figures(job, works.design.course, works.lining),
        lambda: stonework_figures(job, works.stonework),
        lambda: crate_figures(job, works.crates, works.chamber),
        lambda: () if works.electrics is None else electrics_figures(job, works.electrics),
        lambda: planting_figures(job, works.planting),
        lambda: programme_figures(job, works.programme),
        lambda: season_figures(works),
        lambda: care_figures(job, drops(works.design, works)),
        lambda: money_figures(job, works.estimate, works.lives),
    )


def figures_of(design: Design) -> tuple[Figure, ...]:
    """All figures in the order of the work. Names are unique."""
    return tuple(figure for part in parts_of(design) for figure in part())


def figures_of_works(works: Works) -> Iterator[Figure]:
    """The figures of what is worked out after a design, part by part. No name among them is one of ``figures_of``."""
    for part in parts_of_works(works):
        yield from part()


def _strongest(design: Design) -> tuple[Fall, ...]:
    """The falls at the largest flow there is: the stones are judged at it."""
    flat_out, named = design.flat_out.flows, design.water.flows
    return design.flat_out_falls if len(flat_out) and flat_out.max() > named.max() else design.falls


__all__ = ["figures_in_hand", "figures_of", "figures_of_works", "parts_of", "parts_of_works"]
