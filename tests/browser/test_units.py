"""Who reads US units reads them wherever a number stands, and types them, or any unit by its name."""

from typing import Any

import pytest

pytestmark = pytest.mark.browser
FOOT = 0.3048
"""m, by definition (NIST SP 811, appendix B.6)."""
US_GALLON = 3.785412
"""L (NIST SP 811, appendix B.8, from memory)."""


def test_levels_pegs_and_heads_are_told_in_feet(page: Any, address: str) -> None:
    metric = [float(each) for each in page.locator("#eight .level").all_inner_texts()]
    typed = float(page.locator("#first").input_value())
    page.locator(".places summary").click()
    page.locator("button[data-units=us]").click()
    page.locator("#eight tr").nth(7).wait_for()
    page.locator("thead th", has_text="level, ft").wait_for()
    told = [float(each) for each in page.locator("#eight .level").all_inner_texts()]
    # Both are rounded to two digits: half of the last digit of each, in feet.
    assert told == pytest.approx([each / FOOT for each in metric], abs=0.005 + 0.005 / FOOT + 1e-6)
    assert "below, in" in page.locator("thead").first.inner_text()
    assert float(page.locator("#first").input_value()) == pytest.approx(typed / FOOT, abs=0.005 + 0.005 / FOOT + 1e-6)
    page.goto(f"{address}/slope/1")
    page.locator("#told", has_text="revision").wait_for()
    assert "ft below the nail" in page.locator(".face").inner_text()


def test_feet_inches_and_gallons_are_typed_on_a_telephone(page: Any, address: str) -> None:
    page.context.add_cookies([{"name": "beckwright_units", "value": "us", "url": address}])
    page.set_viewport_size({"width": 390, "height": 844})
    page.goto(address)
    page.locator("#eight tr").nth(7).wait_for()
    first, second, third = map(int, page.locator("#tape .numeral").all_text_contents()[:3])
    assert first == 0
    assert second in (1, 2, 5, 10)
    assert third == 2 * second
    page.locator("#plan .peg").nth(2).focus()
    stood = state(page, address)["course"]["line"][2]
    page.locator("#first").fill("21' 6\"")
    set_and_wait(page)
    # By hand: 21.5 ft; the other number was not typed over, and stays to its last digit.
    assert state(page, address)["course"]["line"][2] == pytest.approx([21.5 * FOOT, stood[1]], abs=1e-5)
    page.locator("#first").fill("21 furlongs")
    page.locator("#set").click()
    page.locator("#told", has_text="is no length").wait_for()
    page.locator("#reshape").click()
    page.locator("#shapes-flow input").fill("1300")
    assert page.locator("#shapes-flow label").inner_text().startswith("US gal/h")
    with page.expect_response("**/api/edit"):
        page.locator("#shapes-flow button").click()
    # The browser shows a flow to the litre.
    assert state(page, address)["flows"][1]["l_h"] == pytest.approx(1300 * US_GALLON, abs=0.5)


def set_and_wait(page: Any) -> None:
    with page.expect_response("**/api/edit"):
        page.locator("#set").click()


def state(page: Any, address: str) -> Any:
    return page.request.get(f"{address}/api/state").json()
