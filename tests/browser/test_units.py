"""Who reads US units reads them wherever a number stands, and types what the key says."""

from typing import Any

import pytest

pytestmark = pytest.mark.browser
FOOT = 0.3048
"""m, by definition (NIST SP 811, appendix B.6)."""


def test_levels_pegs_and_heads_are_told_in_feet(page: Any, address: str) -> None:
    metric = [float(each) for each in page.locator("#eight .level").all_inner_texts()]
    typed = page.locator("#first").input_value()
    page.locator(".places summary").click()
    page.locator("button[data-units=us]").click()
    page.locator("#eight tr").nth(7).wait_for()
    page.locator("thead th", has_text="level, ft").wait_for()
    told = [float(each) for each in page.locator("#eight .level").all_inner_texts()]
    # Both are rounded to two digits: half of the last digit of each, in feet.
    assert told == pytest.approx([each / FOOT for each in metric], abs=0.005 + 0.005 / FOOT + 1e-6)
    assert "below, in" in page.locator("thead").first.inner_text()
    assert page.locator("#first").input_value() == typed
    page.goto(f"{address}/slope/1")
    page.locator("#told", has_text="revision").wait_for()
    assert "ft below the nail" in page.locator(".face").inner_text()
