"""What one of each written unit is in SI. The only place where a job's numbers change unit."""

from beckwright.base.quantities import Area, Flow, Force, Length, Mass, Pressure, Volume

MILLIMETRE: Length = 1e-3
SQUARE_CENTIMETRE: Area = 1e-4
LITRE: Volume = 1e-3
LITRE_PER_HOUR: Flow = 1e-3 / 3600
PERCENT = 0.01
KILONEWTON: Force = 1e3
KILOPASCAL: Pressure = 1e3
KILOWATT_HOUR = 3.6e6
"""J."""
TONNE: Mass = 1e3
HOUR = 3600.0
"""s."""
