"""A survey brought in with a real browser: typed, dropped, asked about, taken."""

from pathlib import Path
from typing import Any

import pytest

from tests.web.test_bring import TEN

pytestmark = pytest.mark.browser


@pytest.fixture(params=[390, 1440])
def view(window: Any, address: str, request: pytest.FixtureRequest) -> Any:
    page = window(request.param, 844).new_page()
    faults: list[str] = []
    page.on("pageerror", lambda error: faults.append(str(error)))
    page.goto(f"{address}/bring")
    page.locator("#rows tr").nth(9).wait_for()
    yield page
    assert faults == []


def paste(page: Any, words: str) -> None:
    page.locator("#rows input").first.evaluate(
        """(cell, words) => { const held = new DataTransfer(); held.setData("text", words);
        cell.dispatchEvent(new ClipboardEvent("paste", { clipboardData: held, bubbles: true, cancelable: true })); }""",
        words,
    )


def test_ten_points_pasted_are_seen_and_taken_with_the_old_kept(view: Any, folder: Path) -> None:
    old = (folder / "survey.csv").read_bytes()
    paste(view, TEN)
    view.locator("#look").click()
    view.locator("#extent td", has_text="24.00 m by 20.00 m").wait_for()
    assert view.locator("#plan .spot").count() == 1
    assert view.evaluate("document.documentElement.scrollWidth") <= view.viewport_size["width"]
    view.locator("#take").click()
    view.locator("#replaced", has_text="kept in revision 1").wait_for()
    assert (folder / "survey.csv").read_bytes() == old
    view.locator("#take").click()
    view.locator("#told", has_text="Every page answers from it now").wait_for()
    assert (folder / "survey.csv").read_bytes() != old


def test_a_row_that_is_wrong_is_named_and_marked(view: Any) -> None:
    paste(view, TEN.replace("100.9", "1oo.9"))
    view.locator("#look").click()
    view.locator("#problems", has_text="row 2").wait_for()
    assert view.locator("#rows tr.wrong").count() == 1


def test_a_file_is_asked_about_with_presses_and_its_words_are_no_markup(view: Any, tmp_path: Path) -> None:
    path = tmp_path / "list.csv"
    rows = [
        f"<img src=x>{n},{451000 + 3 * (n % 5)},{207000 + 4 * (n // 5)},{100 + n / 20},<b>GL</b>" for n in range(20)
    ]
    path.write_text("id,x,y,z,code\n" + "\n".join(rows), encoding="utf-8")
    view.set_input_files("#file", path)
    view.locator("#questions button", has_text="taken off every x and y").click()
    view.locator("#extent th", has_text="shift").wait_for()
    assert view.locator("#asking").is_hidden()
    assert view.locator("#first td", has_text="<img src=x>0").count() == 1
    assert view.locator("#understood img, #understood td b").count() == 0
    view.locator("#answered button").click()
    view.locator("#questions button").first.wait_for()
    assert view.locator("#take").is_disabled()
