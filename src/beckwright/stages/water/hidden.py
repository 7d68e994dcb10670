"""Water that runs unseen between the stones, and where it is forced up."""

import numpy as np

from beckwright.base.quantities import FloatArray, Flow, Length, Lengths, Levels, Ratio, Velocity, Viscosity
from beckwright.equations.stone_layer import ergun_velocity, rough_grain_velocity
from beckwright.job.model import Run
from beckwright.stages.course import SetOutCourse, Stretch
from beckwright.stages.water.beds import BANDS, BedLaw


def layer_velocity(run: Run, law: BedLaw, gradient: Ratio, viscosity: Viscosity) -> FloatArray:
    """Flow for each square metre of a full stone layer, (3,): for the low, middle and high visible depth.

    The low visible depth goes with the most hidden water: smooth grains of the middle size. The least: rough grains
    of the smallest size, which fill the gaps. Between them the geometric mean.
    """
    if run.bed.depth == 0.0:
        return np.zeros(BANDS)
    most = ergun_velocity(law.grain50, run.bed.voids, gradient, viscosity)
    least = rough_grain_velocity(law.grain10, run.bed.voids, gradient, viscosity)
    return np.array([most, (most * least) ** 0.5, least])


def controls_of(course: SetOutCourse, stretch: Stretch) -> Lengths:
    """Chainages where no water is hidden: the head of a run, its sills, and the lip or pool below it.

    The foot of the last run is open: there the water leaves into the reservoir as it comes.
    """
    sills = stretch.reach.sills if isinstance(stretch.reach, Run) else ()
    foot = () if stretch is course.stretches[-1] else (stretch.end,)
    return np.array([stretch.start, *(stretch.start + sill for sill in sills), *foot])


def share_sunk(chainage: Lengths, controls: Lengths, exchange: Length) -> FloatArray:
    """0 at a control to 1 where the layer carries all it can; ``exchange`` is the length to sink in or come up."""
    if exchange == 0.0:
        return np.zeros_like(chainage)
    gap = np.abs(chainage[:, None] - controls).min(axis=1)
    share: FloatArray = np.clip(gap / exchange, 0.0, 1.0)
    return share


def exchange_length(stone: Length, slope: Ratio) -> Length:
    """Length over which water sinks into the stones or comes up again: their depth over the slope."""
    return stone / slope


def level_held(course: SetOutCourse, stretch: Stretch, chainage: Lengths) -> Levels:
    """Level that the next lip, sill or pool holds back among the stones with the pump off, at each chainage.

    Minus infinity where nothing below holds water: that stands under every lining.
    """
    controls = controls_of(course, stretch)[1:]  # The head lets water down; it holds none back.
    crests = stretch.bed_start - stretch.slope * (controls - stretch.start)
    holding: Levels = np.append(crests, -np.inf)[np.searchsorted(controls, chainage - 1e-9)]
    return holding


def open_stone(wanted: Ratio, flow: Flow, through: Velocity, width: Length) -> Length:
    """Depth of open stones under which ``wanted`` of a flow stays in view; ``through`` as from ``layer_velocity``."""
    return (1.0 - wanted) * flow / (through * width)


def sill_spacing(stone: Length, depth: Length, slope: Ratio) -> Length:
    """Distance between sills within which the water sinks no deeper than ``depth`` into stones ``stone`` deep."""
    return 2.0 * depth / stone * exchange_length(stone, slope)
