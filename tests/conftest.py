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


@pytest.fixture(autouse=True, scope="module")
def _nothing_kept(request: pytest.FixtureRequest) -> Generator[None, None, None]:
    """What a module worked out once for its own tests is let go with it: designs with films are large."""
    yield
    for held in vars(request.module).values():
        if getattr(held, "__module__", "") == request.module.__name__ and hasattr(held, "cache_clear"):
            held.cache_clear()


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
