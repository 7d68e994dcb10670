"""The whole line drawn at the desk: reservoir, hose, source, lips, pools, sills; by mouse, by keyboard, by finger.

What must come out is told by the job folder, read with the standard library, by the page's own bar of metres, and by
what every edit promises: lengths and falls of the course keep their sums, and undo gives the same bytes back.
"""

import tomllib
from collections.abc import Iterator
from math import hypot
from pathlib import Path
from typing import Any

import pytest

from tests.browser.test_desk import boxes, drag, kept

pytestmark = pytest.mark.browser

RESERVOIR, HOSE, SOURCE = "#plan .crate", "#plan .coupling", "#plan .peg.source"
LIP_ON_PLAN = '#plan .slab[data-id="lip 2"]'
LIP, END, POOL = '#section .slab[data-id="lip 2"]', '#section .board[data-id="2"]', '#section .basin[data-id="5"]'
MILLIMETRE = 0.0015


def job(folder: Path) -> dict[str, Any]:
    return tomllib.loads((folder / "job.toml").read_text(encoding="utf-8"))


def reaches(folder: Path) -> list[dict[str, Any]]:
    listed: list[dict[str, Any]] = job(folder)["course"]["reaches"]
    return listed


def length(folder: Path) -> float:
    return sum(reach.get("length_m", 0.0) for reach in reaches(folder))


def fall(folder: Path) -> float:
    return sum(reach.get("fall_mm", 0.0) + reach.get("drop_mm", 0.0) for reach in reaches(folder))


def pixels(page: Any) -> float:
    """Pixels for each metre of the plan, off its own bar."""
    return float(page.locator(".sheet.plan .bar").first.get_attribute("width"))


def away(one: list[float], other: list[float]) -> float:
    return hypot(one[0] - other[0], one[1] - other[1])


def pick(page: Any, selector: str) -> None:
    page.locator(selector).first.focus()
    page.locator(f'{selector}[aria-pressed="true"]').wait_for()


def typed(page: Any, *numbers: float) -> None:
    for field, number in zip(("#first", "#second"), numbers, strict=False):
        page.locator(field).fill(str(number))
    page.locator("#set").click()


def at_peg(page: Any, chainage: float) -> None:
    """Pick a place on the tape by typing it; a handle that is picked already is left for it first."""
    x = page.locator("#tape").bounding_box()
    page.mouse.click(x["x"] + 300, x["y"] + 8)
    typed(page, chainage)
    page.locator("#picked", has_text="Picked peg").wait_for()


def undone(page: Any, folder: Path, before: bytes) -> None:
    step_back(page)
    assert (folder / "job.toml").read_bytes() == before


def step_back(page: Any) -> None:
    """Undo, and wait until the page shows another revision."""
    stood = page.locator("#revision").inner_text()
    page.locator("#undo").click()
    page.wait_for_function("was => document.querySelector('#revision').innerText !== was", arg=stood)


def test_the_source_is_the_first_point_and_tells_it(page: Any) -> None:
    assert page.locator(SOURCE).count() == 1
    assert page.locator("#plan .peg").first.get_attribute("aria-label").startswith("Source")
    assert "source" in page.locator("#plan .label").all_text_contents()


def test_the_reservoir_moves_as_far_as_the_hand_and_takes_the_hose_along(page: Any, folder: Path) -> None:
    """Seven pixels are seven pixels: nothing snaps."""
    before, text, where = job(folder), (folder / "job.toml").read_bytes(), boxes(page)
    drag(page, RESERVOIR, 0, 0, -7)
    assert boxes(page) == where
    page.mouse.up()
    kept(page, "Reservoir moved")
    after = job(folder)
    moved = away(before["reservoir"]["centre_m"], after["reservoir"]["centre_m"])
    assert moved == pytest.approx(7 / pixels(page), abs=MILLIMETRE)
    assert after["hose"]["line_m"][0] == after["reservoir"]["centre_m"]
    assert after["hose"]["line_m"][1:] == before["hose"]["line_m"][1:]
    undone(page, folder, text)


