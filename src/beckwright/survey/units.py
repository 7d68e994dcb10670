"""The units a survey file may be in."""

from typing import Literal

from beckwright.base.quantities import Length

Unit = Literal["m", "mm", "cm", "ft", "us-ft", "in"]
UNITS: dict[str, Length] = {"m": 1.0, "mm": 1e-3, "cm": 1e-2, "ft": 0.3048, "us-ft": 1200 / 3937, "in": 0.0254}
"""What one of each unit is in metres. The US survey foot is 1200/3937 m by definition."""
WORDS = {
    "m": "metres",
    "mm": "millimetres",
    "cm": "centimetres",
    "ft": "feet",
    "us-ft": "US survey feet",
    "in": "inches",
}
