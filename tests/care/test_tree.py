"""The fault tree of the four examples: every leaf reached, every number one of the job's, no way without an end."""

import re
from collections.abc import Iterator

import pytest

from beckwright.base.words import US, told_in
from beckwright.care import FaultTree, Leaf, Question, fault_tree, numbers
from beckwright.care.tree_rows import LEAVES, QUESTIONS, SYMPTOMS
from beckwright.care.tree_terms import terms

from .conftest import usual, worked

_NUMBER = re.compile(r"\d")
_NAMED = re.compile(r"\{(\w+)\}")


def _tree(name: str, month: int = 6) -> FaultTree:
    return fault_tree(worked(name).design.job, usual(name), month)


def _ways(tree: FaultTree, key: str, passed: tuple[str, ...] = ()) -> Iterator[tuple[str, ...]]:
    """Every way from a key to an end."""
    assert key not in passed, f"a way goes round: {passed}"
    at = tree.at(key)
    if isinstance(at, Leaf):
        yield (*passed, key)
        return
    for answer in (at.yes, at.no):
        yield from _ways(tree, answer, (*passed, key))


def test_every_way_ends_and_every_leaf_and_question_is_on_one(name: str) -> None:
    for month in range(12):
        tree = _tree(name, month)
        on_a_way = {key for each in tree.symptoms for way in _ways(tree, each.first) for key in way}
        assert on_a_way == {each.key for each in (*tree.questions, *tree.leaves)}
        assert all(question.yes != question.no for question in tree.questions)


def test_no_row_of_the_tree_has_a_number_of_its_own() -> None:
    for row in (*QUESTIONS, *LEAVES):
        assert not _NUMBER.search(_NAMED.sub("", row.says)), row.key


def test_every_number_told_is_one_of_the_job(name: str) -> None:
    """Each amount in a told row is that of a named number of this job, and told exactly as that is."""
    tree, works = _tree(name), worked(name)
    said = numbers(usual(name), 6) | terms(works.design.job, usual(name))
    rows = {row.key: row.says for row in (*QUESTIONS, *LEAVES)}
    for each in (*tree.questions, *tree.leaves):
        told = each.asks if isinstance(each, Question) else each.does
        pattern = re.escape(rows[each.key])
        for named in set(_NAMED.findall(rows[each.key])):
            pattern = pattern.replace(re.escape(f"{{{named}}}"), re.escape(said[named]))
        assert re.fullmatch(pattern, told), each.key


def test_the_numbers_follow_the_job_and_the_reader() -> None:
    hazel, fennymoor = _tree("hazel_bank"), _tree("fennymoor_park")
    assert hazel.numbers["rested"] == "200 mm"
    assert fennymoor.numbers["rested"] != hazel.numbers["rested"]
    assert _tree("hazel_bank", 0).numbers["night_most"] != hazel.numbers["night_most"]
    with told_in(US):
        assert _tree("hazel_bank").numbers["rested"].endswith(" in")


def test_a_reservoir_that_cannot_lend_the_water_is_told_so() -> None:
    """Withy Lane, notes of job.toml: starting at full the pump draws air after about 57 s."""
    tree = _tree("withy_lane")
    assert any(leaf.key == "too small" for leaf in tree.leaves)
    assert not any(leaf.key == "too small" for leaf in _tree("hazel_bank").leaves)
    cuts_out = usual("withy_lane").cuts_out
    assert cuts_out == pytest.approx(57, abs=6)


def test_wires_digging_and_open_lids_go_to_whom_they_belong(name: str) -> None:
    tree = _tree(name)
    leaves = {leaf.key: leaf for leaf in tree.leaves}
    assert leaves["tripped"].who == "electrician"
    assert leaves["tripped"].stops
    assert "electrician" in leaves["timer"].who
    for key in ("leak stream", "lawn edge"):
        assert "dig" in leaves[key].does
    if "cage" in leaves:
        assert "Children" in leaves["cage"].does


def test_lights_are_asked_of_only_where_there_are_some() -> None:
    assert "lights" in {symptom.name for symptom in _tree("hazel_bank").symptoms}
    assert "lights" not in {symptom.name for symptom in _tree("withy_lane").symptoms}
    assert len(SYMPTOMS) == 9
