"""Every page, at every width it is used at, as an accessibility engine sees it (WCAG 2.2 A and AA), and as wide as
the screen."""

from contextlib import suppress
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import TimeoutError as PlaywrightTimeout

from beckwright.web.places import PLACES

pytestmark = pytest.mark.browser
DRAWN = 2500
"""ms in which every page is drawn."""
WIDTHS = ((390, 844), (768, 1024), (1440, 900))
RULES = {"runOnly": {"type": "tag", "values": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]}}


@pytest.fixture
def look(chromium: Any, address: str, request: pytest.FixtureRequest) -> Any:
    width, height = request.param
    context = chromium.new_context(viewport={"width": width, "height": height}, reduced_motion="reduce")
    yield context.new_page()
    context.close()


@pytest.mark.parametrize("look", WIDTHS, indirect=True, ids=lambda size: f"{size[0]} px")
def test_every_page_can_be_used_by_everyone(look: Any, address: str) -> None:
    found = []
    for place in PLACES:
        look.goto(address + place.address)
        # Pages that go on working something out in the background are never idle; by then they are drawn.
        with suppress(PlaywrightTimeout):
            look.wait_for_load_state("networkidle", timeout=DRAWN)
        for violation in Axe().run(look, options=RULES).response["violations"]:
            where = [" ".join(map(str, node["target"])) for node in violation["nodes"]]
            found.append(f"{place.address}: {violation['id']}: {violation['help']}: {where[:4]}")
        wider = look.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")
        if wider > 0:
            found.append(f"{place.address}: {wider} px wider than the screen")
    assert found == []


def test_the_engine_sees_what_is_wrong(chromium: Any, address: str) -> None:
    """A check that finds nothing anywhere would be none."""
    page = chromium.new_page()
    page.goto(address)
    page.locator("#eight tr").nth(7).wait_for()
    page.evaluate("document.getElementById('undo').replaceChildren()")
    page.evaluate("document.documentElement.removeAttribute('lang')")
    told = {violation["id"] for violation in Axe().run(page, options=RULES).response["violations"]}
    page.close()
    assert {"button-name", "html-has-lang"} <= told
