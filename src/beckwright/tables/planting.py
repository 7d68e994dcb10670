"""Distances, depths and heights that planting along a lined stream goes by."""

from beckwright.base.tabled import assumed, habit

DRY_GAP = habit(0.15, 0.15, 0.15, "m", "a wet pocket stands this far from running water, stones and no soil between")
WICKS = habit(0.30, 0.20, 0.30, "m", "soil draws water up and sideways about this far")
WET_WITHIN = assumed(0.05, 0.0, 0.05, "m", "soil no higher than this over running water is soaked")
UNDER_EDGE = assumed(0.05, 0.05, 0.10, "m", "soil of a pocket inside the lining lies this far under its edge")

SHRUB_AWAY = habit(0.8, 0.8, 0.8, "m", "shrubs from the edge of the lining")
TREE_AWAY = habit(5.0, 5.0, 5.0, "m", "trees from the edge of the lining")
NEVER_NEAR = assumed(
    10.0,
    5.0,
    10.0,
    "m",
    "willow, poplar, bamboo, reeds: never at a lining; no source says how far off",
)

LOSS = habit(0.05, 0.0, 0.10, "1", "plants ordered beyond what is planted")
SOIL_DEPTH = habit(0.30, 0.20, 0.40, "m", "soil in a pocket inside the lining")
COMPOST_DEPTH = habit(0.075, 0.05, 0.10, "m", "compost dug into ordinary soil")
FLEECE_LAP = habit(1.1, 1.1, 1.2, "1", "barrier fleece over what it covers, for laps")
SPACING_ODD = assumed(1.5, 1.5, 2.0, "1", "a spacing this many times the table's, or this share of it, is asked about")
