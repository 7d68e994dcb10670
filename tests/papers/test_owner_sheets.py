"""The care card and the owner's pages of all four examples, in both units: nothing overlapping, nothing off the
paper."""

from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from beckwright import design, read_job
from beckwright.base.words import METRIC, US, Measure, told_in
from beckwright.care import care_tasks, fault_tree, normal
from beckwright.compose import Works
from beckwright.job.model import Job, Person
from beckwright.papers.drawing import A4_UPRIGHT, Sheet, Text, plain
from beckwright.papers.labels import text_box
from beckwright.papers.sheets.owner.care_card import care_card
from beckwright.papers.sheets.owner.sheet import PAGES, owner_sheets

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = ("hazel_bank", "larkspur_court", "fennymoor_park", "withy_lane")


def _drawn(job: Job, measure: Measure) -> tuple[Sheet, ...]:
    with told_in(measure):
        designed = design(job)
        works = Works(designed)
        usual = normal(designed, works)
        tasks = care_tasks(designed, works, usual)
        return (
            care_card(designed, usual, tasks, 1, 5),
            *owner_sheets(designed, usual, tasks, 2, 5),
        )


@cache
def _sheets(name: str, measure: Measure) -> tuple[Sheet, ...]:
    return _drawn(read_job(EXAMPLES / name), measure)


def _words(sheet: Sheet) -> Iterator[Text]:
    for mark in sheet.marks:
        for part in plain(mark):
            if isinstance(part, Text):
                yield replace(part, halo=0.0)


def _hold_to_the_rules(sheets: tuple[Sheet, ...]) -> None:
    for sheet in sheets:
        texts = list(_words(sheet))
        boxes = np.array([(*text_box(text).min(axis=0), *text_box(text).max(axis=0)) for text in texts])
        wide, high = sheet.paper
        off = (boxes[:, 0] < 19.7) | (boxes[:, 1] < 9.7) | (boxes[:, 2] > wide - 9.7) | (boxes[:, 3] > high - 9.7)
        assert not off.any(), (sheet.name, [texts[place].words for place in np.flatnonzero(off)][:5])
        shared_x = np.minimum(boxes[:, None, 2], boxes[None, :, 2]) - np.maximum(boxes[:, None, 0], boxes[None, :, 0])
        shared_y = np.minimum(boxes[:, None, 3], boxes[None, :, 3]) - np.maximum(boxes[:, None, 1], boxes[None, :, 1])
        clash = np.triu((shared_x > 0.3) & (shared_y > 0.6), 1)
        assert not clash.any(), (sheet.name, [(texts[i].words, texts[j].words) for i, j in np.argwhere(clash)][:5])


@pytest.mark.parametrize("measure", [METRIC, US])
@pytest.mark.parametrize("name", NAMES)
def test_words_neither_meet_nor_leave_the_paper(name: str, measure: Measure) -> None:
    sheets = _sheets(name, measure)
    assert len(sheets) == 1 + PAGES
    assert all(sheet.paper == A4_UPRIGHT for sheet in sheets)
    _hold_to_the_rules(sheets)
    # Read at arm's length on a fridge, ISO 3098 lettering: nothing below 1.8 mm.
    assert min(text.height for sheet in sheets for text in _words(sheet)) >= 1.8 - 1e-9


@pytest.mark.parametrize("name", NAMES)
def test_the_card_says_what_a_card_must(name: str) -> None:
    said = " ".join(text.words for text in _words(_sheets(name, METRIC)[0]))
    job = read_job(EXAMPLES / name)
    for person in job.people:
        assert person.telephone in said
        assert person.name in said
    assert "children" in said
    assert "electrician" in said
    assert "lid" in said


@pytest.mark.parametrize("name", NAMES)
def test_every_question_and_every_end_of_the_tree_is_drawn(name: str) -> None:
    job = read_job(EXAMPLES / name)
    designed = design(job)
    usual = normal(designed, Works(designed))
    tree = fault_tree(
        replace(job, people=tuple(replace(each, telephone="") for each in job.people)), usual, usual.hardest
    )
    said = " ".join(" ".join(text.words for text in _words(sheet)) for sheet in _sheets(name, METRIC)[3:])
    for question in tree.questions:
        assert question.asks in said
    for leaf in tree.leaves:
        assert leaf.does in said


def test_the_longest_names_still_fit() -> None:
    job = read_job(EXAMPLES / "hazel_bank")
    long = "Abcdefghijklmnop qrstuvw " * 3
    people = tuple(
        Person(name=f"{long}x"[:80], trade=trade, telephone="0" * 30) for trade in ("builder", "electrician", "nursery")
    )
    wordy = replace(
        job,
        people=people,
        reservoir=replace(job.reservoir, overflow_to=long * 3),
        title=replace(job.title, name=f"{long}y"[:80], revision="as built, third time"),
        datum=replace(job.datum, name=f"{long}z"[:80]),
    )
    _hold_to_the_rules(_drawn(wordy, METRIC))


def test_without_climate_and_people_the_sheets_still_stand() -> None:
    job = read_job(EXAMPLES / "hazel_bank")
    bare = _drawn(replace(job, climate=None, people=()), METRIC)
    _hold_to_the_rules(bare)
    said = " ".join(text.words for sheet in bare for text in _words(sheet))
    assert "not told" in said
    assert "whoever built it" in said
