"""Setting out: where every peg stands, what its nail says, and every level that is set."""

from beckwright.stages.setting_out.clear import pieces
from beckwright.stages.setting_out.make import set_out
from beckwright.stages.setting_out.named import worst_taped
from beckwright.stages.setting_out.tapes import short_name
from beckwright.stages.setting_out.values import (
    Corner,
    Dug,
    LevelToSet,
    LinePeg,
    Peg,
    PitSetOut,
    SettingOut,
    SidePeg,
    Spot,
    Tape,
    Tapes,
)

__all__ = [
    "Corner",
    "Dug",
    "LevelToSet",
    "LinePeg",
    "Peg",
    "PitSetOut",
    "SettingOut",
    "SidePeg",
    "Spot",
    "Tape",
    "Tapes",
    "pieces",
    "set_out",
    "short_name",
    "worst_taped",
]
