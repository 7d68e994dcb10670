"""How stones in the bed hold back the water: at our flows it runs no deeper than the stones, so n is no constant."""
# mypy: no-warn-return-any

import numpy as np

from beckwright.base.published import published
from beckwright.base.quantities import Length, ManningN, Ratio

DEEP = 6.5
SHALLOW = 2.5


@published(
    source="rickenmann-recking-2011",
    place="eq. 10a, the form of Ferguson 2007, a1 6.5, a2 2.5",
    relative_depth=(0.1, 100),
)
def variable_power_ratio(relative_depth: Ratio) -> Ratio:
    """Ratio of velocity to shear velocity over loose, protruding stones (variable power equation).

    ``(8/f)**0.5 = a1 a2 x / (a1**2 + a2**2 x**(5/3))**0.5``

    relative_depth  x  hydraulic radius over D84, the size 84 % of the stones pass
    """
    return DEEP * SHALLOW * relative_depth / np.sqrt(DEEP**2 + SHALLOW**2 * relative_depth ** (5 / 3))


@published(source="strickler-1923", place="n of a flat bed of stones, D50 in metres")
def strickler_n(median_size: Length) -> ManningN:
    """Roughness of flat, bedded stones with the water well over them.

    ``n = D50**(1/6) / 21.1``

    median_size  D50  size half of the stones pass, by mass
    """
    return median_size ** (1 / 6) / 21.1


@published(source="rice-1998", place="eq. for n; eq. 7 of Robinson 1998", median_size=(0.052, 0.278), slope=(0.02, 0.4))
def rice_riprap_n(median_size: Length, slope: Ratio) -> ManningN:
    """Roughness of dumped angular rock on a steep slope.

    ``n = 0.0292 (D50[mm] S)**0.147``

    median_size  D50  size half of the stones pass, by mass
    slope        S    fall along the bed
    """
    return 0.0292 * (1000 * median_size * slope) ** 0.147
