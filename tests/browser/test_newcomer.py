"""A newcomer designs a six-metre stream with one step from ten points and has its dig sheet within fifteen minutes.

Presses and typed numbers only, in an empty folder, by the way the README tells; the sheet is read with pypdf, the job
with the standard library. Levels and distances are held against the ten points themselves, by hand.
"""

import math
import re
import time
import tomllib
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from tests.browser.conftest import Berth

pytestmark = pytest.mark.browser

FIFTEEN_MINUTES = 900.0
PATIENCE = 240_000
SHOT = (
    (0, 0, 10.95), (3, 0, 10.70), (6, 0, 10.40), (9, 0, 10.10), (12, 0, 9.98),
    (0, 6, 11.00), (3, 6, 10.72), (6, 6, 10.45), (9, 6, 10.15), (12, 6, 10.02),
)  # fmt: skip
"""Invented: a lawn of 12 by 6 m that falls to the east; east, north, level."""
SOURCE, FOOT = (2.0, 3.0), (8.0, 3.0)
"""Six metres apart."""


@pytest.fixture
def empty(tmp_path: Path) -> Path:
    return tmp_path / "my_stream"


@pytest.fixture
def bare(empty: Path, berth: Berth) -> str:
    """``beckwright open`` where there is no job."""
    from beckwright.web.begin.first import First

    berth.app = First(empty)
    return berth.address


@pytest.fixture(params=[(390, 844), (1440, 900)], ids=["telephone", "desk"])
def newcomer(window: Any, request: pytest.FixtureRequest) -> Iterator[Any]:
    width, height = request.param
    page = window(width, height, accept_downloads=True).new_page()
    faults: list[str] = []
    page.on("pageerror", lambda error: faults.append(str(error)))
    # A refusal told on the page is one more line in a browser's log, and no fault.
    page.on(
        "console", lambda told: faults.append(told.text) if told.type == "error" and "422" not in told.text else None
    )
    yield page
    assert faults == []


def type_points(page: Any) -> None:
    for row, (east, north, level) in enumerate(SHOT):
        cells = page.locator("#rows tr").nth(row).locator("input")
        for cell, words in enumerate((f"P{row + 1}", f"{east}", f"{north}", f"{level:.2f}".replace(".", ","))):
            cells.nth(cell).fill(words)


def test_ten_points_become_a_stream_with_one_step_and_its_dig_sheet(newcomer: Any, bare: str, empty: Path) -> None:
    begun, page = time.monotonic(), newcomer
    page.goto(bare)
    page.get_by_role("link", name="Begin from points you shot").click()
    type_points(page)
    page.get_by_role("button", name="Look at them").click()
    page.locator("#plan .spot").wait_for()
    for name, spot in (("source", SOURCE), ("foot", FOOT)):
        for way, amount in zip(("east", "north"), spot, strict=True):
            page.locator(f"#{name}-{way}").fill(f"{amount}")
    page.locator("#between", has_text="of stream").wait_for()
    assert page.locator("#steps").input_value() == "1"
    page.locator("#name").fill("Six metres")
    page.get_by_role("button", name="Make the job").click()
    page.locator("#eight tr").nth(7).wait_for(timeout=PATIENCE)
    assert page.locator("#page-title").inner_text() == "Six metres"

    job = tomllib.loads((empty / "job.toml").read_text(encoding="utf-8"))
    line = job["course"]["line_m"]
    assert math.dist(line[0], SOURCE) < 0.001
    assert math.dist(line[-1], FOOT) < 0.001
    assert 6.0 <= sum(map(math.dist, line, line[1:])) < 6.3
    assert [reach["kind"] for reach in job["course"]["reaches"]].count("step") == 1
    falls = sum(reach.get("fall_mm", 0) + reach.get("drop_mm", 0) for reach in job["course"]["reaches"])
    # On the middle line between two even rows the ground is the mean of them, and at 2 and 8 m two thirds of the way.
    high = (10.95 + 11.00) / 2 + ((10.70 + 10.72) / 2 - (10.95 + 11.00) / 2) * 2 / 3
    low = (10.40 + 10.45) / 2 + ((10.10 + 10.15) / 2 - (10.40 + 10.45) / 2) * 2 / 3
    assert falls / 1000 == pytest.approx(high - low, abs=0.03)

    page.locator(".ways > a", has_text="Papers").click()
    page.locator("#groups").locator("a").first.wait_for(timeout=PATIENCE)
    page.locator('a[href="/papers/dig-1"]').first.click()
    with page.expect_download(timeout=PATIENCE) as coming:
        page.locator("#take a", has_text="PDF").click()
    sheet = PdfReader(BytesIO(Path(coming.value.path()).read_bytes()))
    words = " ".join(each.extract_text() for each in sheet.pages)
    assert "Six metres" in words
    assert re.search(r"lip\s*1", words)
    assert time.monotonic() - begun < FIFTEEN_MINUTES


def test_two_presses_on_the_plan_put_both_pegs(newcomer: Any, bare: str) -> None:
    page = newcomer
    page.goto(f"{bare}/begin")
    type_points(page)
    page.get_by_role("button", name="Look at them").click()
    page.locator("#plan .spot").wait_for()
    box = page.locator("#plan").bounding_box()
    # The plan is as wide as the points, and its middle is theirs: 6 east, 3 north.
    page.mouse.click(box["x"] + box["width"] * 0.3, box["y"] + box["height"] / 2)
    page.mouse.click(box["x"] + box["width"] * 0.7, box["y"] + box["height"] / 2)
    page.locator("#between", has_text="of stream").wait_for()
    east = [float(page.locator(f"#{name}-east").input_value()) for name in ("source", "foot")]
    north = [float(page.locator(f"#{name}-north").input_value()) for name in ("source", "foot")]
    assert sum(east) / 2 == pytest.approx(6.0, abs=0.05)
    assert north == pytest.approx([3.0, 3.0], abs=0.05)
    assert page.locator("#plan .peg").count() == 2


def test_what_cannot_be_is_said_and_nothing_is_written(newcomer: Any, bare: str, empty: Path) -> None:
    page = newcomer
    page.goto(f"{bare}/begin")
    type_points(page)
    page.get_by_role("button", name="Look at them").click()
    page.locator("#plan .spot").wait_for()
    for name, east in (("source", "11"), ("foot", "1")):
        page.locator(f"#{name}-east").fill(east)
        page.locator(f"#{name}-north").fill("3")
    page.locator("#problems", has_text="Water runs down").wait_for()
    page.locator("#source-east").fill("30")
    page.locator("#problems", has_text="outside the points shot").wait_for()
    assert page.locator("#making").is_hidden()
    page.locator("#rows tr").nth(2).locator("input").nth(3).fill("1o.4")
    page.get_by_role("button", name="Look at them").click()
    page.locator("#problems", has_text="row 3").wait_for()
    assert page.locator("#rows tr.wrong").count() == 1
    assert not empty.exists()
