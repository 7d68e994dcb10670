"""Taping: from lengths to positions, and what one tape says of another."""
# mypy: no-warn-return-any

from typing import Annotated

import numpy as np

from beckwright.base.published import published
from beckwright.base.quantities import Angle, Length, Ratio

Variance = Annotated[float, "m2"]


@published(source="definition", place="Pythagoras")
def level_length(slope_length: Length, fall: Length) -> Length:
    """Length in plan of a tape pulled straight between two points that differ in level.

    ``L = (S**2 - h**2)**0.5``

    slope_length  S  as read
    fall          h  difference of level of its ends
    """
    return (slope_length**2 - fall**2) ** 0.5


@published(source="definition", place="variances of independent causes add")
def tape_sigma(reading_sigma: Length, stretch: Ratio, length: Length) -> Length:
    """Standard deviation of a taped length.

    ``u = (a**2 + (b L)**2)**0.5``

    reading_sigma  a  of setting both ends and reading
    stretch        b  share of the length that pull, sag, wind and heat put in doubt
    length         L  taped
    """
    return (reading_sigma**2 + (stretch * length) ** 2) ** 0.5


@published(source="definition", place="two circles: how far along the line of their centres they meet")
def tie_along(base: Length, first: Length, second: Length) -> Length:
    """Where a point fixed by two tapes lies along the line from the first mark to the second.

    ``x = (c**2 + a**2 - b**2) / (2 c)``

    base    c  between the marks
    first   a  tape from the first mark
    second  b  tape from the second mark
    """
    return (base**2 + first**2 - second**2) / (2 * base)


@published(source="definition", place="two circles: how far off the line of their centres they meet")
def tie_across(first: Length, along: Length) -> Length:
    """How far off that line it lies: to its left or as far to its right, which two tapes cannot tell.

    ``y = (a**2 - x**2)**0.5``

    first  a  tape from the first mark
    along  x  how far along the line
    """
    return (first**2 - along**2) ** 0.5


@published(source="definition", place="law of cosines")
def tie_cosine(base: Length, first: Length, second: Length) -> Ratio:
    """Cosine of the angle at which two tapes meet.

    ``C = (a**2 + b**2 - c**2) / (2 a b)``

    base    c  between the marks
    first   a  tape from the first mark
    second  b  tape from the second mark
    """
    return (first**2 + second**2 - base**2) / (2 * first * second)


@published(source="baarda-1968", place="local test, w")
def standardized_residual(residual: Length, sigma: Length, redundancy: Ratio) -> Ratio:
    """Residual in units of its own standard deviation.

    ``w = v / (s r**0.5)``

    residual    v  adjusted less measured
    sigma       s  standard deviation of the measurement
    redundancy  r  share of it that the other measurements check, 0 to 1
    """
    return residual / (sigma * redundancy**0.5)


@published(source="baarda-1968", place="size of a gross error if it is the only one")
def gross_error(residual: Length, redundancy: Ratio) -> Length:
    """How much a measurement is too long, if it is the only wrong one.

    ``g = -v / r``

    residual    v  adjusted less measured
    redundancy  r  share of it that the other measurements check, 0 to 1
    """
    return -residual / redundancy


@published(source="ghilani-wolf-2006", place="ch. 19, standard error ellipse")
def ellipse_major(variance_x: Variance, variance_y: Variance, covariance: Variance) -> Length:
    """Half the long axis of a point's error ellipse.

    ``a = ((qx + qy) / 2 + ((qx - qy)**2 / 4 + qxy**2)**0.5)**0.5``

    variance_x  qx   of x
    variance_y  qy   of y
    covariance  qxy  of x and y
    """
    spread = ((variance_x - variance_y) ** 2 / 4 + covariance**2) ** 0.5
    return ((variance_x + variance_y) / 2 + spread) ** 0.5


@published(source="ghilani-wolf-2006", place="ch. 19, standard error ellipse")
def ellipse_minor(variance_x: Variance, variance_y: Variance, covariance: Variance) -> Length:
    """Half the short axis of a point's error ellipse.

    ``b = ((qx qy - qxy**2) / ((qx + qy) / 2 + ((qx - qy)**2 / 4 + qxy**2)**0.5))**0.5``

    variance_x  qx   of x
    variance_y  qy   of y
    covariance  qxy  of x and y
    """
    spread = ((variance_x - variance_y) ** 2 / 4 + covariance**2) ** 0.5
    return ((variance_x * variance_y - covariance**2) / ((variance_x + variance_y) / 2 + spread)) ** 0.5


@published(source="ghilani-wolf-2006", place="ch. 19, standard error ellipse")
def ellipse_turn(variance_x: Variance, variance_y: Variance, covariance: Variance) -> Angle:
    """Direction of the long axis, anticlockwise from the x axis.

    ``t = arctan2(2 qxy, qx - qy) / 2``

    variance_x  qx   of x
    variance_y  qy   of y
    covariance  qxy  of x and y
    """
    return np.arctan2(2 * covariance, variance_x - variance_y) / 2
