"""Every station of a course as running water finds it: what a depth there carries, holds and loses."""

from collections.abc import Callable

import numpy as np

from beckwright.base.constants import STANDARD_GRAVITY
from beckwright.base.quantities import FloatArray, IntArray, Levels
from beckwright.base.values import value
from beckwright.equations.open_channel import surface_width, wetted_area
from beckwright.stages.water.depth import Channel, Laws, laws_of

DRY = 1e-9
"""A depth of no water, m."""


@value
class Bed:
    """Every station as the profile sees it; bands (3), flows (k), stations (n) broadcast together.

    upright   cosine of the slope: how much of a depth square to the bed presses on it
    factor    the lawful depth is the depth over this
    level     of the bed
    flow      (3, k, n) over the stones
    normal    (3, k, n) depth of uniform flow
    critical  (3, k, n) depth of critical flow
    """

    channel: Channel
    upright: FloatArray
    factor: FloatArray
    level: Levels
    flow: FloatArray
    normal: FloatArray
    critical: FloatArray

    def laid_out(self, station: IntArray) -> "Bed":
        """The same at stations (m, r), every array whole, (m, r 3 k): plain arrays answer fastest."""
        bands, flows, _ = self.flow.shape

        def lay(amounts: FloatArray) -> FloatArray:
            whole = np.empty((*station.shape, bands, flows))
            at = amounts[..., station]
            whole[...] = at[..., None, None] if at.ndim == station.ndim else at.transpose(2, 3, 0, 1)
            return whole.reshape(len(station), -1)

        return self._each(lay)

    def part(self, place: tuple[int | slice, slice]) -> "Bed":
        """Some rows and columns of a bed laid out."""
        return self._each(lambda amounts: amounts[place])

    def _each(self, change: Callable[[FloatArray], FloatArray]) -> "Bed":
        channel = self.channel
        return Bed(
            channel=Channel(
                width=change(channel.width),
                side_slope=channel.side_slope,
                gradient=change(channel.gradient),
                manning=change(channel.manning),
                grain84=change(channel.grain84),
            ),
            upright=change(self.upright),
            factor=change(self.factor),
            level=change(self.level),
            flow=change(self.flow),
            normal=change(self.normal),
            critical=change(self.critical),
        )

    def area(self, depth: FloatArray) -> FloatArray:
        """Area of visible water."""
        return wetted_area.over(self.channel.width, np.maximum(depth, DRY), self.channel.side_slope)

    def energy(self, depth: FloatArray) -> FloatArray:
        """Level of the energy line at a depth above 0."""
        return energy_at(laws_of(self.channel), self.level, self.upright, self.flow, depth)[0]

    def friction(self, depth: FloatArray) -> FloatArray:
        """Fall of the energy line for each metre along the bed at a depth above 0."""
        return friction_at(laws_of(self.channel), self.factor, self.flow, depth)

    def thrust(self, depth: FloatArray) -> FloatArray:
        """Momentum function over the weight of water: what the two sides of a jump share."""
        width, slope = self.channel.width, self.channel.side_slope
        pressure = width * depth**2 / 2 + slope * depth**3 / 3
        thrust: FloatArray = self.flow**2 / (STANDARD_GRAVITY * self.area(depth)) + pressure
        return thrust


def energy_at(
    laws: Laws, level: FloatArray, upright: FloatArray, flow: FloatArray, depth: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Level of the energy line at a depth above 0, and how it rises with the depth; arrays as in ``Bed``."""
    area = wetted_area.over(laws.width, depth, laws.side_slope)
    surface = surface_width.over(laws.width, depth, laws.side_slope)
    head = (flow / area) ** 2 / (2 * STANDARD_GRAVITY)
    return level + depth * upright + head, upright - 2 * head * surface / area


def friction_at(laws: Laws, factor: FloatArray, flow: FloatArray, depth: FloatArray) -> FloatArray:
    """Fall of the energy line for each metre along the bed at a depth above 0; arrays as in ``Bed``."""
    slope: FloatArray = laws.gradient * (flow / laws.discharge(depth / factor)) ** 2
    return slope
