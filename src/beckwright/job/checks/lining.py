"""Checks on the rolls of lining as written."""

from collections.abc import Iterator

from beckwright.job.wording.fault import Fault
from beckwright.job.written.course import LayersWritten
from beckwright.job.written.lining import LiningWritten

_MM = 1000.0


def rolls_once(lining: LiningWritten) -> Iterator[Fault]:
    """Refuse a width that stands twice."""
    for key, widths in (("rolls_m", lining.rolls_m), ("fleece_rolls_m", lining.fleece_rolls_m)):
        for place, width in enumerate(widths):
            if width in widths[:place]:
                yield ("lining", key), f"{width:g} m stands twice", "Each width is told once", "Drop one of them"


def rolls_wider_than_laps(lining: LiningWritten, layers: LayersWritten) -> Iterator[Fault]:
    """Refuse rolls that their own laps would use up."""
    sizes = [("rolls_m", width) for width in lining.rolls_m]
    if lining.roll_length_m is not None:
        sizes.append(("roll_length_m", lining.roll_length_m))
    for key, size in sizes:
        if size * _MM <= 2 * layers.lap_mm:
            found = f"{size:g} m with laps of {layers.lap_mm:g} mm"
            yield ("lining", key), found, "A roll is longer and wider than two laps", "Look at it and at layers.lap_mm"
