"""The first morning with a bucket and a stopwatch: expected beside seen, the model set right, what is likely wrong."""

from beckwright.readings.switch_on import wording
from beckwright.readings.switch_on.causes import Cause, Next
from beckwright.readings.switch_on.corrected import corrected, edits, proposals
from beckwright.readings.switch_on.kinds import KINDS, Kind
from beckwright.readings.switch_on.morning import Beside, Learned, Morning, Running, Tie, expectations, switch_on
from beckwright.readings.switch_on.read import Doubt, Reading, Readings, gathered, read_switch_on, row
from beckwright.readings.switch_on.report import as_data, report

__all__ = [
    "KINDS",
    "Beside",
    "Cause",
    "Doubt",
    "Kind",
    "Learned",
    "Morning",
    "Next",
    "Reading",
    "Readings",
    "Running",
    "Tie",
    "as_data",
    "corrected",
    "edits",
    "expectations",
    "gathered",
    "proposals",
    "read_switch_on",
    "report",
    "row",
    "switch_on",
    "wording",
]
