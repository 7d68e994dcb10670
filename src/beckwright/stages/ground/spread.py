"""Lay out counted things one to a row: the step that replaces a loop inside a loop."""

import numpy as np

from beckwright.base.quantities import IntArray


def spread(counts: IntArray) -> tuple[IntArray, IntArray]:
    """Rows for ``counts[i]`` things of each owner ``i``: the owner of each row, and its turn among that owner's.

    ``spread([2, 0, 1])`` is ``[0, 0, 2], [0, 1, 0]``.
    """
    owner = np.repeat(np.arange(len(counts)), counts)
    turn = np.arange(len(owner)) - np.repeat(np.cumsum(counts) - counts, counts)
    return owner, turn
