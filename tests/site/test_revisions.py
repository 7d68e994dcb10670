"""Revisions, undo and redo, held against a plain list kept beside them."""

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from beckwright import JobError
from beckwright.site import Conflict, Keeper, Saved
from tests.site.conftest import FIRST


def saved(keeper: Keeper, text: str, mark: str, why: str = "a change") -> Saved:
    told = keeper.save(text, why=why, mark=mark, based_on=keeper.standing().revision.number)
    assert isinstance(told, Saved)
    return told


def on_disk(folder: Path) -> str:
    return (folder / "job.toml").read_bytes().decode()


def test_the_first_look_keeps_what_is_there(keeper: Keeper, folder: Path) -> None:
    first = keeper.standing()
    assert (first.text, first.revision.parent, first.revision.origin) == (FIRST, None, "first")
    assert on_disk(folder) == FIRST
    assert not keeper.noticed()


def test_a_saved_text_stands_in_the_file_and_in_the_line(keeper: Keeper, folder: Path) -> None:
    told = saved(keeper, "two = 2\n", "m1", why="lip 2 raised 20 mm")
    assert on_disk(folder) == keeper.text() == told.text == "two = 2\n"
    assert (told.revision.why, told.revision.parent, told.revision.origin) == ("lip 2 raised 20 mm", 1, "saved")
    assert keeper.at(1) == FIRST


@pytest.mark.parametrize(
    "text",
    ["stones = '🪨 gneiß'\n", "a = 1\r\nb = 2\r\n", "no end of line", "\n\n", "nul \x00 and \x7f\n", "\ufeffmark = 1"],
)
def test_odd_texts_come_back_as_they_went_in(keeper: Keeper, folder: Path, text: str) -> None:
    told = saved(keeper, text, "m1")
    assert (folder / "job.toml").read_bytes() == text.encode()
    assert not keeper.noticed()
    assert keeper.at(told.revision.number) == text.removeprefix("\ufeff"), "a byte order mark is not part of a text"


def test_half_a_character_is_refused(keeper: Keeper, folder: Path) -> None:
    with pytest.raises(JobError, match="half a character"):
        saved(keeper, "name = '\ud83e'", "m1")
    assert keeper.text() == on_disk(folder) == FIRST


def test_a_text_that_could_not_be_read_again_is_refused(keeper: Keeper, folder: Path) -> None:
    with pytest.raises(JobError, match="too large"):
        saved(keeper, "#" * 1_000_001, "m1")
    assert keeper.text() == on_disk(folder) == FIRST


def test_a_mark_is_taken_once(keeper: Keeper, folder: Path) -> None:
    one = keeper.save("one\n", why="first", mark="m1", based_on=1)
    saved(keeper, "two\n", "m2")
    again = keeper.save("one\n", why="first", mark="m1", based_on=1)
    assert isinstance(one, Saved)
    assert isinstance(again, Saved)
    assert (one.again, again.again, again.text) == (False, True, "two\n"), "the answer is the job as it stands now"
    assert len(keeper.revisions()) == 3
    with pytest.raises(JobError, match="mark was used"):
        keeper.undo("m1")


def test_a_mark_is_taken_once_by_undo(keeper: Keeper) -> None:
    saved(keeper, "two\n", "m1")
    saved(keeper, "three\n", "m2")
    assert [keeper.undo("u").text for _ in range(3)] == ["two\n"] * 3  # type: ignore[union-attr]


def test_two_undos_from_the_same_screen_go_back_once(keeper: Keeper) -> None:
    saved(keeper, "two\n", "m1")
    saved(keeper, "three\n", "m2")
    keeper.undo("from one telephone", based_on=3)
    keeper.undo("from another", based_on=3)
    assert keeper.text() == "two\n"


def test_the_same_text_again_makes_no_revision(keeper: Keeper) -> None:
    saved(keeper, FIRST, "m1")
    assert len(keeper.revisions()) == 1


def test_names_stay(keeper: Keeper, folder: Path) -> None:
    saved(keeper, "two\n", "m1")
    keeper.name(1, "as offered 🪨")
    keeper.name(2, "draft")
    keeper.name(2, "")
    with Keeper(folder) as other:
        assert [each.name for each in other.revisions()] == ["as offered 🪨", ""]


@pytest.mark.parametrize("number", [0, 99, -1, 2**70])
def test_a_revision_nobody_has(keeper: Keeper, number: int) -> None:
    for ask in (
        lambda: keeper.at(number),
        lambda: keeper.name(number, "x"),
        lambda: keeper.save("x", why="", mark="m", based_on=number),
        lambda: keeper.undo("u", based_on=number),
    ):
        with pytest.raises(JobError, match="revisions 1 to 1"):
            ask()


def test_a_new_change_after_undo_keeps_the_one_left(keeper: Keeper) -> None:
    saved(keeper, "two\n", "m1")
    keeper.undo("u1")
    saved(keeper, "other\n", "m2")
    assert keeper.redo("r1").text == "other\n"  # type: ignore[union-attr]
    assert keeper.at(2) == "two\n"


STEPS = st.lists(st.sampled_from(["save", "undo", "redo", "reopen"]), min_size=1, max_size=40)


@given(steps=STEPS)
@settings(max_examples=25, derandomize=True, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_undo_and_redo_without_limit(tmp_path_factory: pytest.TempPathFactory, steps: list[str]) -> None:
    """Law: a list and a place in it; a save drops what lies beyond the place, opening again changes nothing."""
    folder = tmp_path_factory.mktemp("line")
    (folder / "job.toml").write_bytes(FIRST.encode())
    texts, place = [FIRST], 0
    keeper = Keeper(folder)
    for count, step in enumerate(steps):
        if step == "save":
            texts, place = [*texts[: place + 1], f"{count}\n"], place + 1
            saved(keeper, f"{count}\n", f"m{count}")
        elif step == "undo":
            place = max(0, place - 1)
            keeper.undo(f"m{count}")
        elif step == "redo":
            place = min(len(texts) - 1, place + 1)
            keeper.redo(f"m{count}")
        else:
            keeper.close()
            keeper = Keeper(folder)
        assert keeper.text() == on_disk(folder) == texts[place]
    assert not any(each.origin == "outside" for each in keeper.revisions())
    keeper.close()


def test_both_sides_of_a_conflict_are_kept(keeper: Keeper, folder: Path) -> None:
    saved(keeper, "theirs\n", "m1")
    told = keeper.save("ours\n", why="pegs moved", mark="m2", based_on=1)
    assert isinstance(told, Conflict)
    assert (told.ours.text, told.theirs.text, told.base.text) == ("ours\n", "theirs\n", FIRST)
    assert (told.ours.revision.origin, told.ours.revision.why) == ("aside", "pegs moved")
    assert keeper.text() == on_disk(folder) == "theirs\n"
    assert keeper.save("ours\n", why="pegs moved", mark="m2", based_on=1) == told, "sent again, told again"
    assert len(keeper.revisions()) == 3
    assert saved(keeper, told.ours.text, "m3").text == on_disk(folder) == "ours\n"


def test_both_making_the_same_change_is_no_conflict(keeper: Keeper) -> None:
    saved(keeper, "same\n", "m1")
    assert isinstance(keeper.save("same\n", why="", mark="m2", based_on=1), Saved)
    assert len(keeper.revisions()) == 2
