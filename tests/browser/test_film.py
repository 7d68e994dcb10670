"""The film page in a real browser: a peg moved three ways, and nothing that plays by itself."""

from typing import Any


def opened(page: Any, address: str) -> Any:
    page.goto(f"{address}/film?story=restart&flow=everyday")
    page.locator("#happens button").nth(3).wait_for()
    return page


def at(page: Any) -> float:
    return float(page.locator("#seconds").input_value())


def test_the_peg_is_moved_by_pointer_arrows_and_typed_seconds(page: Any, address: str) -> None:
    opened(page, address)
    page.locator("#seconds").fill("90")
    page.locator("#timed button[type=submit]").click()
    assert page.locator("#moment").inner_text().startswith("1:30 min")
    early = page.locator("#section").inner_html()
    page.locator("#later").click()
    assert at(page) > 90
    page.locator("#graph-title").click()
    here = at(page)
    page.keyboard.press("ArrowLeft")
    assert at(page) < here
    box = page.locator("#graph").bounding_box()
    page.mouse.click(box["x"] + box["width"] * 0.9, box["y"] + 100)
    assert at(page) > 300
    assert page.locator("#section").inner_html() != early


def test_nothing_plays_where_motion_is_reduced(page: Any, address: str) -> None:
    opened(page, address)
    assert page.locator("#play").is_hidden()
    here = at(page)
    page.wait_for_timeout(400)
    assert at(page) == here


def test_where_motion_is_welcome_it_plays_only_once_pressed(page: Any, address: str) -> None:
    page.emulate_media(reduced_motion="no-preference")
    opened(page, address)
    here = at(page)
    page.wait_for_timeout(300)
    assert at(page) == here
    page.locator("#play").click()
    page.wait_for_function("(was) => Number(document.getElementById('seconds').value) > was + 1", arg=here)
    page.locator("#play").click()


def test_another_story_and_flow_are_shown_and_fit_a_telephone(page: Any, address: str) -> None:
    opened(page, address)
    page.set_viewport_size({"width": 390, "height": 844})
    page.locator("#stories button", has_text="Stop").click()
    page.locator("#captions", has_text="highest").wait_for()
    assert "Stop at everyday" in page.locator("#graph-title").inner_text()
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