def test_the_reservoir_by_key_by_arrow_and_by_number(page: Any, folder: Path) -> None:
    before = job(folder)["reservoir"]["centre_m"]
    pick(page, RESERVOIR)
    page.keyboard.press("ArrowUp")
    page.locator("#go-up").click()
    kept(page, "Reservoir moved 0.10 m")
    assert away(before, job(folder)["reservoir"]["centre_m"]) == pytest.approx(0.10, abs=MILLIMETRE)
    typed(page, -2.1, -0.35)
    page.wait_for_function("() => /moved 0\\.(?!10)/.test(document.querySelector('#told').innerText)")
    assert job(folder)["reservoir"]["centre_m"] == [-2.1, -0.35]


def test_points_of_the_hose_show_once_it_is_picked_and_move(page: Any, folder: Path) -> None:
    line, text = job(folder)["hose"]["line_m"], (folder / "job.toml").read_bytes()
    assert page.locator("#plan .collar").count() == 0
    pick(page, HOSE)
    assert page.locator("#plan .collar").count() == len(line)
    drag(page, "#plan .collar", 5, 0, -11)
    page.mouse.up()
    kept(page, "Hose point 6 moved")
    after = job(folder)["hose"]["line_m"]
    assert [at for at in range(len(line)) if line[at] != after[at]] == [5]
    assert away(line[5], after[5]) == pytest.approx(11 / pixels(page), abs=MILLIMETRE)
    undone(page, folder, text)
    pick(page, '#plan .collar[data-id="5"]')
    page.keyboard.press("Shift+ArrowUp")
    kept(page, "Hose point 6 moved 0.25 m")
    page.locator("#plan .peg").nth(3).focus()
    assert page.locator("#plan .collar").count() == 0


def test_a_lip_slides_on_the_plan_by_mouse_and_by_key(page: Any, folder: Path) -> None:
    before, text = reaches(folder), (folder / "job.toml").read_bytes()
    drag(page, LIP_ON_PLAN, 0, -12, 0)
    page.mouse.up()
    kept(page, "Lip 2 slid")
    slid = reaches(folder)
    assert slid[3]["length_m"] < before[3]["length_m"]
    assert slid[3]["length_m"] + slid[6]["length_m"] == pytest.approx(
        before[3]["length_m"] + before[6]["length_m"], abs=MILLIMETRE
    )
    undone(page, folder, text)
    pick(page, LIP_ON_PLAN)
    page.keyboard.press("ArrowRight")
    kept(page, "Lip 2 slid 0.05 m downstream")
    assert reaches(folder)[3]["length_m"] == pytest.approx(before[3]["length_m"] + 0.05, abs=MILLIMETRE)


def test_a_lip_dragged_up_rises_as_far_as_the_levels_beside_it_say(page: Any) -> None:
    """The section's own scale: two lips, their levels and where they stand."""

    def stands(name: str) -> tuple[float, float]:
        slab = page.locator(f'#section .slab[data-id="{name}"]')
        box = slab.locator(".ring").bounding_box()
        return float(slab.get_attribute("aria-label").rsplit(" ", 1)[1]), box["y"] + box["height"] / 2

    (level_1, y_1), (level_3, y_3) = stands("lip 1"), stands("lip 3")
    each = (level_1 - level_3) / (y_3 - y_1)
    before = stands("lip 2")[0]
    drag(page, LIP, 0, 0, -5)
    page.mouse.up()
    kept(page, "Lip 2 raised")
    assert stands("lip 2")[0] - before == pytest.approx(5 * each, abs=0.003)


def test_the_source_lip_is_raised_and_does_not_slide(page: Any, folder: Path) -> None:
    pick(page, '#section .slab[data-id="source"]')
    assert page.locator("#go-left").is_disabled()
    before = job(folder)["source"]["lip_level_m"]
    page.keyboard.press("ArrowUp")
    kept(page, "Source lip raised 50 mm")
    assert job(folder)["source"]["lip_level_m"] == pytest.approx(before + 0.05, abs=MILLIMETRE)


