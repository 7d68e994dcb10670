"""Points of the hose put in and taken out, the lower end raised: by key, number and pointer, on telephone and laptop.

What must come out is told by the job folder, read with the standard library: a point half-way is half-way, the hose
stays as much longer than its line as it was, the last run takes up what the lower end rises, and nothing above moves.
"""

import tomllib
from collections.abc import Iterator
from math import dist
from pathlib import Path
from typing import Any

import pytest

from tests.browser.test_desk import boxes, centre, drag, kept

pytestmark = pytest.mark.browser

LONG = 9
"""The hose's longest stretch begins at this point."""


@pytest.fixture(params=[(390, 844), (1440, 900)], ids=["telephone", "laptop"])
def held(request: pytest.FixtureRequest, window: Any, address: str) -> Iterator[Any]:
    width, height = request.param
    page = window(width, height).new_page()
    page.set_default_timeout(10_000)
    faults: list[str] = []
    page.on("pageerror", lambda error: faults.append(str(error)))
    page.goto(address)
    page.locator("#eight tr").nth(7).wait_for(state="attached")
    yield page
    assert faults == []


def job(folder: Path) -> dict[str, Any]:
    return tomllib.loads((folder / "job.toml").read_text(encoding="utf-8"))


def by_key(page: Any, name: str) -> None:
    page.get_by_role("button", name=name, exact=True).focus()
    page.keyboard.press("Enter")


def typed(page: Any, **numbers: str) -> None:
    for field, number in numbers.items():
        page.locator(f"#{field}").fill(number)
    page.locator("#set").click()


def test_a_hose_point_goes_in_and_out_by_key_and_header_says_what_undo_takes_back(held: Any, folder: Path) -> None:
    before, where = job(folder)["hose"], boxes(held)
    held.locator("#plan .coupling").focus()
    held.locator(f'#plan .collar[data-id="{LONG}"]').focus()
    by_key(held, "Add, take, size")
    by_key(held, "Add a point after it")
    kept(held, f"Hose point {LONG + 2} added")
    line = before["line_m"]
    half = [(a + b) / 2 for a, b in zip(line[LONG], line[LONG + 1], strict=True)]
    new = job(folder)["hose"]
    assert new["line_m"] == [*line[: LONG + 1], pytest.approx(half, abs=0.001), *line[LONG + 1 :]]
    assert new["length_m"] == pytest.approx(before["length_m"], abs=0.001)
    assert held.locator("#undo-what").is_visible()
    assert held.locator("#undo-what").inner_text().startswith(f"Hose, point {LONG + 2} added")
    assert held.evaluate("document.activeElement.id") == "shapes-title", "the keyboard keeps its place"
    typed(held, first=str(half[0]), second=str(half[1] + 0.3))
    kept(held, f"Hose point {LONG + 2} moved 0.30 m")
    moved = job(folder)["hose"]
    grown = sum(dist(moved["line_m"][LONG + 1], line[end]) for end in (LONG, LONG + 1)) - dist(*line[LONG : LONG + 2])
    assert moved["length_m"] == pytest.approx(before["length_m"] + grown, abs=0.002)
    by_key(held, "Take this point out")
    kept(held, f"Taken out: hose point {LONG + 2}")
    assert job(folder)["hose"] == before
    by_key(held, "Close")
    held.evaluate("scrollTo(0, 0)")
    assert {name: boxes(held)[name] for name in ("#undo", "#flows", "#plan")} == {
        name: where[name] for name in ("#undo", "#flows", "#plan")
    }


def test_a_hose_point_goes_in_where_the_hose_was_pressed(held: Any, folder: Path) -> None:
    line = job(folder)["hose"]["line_m"]
    held.mouse.click(*centre(held, "#plan .coupling", 0))
    (x1, y1), (x2, y2) = (centre(held, f'#plan .collar[data-id="{at}"]', 0) for at in (LONG, LONG + 1))
    # Half a finger beside the hose, on the side away from the stream's pegs.
    off = 8 / dist((x1, y1), (x2, y2))
    held.mouse.click((x1 + x2) / 2 + (y1 - y2) * off, (y1 + y2) / 2 - (x1 - x2) * off)
    held.locator("#picked", has_text="On the hose").wait_for()
    held.locator("#reshape").click()
    held.get_by_role("button", name="Put a point of the hose in here").click()
    kept(held, f"Hose point {LONG + 2} added")
    new = job(folder)["hose"]["line_m"]
    assert new[: LONG + 1] + new[LONG + 2 :] == line
    apart = dist(*line[LONG : LONG + 2])
    assert [dist(new[LONG + 1], line[end]) / apart for end in (LONG, LONG + 1)] == pytest.approx([0.5, 0.5], abs=0.1)
    held.get_by_role("button", name="Take this point out").click()
    kept(held, "Taken out")
    assert job(folder)["hose"]["line_m"] == line


def test_the_lower_end_is_raised_by_key_by_number_and_by_pointer(held: Any, folder: Path) -> None:
    """By hand, Hazel Bank ends at 99.85 m with a run that falls 180 mm: 10 mm higher it falls 170 mm."""
    before = job(folder)
    side = "#section" if held.locator("#section").is_visible() else "#strip"
    typed(held, first="18")
    held.locator("#step").select_option("0.01")
    end = f"{side} .toe"
    held.locator(end).focus()
    held.keyboard.press("ArrowUp")
    kept(held, "Lower end raised 10 mm, to 99.860")
    assert ends(folder) == (99.86, 170)
    typed(held, second="99.82")
    kept(held, "Lower end lowered 40 mm, to 99.820")
    assert ends(folder) == (99.82, 210)
    drag(held, end, 0, 0, -5)
    held.mouse.up()
    kept(held, "Lower end raised")
    level, falls = ends(folder)
    assert level > 99.82
    assert (99.85 - level) * 1000 + 180 == pytest.approx(falls, abs=0.01)
    after = job(folder)
    assert (after["source"], after["course"]["reaches"][:-1]) == (before["source"], before["course"]["reaches"][:-1])


def ends(folder: Path) -> tuple[float, float]:
    """Level of the lower end as written, and what the last reach falls."""
    course = job(folder)["course"]
    return course["end_level_m"], course["reaches"][-1]["fall_mm"]
