"""The two constants every equation shares; ``tables/constants.py`` says where they come from."""

from beckwright.base.quantities import Acceleration, Density

STANDARD_GRAVITY: Acceleration = 9.80665
WATER_DENSITY: Density = 1000.0
