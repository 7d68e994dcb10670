"""Leak or not: levels over time with the pump off, full, low and with part of the course by-passed."""

from beckwright.readings.leak.fit import Loss, fit_loss, time_wanted
from beckwright.readings.leak.read import Doubt, Series, read_leak_tests
from beckwright.readings.leak.report import report
from beckwright.readings.leak.tell import LeakTest, Measured, Part, leak_test
from beckwright.readings.leak.top_up import SplitTopUp, split_top_up

__all__ = [
    "Doubt",
    "LeakTest",
    "Loss",
    "Measured",
    "Part",
    "Series",
    "SplitTopUp",
    "fit_loss",
    "leak_test",
    "read_leak_tests",
    "report",
    "split_top_up",
    "time_wanted",
]