def test_the_end_of_a_pool_slides_and_the_run_below_gives_way(page: Any, folder: Path) -> None:
    before, sums = reaches(folder), (length(folder), fall(folder))
    drag(page, END, 0, 9, 0)
    page.mouse.up()
    kept(page, "End of pool 1 slid")
    after = reaches(folder)
    assert after[2]["length_m"] > before[2]["length_m"]
    assert after[3]["length_m"] < before[3]["length_m"]
    assert (length(folder), fall(folder)) == pytest.approx(sums, abs=MILLIMETRE)


def test_the_level_of_the_end_of_a_pool_by_key_and_by_number(page: Any, folder: Path) -> None:
    before, total = reaches(folder), fall(folder)
    pick(page, END)
    page.locator("#step").select_option("0.01")
    pick(page, END)
    page.keyboard.press("ArrowUp")
    kept(page, "End of pool 1 raised 10 mm")
    after = reaches(folder)
    assert after[1]["drop_mm"] == pytest.approx(before[1]["drop_mm"] - 10)
    assert after[3]["fall_mm"] == pytest.approx(before[3]["fall_mm"] + 10)
    assert fall(folder) == pytest.approx(total)
    level = float(page.locator("#second").input_value())
    page.locator("#second").fill(f"{level - 0.03:.3f}")
    page.locator("#set").click()
    kept(page, "End of pool 1 lowered 30 mm")
    assert reaches(folder)[1]["drop_mm"] == pytest.approx(before[1]["drop_mm"] + 20)


def test_a_pool_slides_with_its_lip_and_keeps_its_size(page: Any, folder: Path) -> None:
    before = reaches(folder)
    pick(page, POOL)
    page.keyboard.press("ArrowLeft")
    kept(page, "Pool 2 slid 0.05 m upstream")
    after = reaches(folder)
    assert after[5] == before[5]
    assert after[3]["length_m"] == pytest.approx(before[3]["length_m"] - 0.05, abs=MILLIMETRE)


def test_a_sill_is_put_in_slid_and_taken_out(page: Any, folder: Path) -> None:
    before = (folder / "job.toml").read_bytes()
    at_peg(page, 7.0)
    page.locator("#reshape").click()
    page.get_by_role("button", name="Put a sill in").click()
    kept(page, "A sill put in at 7.00 m")
    assert reaches(folder)[3]["sills_m"] == [1.5]
    pick(page, "#section .sill")
    page.keyboard.press("ArrowRight")
    kept(page, "slid 0.05 m downstream")
    assert reaches(folder)[3]["sills_m"] == [1.55]
    page.get_by_role("button", name="Take this sill out").click()
    kept(page, "taken out")
    assert not reaches(folder)[3].get("sills_m")
    for _ in range(3):
        step_back(page)
    assert (folder / "job.toml").read_bytes() == before


def test_a_point_is_added_after_another_and_taken_out_again(page: Any, folder: Path) -> None:
    line, text = job(folder)["course"]["line_m"], (folder / "job.toml").read_bytes()
    pick(page, '#plan .peg[data-id="4"]')
    page.locator("#reshape").click()
    page.get_by_role("button", name="Add a point after it").click()
    kept(page, "Point added after point 5")
    after = job(folder)["course"]["line_m"]
    assert after[:5] + after[6:] == line
    assert away(after[5], line[4]) == pytest.approx(away(after[5], line[5]), abs=0.05)
    pick(page, '#plan .peg[data-id="5"]')
    page.get_by_role("button", name="Take this point out").click()
    kept(page, "Taken out: point 6")
    assert job(folder)["course"]["line_m"] == line
    step_back(page)
    undone(page, folder, text)


def test_a_point_goes_in_where_the_line_was_pressed(page: Any, folder: Path) -> None:
    line = job(folder)["course"]["line_m"]
    at_peg(page, 8.25)
    page.locator("#reshape").click()
    page.get_by_role("button", name="Put a point of the line in here").click()
    kept(page, "at 8.25 m")
    assert len(job(folder)["course"]["line_m"]) == len(line) + 1


