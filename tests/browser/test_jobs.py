"""Two jobs opened one after the other at one address: what waits for the one is never sent to the other."""

import shutil
from pathlib import Path
from typing import Any

import pytest

from beckwright.web.app import make_app
from tests.browser.conftest import EXAMPLE, Berth

pytestmark = pytest.mark.browser


def test_edits_wait_for_their_own_job_and_it_is_said(window: Any, berth: Berth, tmp_path: Path) -> None:
    jobs = [Path(shutil.copytree(EXAMPLE, tmp_path / name)) for name in ("one", "two")]
    before = [(job / "job.toml").read_bytes() for job in jobs]
    apps = [make_app(job) for job in jobs]
    berth.app, page = apps[0], window().new_page()
    page.goto(berth.address)
    page.locator("#eight tr").nth(7).wait_for()
    berth.app = apps[1]
    page.locator("#plan .peg").nth(3).focus()
    page.keyboard.press("ArrowDown")
    page.locator("#away-since", has_text="Another job is open on the laptop now: two").wait_for()
    page.locator("#away-since", has_text="1 edit kept here").wait_for()
    page.reload()
    page.locator("#others li", has_text="one: 1 edit, the last: Point 4 moved").wait_for()
    assert "waits here" in page.locator("#told").inner_text()
    page.wait_for_timeout(300)
    assert [(job / "job.toml").read_bytes() for job in jobs] == before
    berth.app = apps[0]
    page.reload()
    page.locator("#told", has_text="Point 4 moved").wait_for()
    assert [(job / "job.toml").read_bytes() == was for job, was in zip(jobs, before, strict=True)] == [False, True]
    assert page.locator("#others").is_hidden()
