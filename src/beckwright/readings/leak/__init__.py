"""Leak or not: levels over time with the pump off, full, low and with part of the course by-passed."""

from beckwright.readings.leak.after import NextStep, next_step
from beckwright.readings.leak.book import LeakBook, leak_book
from beckwright.readings.leak.fit import Loss, fit_loss, time_wanted
from beckwright.readings.leak.numbers import full_of
from beckwright.readings.leak.read import Doubt, Series, read_leak_tests
from beckwright.readings.leak.report import report
from beckwright.readings.leak.sheet import plain_sheet
from beckwright.readings.leak.tell import LeakTest, Measured, Part, leak_test
from beckwright.readings.leak.top_up import SplitTopUp, split_top_up
from beckwright.readings.leak.typed import Entry

__all__ = [
    "Doubt",
    "Entry",
    "LeakBook",
    "LeakTest",
    "Loss",
    "Measured",
    "NextStep",
    "Part",
    "Series",
    "SplitTopUp",
    "fit_loss",
    "full_of",
    "leak_book",
    "leak_test",
    "next_step",
    "plain_sheet",
    "read_leak_tests",
    "report",
    "split_top_up",
    "time_wanted",
]
