"""The peg page, as it is read on the slope."""

import json
from typing import Any
from urllib.request import urlopen

import pytest

pytestmark = pytest.mark.browser


@pytest.fixture
def phone(window: Any) -> Any:
    return window(390, 844, has_touch=True, reduced_motion="no-preference").new_page()


def test_a_peg_shows_what_the_setting_out_says_and_leads_to_the_next(phone: Any, address: str) -> None:
    with urlopen(f"{address}/api/pegs") as answer:  # noqa: S310  # This machine.
        pegs = json.load(answer)["pegs"]
    phone.goto(f"{address}/slope/{pegs[1]['number']}")
    phone.locator("#peg", has_text=f"Peg {pegs[1]['number']}").wait_for()
    assert float(phone.locator("#down").inner_text()) == pytest.approx(abs(pegs[1]["dug"][-1]["below"]), abs=0.0051)
    phone.locator("#after").tap()
    phone.locator("#peg", has_text=f"Peg {pegs[2]['number']}").wait_for()
    assert phone.url.endswith(f"/{pegs[2]['number']}")
    assert phone.locator("#after").bounding_box()["height"] >= 140
    assert phone.evaluate("document.documentElement.scrollWidth") <= 390


def test_pegs_fetched_once_are_there_without_the_laptop(phone: Any, address: str) -> None:
    phone.goto(f"{address}/slope/1")
    phone.locator("#told", has_text="revision").wait_for()
    level = phone.locator("#down").inner_text()
    phone.route("**/api/pegs", lambda route: route.abort("internetdisconnected"))
    phone.reload()
    phone.locator("#told", has_text="out of reach").wait_for()
    assert phone.locator("#down").inner_text() == level
