"""Edits of job.toml's text: one lawful change at a time, with the person's comments, order and spelling kept."""

from beckwright.job.edit.apply import edit
from beckwright.job.edit.changes import Change, changes
from beckwright.job.edit.kinds import (
    AddPoint,
    AddReach,
    AddRow,
    ChangeReach,
    Edit,
    MoveHosePoint,
    MovePoint,
    MoveReservoir,
    SetFlow,
    SetLevel,
    SetValue,
    SlideReach,
    TakePoint,
    TakeReach,
    read_edit,
)

__all__ = [
    "AddPoint",
    "AddReach",
    "AddRow",
    "Change",
    "ChangeReach",
    "Edit",
    "MoveHosePoint",
    "MovePoint",
    "MoveReservoir",
    "SetFlow",
    "SetLevel",
    "SetValue",
    "SlideReach",
    "TakePoint",
    "TakeReach",
    "changes",
    "edit",
    "read_edit",
]
