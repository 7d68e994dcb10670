"""The ground a tree's roots need kept whole."""
# mypy: no-warn-return-any

import numpy as np

from beckwright.base.published import published
from beckwright.base.quantities import Area, Length, Ratio


@published(source="bs-5837", place="4.6.1; the radius is capped at 15 m", stem=(0, 1.25))
def root_radius(stem: Length) -> Length:
    """Radius of the circle round a stem in which roots are protected.

    ``r = 12 d``

    stem  d  diameter at 1.5 m above ground
    """
    return 12 * stem


@published(source="bs-5837", place="4.6.1 a), two to five stems")
def combined_stem(squares: Area) -> Length:
    """Diameter of the one stem that stands for two to five.

    ``d = (sum(di**2))**0.5``

    squares  sum(di**2)  sum of the squares of the stems' diameters
    """
    return np.sqrt(squares)


@published(source="bs-5837", place="4.6.1 b), more than five stems", count=(6, np.inf))
def combined_stem_many(mean: Length, count: Ratio) -> Length:
    """Diameter of the one stem that stands for more than five.

    ``d = (n dm**2)**0.5``

    mean   dm  mean diameter of the stems
    count  n   how many there are
    """
    return np.sqrt(count) * mean


@published(source="bs-5837", place="4.6.1: the root protection area is that of the circle")
def root_area(radius: Length) -> Area:
    """Ground inside a root circle.

    ``A = pi r**2``

    radius  r  of the circle
    """
    return np.pi * radius**2
