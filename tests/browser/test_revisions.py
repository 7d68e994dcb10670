"""The revisions in a real browser: two people changing the same thing, and an editor writing while the desk is open.

What must come out is told by the job folder itself, read with the standard library, and by what the test did.
"""

import json
import tomllib
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any
from urllib.request import Request, urlopen
from uuid import uuid4

import pytest

pytestmark = pytest.mark.browser

POINT = 6
SMALL = """() => [...document.querySelectorAll('button, input, select, a, summary')]
    .map(each => [each.id || each.className || each.textContent, each.getBoundingClientRect()])
    .filter(([, box]) => box.width > 0 && (box.height < 44 || box.width < 44)).map(([name]) => name)"""


def job(folder: Path) -> dict[str, Any]:
    return tomllib.loads((folder / "job.toml").read_text(encoding="utf-8"))


def asked(address: str, path: str, body: dict[str, Any] | None = None) -> Any:
    data = None if body is None else json.dumps(body).encode()
    request = Request(address + path, data, {"Content-Type": "application/json", "Origin": address})  # noqa: S310
    with urlopen(request) as answer:  # noqa: S310  # This machine.
        return json.load(answer)


def kept(address: str, *edits: dict[str, Any]) -> int:
    """Change the job as another page would; the number that stands then."""
    based_on = asked(address, "/api/stands")["number"]
    return int(asked(address, "/api/edit", {"mark": str(uuid4()), "based_on": based_on, "edits": edits})["revision"])


def moved(address: str, east: float, north: float) -> int:
    """Move a point as another page would."""
    return kept(address, {"do": "move point", "point": POINT, "x_m": east, "y_m": north})


def in_editor(folder: Path, old: str, new: str) -> None:
    text = (folder / "job.toml").read_text(encoding="utf-8")
    assert old in text
    (folder / "job.toml").write_text(text.replace(old, new), encoding="utf-8")


@pytest.fixture
def opened(window: Any, address: str) -> Iterator[Callable[..., Any]]:
    """Open a page in a browser of its own, as another person does. Any fault of a script fails the test."""
    faults: list[str] = []

    def open_page(path: str, ready: str, *size: int, **options: Any) -> Any:
        made = window(*size, **options).new_page()
        made.on("pageerror", lambda error: faults.append(str(error)))
        made.goto(address + path)
        made.locator(ready).first.wait_for(state="attached")
        return made

    yield open_page
    assert faults == []


def desk(opened: Callable[..., Any]) -> Any:
    return opened("/", "#eight tr:nth-child(8)")


def told(page: Any, words: str) -> None:
    page.locator("#told", has_text=words).wait_for()


def test_every_text_is_there_newest_first_and_looked_at(opened: Any, address: str, folder: Path) -> None:
    before = (folder / "job.toml").read_text(encoding="utf-8")
    moved(address, 5.5, 4.25)
    page = opened("/revisions", "#list .row")
    rows = page.locator("#list .row")
    assert [row.split()[0] for row in rows.all_inner_texts()] == ["2", "1"]
    assert "stands now" in rows.nth(0).inner_text()
    rows.nth(1).click()
    page.locator("#one h2", has_text="Revision 1").wait_for()
    page.locator(".holding td", has_text="(5.5, 4.25) m").wait_for()
    page.locator("#one summary", has_text="Its text").click()
    page.locator("#one pre").wait_for()
    assert page.locator("#one pre").text_content() == before
    page.locator("#one summary", has_text="Its figures").click()
    figures = asked(address, "/api/revisions/1/state")["answers"]
    page.locator("#one .answer").nth(len(figures) - 1).wait_for()
    assert page.locator("#one .answer").count() == len(figures)
    assert page.locator("#branches .kept").count() == 2
    assert job(folder)["course"]["line_m"][POINT] == [5.5, 4.25]


