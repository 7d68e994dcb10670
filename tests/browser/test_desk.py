"""The desk by mouse, by keyboard, and with the server out of reach.

What must come out is told by the page's promises (the same change by every way in, nothing lost, nothing shifting) and
by the job folder itself, read with the standard library: never by numbers of the pages.
"""

import json
import re
import tomllib
from pathlib import Path
from typing import Any
from urllib.request import urlopen

import pytest

pytestmark = pytest.mark.browser

POINT = 6
LIP_2 = '#section .slab[data-id="lip 2"]'
FAR = 30
"""Pixels dragged: more than half a metre on the plan of the example at this size."""


def line_in(folder: Path) -> list[list[float]]:
    """The course's points as they stand in the job folder."""
    return tomllib.loads((folder / "job.toml").read_text())["course"]["line_m"]


def centre(page: Any, selector: str, place: int) -> tuple[float, float]:
    box = page.locator(selector).nth(place).bounding_box()
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def drag(page: Any, selector: str, place: int, right: float, down: float) -> None:
    """Press, move in steps as a hand does, and stay pressed."""
    x, y = centre(page, selector, place)
    page.mouse.move(x, y)
    page.mouse.down()
    for step in range(1, 7):
        page.mouse.move(x + right * step / 6, y + down * step / 6)


def kept(page: Any, words: str) -> None:
    """Wait until the page has told that a change was kept."""
    page.locator("#told", has_text=words).wait_for()


def boxes(page: Any) -> dict[str, Any]:
    """Where everything a hand or an eye may rest on lies, once the slower findings have made their list longer."""
    page.wait_for_function("() => document.querySelector('#later').textContent === ''", timeout=60_000)
    names = ("#plan", "#tape", "#section", "#strip", "#undo", "#flows", "#go-up", "#told", "#eight", "#needs")
    return {name: page.locator(name).bounding_box() for name in names}


def test_the_page_loads_and_shows_the_job_in_one_window(page: Any, address: str) -> None:
    with urlopen(f"{address}/api/state") as answer:  # noqa: S310  # This machine.
        state = json.load(answer)
    assert page.locator("#page-title").inner_text() == state["title"]
    assert page.locator("#plan .peg").count() == len(state["course"]["line"])
    assert page.locator("#section .slab").count() == len(state["course"]["lips"])
    assert page.locator("#flows .flow").count() == len(state["flows"])
    assert page.locator("#doubts li").count() == len(state["doubts"])
    assert page.evaluate("document.documentElement.scrollHeight") == 900


def test_numbers_change_while_a_point_is_dragged_and_nothing_shifts(page: Any, folder: Path) -> None:
    page.wait_for_function("() => document.querySelector('#later').textContent === ''")
    page.locator("#plan .peg").nth(POINT).focus()
    before, where, line = page.locator("#eight").inner_text(), boxes(page), line_in(folder)
    drag(page, "#plan .peg", POINT, 0, FAR)
    page.wait_for_function("before => document.querySelector('#eight').innerText !== before", arg=before)
    assert boxes(page) == where
    assert line_in(folder) == line, "nothing is kept before the hand lets go"
    page.mouse.up()
    kept(page, f"Point {POINT + 1} moved")
    after = line_in(folder)
    assert [at for at in range(len(line)) if line[at] != after[at]] == [POINT]


DRAWN = "#plan .works path, #section .works path, #strip .works text, #eight th, #answers a, #needs li"


def test_what_is_drawn_stays_the_same_elements_while_a_point_is_dragged(page: Any) -> None:
    """None of them is made anew at each answer: a screen reader keeps its place, and little is laid out again."""
    boxes(page)
    page.evaluate(f"() => {{ window.stood = [...document.querySelectorAll('{DRAWN}')]; }}")
    before = page.evaluate("() => window.stood.map((each) => each.outerHTML)")
    edges = page.locator("#answers").inner_text()
    drag(page, "#plan .peg", 2, 0, 25)
    page.wait_for_function("(edges) => document.querySelector('#answers').innerText !== edges", arg=edges)
    stays = page.evaluate("() => window.stood.map((each) => each.isConnected)")
    now = page.evaluate("() => window.stood.map((each) => each.outerHTML)")
    assert len(stays) > 60
    assert sum(stays) >= len(stays) - 5  # A finding or two may be gone.
    assert sum(one != other for one, other in zip(before, now, strict=True)) > 20


