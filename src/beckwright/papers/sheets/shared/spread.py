"""Short words in a row, pushed apart so that none touches the next."""

from collections.abc import Sequence

import numpy as np

from beckwright.base.quantities import FloatArray


def spread(wanted: Sequence[float] | FloatArray, gap: float) -> FloatArray:
    """Places (n,) as near to ``wanted`` as keeps neighbours ``gap`` apart, in the same order along the row.

    Least squares over places in order: with the gaps taken out, each stretch that collides stands at its mean.
    """
    order = np.argsort(wanted, kind="stable")
    steps = gap * np.arange(len(order))
    blocks: list[tuple[float, int]] = []
    for place in np.asarray(wanted, dtype=float)[order] - steps:
        mean, count = float(place), 1
        while blocks and blocks[-1][0] > mean:
            before, many = blocks.pop()
            mean, count = (mean * count + before * many) / (count + many), count + many
        blocks.append((mean, count))
    places = np.empty(len(order))
    places[order] = np.repeat([mean for mean, _ in blocks], [count for _, count in blocks]) + steps
    return places