@pytest.mark.parametrize(("kind", "key", "own"), [("step", "drop_mm", "90"), ("pool", "depth_mm", "170")])
def test_a_reach_is_put_in_with_the_values_that_stood_there_and_taken_out(
    page: Any, folder: Path, kind: str, key: str, own: str
) -> None:
    before, text, sums = reaches(folder), (folder / "job.toml").read_bytes(), (length(folder), fall(folder))
    at_peg(page, 7.5)
    page.locator("#reshape").click()
    form = page.locator(".shape", has=page.get_by_role("button", name=f"Put a {kind} in"))
    assert float(form.locator(f"[name={key}]").input_value()) > 0
    form.locator(f"[name={key}]").fill(own)
    form.get_by_role("button").click()
    kept(page, f"A {kind} put in at 7.50 m")
    after = reaches(folder)
    assert [reach["kind"] for reach in after] == [
        *[reach["kind"] for reach in before[:4]],
        kind,
        "run",
        *[reach["kind"] for reach in before[4:]],
    ]
    assert after[4][key] == float(own)
    assert (length(folder), fall(folder)) == pytest.approx(sums, abs=0.002)
    assert after[3]["length_m"] == pytest.approx(2.0, abs=MILLIMETRE)
    undone(page, folder, text)


def test_a_step_is_taken_out_and_its_fall_stays_in_the_course(page: Any, folder: Path) -> None:
    text, sums = (folder / "job.toml").read_bytes(), (length(folder), fall(folder))
    pick(page, '#section .basin[data-id="8"]')
    page.locator("#reshape").click()
    page.get_by_role("button", name="Take pool 3 out").click()
    kept(page, "Taken out: pool 3")
    assert len(reaches(folder)) == 9
    assert (length(folder), fall(folder)) == pytest.approx(sums, abs=0.002)
    undone(page, folder, text)


def test_the_reservoir_is_turned_and_resized_and_only_what_was_typed_changes(page: Any, folder: Path) -> None:
    before, text = job(folder)["reservoir"], (folder / "job.toml").read_bytes()
    pick(page, RESERVOIR)
    page.locator("#reshape").click()
    page.locator("[name=turned_deg]").fill("5")
    page.locator("[name=width_m]").fill("1.2")
    page.get_by_role("button", name="Set reservoir").click()
    kept(page, "Reservoir set")
    assert job(folder)["reservoir"] == before | {"turned_deg": 5, "width_m": 1.2}
    undone(page, folder, text)


def test_a_flow_is_set_beside_the_drawings(page: Any, folder: Path) -> None:
    text = (folder / "job.toml").read_bytes()
    page.locator("#reshape").click()
    page.locator("[name=l_h]").fill("5200")
    page.get_by_role("button", name="Set flow").click()
    kept(page, "everyday is 5\u2009200 L/h now")
    assert job(folder)["flows"]["everyday"] == 5200
    undone(page, folder, text)


def test_the_form_opens_over_the_drawings_and_moves_nothing_and_goes_by_escape(page: Any) -> None:
    pick(page, '#plan .peg[data-id="4"]')
    where = boxes(page)
    page.locator("#reshape").focus()
    page.keyboard.press("Enter")
    assert boxes(page) == where
    page.keyboard.press("Tab")
    page.keyboard.press("Escape")
    assert page.locator("#shapes").is_hidden()
    assert page.evaluate("document.activeElement.id") == "reshape"


def test_what_undo_takes_back_can_be_read_to_its_end(page: Any) -> None:
    pick(page, HOSE)
    pick(page, '#plan .collar[data-id="5"]')
    page.keyboard.press("ArrowUp")
    kept(page, "moved 0.05 m")
    whole = page.locator("#undo-what").text_content()
    shown = page.locator("#takes-back")
    assert shown.inner_text() == f"Undo takes back: {whole}"
    assert shown.evaluate("each => each.scrollWidth <= each.clientWidth && each.scrollHeight <= each.clientHeight + 1")
    assert page.locator("#undo").get_attribute("title") == whole


@pytest.mark.parametrize("width", [1200, 1280, 1440])
def test_the_pit_stands_in_the_section(window: Any, address: str, width: int) -> None:
    page = window(width).new_page()
    page.goto(address)
    page.locator("#section .works .crates").wait_for(state="attached")


