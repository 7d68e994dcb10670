"""One edit made in the text of job.toml."""

from collections.abc import Callable
from typing import Any

from beckwright.job.edit.hose import add_hose_point, begin_hose_line, move_hose_point, move_reservoir, take_hose_point
from beckwright.job.edit.keys import add_row, set_flow, set_value
from beckwright.job.edit.kinds import (
    AddHosePoint,
    AddPoint,
    AddReach,
    AddRow,
    BeginHoseLine,
    ChangeReach,
    Edit,
    MoveHosePoint,
    MovePoint,
    MoveReservoir,
    SetFlow,
    SetLevel,
    SetLowerEnd,
    SetValue,
    SlideReach,
    TakeHosePoint,
    TakePoint,
    TakeReach,
)
from beckwright.job.edit.levels import set_level, set_lower_end, slide_reach
from beckwright.job.edit.points import add_point, move_point, take_point
from beckwright.job.edit.reaches import add_reach, change_reach, take_reach
from beckwright.job.edit.refuse import refuse_details
from beckwright.job.edit.rewrite import Rewrite, numbers_put, rewrite
from beckwright.job.edit.standing import Standing, parsed, standing
from beckwright.job.wording.keylines import known
from beckwright.job.written import Written, held_to_form

MAKES: dict[type[Edit], Callable[[Any, Standing], list[Rewrite]]] = {
    MovePoint: move_point,
    AddPoint: add_point,
    TakePoint: take_point,
    SlideReach: slide_reach,
    SetLevel: set_level,
    SetLowerEnd: set_lower_end,
    SetValue: set_value,
    AddReach: add_reach,
    TakeReach: take_reach,
    ChangeReach: change_reach,
    AddRow: add_row,
    MoveReservoir: move_reservoir,
    MoveHosePoint: move_hose_point,
    AddHosePoint: add_hose_point,
    TakeHosePoint: take_hose_point,
    BeginHoseLine: begin_hose_line,
    SetFlow: set_flow,
}


def edit(text: str, wanted: Edit) -> str:
    """Return the text of job.toml with one edit made; comments, order and untouched lines stay as they are.

    Raises ``JobError`` where the text is no TOML, where the edit names what is not there, where a reach would get too
    short or rise, and where what is written would break the bounds of its key. Faults that stood in the text before
    are no bar. Whether the parts still fit together is for ``read_job_text`` to say, once all edits are made.
    """
    job = standing(text)
    changes = MAKES[type(wanted)](wanted, job)
    new = rewrite(text, changes)
    given = numbers_put(text, job.given, changes)
    if given is not None:
        known(new, given)
    faults = _faults(parsed(new))
    if faults:
        before = [(fault["loc"], fault["type"]) for fault in _faults(job.given)]
        made = [fault for fault in faults if (fault["loc"], fault["type"]) not in before]
        if made:
            refuse_details(made, new)
    return new


def _faults(given: dict[str, Any]) -> list[Any]:
    found = held_to_form(given)
    return [] if isinstance(found, Written) else found.errors(include_url=False)
