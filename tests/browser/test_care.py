"""The care page on a telephone: the tree walked by presses, a drop judged, and what was found kept in the diary."""

from collections.abc import Iterator
from typing import Any

import pytest

pytestmark = pytest.mark.browser


@pytest.fixture
def phone(window: Any, address: str) -> Iterator[Any]:
    page = window(390, 844).new_page()
    faults: list[str] = []
    page.on("pageerror", lambda error: faults.append(str(error)))
    page.goto(f"{address}/care")
    page.wait_for_selector(".symptoms button")
    page.select_option("#month", "7")
    page.wait_for_selector("#ranges >> text=245 mm")
    yield page
    assert faults == []


def test_forty_millimetres_overnight_are_no_weather(phone: Any) -> None:
    """trade.md, wish 21."""
    phone.fill("#down", "40")
    phone.click("#ask")
    phone.wait_for_selector(".verdict .word")
    assert phone.inner_text(".verdict .word") == "Ring"
    phone.fill("#amount", "6")
    phone.select_option("#over", "days")
    phone.click("#ask")
    phone.wait_for_selector(".verdict .word:text-is('Normal')")


def test_one_reading_running_and_one_at_rest_is_no_loss(phone: Any) -> None:
    phone.fill("#down", "40")
    phone.check("input[value=mixed]")
    phone.click("#ask")
    assert phone.inner_text(".verdict .word") == "Read again"


def test_a_number_that_is_none_is_asked_for_again(phone: Any) -> None:
    phone.fill("#down", "much")
    phone.click("#ask")
    phone.locator("#down[aria-invalid=true]").wait_for()
    assert "no number" in phone.inner_text("#verdict")


def test_the_tree_is_walked_and_kept(phone: Any, address: str) -> None:
    phone.click("text=Reservoir low in the morning")
    for answer in ("Yes", "Yes", "Yes"):
        phone.click(f".answers >> text={answer}")
    assert "Leave the pump off" in phone.inner_text("#step")
    phone.click("#step >> text=Write it into the diary")
    phone.wait_for_selector("text=It is in the diary")
    (entry,) = phone.request.get(f"{address}/api/diary").json()["entries"]
    assert "Leave the pump off" in entry["text"]
    phone.click("#step button:text-is('Back')")
    assert "second night" in phone.inner_text("#step")


def test_presses_are_large_enough_for_a_thumb(phone: Any) -> None:
    """WCAG 2.2, 2.5.5: 44 px."""
    heights = phone.eval_on_selector_all(
        ".care button, .care select, .care a, .care input[inputmode]", "all => all.map(each => each.offsetHeight)"
    )
    assert len(heights) > 10
    assert min(heights) >= 44


def test_the_record_is_typed_out_of_reach_and_arrives(window: Any, address: str) -> None:
    context = window(390, 844)
    page = context.new_page()
    page.goto(f"{address}/care/record")
    page.wait_for_selector("#item option[value=leak_l_h]", state="attached")
    context.set_offline(True)
    page.select_option("#item", "leak_l_h")
    page.fill("#year", "2030")
    page.fill("#amount", "0,3")
    page.click("#write")
    page.wait_for_selector("#waits >> text=2030, leak, 0,3")
    context.set_offline(False)
    page.wait_for_selector("#rows >> text=2030, leak: 0.3")
    page.wait_for_selector("#trends svg")
