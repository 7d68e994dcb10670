"""The first visit in a telephone's browser: one hand, a drizzle, and a laptop that is not always near."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from beckwright.job.read import read_job
from tests.browser.conftest import Berth

pytestmark = pytest.mark.browser
WORKED_OUT = 60_000


@pytest.fixture
def empty(tmp_path: Path) -> Path:
    return tmp_path / "new stream"


@pytest.fixture
def bare(empty: Path, berth: Berth) -> str:
    """The program opened on a folder that is not there yet."""
    from beckwright.web.begin.first import First

    berth.app = First(empty)
    return berth.address


@pytest.fixture
def context(window: Any) -> Any:
    return window(390, 844, has_touch=True)


@pytest.fixture
def phone(context: Any) -> Iterator[Any]:
    page = context.new_page()
    faults: list[str] = []
    page.on("pageerror", lambda error: faults.append(str(error)))
    page.on("console", lambda message: faults.append(message.text) if "Security Policy" in message.text else None)
    yield page
    assert faults == []


def answered(phone: Any) -> None:
    phone.locator(".answers:not(.stale) #state", has_text="designed").wait_for(timeout=WORKED_OUT)


def says(phone: Any, key: str) -> str:
    return str(phone.locator(f"[data-answer={key}] [data-part=says]").inner_text())


def test_it_answers_as_one_types_and_presses(phone: Any, bare: str) -> None:
    phone.goto(bare)
    answered(phone)
    nothing = says(phone, "flow")
    phone.locator(".look", has_text="trickle").tap()
    assert phone.locator("#state").inner_text() == "Being worked out."
    answered(phone)
    assert says(phone, "flow") != nothing
    phone.fill("#width", "0,8")
    answered(phone)
    assert "0.65 to 0.95 m, by eye" in phone.locator("#width-taken").inner_text()
    phone.locator("[data-key=width] .more").tap()
    assert phone.input_value("#width") == "0.85"
    assert phone.evaluate("document.documentElement.scrollWidth") <= 390


def test_every_target_is_large_and_every_field_has_a_name(phone: Any, bare: str) -> None:
    phone.goto(bare)
    answered(phone)
    phone.locator(".own summary").tap()
    for one in phone.locator(".asks button, .asks input:not([type]), .look, .sure, summary, #make, #name").all():
        if one.is_visible():
            box = one.bounding_box()
            assert box["height"] >= 44, one.evaluate("each => each.outerHTML")
    unnamed = phone.evaluate(
        "[...document.querySelectorAll('input')].filter((each) => !each.labels.length && !each.ariaLabel).length"
    )
    assert unnamed == 0


def test_what_was_typed_is_there_when_the_page_is_opened_again(phone: Any, context: Any, bare: str) -> None:
    phone.goto(bare)
    phone.fill("#length", "17.5")
    phone.locator(".look", has_text="full").tap()
    phone.check("#length-measured")
    answered(phone)
    told = says(phone, "flow")
    phone.close()
    again = context.new_page()
    again.goto(bare)
    assert again.input_value("#length") == "17.5"
    assert again.is_checked("#length-measured")
    answered(again)
    assert says(again, "flow") == told


def test_out_of_reach_it_waits_and_is_answered_when_the_laptop_is_back(phone: Any, context: Any, bare: str) -> None:
    phone.goto(bare)
    answered(phone)
    before = says(phone, "flow")
    context.set_offline(True)
    phone.locator(".look", has_text="trickle").tap()
    phone.locator("#state", has_text="out of reach").wait_for()
    assert says(phone, "flow") == before
    assert phone.locator(".answers.stale").count() == 1
    context.set_offline(False)
    answered(phone)
    assert says(phone, "flow") != before


def test_what_cannot_be_is_said_at_its_field(phone: Any, bare: str) -> None:
    phone.goto(bare)
    answered(phone)
    phone.fill("#length", "900")
    phone.locator("#problems li", has_text="between 2 and 60 m").wait_for()
    assert phone.get_attribute("#length", "aria-invalid") == "true"
    phone.fill("#length", "about 20")
    phone.locator("#problems li", has_text="is no number").wait_for()
    phone.fill("#length", "20")
    answered(phone)
    assert phone.locator("#problems li").count() == 0
    assert phone.get_attribute("#length", "aria-invalid") == "false"


def test_one_press_makes_the_job_and_leads_to_the_desk(phone: Any, bare: str, empty: Path) -> None:
    phone.goto(bare)
    phone.fill("#length", "15")
    phone.fill("#fall", "1.2")
    answered(phone)
    assert not empty.exists()
    phone.fill("#name", "Beside the wall")
    phone.locator("#make").tap()
    phone.locator("#eight tr").nth(7).wait_for(timeout=WORKED_OUT)
    assert read_job(empty).title.name == "Beside the wall"


def test_a_press_out_of_reach_waits_and_makes_one_job(phone: Any, context: Any, bare: str, empty: Path) -> None:
    phone.goto(bare)
    answered(phone)
    context.set_offline(True)
    phone.locator("#make").tap()
    phone.locator("#made", has_text="as soon as it is back").wait_for()
    context.set_offline(False)
    phone.locator("#eight tr").nth(7).wait_for(timeout=WORKED_OUT)
    assert [path.name for path in empty.parent.iterdir()] == [empty.name]


def test_from_a_job_it_goes_into_a_folder_beside(phone: Any, address: str, folder: Path) -> None:
    phone.goto(f"{address}/visit")
    answered(phone)
    phone.fill("#name", "Lower end")
    phone.locator("#make").tap()
    phone.locator("#made", has_text="Made: Lower end").wait_for(timeout=WORKED_OUT)
    assert (folder.parent / "Lower end" / "job.toml").is_file()


@pytest.mark.parametrize("width", [390, 768, 1440])
def test_nothing_is_wider_than_the_glass(window: Any, bare: str, width: int) -> None:
    page = window(width).new_page()
    page.goto(bare)
    page.locator("#state", has_text="designed").wait_for(timeout=WORKED_OUT)
    assert page.evaluate("document.documentElement.scrollWidth") <= width
