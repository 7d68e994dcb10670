"""Disks that fail at every step of a write: one sentence is said, and nothing that was kept is lost."""

import errno
import os
import sqlite3
import subprocess
import sys
from datetime import UTC, datetime
from pathlib import Path

import pytest

from beckwright import JobError
from beckwright.site import Keeper, Saved
from tests.site.conftest import FIRST
from tests.site.test_revisions import on_disk, saved

WHEN = datetime(2026, 5, 2, 9, 30, tzinfo=UTC)
JPEG = b"\xff\xd8\xff" + bytes(2_000_000)


def fails(*_: object, **__: object) -> None:
    raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))


def test_no_room_for_the_new_text(keeper: Keeper, folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing has been told to the database yet: the job is as it was, and the same write can be sent again."""
    monkeypatch.setattr(os, "fsync", fails)
    with pytest.raises(JobError, match=r"job\.toml: it cannot be used \(No space"):
        keeper.save("two\n", why="", mark="m1", based_on=1)
    monkeypatch.undo()
    assert keeper.text() == on_disk(folder) == FIRST
    assert len(keeper.revisions()) == 1
    told = keeper.save("two\n", why="", mark="m1", based_on=1)
    assert isinstance(told, Saved)
    assert not told.again
    assert on_disk(folder) == "two\n"


@pytest.mark.parametrize("closed", [False, True])
def test_a_file_that_cannot_be_replaced(
    keeper: Keeper, folder: Path, monkeypatch: pytest.MonkeyPatch, closed: bool
) -> None:
    """The text is kept already: sent again, it is not kept twice, and the file follows as soon as it can."""
    monkeypatch.setattr(Path, "replace", fails)
    with pytest.raises(JobError, match=r"job\.toml: it cannot be used"):
        keeper.save("two\n", why="", mark="m1", based_on=1)
    monkeypatch.undo()
    assert on_disk(folder) == FIRST
    if closed:
        keeper.close()
    with Keeper(folder) as other:
        told = other.save("two\n", why="", mark="m1", based_on=1)
        assert isinstance(told, Saved)
        assert told.again
        assert on_disk(folder) == other.text() == "two\n"
        assert [each.origin for each in other.revisions()] == ["first", "saved"]


def test_an_edit_after_a_broken_write_is_not_written_over(
    keeper: Keeper, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(Path, "replace", fails)
    with pytest.raises(JobError):
        keeper.save("two\n", why="", mark="m1", based_on=1)
    monkeypatch.undo()
    (folder / "job.toml").write_text("edited\n")
    keeper.close()
    with Keeper(folder) as other:
        assert other.text() == on_disk(folder) == "edited\n"
        assert [other.at(each.number) for each in other.revisions()] == [FIRST, "two\n", "edited\n"]


FULL = """
import resource, sys
from datetime import UTC, datetime
from beckwright import JobError
from beckwright.site import Keeper
keeper = Keeper(sys.argv[1])
resource.setrlimit(resource.RLIMIT_FSIZE, (2_000_000, 2_000_000))
when = datetime(2026, 5, 2, tzinfo=UTC)
for count in range(2000):
    try:
        if count % 2:
            keeper.save(f"{count}\\n" * 100, why="", mark=f"m{count}", based_on=keeper.standing().revision.number)
        else:
            keeper.add_reading("peg", {"words": "x" * 2000}, when=when, mark=f"m{count}")
    except JobError as error:
        print("refused", error.problems[0])
        break
    print(count)
"""


@pytest.mark.skipif(os.name == "nt", reason="limits on files are those of POSIX")
def test_a_disk_that_fills_up_keeps_all_it_took(folder: Path) -> None:
    """A real process that may not let any file grow beyond 2 MB."""
    ran = subprocess.run([sys.executable, "-c", FULL, folder], check=True, capture_output=True, text=True)
    *taken, last = ran.stdout.splitlines()
    assert last.startswith("refused site.sqlite: it cannot be used")
    assert len(taken) > 20
    with Keeper(folder) as keeper:
        assert len(keeper.revisions()) + len(keeper.readings()) in (len(taken) + 1, len(taken) + 2)
        assert on_disk(folder) == keeper.text()
        assert not keeper.noticed()
        assert saved(keeper, "room again\n", "last").text == on_disk(folder)


def test_a_full_database_takes_a_photograph_wholly_or_not(keeper: Keeper, folder: Path) -> None:
    keeper.close()
    with Keeper(folder) as small:
        with small._store.reading() as rows:
            rows.execute("PRAGMA max_page_count = 60")
        with pytest.raises(JobError, match="full"):
            small.add_photograph(JPEG, when=WHEN, mark="m1")
        assert small.photographs() == ()
        saved(small, "two\n", "m2")
    with Keeper(folder) as roomy:
        assert roomy.photograph(roomy.add_photograph(JPEG, when=WHEN, mark="m1").digest) == JPEG
        assert roomy.text() == "two\n"


def test_every_commit_waits_for_the_disk(keeper: Keeper) -> None:
    """No test can cut the power. With these two SQLite promises it (its manual, "PRAGMA synchronous")."""
    with keeper._store.reading() as rows:
        assert rows.execute("PRAGMA journal_mode").fetchone() == ("wal",)
        assert rows.execute("PRAGMA synchronous").fetchone() == (2,), "FULL"


def test_a_database_that_is_none(folder: Path) -> None:
    (folder / "site.sqlite").write_bytes(b"not a database at all " * 100)
    with pytest.raises(JobError, match=r"site\.sqlite: it cannot be used"):
        Keeper(folder)
    assert on_disk(folder) == FIRST
    assert (folder / "site.sqlite").read_bytes().startswith(b"not a database")


def test_a_database_of_a_newer_program(folder: Path) -> None:
    Keeper(folder).close()
    rows = sqlite3.connect(folder / "site.sqlite")
    rows.execute("PRAGMA user_version = 99")
    rows.close()
    with pytest.raises(JobError, match="newer beckwright"):
        Keeper(folder)


def test_a_database_somebody_else_holds(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("beckwright.site.store.PATIENCE", 0.05)
    with Keeper(folder) as keeper:
        rows = sqlite3.connect(folder / "site.sqlite", isolation_level=None)
        rows.execute("BEGIN IMMEDIATE")
        with pytest.raises(JobError, match="locked"):
            keeper.write_diary("rain", when=WHEN, mark="m1")
        rows.execute("ROLLBACK")
        rows.close()
        keeper.write_diary("rain", when=WHEN, mark="m1")
        assert len(keeper.diary()) == 1
