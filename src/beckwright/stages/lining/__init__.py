"""The lining: the course laid flat, the cutting plan, laps, pleats, the pit's sheet, the fleece."""

from beckwright.stages.lining.items import lining_items
from beckwright.stages.lining.make import line
from beckwright.stages.lining.values import (
    Bend,
    Compared,
    Cut,
    Fleece,
    Fold,
    Lap,
    Lining,
    Piece,
    PitSheet,
    Roll,
    Slack,
    Splash,
    Strip,
)

__all__ = [
    "Bend",
    "Compared",
    "Cut",
    "Fleece",
    "Fold",
    "Lap",
    "Lining",
    "Piece",
    "PitSheet",
    "Roll",
    "Slack",
    "Splash",
    "Strip",
    "line",
    "lining_items",
]
