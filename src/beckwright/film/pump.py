"""What pump and hose give at every level in the reservoir, tabled once before the march."""

from bisect import bisect_right

import numpy as np

from beckwright.base.errors import JobError, Problem
from beckwright.base.quantities import Duration, Flow, FloatArray, Length, Level, Levels, Ratio, Volume
from beckwright.base.values import value
from beckwright.compose import Design
from beckwright.equations.pipe import pipe_volume
from beckwright.equations.pump import flow_at_speed, head_at_speed
from beckwright.equations.water import water_viscosity
from beckwright.stages.supply import LaidHose, PumpCurve, curve_of, lay

FLAT_OUT = "flat out"
_ROWS = 256