def test_the_keyboard_moves_a_point_as_far_as_it_says(page: Any, folder: Path) -> None:
    line = line_in(folder)
    page.locator("#plan .peg").nth(POINT).focus()
    page.keyboard.press("ArrowDown")
    page.keyboard.press("ArrowDown")
    kept(page, f"Point {POINT + 1} moved 0.10 m")
    (x, y), (was_x, was_y) = line_in(folder)[POINT], line[POINT]
    assert ((x - was_x) ** 2 + (y - was_y) ** 2) ** 0.5 == pytest.approx(0.10, abs=0.001)


def test_arrow_buttons_and_typed_numbers_need_no_drag(page: Any, folder: Path) -> None:
    page.locator("#plan .peg").nth(POINT).focus()
    page.locator("#go-up").click()
    kept(page, f"Point {POINT + 1} moved 0.05 m")
    page.locator("#first").fill("5.5")
    page.locator("#second").fill("4.25")
    page.locator("#typed button[type=submit]").click()
    page.wait_for_function(
        "() => document.querySelector('#told').innerText.includes('moved') && "
        "!document.querySelector('#told').innerText.includes('0.05')"
    )
    assert line_in(folder)[POINT] == [5.5, 4.25]


def test_escape_puts_back_what_is_not_kept_yet(page: Any, folder: Path) -> None:
    line = line_in(folder)
    levels = page.locator("#eight").inner_text
    page.locator("#plan .peg").nth(POINT).focus()
    before = levels()
    drag(page, "#plan .peg", POINT, 0, FAR)
    page.wait_for_function("before => document.querySelector('#eight').innerText !== before", arg=before)
    page.keyboard.press("Escape")
    page.mouse.up()
    page.wait_for_function("before => document.querySelector('#eight').innerText === before", arg=before)
    assert line_in(folder) == line


def test_a_lip_slides_by_mouse_and_by_key_and_keeps_the_length_of_the_course(page: Any, folder: Path) -> None:
    def runs() -> list[float]:
        reaches = tomllib.loads((folder / "job.toml").read_text())["course"]["reaches"]
        return [reach["length_m"] for reach in reaches if reach["kind"] == "run"]

    before = runs()
    drag(page, LIP_2, 0, -FAR, 0)
    page.mouse.up()
    kept(page, "Lip 2 slid")
    slid = runs()
    assert slid[1] < before[1]
    assert slid[2] > before[2]
    assert sum(slid) == pytest.approx(sum(before), abs=0.001)
    page.locator(LIP_2).focus()
    page.keyboard.press("ArrowRight")
    kept(page, "Lip 2 slid 0.05 m downstream")
    assert runs()[1] == pytest.approx(slid[1] + 0.05, abs=0.001)


def test_a_lip_is_raised_by_key_and_the_falls_beside_it_take_it_up(page: Any, folder: Path) -> None:
    crest = page.locator(LIP_2).get_attribute("aria-label")
    page.locator(LIP_2).focus()
    page.locator("#step").select_option("0.01")
    page.locator(LIP_2).focus()
    page.keyboard.press("ArrowUp")
    kept(page, "Lip 2 raised 10 mm")
    raised = page.locator(LIP_2).get_attribute("aria-label")
    was, now = (float(re.search(r"level ([\d.]+)", words)[1]) for words in (crest, raised))  # type: ignore[index]
    assert now - was == pytest.approx(0.010, abs=0.0005)


def test_undo_and_redo(page: Any, folder: Path) -> None:
    line = line_in(folder)
    page.locator("#plan .peg").nth(POINT).focus()
    page.keyboard.press("ArrowDown")
    kept(page, "moved 0.05 m")
    moved = line_in(folder)
    page.locator("#undo").click()
    kept(page, "Undone")
    assert line_in(folder) == line
    page.locator("#redo").click()
    kept(page, "Done again")
    assert line_in(folder) == moved


