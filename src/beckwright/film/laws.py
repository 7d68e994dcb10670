"""What leaves a node, tabled once by the root of the depth, so that the march only looks up.

Rows are even in the root of the depth up to ``DEEPEST``: at 1 mm they are read within 0.1 %, from 5 mm within 0.01 %.
A row of a run is its flow over the stones for each root of the gradient; a row of a lip or a rim is the flow itself.
"""

from math import sqrt

import numpy as np

from beckwright.base.quantities import FloatArray, Length, Ratio
from beckwright.equations.lips import HEAD_ADDITION, lip_unit_flow
from beckwright.equations.open_channel import flow_carried, specific_energy, wetted_area
from beckwright.equations.water import water_viscosity
from beckwright.job.model import LipKind
from beckwright.stages.water.depth import Channel, velocity_at
from beckwright.stages.water.hidden import layer_velocity
from beckwright.stages.water.runs import RunWater
from beckwright.tables.lips import LIP_COEFFICIENTS

STEPS = 2048
DEEPEST = 1.0
"""Depth of the last row, m; beyond it rows go on straight."""

LEVEL_SHARE = 3e-3
"""Below this share of the bed's gradient a surface is all but level, and flow falls with the gradient itself.

Without it the flow of a level surface would answer the least fall with endless force, and the march would creep.
"""

_CORRECTED = float(np.sqrt(1.0 + LEVEL_SHARE))
"""Rows are raised by this so that at the bed's own gradient the flow is exactly the steady one."""

_ENDS = ("high", "amount", "low")
"""Which coefficient of a lip goes with the low, middle and high depth."""


def depths() -> FloatArray:
    """Depths of the rows, m."""
    rows: FloatArray = DEEPEST * np.linspace(0.0, 1.0, STEPS) ** 2
    return rows


def no_row() -> FloatArray:
    """A row for what lets nothing go."""
    return np.zeros(STEPS)


def run_row(water: RunWater, side_slope: Ratio, end: int) -> FloatArray:
    """Flow over the stones of a run for each root of the gradient, m3/s."""
    row: FloatArray = _CORRECTED * _conveyance(water, side_slope, end)
    return row


def lip_row(kind: LipKind, width: Length, upright: Ratio, end: int) -> FloatArray:
    """Flow over a lip by the root of the depth square to the bed behind it, m3/s."""
    row: FloatArray = _CORRECTED * width * _over_lip(kind, depths() * upright, end)
    return row


def rim_row(width: Length, end: int) -> FloatArray:
    """Flow over the stones of a pool's rim with nothing below to hold it back, m3/s."""
    return lip_row("boulders", width, 1.0, end)


def pool_row(below: RunWater, side_slope: Ratio, end: int) -> FloatArray:
    """Flow from a pool into a run by its rise: over the rim's stones, or what the run takes at that energy, if less."""
    depth = depths()
    carried = _conveyance(below, side_slope, end) * np.sqrt(below.gradient)
    area = wetted_area.over(below.run.width, depth, side_slope)
    energy = specific_energy.over(depth, np.divide(carried, area, out=np.zeros(STEPS), where=area > 0))
    taken = np.interp(depth, energy, carried)
    row: FloatArray = np.minimum(rim_row(below.run.width, end), _CORRECTED * taken)
    return row


def through_coefficients(water: RunWater, temperature: float, end: int) -> tuple[float, float]:
    """Coefficients a and b of ``i = a V + b V**2`` for the stones of a run, s/m and s2/m2.

    Taken from the velocities at the bed's gradient and at a hundredth of it, so at the bed's own gradient the flow is
    the steady one; between the laws (middle) they are those of the geometric mean of both.
    """
    if water.run.bed.depth == 0.0:
        return 1.0, 0.0
    viscosity = water_viscosity(temperature)
    steep, gentle = water.gradient, water.gradient / 100
    fast, slow = (float(layer_velocity(water.run, water.law, i, viscosity)[end]) for i in (steep, gentle))
    inertial = (steep / fast - gentle / slow) / (fast - slow)
    return steep / fast - inertial * fast, inertial


def eased_share(viscous: float, inertial: float, gradient: Ratio) -> Ratio:
    """What the flow between the stones is raised by so that at the bed's own gradient it is exactly the steady one."""
    plain, eased = (viscous + sqrt(viscous**2 + 4 * inertial * gradient * part) for part in (1.0, 1 + LEVEL_SHARE))
    return eased / plain


def _conveyance(water: RunWater, side_slope: Ratio, end: int) -> FloatArray:
    """As the steady stage has it: the law's own depth, then times the factor of the band."""
    lawful = depths() / water.law.factor[end]
    one = np.ones(STEPS)
    channel = Channel(
        width=water.run.width * one,
        side_slope=side_slope,
        gradient=one,
        manning=water.law.manning[end] * one,
        grain84=water.law.grain84 * one,
    )
    return flow_carried.over(wetted_area.over(channel.width, lawful, side_slope), velocity_at(channel, lawful))


def _over_lip(kind: LipKind, head: FloatArray, end: int) -> FloatArray:
    """The lip's law for each metre, led down to nothing over the first millimetre, where water only clings."""
    coefficient = getattr(LIP_COEFFICIENTS[kind], _ENDS[end])
    ramped = head + np.minimum(head, HEAD_ADDITION) - HEAD_ADDITION
    return lip_unit_flow.over(ramped, coefficient)
