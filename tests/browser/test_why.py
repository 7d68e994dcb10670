"""Why a figure is what it is, and the doubt list, in a real browser."""

from pathlib import Path
from typing import Any

from beckwright.job.read import read_job


def test_a_figure_is_found_explained_and_its_inputs_followed(page: Any, address: str) -> None:
    page.goto(f"{address}/why")
    page.locator("#search").fill("motion full")
    page.locator("#figures a", has_text="stored.full.in_motion").click()
    page.locator(".formula").wait_for()
    page.locator("#bars li").first.wait_for(timeout=30000)
    page.locator("td a", has_text="stored.full.pores").click()
    page.locator("#label", has_text="tones").wait_for()
    assert page.url.endswith("/why/stored.full.pores")


def test_the_slow_part_can_be_stopped(page: Any, address: str) -> None:
    page.goto(f"{address}/why/money.p80")
    page.locator("#stop").click()
    page.locator("#progress", has_text="Stopped after").wait_for()
    assert page.locator("#again").is_visible()


def test_an_unknown_figure_leads_to_near_ones(page: Any, address: str) -> None:
    # The browser tells of the 404 itself; the page's own faults are looked for by a page that keeps no such note.
    with page.context.new_page() as other:
        other.goto(f"{address}/why/suply.flow")
        other.locator("#working a", has_text="supply.flow").click()
        other.locator("#value", has_text="m³/s").wait_for()


def test_a_doubt_is_measured_and_leaves_the_list(page: Any, address: str, folder: Path) -> None:
    page.goto(f"{address}/doubts")
    first = page.locator(".doubt", has_text="beds.pebbles.voids")
    first.locator("input").fill("0.37")
    first.locator("button[type=submit]").click()
    page.locator("#told", has_text="off the list").wait_for(timeout=60000)
    assert page.locator(".doubt", has_text="beds.pebbles.voids").count() == 0
    job = read_job(folder)
    assert "beds.pebbles.voids" not in job.doubts
