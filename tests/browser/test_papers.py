"""The sheets with a real browser: drawn, looked at, enlarged, stopped."""

from typing import Any

import pytest

pytestmark = pytest.mark.browser


@pytest.fixture(params=[390, 1440])
def view(window: Any, address: str, request: pytest.FixtureRequest) -> Any:
    page = window(request.param, 844).new_page()
    faults: list[str] = []
    page.on("pageerror", lambda error: faults.append(str(error)))
    page.on("console", lambda message: faults.append(message.text) if message.type == "error" else None)
    yield page
    page.close()
    assert faults == []


def test_sheets_are_seen_and_one_is_enlarged(view: Any, address: str) -> None:
    view.goto(f"{address}/papers")
    first = view.locator(".card").first
    first.wait_for(timeout=120_000)
    view.wait_for_function("() => document.querySelector('.card img')?.naturalWidth > 0", timeout=90_000)
    assert view.evaluate("document.documentElement.scrollWidth") <= view.viewport_size["width"]
    boxes = [each.bounding_box() for each in first.locator(".forms a").all()]
    assert len(boxes) == 4
    assert all(box["height"] >= 44 and box["width"] >= 44 for box in boxes)
    first.locator("a").first.click()
    view.wait_for_function("() => document.querySelector('#sheet')?.naturalWidth > 0", timeout=90_000)
    window = view.locator("#held").bounding_box()["width"]
    assert view.locator("#sheet").bounding_box()["width"] == pytest.approx(window, abs=4)
    view.locator("#larger").click()
    assert view.locator("#sheet").bounding_box()["width"] == pytest.approx(1.5 * window, abs=6)
    view.locator("#held").press("0")
    assert view.locator("#sheet").bounding_box()["width"] == pytest.approx(window, abs=4)
    title = view.locator("#sheet-title").inner_text()
    view.locator("#after").click()
    # The next sheet is another page: for a moment neither of the two stands.
    other = "was => ![undefined, was, 'Sheet'].includes(document.querySelector('#sheet-title')?.innerText)"
    view.wait_for_function(other, arg=title)


def test_drawing_can_be_stopped_and_begun_again(view: Any, address: str) -> None:
    told = {"drawn": False, "revision": 1, "done": 3, "of": 65, "stopped": False, "words": "being drawn, 3 of 65"}
    state = {"stopped": False}

    def answer(route: Any) -> None:
        state["stopped"] = state["stopped"] and "begin=true" not in route.request.url
        route.fulfill(json={**told, "stopped": state["stopped"]})

    def stop(route: Any) -> None:
        state["stopped"] = True
        route.fulfill(json={"stopped": True})

    view.route("**/api/papers?*", answer)
    view.route("**/api/papers/stop", stop)
    view.goto(f"{address}/papers")
    view.locator("#words", has_text="being drawn, 3 of 65").wait_for()
    view.locator("#stop").click()
    view.locator("#words", has_text="stopped").wait_for()
    view.locator("#draw").click()
    view.locator("#words", has_text="being drawn").wait_for()
    # The program itself was never asked so far.
    view.unroute("**/api/papers?*")
    view.reload()
    view.locator(".card").first.wait_for(timeout=120_000)
