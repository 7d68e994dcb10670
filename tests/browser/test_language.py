"""The pages in another language: said by Python as they are made and by the page as it goes on, both by one
phrasebook."""

import re
from pathlib import Path
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe

from beckwright.languages import phrasebook

RULES = {"runOnly": {"type": "tag", "values": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]}}
pytestmark = pytest.mark.browser
TRIED = (
    "Undo",
    "Left edge low, 2.8 to 4.2 m",
    "90 mm left at party once the fill settles; 100 mm wanted. Raise that edge 10 mm.",
    "Write settlement_percent = 4.5, and build the banks that much higher.",
    "8\u2009600 to 9\u2009400 L/h",
    "Lip 2 lies 5 mm low. Nobody ever wrote this one.",
    "1.25",
    "\u22120.50",
    "2026-11-29",
    "Peg 7",
)


@pytest.fixture
def german(window: Any, address: str) -> Any:
    context = window(reduced_motion="no-preference")
    context.add_cookies([{"name": "beckwright_language", "value": "de", "url": address}])
    page = context.new_page()
    page.goto(address)
    page.locator("#eight tr").nth(7).wait_for()
    return page


def test_the_page_says_what_the_phrasebook_says(german: Any) -> None:
    book = phrasebook("de")
    assert german.evaluate("document.documentElement.lang") == "de"
    for words in TRIED:
        german.evaluate("words => { document.getElementById('told').textContent = words; }", words)
        german.wait_for_timeout(50)
        shown = german.locator("#told").text_content().replace("\u202f", "\u2009")
        assert shown == book.say(words)


def test_the_flow_that_runs_is_shown_whatever_it_is_called(german: Any) -> None:
    running = german.locator("#flows [aria-pressed=true] b")
    assert running.all_inner_texts() == ["Alltag"]
    german.locator("#flows .flow", has_text="Rinnsal").click()
    assert running.all_inner_texts() == ["Rinnsal"]


def test_lines_of_files_stay_as_they_are(german: Any) -> None:
    """A decimal comma in job.toml would be another list."""
    for name in ("pre", "code"):
        german.evaluate("each => { document.body.append(document.createElement(each)); }", name)
        german.evaluate("each => { document.querySelector(`body > ${each}`).textContent = '[1.25, 3.5],'; }", name)
        german.wait_for_timeout(50)
        assert german.locator(f"body > {name}").inner_text() == "[1.25, 3.5],"


def test_a_language_is_chosen_by_a_press_and_kept(page: Any) -> None:
    page.locator(".places summary").click()
    page.locator("button[data-language=de]").click()
    page.locator("html[lang=de]").wait_for(state="attached")
    page.reload()
    assert page.evaluate("document.documentElement.lang") == "de"
    page.locator(".places summary").click()
    page.locator("button[data-language=en]").click()
    page.locator("html[lang=en]").wait_for(state="attached")


def test_browser_and_papers_say_every_phrase_alike(german: Any) -> None:
    """All English of the phrasebook, its holes filled, said by both."""
    book = phrasebook("de")
    fill = {"{#}": "1.25", "{=}": "Hazel Bank", "{}": "lip 2"}
    told = [re.sub(r"\{[#=]?\}", lambda hole: fill[hole[0]], english) for english in book.phrases]
    told += [f"{one[:1].upper()}{one[1:]}. {other}" for one, other in zip(told[::7], told[1::7], strict=False)]
    told += ["(6.83, -5.599) m", "1, 2, 3", "Course, point 6 added: (7.5, 6) m"]
    said = german.evaluate(
        """async (told) => {
          const { Phrasebook } = await import("/static/shared/say.js");
          const answer = await (await fetch("/api/phrases/de")).json();
          const book = new Phrasebook(answer.phrases, answer.decimal, answer.units);
          return told.map((words) => book.say(words));
        }""",
        told,
    )
    assert [(one, mine) for one, mine in zip(told, said, strict=True) if book.say(one) != mine] == []


def test_dragging_does_not_stutter(german: Any) -> None:
    """What a hundred answers' worth of changed words take to be said, at the most: a frame is 16 ms."""
    took = german.evaluate(
        """async () => {
          const { Phrasebook } = await import("/static/shared/say.js");
          const answer = await (await fetch("/api/phrases/de")).json();
          const book = new Phrasebook(answer.phrases, answer.decimal, answer.units);
          const say = (at) => ["Left edge low, 2.8 to 4.2 m",
            `${at} mm left at party once the fill settles; 100 mm wanted.`,
            `Lip 1, at ${at}.50 m, level 101.150`, `8 600 to ${at} L/h`].map((words) => book.say(words));
          say(0);
          const began = performance.now();
          for (let at = 1; at <= 100; at += 1) say(at);
          return performance.now() - began;
        }"""
    )
    assert took < 1600


@pytest.mark.parametrize("width", [390, 1440])
def test_the_desk_in_german_can_be_used_by_everyone(window: Any, address: str, width: int) -> None:
    context = window(width)
    context.add_cookies([{"name": "beckwright_language", "value": "de", "url": address}])
    page = context.new_page()
    page.goto(address)
    page.locator("#eight tr").nth(7).wait_for()
    page.locator("#undo b", has_text="Zurück").wait_for()
    told = [each["id"] for each in Axe().run(page, options=RULES).response["violations"]]
    wider = page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth")
    assert (told, wider) == ([], 0)


def test_the_app_speaks_as_the_cookie_or_else_the_job_says(page: Any, folder: Path, address: str) -> None:
    text = (folder / "job.toml").read_text(encoding="utf-8")
    (folder / "job.toml").write_text(text.replace("[job]\n", '[job]\nlanguage = "de"\n', 1), encoding="utf-8")
    page.goto(address)
    assert page.locator("html").get_attribute("lang") == "de"
    page.context.add_cookies([{"name": "beckwright_language", "value": "en", "url": address}])
    page.goto(address)
    assert page.locator("html").get_attribute("lang") == "en"
    page.locator("#eight tr").nth(7).wait_for()