@pytest.fixture
def phone(window: Any, address: str) -> Iterator[Any]:
    made = window(390, 844, has_touch=True, is_mobile=True, reduced_motion="no-preference").new_page()
    faults: list[str] = []
    made.on("pageerror", lambda error: faults.append(str(error)))
    made.goto(address)
    made.locator("#eight tr").nth(7).wait_for(state="attached")
    yield made
    assert faults == []


def swiped(page: Any, selector: str, right: float, down: float) -> None:
    """A finger put down, drawn along and taken off."""
    box = page.locator(selector).first.locator(".ring").bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    finger = page.context.new_cdp_session(page)
    for kind, share in (("touchStart", 0.0), ("touchMove", 0.5), ("touchMove", 1.0)):
        finger.send(
            "Input.dispatchTouchEvent", {"type": kind, "touchPoints": [{"x": x + right * share, "y": y + down * share}]}
        )
    finger.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})


def test_a_finger_drags_reservoir_hose_and_lip(phone: Any, folder: Path) -> None:
    before = job(folder)
    swiped(phone, RESERVOIR, -6, -5)
    kept(phone, "Reservoir moved")
    assert job(folder)["reservoir"]["centre_m"] != before["reservoir"]["centre_m"]
    phone.locator(HOSE).tap()
    swiped(phone, '#plan .collar[data-id="8"]', 0, -8)
    kept(phone, "Hose point 9 moved")
    swiped(phone, LIP_ON_PLAN, -8, 0)
    kept(phone, "Lip 2 slid")


def test_a_finger_needs_no_drag(phone: Any, folder: Path) -> None:
    before = job(folder)
    phone.locator(LIP_ON_PLAN).tap()
    phone.locator("#go-left").tap()
    kept(phone, "Lip 2 slid 0.05 m upstream")
    phone.locator('#strip .basin[data-id="5"]').tap()
    phone.locator("#go-right").tap()
    kept(phone, "Pool 2 slid 0.05 m downstream")
    phone.locator("#plan .peg").nth(9).tap()
    phone.locator("#reshape").tap()
    phone.get_by_role("button", name="Add a point after it").tap()
    kept(phone, "Point added after point 10")
    assert len(job(folder)["course"]["line_m"]) == len(before["course"]["line_m"]) + 1


@pytest.mark.parametrize("width", [390, 768, 1440])
def test_all_places_open_within_the_window_and_papers_stays(window: Any, address: str, width: int) -> None:
    page = window(width).new_page()
    page.goto(address)
    page.locator("#eight tr").nth(7).wait_for(state="attached")
    papers = page.locator('.ways > a[href="/papers"]').bounding_box()
    page.locator(".places summary").click()
    inside = page.locator(".places nav").bounding_box()
    assert inside["x"] >= 0
    assert inside["x"] + inside["width"] <= width
    assert page.locator('.ways > a[href="/papers"]').bounding_box() == papers
    tops = page.evaluate(
        "[...document.querySelectorAll('.ways > *')].map(each => each.querySelector('b').getBoundingClientRect().top)"
    )
    assert max(tops) - min(tops) <= 2, "the ways stand on one line"


@pytest.mark.parametrize("width", [390, 768, 1440])
def test_the_open_form_has_targets_large_enough(window: Any, address: str, width: int) -> None:
    page = window(width).new_page()
    page.goto(address)
    page.locator("#eight tr").nth(7).wait_for(state="attached")
    page.locator("#go-right").click()
    for handle in ("#plan .peg", RESERVOIR, LIP_ON_PLAN):
        page.locator(handle).first.focus()
        if page.locator("#shapes").is_hidden():
            page.locator("#reshape").click()
        small = page.evaluate("""() => [...document.querySelectorAll('#shapes :is(button, input, select)')]
            .map(each => [each.name || each.textContent, each.getBoundingClientRect()])
            .filter(([, box]) => box.height < 44 || box.width < 44 || box.left < 0 || box.right > innerWidth)
            .map(([name]) => name)""")
        assert small == []
    assert page.evaluate("document.documentElement.scrollWidth") <= width
