"""What the method sheet warns by: rules of the trade and of the law, for whoever decides on the spot."""

from beckwright.base.tabled import habit

RESIDUAL_CURRENT = habit(
    0.030, 0.030, 0.030, "A", "residual current device for supplies outdoors and to pumps", jurisdiction="UK"
)
WARM_WATER_LOW = habit(
    20.0, 20.0, 20.0, "degC", "legionella multiplies from here; guidance HSG274 part 3, recalled", jurisdiction="UK"
)
WARM_WATER_HIGH = habit(
    45.0, 45.0, 45.0, "degC", "legionella multiplies up to here; guidance HSG274 part 3, recalled", jurisdiction="UK"
)
