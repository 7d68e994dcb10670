"""One alias a physical quantity. Inside the house every value is SI; the unit lives in the type.

A plain ``float`` where there is one of a thing, a float array (the plural alias) where there are many.
"""

from typing import Annotated

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]
BoolArray = NDArray[np.bool_]

Length = Annotated[float, "m"]
Level = Annotated[float, "m", "level"]
"""Height above the job's datum zero. A level is never a difference."""
Area = Annotated[float, "m2"]
Volume = Annotated[float, "m3"]
Duration = Annotated[float, "s"]
Days = Annotated[float, "day"]
"""Days of work or of waiting: nobody plans a site in seconds."""
Velocity = Annotated[float, "m/s"]
Acceleration = Annotated[float, "m/s2"]
Flow = Annotated[float, "m3/s"]
UnitFlow = Annotated[float, "m2/s"]
"""Flow for each metre of width."""
Ratio = Annotated[float, "1"]
ManningN = Annotated[float, "s/m^(1/3)"]
Viscosity = Annotated[float, "m2/s"]
Density = Annotated[float, "kg/m3"]
UnitWeight = Annotated[float, "N/m3"]
Mass = Annotated[float, "kg"]
MassPerArea = Annotated[float, "kg/m2"]
Force = Annotated[float, "N"]
Pressure = Annotated[float, "Pa"]
PressurePerKelvin = Annotated[float, "Pa/K"]
Power = Annotated[float, "W"]
Irradiance = Annotated[float, "W/m2"]
"""Radiation on a surface, mean of a day."""
Energy = Annotated[float, "J"]
Angle = Annotated[float, "rad"]
Temperature = Annotated[float, "degC"]
Money = Annotated[float, "currency"]
MoneyPerEnergy = Annotated[float, "currency/J"]
LossRate = Annotated[float, "m/s"]
"""Depth of water lost in a time, such as evaporation."""

Lengths = Annotated[FloatArray, "m"]
Levels = Annotated[FloatArray, "m"]
Areas = Annotated[FloatArray, "m2"]
Flows = Annotated[FloatArray, "m3/s"]
Velocities = Annotated[FloatArray, "m/s"]
Ratios = Annotated[FloatArray, "1"]
Points = Annotated[FloatArray, "m"]
"""Shape (n, 2): easting and northing on the site's own grid."""
