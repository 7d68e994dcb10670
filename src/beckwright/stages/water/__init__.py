"""Steady water in the course: what shows, what hides, how high it stands, how much is in motion."""

from beckwright.stages.water.controls import LipWater, PoolWater
from beckwright.stages.water.steady import Water, run_water
from beckwright.stages.water.stored import Stored

__all__ = ["LipWater", "PoolWater", "Stored", "Water", "run_water"]
