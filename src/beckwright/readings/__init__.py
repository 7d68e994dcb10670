"""What comes back from site, held against the design: an input to a new look, never a change of the old."""

from beckwright.readings.as_built import AsBuilt, LipBuilt, Off, as_built
from beckwright.readings.shots import Shot, read_shots

__all__ = ["AsBuilt", "LipBuilt", "Off", "Shot", "as_built", "read_shots"]
