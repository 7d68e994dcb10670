"""Steady uniform depth over a bed whose resistance changes with the depth itself."""

from typing import NamedTuple

import numpy as np

from beckwright.base.quantities import Areas, BoolArray, FloatArray, Flows, Lengths
from beckwright.base.values import value
from beckwright.equations.open_channel import (
    flow_carried,
    hydraulic_radius,
    manning_ratio,
    relative_depth,
    velocity_by_ratio,
    wetted_area,
    wetted_perimeter,
)
from beckwright.equations.resistance import variable_power_ratio

_CLOSE = 1e-10
_TURNS = 40


@value
class Channel:
    """Channels side by side in arrays that broadcast together.

    gradient  fall for each metre along the bed itself
    manning   Manning's n, or 0 where the variable-power law over ``grain84`` holds
    """

    width: Lengths
    side_slope: float
    gradient: FloatArray
    manning: FloatArray
    grain84: Lengths


class Laws(NamedTuple):
    """A channel ready to be asked at one depth after another; arrays as in ``Channel``.

    lawful   whether Manning's law holds
    manning  Manning's n; 1 where the variable-power law holds
    """

    width: Lengths
    side_slope: float
    gradient: FloatArray
    lawful: BoolArray
    manning: FloatArray
    grain84: Lengths

    def part(self, place: slice | tuple[slice, BoolArray]) -> "Laws":
        """Some rows, or some columns, of channels laid out in whole arrays."""
        return Laws(
            width=self.width[place],
            side_slope=self.side_slope,
            gradient=self.gradient[place],
            lawful=self.lawful[place],
            manning=self.manning[place],
            grain84=self.grain84[place],
        )

    def velocity(self, depth: Lengths, area: Areas) -> FloatArray:
        """Mean velocity at a depth square to the bed and the area that goes with it."""
        radius = hydraulic_radius.over(area, wetted_perimeter.over(self.width, depth, self.side_slope))
        by_power = variable_power_ratio.over(relative_depth.over(radius, self.grain84))
        by_manning = manning_ratio.over(self.manning, radius)
        return velocity_by_ratio.over(np.where(self.lawful, by_manning, by_power), radius, self.gradient)

    def discharge(self, depth: Lengths) -> Flows:
        """Flow carried uniformly at a depth above 0."""
        area = wetted_area.over(self.width, depth, self.side_slope)
        return flow_carried.over(area, self.velocity(depth, area))


def laws_of(channel: Channel) -> Laws:
    """The laws of a channel."""
    lawful = channel.manning > 0
    return Laws(
        width=channel.width,
        side_slope=channel.side_slope,
        gradient=channel.gradient,
        lawful=lawful,
        manning=np.where(lawful, channel.manning, 1.0),
        grain84=channel.grain84,
    )


def velocity_at(channel: Channel, depth: Lengths) -> FloatArray:
    """Mean velocity at a depth measured square to the bed."""
    return laws_of(channel).velocity(depth, wetted_area.over(channel.width, depth, channel.side_slope))


def discharge_at(channel: Channel, depth: Lengths) -> Flows:
    """Flow carried uniformly at a depth above 0."""
    return laws_of(channel).discharge(depth)


def normal_depth(channel: Channel, flow: Flows) -> Lengths:
    """Depth square to the bed at which the channel carries ``flow``; 0 where the flow is 0.

    Discharge over depth is all but a power law, so Newton's method on the logarithms, with the slope taken from the
    last two trials, closes in a handful of turns from any start. Raises ArithmeticError if it does not.
    """
    flow = np.broadcast_to(flow, np.broadcast_shapes(flow.shape, channel.manning.shape, channel.width.shape))
    laws, wet = laws_of(channel), flow > 0
    wanted = np.log(np.where(wet, flow, 1.0))
    trial = 0.5 * (wanted - np.log(channel.width))
    power = np.full(flow.shape, 2.0)
    error = _log_discharge(laws, trial) - wanted
    for _ in range(_TURNS):
        step = -error / power
        trial = trial + step
        after = _log_discharge(laws, trial) - wanted
        moved = np.abs(step) > _CLOSE
        power = np.where(moved, (after - error) / np.where(moved, step, 1.0), power)
        error = after
        if np.all(np.abs(error[wet]) < _CLOSE):
            return np.where(wet, np.exp(trial), 0.0)
    message = "uniform depth was not found"
    raise ArithmeticError(message)


def _log_discharge(laws: Laws, log_depth: FloatArray) -> FloatArray:
    carried: FloatArray = np.log(laws.discharge(np.exp(log_depth)))
    return carried
