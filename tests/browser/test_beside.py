"""Two variants on one tape, in a real browser. What must come out is told by the job folder and by the page's promises:
what both have in common is drawn in the same place, and what is swapped is the other way round."""

from pathlib import Path
from typing import Any

import pytest

from tests.browser.test_revisions import SMALL, asked, job, kept, moved, not_told, opened, told

__all__ = ["opened"]

pytestmark = pytest.mark.browser


@pytest.fixture
def pair(opened: Any, address: str) -> Any:
    """As quoted, and with a point moved; the second stands."""
    asked(address, "/api/revisions/1/name", {"name": "as quoted"})
    moved(address, 5.5, 4.25)
    return opened("/beside", "#answers tbody tr")


def drawn(page: Any, selector: str) -> list[str]:
    """The paths of a drawing."""
    return [each.get_attribute("d") for each in page.locator(selector).all()]


def rows(page: Any) -> dict[str, list[str]]:
    """Answers by what they are called: first, second, difference. Read at one instant: the table is drawn anew."""
    return dict(
        page.evaluate(
            "() => [...document.querySelectorAll('#answers tbody tr')].map(row => "
            "[row.querySelector('th').innerText, [...row.querySelectorAll('td')].map(cell => cell.innerText)])"
        )
    )


def test_the_named_one_stands_beside_the_one_that_stands(pair: Any) -> None:
    assert [pair.locator(f"#{side}-which").input_value() for side in ("left", "right")] == ["1", "2"]
    assert pair.locator("#left-plan-name").inner_text() == "Revision 1, as quoted"
    assert "(5.5, 4.25) m" in pair.locator("#changes").inner_text()


def test_both_plans_have_one_scale_and_turn_and_both_sections_one_scale_of_levels(opened: Any, address: str) -> None:
    """The source moves, which turns the plan, and the sump sinks, which stretches the levels; the reservoir's corners
    stay where they were on the ground, and one level is one height."""
    kept(
        address,
        {"do": "move point", "point": 0, "x_m": 13.1, "y_m": 9.6},
        {"do": "set value", "key": "reservoir.sump_mm", "value": 400},
    )
    page = opened("/beside", "#answers tbody tr")
    assert drawn(page, "#left-plan .crates") == drawn(page, "#right-plan .crates")
    assert drawn(page, "#left-plan .thread") != drawn(page, "#right-plan .thread")
    assert drawn(page, "#left-long .ruling") == drawn(page, "#right-long .ruling")
    labels = [page.locator(f"#{side}-long .label.small").all_inner_texts() for side in ("left", "right")]
    assert labels[0] == labels[1]
    assert page.locator("#tape .numeral").count() > 0
    height = page.locator("#left-long").bounding_box()["height"]
    feet = [float(path.split("h")[0].split()[-1]) for path in drawn(page, "#right-long .ruling")]
    assert all(0 <= foot <= height for foot in feet)


def test_the_chosen_flow_runs_in_both(pair: Any) -> None:
    before = [drawn(pair, f"#{side}-long .line.running") for side in ("left", "right")]
    pair.locator("#flows .flow", has_text="party").click()
    after = [drawn(pair, f"#{side}-long .line.running") for side in ("left", "right")]
    assert before[0] != after[0]
    assert before[1] != after[1]
    assert pair.locator("#answers-title").inner_text() == "Answers of both, at party"


def test_answers_stand_in_two_columns_with_the_difference(pair: Any, address: str) -> None:
    # Who reads while the slower answers come must not lose their place: what is there is told again, and more.
    pair.locator("#answers th", has_text="Stone in all").wait_for()
    found = rows(pair)
    held = asked(address, "/api/revisions/1/against/2")["answers"]
    flow = pair.locator("#flows [aria-pressed=true] b").inner_text()
    for each in held:
        if each["flow"] in ("", flow):
            shown = next(cells for label, cells in found.items() if label.startswith(each["label"]))
            plain = [cell.replace("\u202f", "\u2009") for cell in shown]
            assert plain[:2] == [each["before"], each["after"]]
            assert plain[2] == (each["difference"] or "same")


