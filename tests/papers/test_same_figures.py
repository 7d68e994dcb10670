"""A figure that two sheets give differently: every fact is compared on all the sheets that say it."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace

import pytest

from beckwright import design, read_job
from beckwright.compose import Works
from beckwright.papers.drawing import Leader, Mark, Sheet, Text
from tests.drawn import EXAMPLES, NAMES, Drawn
from tests.papers.said_twice import Fact, differing, facts_of

Set = tuple[tuple[Sheet, ...], tuple[str, ...], tuple[str, ...]]


def set_of(name: str, sets: Drawn) -> Set:
    works = Works(design(read_job(EXAMPLES / name)))
    items, flows = (tuple(each.name for each in rows) for rows in (works.items, works.design.job.flows))
    return sets.sheets(name), items, flows


@pytest.fixture(scope="module", params=NAMES)
def drawn(request: pytest.FixtureRequest, drawn_sets: Drawn) -> Set:
    return set_of(request.param, drawn_sets)


def test_no_two_sheets_say_a_figure_differently(drawn: Set) -> None:
    facts = facts_of(*drawn)
    assert differing(facts) == []
    sheets = defaultdict(set)
    for fact in facts:
        sheets[fact.kind, fact.of].add(fact.sheet)
    twice = {key for key, names in sheets.items() if len(names) > 1}
    kinds = {kind for kind, _ in twice}
    # Enough is recognised for the comparison to mean something; the small jobs have few pegs and no trees.
    assert {"datum", "date", "lip level", "lip drop", "pit", "pit floor", "reservoir level"} <= kinds
    assert {"peg at", "peg dig", "lining piece", "flow", "watts", "hose length"} <= kinds
    assert len(twice) > 25


@pytest.fixture(scope="module")
def hazel(drawn_sets: Drawn) -> Set:
    return set_of("hazel_bank", drawn_sets)


@pytest.fixture(scope="module")
def facts(hazel: Set) -> dict[str, list[Fact]]:
    """What each sheet says as it was drawn: a difference is planted in one of sixty."""
    sheets, items, flows = hazel
    return {sheet.name: facts_of([sheet], items, flows) for sheet in sheets}


def spoiled(sheets: Sequence[Sheet], name: str, old: str, new: str) -> tuple[Sheet, ...]:
    """The set with some words of one sheet changed, on its paper or in its views."""
    done: list[str] = []

    def changed(mark: Mark) -> Mark:
        if isinstance(mark, Text | Leader) and old in mark.words:
            done.append(mark.words)
            return replace(mark, words=mark.words.replace(old, new))
        return mark

    def spoil(sheet: Sheet) -> Sheet:
        views = (replace(view, marks=tuple(map(changed, view.marks))) for view in sheet.views)
        return replace(sheet, views=tuple(views), marks=tuple(map(changed, sheet.marks)))

    every = tuple(spoil(sheet) if sheet.name == name else sheet for sheet in sheets)
    assert done, f"{name} does not say {old}"
    return every


@pytest.mark.parametrize(
    ("sheet", "old", "new", "kind"),
    [
        ("programme", "on the terrace = 101.95", "on the terrace = 101.96", "datum"),
        ("dig-1", "keep out 3.36 m", "keep out 3.4 m", ""),
        ("dig-1", "keep out 3.36 m", "keep out 3.3 m", "root circle"),
        ("setting-out-1", "0.45 dig", "0.46 dig", "peg dig"),
        ("as-built", "106 W", "107 W", "watts"),
        ("how-it-works", "4\u2009500 L/h at everyday", "4\u2009600 L/h at everyday", "flow"),
        ("start-and-stop", "2\u2009700 L", "2\u2009800 L", "usable litres"),
        ("how-it-works", "23.00 m of hose", "24.00 m of hose", "hose length"),
        ("picture", "GBP 15\u2009604", "GBP 15\u2009614", "reckoned"),
        ("dig-pit", "1.47 m below the ground at most", "1.48 m below the ground at most", "pit depth"),
    ],
)
def test_a_planted_difference_is_found(
    hazel: Set, facts: dict[str, list[Fact]], sheet: str, old: str, new: str, kind: str
) -> None:
    """The rounding of one place less is no difference (3.36 is 3.4), a wrong figure is."""
    sheets, items, flows = hazel
    wrong = spoiled([each for each in sheets if each.name == sheet], sheet, old, new)
    told = facts | {sheet: facts_of(wrong, items, flows)}
    found = differing([fact for each in sheets for fact in told[each.name]])
    assert {wrong.kind for _, wrong in found} == ({kind} if kind else set())


def fact(said: str) -> Fact:
    return Fact("level", "lip 1", said, "a sheet", "its words")


@pytest.mark.parametrize(
    ("one", "other", "same"),
    [
        ("101.150", "101.15", True),
        ("101.146", "101.15", True),
        ("101.144", "101.15", False),
        ("101.15", "101.14", False),
        ("2.40 1.60", "2.40 1.60", True),
        ("2.40 1.60", "2.40 1.50", False),
        ("12\u2009000", "12\u2009500", False),
    ],
)
def test_what_counts_as_the_same(one: str, other: str, same: bool) -> None:
    assert (not differing([fact(one), fact(other)])) is same
