"""Where nothing may be skipped, a skip is a failure: a proof with holes in it proves less than it says."""

import os
from collections.abc import Generator

import pytest
from hypothesis import settings

NOTHING_SKIPPED = os.environ.get("BECKWRIGHT_NOTHING_SKIPPED", "") not in ("", "0")

settings.register_profile("proof", derandomize=True)
"""The proof of a commit comes out the same twice; new examples are sought where somebody works on the code."""
if NOTHING_SKIPPED:
    settings.load_profile("proof")


def _refuse(report: pytest.TestReport | pytest.CollectReport) -> None:
    if NOTHING_SKIPPED and report.outcome == "skipped" and not hasattr(report, "wasxfail"):
        report.longrepr = f"skipped where nothing may be: {report.longrepr}"
        report.outcome = "failed"


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport() -> Generator[None, pytest.TestReport, pytest.TestReport]:
    report = yield
    _refuse(report)
    return report


@pytest.hookimpl(wrapper=True)
def pytest_make_collect_report() -> Generator[None, pytest.CollectReport, pytest.CollectReport]:
    report = yield
    _refuse(report)
    return report
