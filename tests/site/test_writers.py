"""Many writers at once: threads of one server, and two programs open on the same folder."""

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from datetime import UTC, datetime
from pathlib import Path

from beckwright.site import Conflict, Keeper, Saved
from tests.site.test_revisions import on_disk

WHEN = datetime(2026, 5, 2, 9, 30, tzinfo=UTC)


def at_once(writers: int, write: Callable[[int], None]) -> None:
    with ThreadPoolExecutor(writers) as pool:
        for done in [pool.submit(write, writer) for writer in range(writers)]:
            done.result()


def test_the_same_mark_from_many_threads_is_taken_once(keeper: Keeper) -> None:
    def write(_: int) -> None:
        keeper.save("two\n", why="", mark="m1", based_on=1)
        keeper.add_reading("peg", {"peg": 7}, when=WHEN, mark="m2")
        keeper.write_diary("rain", when=WHEN, mark="m3")

    at_once(8, write)
    assert (len(keeper.revisions()), len(keeper.readings()), len(keeper.diary())) == (2, 1, 1)


def test_of_many_saves_from_one_base_one_stands_and_all_are_kept(keeper: Keeper) -> None:
    told: list[Saved | Conflict] = []
    at_once(8, lambda each: told.append(keeper.save(f"{each}\n", why="", mark=f"m{each}", based_on=1)))
    assert sum(isinstance(each, Saved) for each in told) == 1
    assert sorted(keeper.at(each.number) for each in keeper.revisions()[1:]) == [f"{each}\n" for each in range(8)]


def test_two_keepers_on_one_folder(folder: Path) -> None:
    """Each takes the conflicts it meets and saves again: every text stands once, and none is taken for an edit."""

    def write(writer: int) -> None:
        with Keeper(folder) as keeper:
            based_on = 1
            for count in range(25):
                told = keeper.save(f"{writer} {count}\n", why="", mark=f"{writer} {count}", based_on=based_on)
                attempt = 0
                while isinstance(told, Conflict):
                    attempt += 1
                    mark = f"{writer} {count} {attempt}"
                    told = keeper.save(told.ours.text, why="", mark=mark, based_on=told.theirs.revision.number)
                based_on = told.revision.number

    at_once(2, write)
    with Keeper(folder) as keeper:
        revisions = keeper.revisions()
        stood = [keeper.at(each.number) for each in revisions if each.origin == "saved"]
        assert sorted(stood) == sorted(f"{writer} {count}\n" for writer in range(2) for count in range(25))
        assert not [each for each in revisions if each.origin == "outside"]
        assert on_disk(folder) == keeper.text() == stood[-1]
    assert sorted(path.name for path in folder.iterdir()) == ["job.toml", "site.sqlite"]
