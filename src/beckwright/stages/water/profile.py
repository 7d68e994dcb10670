"""Gradually varied flow along the runs: from each lip or pool upwards, from each head downwards, the jump between.

The standard step: energy at one station equals energy at the next plus friction on the way. Friction is taken where the
march arrives, not between: close to a lip it grows a hundredfold within millimetres, and a mean would throw the next
station metres high. Runs, flows and bands march side by side in arrays, calm water up and shooting water down together.
"""

import numpy as np

from beckwright.base.constants import STANDARD_GRAVITY
from beckwright.base.quantities import FloatArray, IntArray
from beckwright.stages.water.bed import DRY, Bed
from beckwright.stages.water.depth import Channel
from beckwright.stages.water.march import march

_TURNS = 60
_CLOSE = 1e-5


def critical_depths(channel: Channel, flow: FloatArray) -> FloatArray:
    """Depth at which a trapezoid carries ``flow`` with the least energy; 0 where nothing flows.

    Newton from the rectangle's closed form on ``Q**2 B = g A**3``; exact at once where the sides are upright.
    """
    depth = (flow**2 / channel.width**2 / STANDARD_GRAVITY) ** (1 / 3)
    for _ in range(_TURNS if channel.side_slope > 0 else 1):
        area = channel.width * depth + channel.side_slope * depth**2
        surface = channel.width + 2 * channel.side_slope * depth
        error = flow**2 * surface - STANDARD_GRAVITY * area**3
        steep = 2 * channel.side_slope * flow**2 - 3 * STANDARD_GRAVITY * area**2 * surface
        step = np.where(flow > 0, error / np.where(steep == 0, -1.0, steep), 0.0)
        depth = depth - step
        if np.all(np.abs(step) < _CLOSE):
            break
    return depth


def profiles(bed: Bed, runs: tuple[slice, ...], foot: FloatArray) -> FloatArray:
    """Depth square to the bed at every station of the runs, (3, k, n); 0 elsewhere.

    runs  stations of each of r runs, head first
    foot  (3, k, r) depth at the lower end of each, set by what stands there; the critical depth where that is more
    """
    down = _padded(runs)
    station = np.concatenate([down[::-1], down], axis=1)
    rows = bed.laid_out(station)
    columns = rows.flow.shape[1]
    up, quick = slice(columns // 2), slice(columns // 2, None)
    head = rows.part((0, quick))
    begun = np.concatenate([np.maximum(foot.transpose(2, 0, 1).ravel(), rows.critical[0, up]), _begin(head)])
    new = np.repeat(station[1:] != station[:-1], columns // station.shape[1], axis=1)
    marched = march(rows, new, np.arange(columns) < columns // 2, begun)
    settled = _settle(rows.part((slice(None), quick)), marched[::-1, up], marched[:, quick])
    depth = np.zeros(bed.flow.shape)
    depth[..., down] = settled.reshape(*down.shape, *bed.flow.shape[:2]).transpose(2, 3, 0, 1)
    return depth


def _padded(runs: tuple[slice, ...]) -> IntArray:
    """(m, r) station numbers, head first; a shorter run repeats its foot, so that all begin and end on their own."""
    longest = max(run.stop - run.start for run in runs)
    return np.array([np.minimum(np.arange(run.start, run.start + longest), run.stop - 1) for run in runs]).T


def _begin(head: Bed) -> FloatArray:
    """Way down: from critical depth where the bed is steep enough to run on shooting, else there is none (0)."""
    return np.where(head.normal < head.critical, head.critical * (1 - 1e-6), 0.0)


def _settle(there: Bed, calm: FloatArray, quick: FloatArray) -> FloatArray:
    """Of the two kinds of flow at each station take the one with more thrust: where they are equal stands the jump."""
    shooting = (quick > DRY) & ((calm <= there.critical * (1 + 1e-6)) | (there.thrust(quick) > there.thrust(calm)))
    return np.where(shooting, quick, calm)
