"""The view in space, as a browser draws it."""

from typing import Any

import pytest

pytestmark = pytest.mark.browser
COLOURS = """() => {
  const canvas = document.getElementById("relief");
  const copy = document.createElement("canvas");
  [copy.width, copy.height] = [canvas.width, canvas.height];
  const pen = copy.getContext("2d");
  pen.drawImage(canvas, 0, 0);
  const seen = new Uint32Array(pen.getImageData(0, 0, copy.width, copy.height).data.buffer);
  return [...seen].reduce((sum, each) => (sum * 31 + each) % 2147483647, 7);
}"""


@pytest.fixture
def view(window: Any, address: str) -> Any:
    page = window(390, 844, reduced_motion="no-preference").new_page()
    faults: list[str] = []
    page.on("pageerror", lambda error: faults.append(str(error)))
    page.goto(f"{address}/relief")
    page.locator("#told", has_text="Revision").wait_for()
    yield page
    assert faults == []


def test_presses_keys_and_choices_all_change_the_picture(view: Any) -> None:
    seen = [view.evaluate(COLOURS)]

    def changed() -> None:
        seen.append(view.evaluate(COLOURS))
        assert seen[-1] != seen[-2]

    for name in ("left", "higher", "nearer"):
        view.locator(f"[data-do={name}]").click()
        changed()
    view.locator("#relief").focus()
    view.keyboard.press("ArrowRight")
    changed()
    view.locator("#heights").select_option("4")
    changed()
    view.locator("#lifted").check()
    changed()
    view.locator("#flows button").nth(3).click()
    changed()