def test_a_name_is_given_and_changed_where_it_is_read(opened: Any, address: str) -> None:
    page = opened("/revisions", "#one .naming")
    for name in ("as quoted", "as quoted in May"):
        page.locator("#one .naming input").fill(name)
        page.locator("#one .naming button").click()
        told(page, f"Revision 1 is called {name}.")
        assert asked(address, "/api/revisions")["revisions"][0]["name"] == name
        assert page.locator("#list .row strong").inner_text() == name


def test_an_older_text_is_taken_up_again_and_the_desk_follows_by_itself(
    opened: Any, address: str, folder: Path
) -> None:
    first = (folder / "job.toml").read_text(encoding="utf-8")
    moved(address, 5.5, 4.25)
    other, page = desk(opened), opened("/revisions", "#list .row")
    page.locator("#list .row").nth(1).click()
    page.locator("#one h2", has_text="Revision 1").wait_for()
    page.locator("#one button", has_text="Take this one up again").click()
    told(page, "Revision 1 stands again, as revision 3")
    assert (folder / "job.toml").read_text(encoding="utf-8") == first
    told(other, "Changed elsewhere: Course, point 7 from (5.5, 4.25) m")
    # It is told at once, and drawn when its levels have come.
    other.locator("#revision", has_text="revision 3").wait_for()


def not_told(page: Any) -> None:
    """Keep from a page that another text stands, as when somebody was quicker than its next look."""

    def answer(route: Any) -> None:
        seen = int(route.request.url.rpartition("=")[2])
        route.fulfill(json={"number": seen, "why": "", "origin": "saved", "says": ""})

    page.route("**/api/stands*", answer)


def parted(opened: Any) -> tuple[Any, Any]:
    """Two people at two desks move one point; the second has not seen the first one's change."""
    one, two = desk(opened), desk(opened)
    not_told(two)
    for page, key in ((one, "ArrowUp"), (two, "ArrowDown")):
        page.locator("#plan .peg").nth(POINT).focus()
        page.keyboard.press(key)
        told(page, "moved 0.05 m" if page is one else "changed meanwhile")
    return one, two


def test_where_two_changed_the_same_thing_both_are_shown_and_one_is_let_stand(opened: Any, folder: Path) -> None:
    one, two = parted(opened)
    first = job(folder)["course"]["line_m"][POINT]
    two.goto(two.url + "revisions")
    both = two.locator("#parted .side")
    both.nth(1).wait_for()
    assert "Revision 2" in both.nth(0).inner_text()
    assert "Revision 3" in both.nth(1).inner_text()
    assert both.nth(0).locator("li").all_inner_texts() != both.nth(1).locator("li").all_inner_texts()
    assert two.locator("#parted-lines .changed").count() >= 2
    both.nth(1).locator("button", has_text="Let this one stand").click()
    told(two, "Revision 3 stands again, as revision 4")
    two.locator("#parted").wait_for(state="hidden")
    second = job(folder)["course"]["line_m"][POINT]
    assert second != first
    told(one, "Changed elsewhere: Course, point 7")


def test_the_one_that_stands_may_be_let_stand_and_the_other_stays_kept(opened: Any, address: str, folder: Path) -> None:
    _, two = parted(opened)
    before = (folder / "job.toml").read_bytes()
    two.goto(two.url + "revisions")
    two.locator("#parted .side").nth(0).locator("button").click()
    told(two, "Revision 2 stands, as before. Revision 3 stays kept.")
    two.locator("#parted").wait_for(state="hidden")
    assert (folder / "job.toml").read_bytes() == before
    assert [each["number"] for each in asked(address, "/api/revisions")["revisions"]] == [1, 2, 3]


def test_the_desk_says_that_an_editor_wrote_and_follows(opened: Any, folder: Path) -> None:
    page = desk(opened)
    in_editor(folder, 'title = "Hazel Bank"', 'title = "Hazel End"')
    told(page, "job.toml was changed in an editor: ")
    assert "Hazel End" in page.locator("#told").inner_text()
    page.locator("#page-title", has_text="Hazel End").wait_for()


