"""Where nothing may be skipped, a skip is a failure: a proof with holes in it proves less than it says."""

import os
from collections.abc import Callable, Generator
from typing import Any

import pytest
from hypothesis import settings

NOTHING_SKIPPED = os.environ.get("BECKWRIGHT_NOTHING_SKIPPED", "") not in ("", "0")

settings.register_profile("work", deadline=None)
settings.register_profile("proof", derandomize=True, deadline=None)
"""The proof of a commit comes out the same twice; new examples are sought where somebody works on the code. None fails
by the clock, however busy the machine is: how fast things are is for ``benchmarks``."""
settings.load_profile("proof" if NOTHING_SKIPPED else "work")

FILMS_IN_PASSING = {"browser", "cli", "cures", "languages", "papers", "web", "whole"}
"""Folders of tests that are not about films, though whatever they look at takes fifteen, which are seconds of it."""
FILMS_REMEMBERED = 90
"""Those of six jobs; each is some 40 to 100 kB."""


@pytest.fixture(scope="session")
def film_remembered() -> Callable[..., Any]:
    """Takes a film as the program does, and gives the same again for the same job."""
    from beckwright.film import stories
    from tests.remembered import remembered

    return remembered(stories.film, FILMS_REMEMBERED)


@pytest.fixture(scope="session")
def drawn_sets(tmp_path_factory: pytest.TempPathFactory) -> Any:
    """The sheets of each example, drawn once for all workers: ``drawn_sets.sheets("hazel_bank")``."""
    from tests.drawn import Drawn

    of_this_worker = tmp_path_factory.getbasetemp()
    folder = (of_this_worker.parent if "PYTEST_XDIST_WORKER" in os.environ else of_this_worker) / "drawn"
    folder.mkdir(exist_ok=True)
    return Drawn(folder)


@pytest.fixture(autouse=True, scope="module")
def _filmed_once(request: pytest.FixtureRequest) -> Generator[None, None, None]:
    """Every test of a module in such a folder is given films that were taken once; a second process takes its own."""
    if request.path.parent.name not in FILMS_IN_PASSING:
        yield
        return
    from beckwright.film import stories

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(stories, "film", request.getfixturevalue("film_remembered"))
        yield


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
