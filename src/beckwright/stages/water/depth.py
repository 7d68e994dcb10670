"""Steady uniform depth over a bed whose resistance changes with the depth itself."""

import numpy as np

from beckwright.base.quantities import Areas, FloatArray, Flows, Lengths
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


def velocity_at(channel: Channel, depth: Lengths) -> FloatArray:
    """Mean velocity at a depth measured square to the bed."""
    return _velocity(channel, depth, wetted_area.over(channel.width, depth, channel.side_slope))


def _velocity(channel: Channel, depth: Lengths, area: Areas) -> FloatArray:
    radius = hydraulic_radius.over(area, wetted_perimeter.over(channel.width, depth, channel.side_slope))
    by_power = variable_power_ratio.over(relative_depth.over(radius, channel.grain84))
    lawful = channel.manning > 0
    by_manning = manning_ratio.over(np.where(lawful, channel.manning, 1.0), radius)
    return velocity_by_ratio.over(np.where(lawful, by_manning, by_power), radius, channel.gradient)


def discharge_at(channel: Channel, depth: Lengths) -> Flows:
    """Flow carried uniformly at a depth above 0."""
    area = wetted_area.over(channel.width, depth, channel.side_slope)
    return flow_carried.over(area, _velocity(channel, depth, area))


def normal_depth(channel: Channel, flow: Flows) -> Lengths:
    """Depth square to the bed at which the channel carries ``flow``; 0 where the flow is 0.

    Discharge over depth is all but a power law, so Newton's method on the logarithms, with the slope taken from the
    last two trials, closes in a handful of turns from any start. Raises ArithmeticError if it does not.
    """
    flow = np.broadcast_to(flow, np.broadcast_shapes(flow.shape, channel.manning.shape, channel.width.shape))
    wet = flow > 0
    wanted = np.log(np.where(wet, flow, 1.0))
    trial = 0.5 * (wanted - np.log(channel.width))
    power = np.full(flow.shape, 2.0)
    error = _log_discharge(channel, trial) - wanted
    for _ in range(_TURNS):
        step = -error / power
        trial = trial + step
        after = _log_discharge(channel, trial) - wanted
        moved = np.abs(step) > _CLOSE
        power = np.where(moved, (after - error) / np.where(moved, step, 1.0), power)
        error = after
        if np.all(np.abs(error[wet]) < _CLOSE):
            return np.where(wet, np.exp(trial), 0.0)
    message = "uniform depth was not found"
    raise ArithmeticError(message)


def _log_discharge(channel: Channel, log_depth: FloatArray) -> FloatArray:
    carried: FloatArray = np.log(discharge_at(channel, np.exp(log_depth)))
    return carried
