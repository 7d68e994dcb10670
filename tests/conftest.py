"""Where nothing may be skipped, a skip is a failure: a proof with holes in it proves less than it says."""

import gc
import os
from collections import Counter
from collections.abc import Callable, Generator
from pathlib import Path
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
VISITS_IN_PASSING = {"browser", "cli", "web"}
"""Folders of tests of the pages and commands of the first visit; what it answers is held in ``visit``."""
FILMS_REMEMBERED = 90
"""Those of six jobs; each is some 40 to 100 kB."""


@pytest.fixture(scope="session")
def film_remembered() -> Callable[..., Any]:
    """Takes a film as the program does, and gives the same again for the same job."""
    from beckwright.film import stories
    from tests.remembered import remembered

    return remembered(stories.film, FILMS_REMEMBERED)


@pytest.fixture(scope="session")
def shared(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder for what one worker makes for all of them."""
    of_this_worker = tmp_path_factory.getbasetemp()
    folder = (of_this_worker.parent if "PYTEST_XDIST_WORKER" in os.environ else of_this_worker) / "shared"
    folder.mkdir(exist_ok=True)
    return folder


@pytest.fixture(scope="session")
def drawn_sets(shared: Path) -> Any:
    """The sheets of each example, drawn once for all workers: ``drawn_sets.sheets("hazel_bank")``."""
    from tests.drawn import Drawn

    return Drawn(shared)


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
def _visited_once(request: pytest.FixtureRequest, shared: Path) -> Generator[None, None, None]:
    """First visits that are answered over again where they are asked about: each is thirty streams designed."""
    if request.path.parent.name not in VISITS_IN_PASSING:
        yield
        return
    from beckwright import visit
    from beckwright.web.begin import routes_visit
    from tests.remembered import kept

    answered = kept(visit.estimate, shared)
    with pytest.MonkeyPatch.context() as patch:
        for asked_by in (visit, routes_visit):
            patch.setattr(asked_by, "estimate", answered)
        yield


@pytest.fixture(autouse=True, scope="module")
def _nothing_kept(request: pytest.FixtureRequest) -> Generator[None, None, None]:
    """What a module worked out once for its own tests is let go with it: designs with films are large."""
    yield
    for held in vars(request.module).values():
        if getattr(held, "__module__", "") == request.module.__name__ and hasattr(held, "cache_clear"):
            held.cache_clear()


@pytest.hookimpl(wrapper=True)
def pytest_collection() -> Generator[None, Any, Any]:
    """What is collected stays until the end: nothing is gained by looking again and again for what of it may go."""
    gc.disable()
    try:
        return (yield)
    finally:
        gc.collect()
        gc.freeze()
        gc.enable()


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Of several tests with one name, workers that share them out run one and say nothing of the others."""
    named = Counter(item.nodeid for item in items)
    if twice := [name for name, count in named.items() if count > 1]:
        message = f"tests of one name, of which only one would be run: {twice}"
        raise pytest.UsageError(message)


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
