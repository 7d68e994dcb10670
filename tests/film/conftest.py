"""The example jobs designed once."""

import pytest

from beckwright.compose import Design

from .streams import NAMES, designed


@pytest.fixture(scope="session")
def hazel() -> Design:
    return designed("hazel_bank")


@pytest.fixture(scope="session")
def withy() -> Design:
    return designed("withy_lane")


@pytest.fixture(scope="session", params=NAMES)
def example(request: pytest.FixtureRequest) -> Design:
    return designed(request.param)
