"""Thin a scan to what a garden needs: cells of a grid, one point each. Memory is that of the grid alone."""

import math

import numpy as np

from beckwright.base.quantities import FloatArray, IntArray, Length
from beckwright.base.values import value
from beckwright.base.words import grouped, millimetres
from beckwright.survey.gathered import refusal

FINE_CELLS = 200_000
"""Cells of the grid that is filled first; cells are joined afterwards, once it is known how many have points."""
MANY = 4
"""And this many for each point wanted, where more are wanted than that allows."""
MOST_CELLS = 4_000_000
COMPARED = 2_000
"""Fine cells that are held against the ground thinned from them."""
NEAREST = 6
"""Points a plane is laid through."""
SMALLEST: Length = 0.01
"""Least size of a cell, m: points closer than a survey may have them are joined anyway."""


@value
class Thinned:
    """Points left: places (n, 3), and the distance they stand apart.

    within  height by which 19 in 20 of the finer means lie off the planes through the points left; 0 where that cannot
            be told
    """

    places: FloatArray
    spacing: Length
    within: Length


class Grid:
    """Cells over a rectangle. ``low``, ``high``: its corners (2,), m."""

    def __init__(self, low: FloatArray, high: FloatArray, *, points: int, spacing: Length | None) -> None:
        wide, tall = np.maximum(high - low, SMALLEST)
        self.low = low
        self.points = points
        self.given = spacing is not None
        self.size = max(spacing or math.sqrt(wide * tall / max(FINE_CELLS, MANY * points)), SMALLEST)
        self.shape = (int(wide // self.size) + 1, int(tall // self.size) + 1)
        self.cells = self.shape[0] * self.shape[1]

    def place(self, x: FloatArray, y: FloatArray) -> IntArray:
        """Number of the cell of each point; the points must lie in the rectangle."""
        column = ((x - self.low[0]) / self.size).astype(np.int64)
        row = ((y - self.low[1]) / self.size).astype(np.int64)
        cell: IntArray = np.clip(column, 0, self.shape[0] - 1) * self.shape[1] + np.clip(row, 0, self.shape[1] - 1)
        return cell

    def joined(self, filled: IntArray) -> tuple[IntArray, int]:
        """For the cells that are filled, the number of the larger cell each joins so that few enough are left."""
        column, row = np.divmod(filled, self.shape[1])
        times = 1
        while True:
            cell = (column // times) * (self.shape[1] // times + 1) + row // times
            names, into = np.unique(cell, return_inverse=True)
            if self.given or len(names) <= self.points:
                return into.astype(np.int64), times
            times += 1


def grid_over(low: FloatArray, high: FloatArray, *, points: int, spacing: Length | None) -> Grid:
    """Return a grid for ``points`` points, or of a spacing the person chose. JobError where that is too fine."""
    grid = Grid(low, high, points=points, spacing=spacing)
    if grid.cells > MOST_CELLS:
        found, rule = f"the spacing makes {grouped(grid.cells)} cells", f"A grid has at most {grouped(MOST_CELLS)}"
        raise refusal("--spacing-m", found, rule, "Give a wider spacing or a smaller window")
    return grid


class Means:
    """The mean place of the points in each cell: noise of a scan averages out, and a plane stays that plane."""

    def __init__(self, grid: Grid) -> None:
        self.grid = grid
        self.count = np.zeros(grid.cells)
        self.sums = np.zeros((3, grid.cells))

    def add(self, x: FloatArray, y: FloatArray, z: FloatArray) -> None:
        """Take points in."""
        cell = self.grid.place(x, y)
        self.count += np.bincount(cell, minlength=self.grid.cells)
        # Sums from the corner: six-figure eastings added up by the thousand would lose their millimetres.
        for axis, numbers in enumerate((x - self.grid.low[0], y - self.grid.low[1], z)):
            self.sums[axis] += np.bincount(cell, weights=numbers, minlength=self.grid.cells)

    def thinned(self) -> Thinned:
        """Return the mean of each cell, cells joined until few enough are left."""
        filled = np.flatnonzero(self.count)
        into, times = self.grid.joined(filled)
        corner = np.array([*self.grid.low, 0.0])
        fine = (self.sums[:, filled] / self.count[filled]).T + corner
        count = np.bincount(into, weights=self.count[filled])
        coarse = np.stack([np.bincount(into, weights=total[filled]) for total in self.sums], axis=1)
        return _compared(coarse / count[:, np.newaxis] + corner, fine, times * self.grid.size)


class Lowest:
    """The lowest point in each cell: what is left of a scan that was not sorted into ground and plants."""

    def __init__(self, grid: Grid) -> None:
        self.grid = grid
        self.levels = np.full(grid.cells, np.inf)
        self.plan = np.zeros((grid.cells, 2))

    def add(self, x: FloatArray, y: FloatArray, z: FloatArray) -> None:
        """Take points in."""
        cell = self.grid.place(x, y)
        np.minimum.at(self.levels, cell, z)
        lowest = z <= self.levels[cell]
        self.plan[cell[lowest]] = np.stack([x[lowest], y[lowest]], axis=1)

    def thinned(self) -> Thinned:
        """Return the lowest point of each cell, cells joined until few enough are left."""
        filled = np.flatnonzero(np.isfinite(self.levels))
        into, times = self.grid.joined(filled)
        fine = np.column_stack([self.plan[filled], self.levels[filled]])
        order = np.lexsort((fine[:, 2], into))
        first = order[np.unique(into[order], return_index=True)[1]]
        # The cells above the lowest are plants as often as ground: no measure of how good the ground is.
        return Thinned(places=fine[first], spacing=times * self.grid.size, within=0.0)


def told(thinned: Thinned, metre: Length) -> str:
    """Say how far apart the points stand and what was lost. ``metre``: one unit of the places in metres."""
    spacing = f"Thinned to one point in {thinned.spacing * metre:.2f} m"
    within = f", 19 in 20 of the finer means within {millimetres(thinned.within * metre)} of the ground through them"
    return f"{spacing}{within if thinned.within else ''}."


def _compared(coarse: FloatArray, fine: FloatArray, spacing: Length) -> Thinned:
    """Measure how far the planes through the thinned points lie from the means of the fine cells."""
    from scipy.spatial import cKDTree

    if not NEAREST <= len(coarse) < len(fine):
        return Thinned(places=coarse, spacing=spacing, within=0.0)
    some = fine[:: len(fine) // COMPARED + 1]
    near = coarse[np.asarray(cKDTree(coarse[:, :2]).query(some[:, :2], k=NEAREST)[1])] - some[:, np.newaxis]
    # The plane a + b x + c y that fits the nearest points best, about each fine mean: its height there is a.
    planes = np.linalg.pinv(np.concatenate([np.ones((*near.shape[:2], 1)), near[..., :2] / spacing], axis=2))
    off = np.abs(np.einsum("ij,ij->i", planes[:, 0], near[..., 2]))
    return Thinned(places=coarse, spacing=spacing, within=float(np.quantile(off, 0.95)))
