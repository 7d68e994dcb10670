"""The example jobs designed once, and what is normal for each."""

from functools import cache
from pathlib import Path

import pytest

from beckwright import design, read_job
from beckwright.care import Normal, normal
from beckwright.compose import Works

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = ("hazel_bank", "larkspur_court", "fennymoor_park", "withy_lane")


@cache
def worked(name: str) -> Works:
    return Works(design(read_job(EXAMPLES / name)))


@cache
def usual(name: str) -> Normal:
    works = worked(name)
    return normal(works.design, works)


@pytest.fixture(params=NAMES)
def name(request: pytest.FixtureRequest) -> str:
    return str(request.param)
