"""Small conversions every room needs."""

from beckwright.job.units import MILLIMETRE


def length_or_none(given: float | None) -> float | None:
    """Millimetres in metres, where anybody said."""
    return None if given is None else given * MILLIMETRE


def pair(sizes: tuple[float, float]) -> tuple[float, float]:
    """Two sizes, smallest and largest, in metres."""
    return (sizes[0] * MILLIMETRE, sizes[1] * MILLIMETRE)
