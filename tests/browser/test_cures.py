"""Cures in "Needs you": shown before they are taken, by mouse and by keyboard, undone, and waiting out of reach.

What must come out is told by the page's promises and by the job folder itself, never by numbers of the pages.
"""

import tomllib
from pathlib import Path
from typing import Any

import pytest

pytestmark = pytest.mark.browser
SLOW = True
PATIENCE = 60_000
"""Milliseconds: cures are tried one by one on a machine that other tests use too."""


def cures(page: Any) -> Any:
    found = page.locator("#needs .press.cure")
    found.first.wait_for(timeout=PATIENCE)
    return found


def opened(page: Any, code_words: str = "Raise the left edge") -> Any:
    """One cure with its effect shown."""
    press = cures(page).filter(has_text=code_words).first
    press.wait_for(timeout=PATIENCE)
    press.click()
    page.locator(".effect:not([hidden]) [data-act=take]").wait_for(timeout=PATIENCE)
    return press


def job(folder: Path) -> dict[str, Any]:
    return tomllib.loads((folder / "job.toml").read_text())


def test_the_effect_is_shown_and_nothing_is_taken_or_shifted(page: Any, folder: Path) -> None:
    names = ("#plan", "#tape", "#section", "#strip", "#undo", "#told")
    before, where = job(folder), {name: page.locator(name).bounding_box() for name in names}
    press = opened(page)
    assert press.get_attribute("aria-expanded") == "true"
    panel = page.locator(".effect:not([hidden])")
    assert panel.locator("table tbody tr").count() >= 1
    assert panel.locator(".gone li").count() >= 1
    assert {name: page.locator(name).bounding_box() for name in names} == where
    assert job(folder) == before
    panel.locator("[data-act=leave]").click()
    assert press.get_attribute("aria-expanded") == "false"
    assert page.evaluate("() => document.activeElement.classList.contains('cure')")
    assert job(folder) == before


def test_a_cure_taken_is_kept_and_undone(page: Any, folder: Path) -> None:
    before, text = job(folder), (folder / "job.toml").read_text()
    opened(page)
    page.locator(".effect:not([hidden]) [data-act=take]").click()
    page.locator("#told", has_text="Taken: Raise the left edge").wait_for(timeout=PATIENCE)
    assert page.evaluate("() => document.activeElement.id") == "needs-title"
    fresh = job(folder)["course"]["edges"]
    assert [edge["side"] for edge in fresh] == ["left"]
    assert page.locator("#needs", has_text="Left edge low").count() == 0
    page.locator("#undo").click()
    page.locator("#told", has_text="Undone").wait_for(timeout=PATIENCE)
    assert job(folder) == before
    assert (folder / "job.toml").read_text() == text


def test_the_keyboard_alone_opens_leaves_and_takes(page: Any, folder: Path) -> None:
    press = cures(page).filter(has_text="Raise the left edge").first
    press.focus()
    page.keyboard.press("Enter")
    page.locator(".effect:not([hidden]) [data-act=take]").wait_for(timeout=PATIENCE)
    page.locator(".waits").wait_for(state="detached", timeout=PATIENCE)
    page.keyboard.press("Tab")
    page.keyboard.press("Escape")
    assert press.get_attribute("aria-expanded") == "false"
    page.keyboard.press("Enter")
    take = page.locator(".effect:not([hidden]) [data-act=take]")
    take.wait_for(timeout=PATIENCE)
    take.focus()
    page.keyboard.press("Enter")
    page.locator("#told", has_text="Taken: Raise the left edge").wait_for(timeout=PATIENCE)
    assert job(folder)["course"]["edges"]


def test_a_cure_taken_out_of_reach_waits_and_is_sent_by_itself(page: Any, folder: Path) -> None:
    before = job(folder)
    opened(page)
    page.locator(".waits").wait_for(state="detached", timeout=PATIENCE)
    page.context.set_offline(True)
    page.locator(".effect:not([hidden]) [data-act=take]").click()
    page.locator("#away-since", has_text="Taken: Raise the left edge").wait_for(timeout=PATIENCE)
    assert job(folder) == before
    page.context.set_offline(False)
    page.locator("#told", has_text="Taken: Raise the left edge").wait_for(timeout=PATIENCE)
    assert job(folder) != before


def test_out_of_reach_nothing_is_offered_that_was_not_shown(page: Any) -> None:
    press = cures(page).filter(has_text="Raise the left edge").first
    page.context.set_offline(True)
    press.click()
    page.locator(".effect:not([hidden])", has_text="out of reach").wait_for(timeout=PATIENCE)
    assert page.locator(".effect:not([hidden]) [data-act=take]").count() == 0
    page.context.set_offline(False)


def test_answers_and_findings_lead_to_how_they_were_worked(page: Any) -> None:
    links = page.locator("#answers a").evaluate_all("all => all.map(each => each.getAttribute('href'))")
    assert links
    assert all(link.startswith("/why/") for link in links)
    assert page.locator("#needs a.why").count() >= 1