def test_a_drawing_held_in_the_hand_stays_until_it_is_let_go(opened: Any, folder: Path) -> None:
    page = desk(opened)
    box = page.locator("#plan .peg").nth(POINT).bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x, y + 25, steps=5)
    in_editor(folder, 'title = "Hazel Bank"', 'title = "Hazel End"')
    told(page, "job.toml was changed in an editor: ")
    page.wait_for_timeout(3500)
    assert page.locator("#revision").inner_text().startswith("revision 1")
    page.keyboard.press("Escape")
    page.mouse.up()
    page.locator("#page-title", has_text="Hazel End").wait_for()
    assert page.locator("#revision").inner_text().startswith("revision 2")


def test_a_text_broken_in_an_editor_is_told_and_the_drawing_stays(opened: Any, folder: Path) -> None:
    page = desk(opened)
    levels = page.locator("#eight").inner_text()
    in_editor(folder, 'title = "Hazel Bank"', 'title = "Hazel Bank')
    told(page, "job.toml was changed in an editor: job.toml")
    page.locator("#stopped li").first.wait_for()
    assert page.locator("#eight").inner_text() == levels
    assert page.locator("#revision").inner_text().startswith("revision 1")
    in_editor(folder, 'title = "Hazel Bank', 'title = "Hazel Bank"')
    page.locator("#revision", has_text="revision 3").wait_for()


def test_nobody_is_asked_while_nobody_looks(chromium: Any, address: str) -> None:
    context = chromium.new_context()
    context.add_init_script("Object.defineProperty(document, 'visibilityState', {get: () => window.seen ?? 'hidden'})")
    page, asked_for = context.new_page(), []
    page.on("request", lambda request: asked_for.append(request.url))
    page.goto(address)
    page.locator("#eight tr").nth(7).wait_for(state="attached")
    page.wait_for_timeout(6500)
    assert not any("/api/stands" in url for url in asked_for)
    page.evaluate("() => { window.seen = 'visible'; document.dispatchEvent(new Event('visibilitychange')); }")
    page.wait_for_timeout(500)
    assert any("/api/stands" in url for url in asked_for)
    context.close()


def test_a_text_that_cannot_be_designed_is_told(opened: Any, address: str, folder: Path) -> None:
    asked(address, "/api/state")
    for old, new in (("PG-200", "PG-999"), ("PG-999", "PG-350")):
        in_editor(folder, f'chosen = "{old}"', f'chosen = "{new}"')
        asked(address, "/api/stands")
    page = opened("/revisions?look=2", "#list .row")
    page.locator(".holding .problems li", has_text="PG-999").first.wait_for()
    assert "cannot be designed" in page.locator(".holding").inner_text()
    page.locator("#one button", has_text="Take this one up again").click()
    page.locator("#problems li", has_text="PG-999").first.wait_for()
    assert job(folder)["pump"]["chosen"] == "PG-350"


@pytest.mark.parametrize("width", [390, 768, 1440])
def test_targets_are_large_enough_and_nothing_is_cut_off(opened: Any, address: str, width: int) -> None:
    moved(address, 5.5, 4.25)
    page = opened("/revisions", ".holding h3", width)
    assert page.evaluate("() => document.documentElement.scrollWidth") <= width
    assert page.evaluate(SMALL) == []


def test_everything_can_be_reached_and_done_by_keyboard(opened: Any, address: str, folder: Path) -> None:
    first = (folder / "job.toml").read_text(encoding="utf-8")
    moved(address, 5.5, 4.25)
    page = opened("/revisions", "#list .row")
    page.locator("#list .row").nth(0).focus()
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    page.locator("#one h2", has_text="Revision 1").wait_for()
    for _ in range(12):
        page.keyboard.press("Tab")
        if "Take this one up again" in page.evaluate("() => document.activeElement.textContent"):
            break
    page.keyboard.press("Enter")
    told(page, "Revision 1 stands again")
    assert (folder / "job.toml").read_text(encoding="utf-8") == first
