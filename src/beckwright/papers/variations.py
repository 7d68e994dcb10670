"""How far a variable font's letters advance at a weight and width: OpenType 1.9, ``avar``, ``HVAR`` and the scalars of
"OpenType Font Variations Common Table Formats".

A library has all of it, and to read that part of it takes longer than to measure the letters of every sheet.
"""

from collections.abc import Mapping
from typing import Any

import numpy as np

NONE = 0xFFFFFFFF
"""The row of a letter that never varies."""


def advances_at(font: Any, look: Mapping[str, float]) -> dict[str, float]:
    """Advances by the name of the glyph, in units of the font; ``look`` is by axis: ``wght``, ``wdth``."""
    store, rows = font["HVAR"].table.VarStore, font["HVAR"].table.AdvWidthMap.mapping
    place = [_normal(axis, look[axis.axisTag], font["avar"].segments[axis.axisTag]) for axis in font["fvar"].axes]
    shares = [_share(region.VarRegionAxis, place) for region in store.VarRegionList.Region]

    def moved(row: int) -> float:
        if row == NONE:
            return 0.0
        data = store.VarData[row >> 16]
        told = zip(data.Item[row & 0xFFFF], data.VarRegionIndex, strict=True)
        return float(sum(delta * shares[region] for delta, region in told if shares[region]))

    return {name: advance + moved(rows[name]) for name, (advance, _) in font["hmtx"].metrics.items()}


def _normal(axis: Any, at: float, bent: Mapping[float, float]) -> float:
    """A place on an axis from -1 to 1, 0 where the font stands by itself; ``bent`` as the font's ``avar`` asks."""
    least, own, most = axis.minValue, axis.defaultValue, axis.maxValue
    at = min(max(at, least), most)
    span = own - least if at < own else most - own
    straight = (at - own) / span if span else 0.0
    return float(np.interp(straight, sorted(bent), [bent[each] for each in sorted(bent)]))


def _share(region: Any, place: list[float]) -> float:
    """How much of a region's change is felt at a place: all of it at its peaks, falling evenly to nothing."""
    share = 1.0
    for axis, at in zip(region, place, strict=True):
        start, peak, end = axis.StartCoord, axis.PeakCoord, axis.EndCoord
        if peak in (0, at) or not start <= peak <= end or start < 0 < end:
            continue
        if not start < at < end:
            return 0.0
        share *= (at - start) / (peak - start) if at < peak else (end - at) / (end - peak)
    return share