def test_edits_made_out_of_reach_wait_and_are_sent_in_order_by_themselves(page: Any, folder: Path) -> None:
    line = line_in(folder)
    page.context.set_offline(True)
    for place in (3, 5):
        page.locator("#plan .peg").nth(place).focus()
        page.keyboard.press("ArrowUp")
        page.locator("#away-since", has_text=f"Point {place + 1} moved").wait_for()
    assert page.locator("body.away").count() == 1
    assert line_in(folder) == line
    page.context.set_offline(False)
    kept(page, "Point 6 moved 0.05 m")
    after = line_in(folder)
    assert [at for at in range(len(line)) if line[at] != after[at]] == [3, 5]
    assert page.evaluate("Object.keys(localStorage).map(key => localStorage.getItem(key))") == ["[]"]


def test_edits_that_wait_outlive_the_page(page: Any, address: str, folder: Path) -> None:
    line = line_in(folder)
    page.route("**/api/edit", lambda route: route.abort("internetdisconnected"))
    page.locator("#plan .peg").nth(POINT).focus()
    page.keyboard.press("ArrowDown")
    page.locator("#away-since", has_text=f"Point {POINT + 1} moved").wait_for()
    again = page.context.new_page()
    page.goto("about:blank")
    again.goto(address)
    kept(again, f"Point {POINT + 1} moved")
    assert line_in(folder)[POINT] != line[POINT]


def test_the_flow_switch_changes_the_water_and_not_the_job(page: Any, folder: Path) -> None:
    text, levels = (folder / "job.toml").read_text(), page.locator("#eight").inner_text()
    page.locator("#flows .flow", has_text="full").click()
    page.wait_for_function("before => document.querySelector('#eight').innerText !== before", arg=levels)
    assert page.locator("#flows [aria-pressed=true]").inner_text().startswith("full")
    assert (folder / "job.toml").read_text() == text


def test_a_finding_shows_its_place(page: Any, address: str) -> None:
    with urlopen(f"{address}/api/state") as answer:  # noqa: S310  # This machine.
        placed = [each for each in json.load(answer)["findings"] if each["chainage"] and each["severity"] != "note"]
    finding = placed[-1]
    page.locator("#needs .finding", has_text=finding["place"]).first.click()
    at = float(page.locator(".flag text").text_content().split()[0])
    assert min(finding["chainage"]) - 0.25 <= at <= max(finding["chainage"]) + 0.25


def test_the_words_of_a_job_stay_words(window: Any, address: str, folder: Path) -> None:
    text = (folder / "job.toml").read_text()
    trap = "<img src=x onerror=alert(1)><b>"
    text = text.replace('species = "birch"', f'species = "{trap}"').replace('title = "Hazel Bank"', f'title = "{trap}"')
    (folder / "job.toml").write_text(text)
    page = window().new_page()
    page.goto(address)
    page.locator("#page-title", has_text=trap).wait_for()
    assert page.locator("img").count() == 0


@pytest.mark.parametrize("width", [390, 768, 1440])
def test_targets_are_large_enough_and_nothing_is_cut_off(window: Any, address: str, width: int) -> None:
    page = window(width).new_page()
    page.goto(address)
    page.locator("#eight tr").nth(7).wait_for(state="attached")
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    small = page.evaluate("""() => [...document.querySelectorAll('button, input, select, a, summary')]
        .map(each => [each.id || each.className, each.getBoundingClientRect()])
        .filter(([, box]) => box.width > 0 && (box.height < 44 || box.width < 44)).map(([name]) => name)""")
    assert small == []


def test_every_peg_can_be_reached_by_tab_in_the_order_of_the_water(page: Any) -> None:
    page.locator("#plan .peg").first.focus()
    seen = []
    for _ in range(page.locator("#plan .peg").count()):
        seen.append(page.evaluate("Number(document.activeElement.dataset.id)"))
        page.keyboard.press("Tab")
    assert seen == sorted(seen)
    assert len(set(seen)) == page.locator("#plan .peg").count()


def test_levels_are_told_below_the_mark_and_the_mark_is_named(page: Any) -> None:
    """Pegs have nails of their own: a driver must not read one number for the other."""
    assert "below, mm" in page.locator("table:has(#eight) thead").inner_text()
    assert page.locator("#mark").inner_text() == "below the mark: peg P1 on the terrace, 101.95 m"
