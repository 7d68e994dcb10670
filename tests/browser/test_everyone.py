"""Every page, at every width it is used at, as an accessibility engine sees it (WCAG 2.2 A and AA), and as wide as
the screen."""

from collections.abc import Callable
from contextlib import suppress
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import TimeoutError as PlaywrightTimeout

from beckwright.web.places import PLACES, Place

pytestmark = pytest.mark.browser
DRAWN = 2500
"""ms in which every page is drawn."""
WIDTHS = ((390, 844), (768, 1024), (1440, 900))
RULES = {
    "runOnly": {"type": "tag", "values": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]},
    "resultTypes": ["violations"],
}
LAID_OUT = "() => new Promise(done => requestAnimationFrame(() => requestAnimationFrame(() => done(true))))"


@pytest.fixture
def telephone(window: Callable[..., Any]) -> Any:
    """A page as narrow as any: what is made once for its width is made for the narrowest."""
    return window(*WIDTHS[0]).new_page()


def wrong(page: Any) -> list[str]:
    """What the engine finds, and how much of the page lies beside the screen."""
    found = []
    for violation in Axe().run(page, options=RULES).response["violations"]:
        where = [" ".join(map(str, node["target"])) for node in violation["nodes"]]
        found.append(f"{violation['id']}: {violation['help']}: {where[:4]}")
    wider = page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")
    return [*found, f"{wider} px wider than the screen"] if wider > 0 else found


@pytest.mark.parametrize("place", PLACES, ids=lambda place: place.address)
def test_every_page_can_be_used_by_everyone(telephone: Any, address: str, place: Place) -> None:
    telephone.goto(address + place.address)
    # Pages that go on working something out in the background are never idle; by then they are drawn.
    with suppress(PlaywrightTimeout):
        telephone.wait_for_load_state("networkidle", timeout=DRAWN)
    found = {}
    for width, height in WIDTHS:
        telephone.set_viewport_size({"width": width, "height": height})
        telephone.evaluate(LAID_OUT)
        found[f"{width} px"] = wrong(telephone)
    assert found == {f"{width} px": [] for width, _ in WIDTHS}


def test_the_engine_sees_what_is_wrong(page: Any) -> None:
    """A check that finds nothing anywhere would be none."""
    page.evaluate("document.getElementById('undo').replaceChildren()")
    page.evaluate("document.documentElement.removeAttribute('lang')")
    page.evaluate("document.body.append(Object.assign(document.createElement('hr'), { id: 'wide' }))")
    page.evaluate("document.getElementById('wide').style.width = '2000px'")
    told = wrong(page)
    assert {"button-name", "html-has-lang"} <= {words.split(":")[0] for words in told}
    assert any("wider than the screen" in words for words in told)