def test_swapped_the_difference_is_the_other_way_round(pair: Any) -> None:
    label = "Water in motion at everyday"
    pair.locator("#answers tbody tr", has_text=label).wait_for()
    was = rows(pair)[label]
    pair.locator("#swap").click()
    pair.locator("#left-plan-name", has_text="Revision 2").wait_for()
    pair.wait_for_function(
        "([label, first]) => [...document.querySelectorAll('#answers tbody tr')]"
        ".some(row => row.innerText.startsWith(label) && row.querySelector('td').innerText === first)",
        arg=[label, was[1]],
    )
    now = rows(pair)[label]
    assert now[:2] == was[1::-1]
    assert {now[2].split()[-1], was[2].split()[-1]} == {"more", "less"}
    assert pair.url.endswith("left=2&right=1")


def test_go_on_with_this_one(pair: Any, address: str, folder: Path) -> None:
    first = asked(address, "/api/revisions/1")["text"]
    pair.locator("#left-about button", has_text="Go on with this one").click()
    told(pair, "Revision 1 stands again, as revision 3")
    assert (folder / "job.toml").read_text(encoding="utf-8") == first


def test_going_on_with_an_old_one_while_somebody_changed_the_job_is_told(pair: Any, address: str, folder: Path) -> None:
    not_told(pair)
    moved(address, 5.6, 4.3)
    pair.locator("#left-about button", has_text="Go on with this one").click()
    pair.locator("#problems li", has_text="changed meanwhile").wait_for()
    assert job(folder)["course"]["line_m"][6] == [5.6, 4.3]


def test_a_variant_is_made_by_naming_it(pair: Any, address: str) -> None:
    pair.locator("#right-about input").fill("round the oak")
    pair.locator("#right-about .naming button").click()
    told(pair, "Revision 2 is called round the oak.")
    assert asked(address, "/api/revisions")["revisions"][1]["name"] == "round the oak"
    pair.locator("#right-plan-name", has_text="round the oak").wait_for()


def test_what_cannot_be_designed_is_told_and_the_other_still_drawn(opened: Any, address: str, folder: Path) -> None:
    asked(address, "/api/state")
    text = (folder / "job.toml").read_text(encoding="utf-8")
    for pump in ("PG-999", "PG-350"):
        (folder / "job.toml").write_text(text.replace('chosen = "PG-200"', f'chosen = "{pump}"'), encoding="utf-8")
        asked(address, "/api/stands")
    page = opened("/beside?left=2&right=3", "#cannot .problems li")
    assert "PG-999" in page.locator("#cannot").inner_text()
    assert page.locator("#right-plan .thread").count() == 1
    assert page.locator("#left-plan .thread").count() == 0
    assert "see above" in page.locator("#left-plan").inner_html()


def test_on_a_telephone_one_lies_above_the_other_and_the_tape_is_walked(opened: Any, address: str) -> None:
    moved(address, 5.5, 4.25)
    page = opened("/beside", "#answers tbody tr", 390, 844, has_touch=True)
    upper, lower = (page.locator(f"#{side}-plan").bounding_box() for side in ("left", "right"))
    assert upper["y"] + upper["height"] <= lower["y"]
    assert upper["x"] == lower["x"]
    before, where = page.locator("#window").inner_text(), drawn(page, "#left-long .line.bed")
    page.locator("#down-stream").tap()
    assert page.locator("#window").inner_text() != before
    assert drawn(page, "#left-long .line.bed") != where
    names = [page.locator(f"#{side}-plan-name").inner_text() for side in ("left", "right")]
    page.locator("#swap").tap()
    page.locator("#left-plan-name", has_text=names[1]).wait_for()
    assert page.locator("#right-plan-name").inner_text() == names[0]


@pytest.mark.parametrize("width", [390, 768, 1440])
def test_targets_are_large_enough_and_nothing_is_cut_off(opened: Any, address: str, width: int) -> None:
    moved(address, 5.5, 4.25)
    page = opened("/beside", "#answers tbody tr", width)
    assert page.evaluate("() => document.documentElement.scrollWidth") <= width
    assert page.evaluate(SMALL) == []
