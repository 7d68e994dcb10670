"""A look round: it waits for what it asks, hides nothing, is left and taken up again, and comes to no job unasked."""

from pathlib import Path
from typing import Any

import pytest

from tests.browser.conftest import EXAMPLE, Berth

pytestmark = pytest.mark.browser
SLOW = True
PATIENCE = 120_000


@pytest.fixture
def bare(tmp_path: Path, berth: Berth) -> str:
    """``beckwright open`` where there is no job."""
    from beckwright.web.begin.first import First

    berth.app = First(tmp_path / "my_stream")
    return berth.address


def at_step(page: Any, number: int) -> None:
    page.locator("#tour-title", has_text=f"{number} of 8").wait_for(timeout=PATIENCE)


def done(page: Any) -> None:
    page.locator("#tour.done #tour-says", has_text="Done.").wait_for(timeout=PATIENCE)


def uncovered(page: Any) -> bool:
    """Whether the tour's own row lies over none of what it points at."""
    return bool(
        page.evaluate(
            """() => { const things = [document.querySelector('.pointed'), document.getElementById('tour')];
            const [one, other] = things.map(each => each.getBoundingClientRect());
            const mid = [one.left + one.width / 2, Math.max(one.top, 0) + Math.min(one.height, innerHeight) / 4];
            return mid[1] < other.top || mid[1] > other.bottom; }"""
        )
    )


def test_the_example_is_copied_and_every_step_waits_until_it_is_done(window: Any, bare: str, tmp_path: Path) -> None:
    page = window().new_page()
    faults: list[str] = []
    page.on("pageerror", lambda error: faults.append(str(error)))
    page.goto(bare)
    page.locator("#round-name").fill("a look")
    page.get_by_role("button", name="Look round").click()
    at_step(page, 1)
    page.locator("#eight tr").nth(7).wait_for(timeout=PATIENCE)
    assert sorted(each.name for each in (tmp_path / "a look").glob("*.csv")) == sorted(
        each.name for each in EXAMPLE.glob("*.csv")
    )
    assert (tmp_path / "a look" / "survey.csv").read_bytes() == (EXAMPLE / "survey.csv").read_bytes()

    assert uncovered(page)
    page.locator("#tour-there").click()
    page.keyboard.press("ArrowDown")
    done(page)
    page.locator("#tour-next").click()
    at_step(page, 2)
    assert page.locator("#tour.done").count() == 0
    strip = page.locator("#strip").bounding_box()
    page.mouse.click(strip["x"] + strip["width"] * 0.6, strip["y"] + strip["height"] * 0.4)
    done(page)
    page.locator("#tour-next").click()
    page.locator("#flows .flow", has_text="full").click()
    done(page)
    page.locator("#tour-next").click()
    page.locator("#needs .finding").first.click()
    done(page)
    page.locator("#tour-next").click()
    page.locator("#needs .cure").first.click(timeout=PATIENCE)
    page.locator(".effect [data-act=take]").first.click(timeout=PATIENCE)
    done(page)
    page.locator("#tour-next").click()
    page.locator("#undo:not([disabled])").click()
    done(page)
    page.locator("#tour-next").click()
    at_step(page, 7)
    page.locator(".places summary").click()
    page.locator('.places a[href="/slope"]').click()
    page.locator("#down").wait_for()
    page.goto(bare)
    at_step(page, 8)
    page.locator('.ways > a[href="/papers"]').click()
    page.wait_for_url("**/papers")
    page.goto(bare)
    page.locator("#eight tr").nth(7).wait_for(timeout=PATIENCE)
    assert page.locator("#tour").is_hidden()
    assert faults == []


@pytest.mark.parametrize("width", [390, 768, 1440])
def test_it_is_asked_for_left_and_taken_up_again(window: Any, address: str, width: int) -> None:
    page = window(width, 844).new_page()
    page.goto(address)
    page.locator("#eight tr").nth(7).wait_for(state="attached")
    assert page.locator("#tour").is_hidden(), "no job is shown round unasked"
    page.locator(".places summary").click()
    page.get_by_role("link", name="Show me round").click()
    at_step(page, 1)
    for step in (2, 3, 4):
        page.locator("#tour-next").click()
        at_step(page, step)
        page.wait_for_timeout(150)
        assert uncovered(page)
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    small = page.evaluate(
        """() => [...document.querySelectorAll('#tour button')]
        .filter(each => each.getBoundingClientRect().height < 44).length"""
    )
    assert small == 0
    page.reload()
    at_step(page, 4)
    page.locator("#tour-leave").click()
    assert page.locator("#tour").is_hidden()
    page.goto(address)
    page.locator("#eight tr").nth(7).wait_for(state="attached")
    assert page.locator("#tour").is_hidden()
    page.goto(f"{address}/?round")
    at_step(page, 4)
    assert page.evaluate("document.activeElement.id") == "tour-title"


def test_another_job_at_the_same_address_is_not_shown_round(window: Any, address: str) -> None:
    page = window().new_page()
    page.goto(address)
    page.evaluate(
        """localStorage.setItem(`beckwright look round ${location.host}`,
        JSON.stringify({ job: 'another', step: 3, on: true }))"""
    )
    page.reload()
    page.locator("#eight tr").nth(7).wait_for(state="attached")
    assert page.locator("#tour").is_hidden()
