"""Tables of revisions: kept with each text, put back by undo, taken in from an editor, once however many have them."""

import os
import shutil
import sqlite3
import time
from collections.abc import Iterator
from hashlib import sha256
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from beckwright import JobError
from beckwright.job.read import TABLES, read_job, read_job_text, tables_of
from beckwright.site import Conflict, Keeper, Saved
from beckwright.site.file import KeptFile, TableFile
from tests.site.conftest import FIRST
from tests.site.test_disk import fails
from tests.site.test_revisions import saved

EXAMPLES = Path(__file__).parents[2] / "examples"
OLD, NEW = b"id,x_m,y_m,z_m\n1,0,0,100\n", b"id,x_m,y_m,z_m\n1,0,0,101\n2,5,5,102\n"


@pytest.fixture
def folder(folder: Path) -> Path:
    (folder / "survey.csv").write_bytes(OLD)
    (folder / "pumps.csv").write_bytes(b"pump\n")
    return folder


@pytest.fixture
def keeper(folder: Path) -> Iterator[Keeper]:
    with Keeper(folder) as opened:
        yield opened


def bring(keeper: Keeper, raw: bytes, mark: str, name: str = "survey.csv") -> Saved:
    told = keeper.bring(name, raw, why="survey brought in", mark=mark, based_on=keeper.standing().revision.number)
    assert isinstance(told, Saved)
    return told


def lies(folder: Path, name: str = "survey.csv") -> bytes | None:
    path = folder / name
    return path.read_bytes() if path.exists() else None


def test_a_table_brought_in_is_one_revision_and_undo_and_redo_put_it_back(keeper: Keeper, folder: Path) -> None:
    told = bring(keeper, NEW, "m1")
    assert (told.revision.number, told.revision.why, told.text) == (2, "survey brought in", FIRST)
    assert lies(folder) == NEW
    keeper.undo("u1")
    assert (lies(folder), keeper.standing().revision.number) == (OLD, 1)
    keeper.redo("r1")
    assert lies(folder) == NEW
    assert not keeper.noticed(), "nothing of it was an editor's"
    assert [keeper.table(dict(keeper.version(number).tables)["survey.csv"]) for number in (1, 2)] == [OLD, NEW]


def test_text_and_table_go_back_together(keeper: Keeper, folder: Path) -> None:
    saved(keeper, "two\n", "m1")
    bring(keeper, NEW, "m2")
    saved(keeper, "three\n", "m3")
    assert dict(keeper.standing().tables)["survey.csv"] == sha256(NEW).hexdigest(), "an edit keeps the tables"
    told = keeper.take_up(1, why="as it was", mark="t", based_on=4)
    assert isinstance(told, Saved)
    assert ((folder / "job.toml").read_text(), lies(folder), told.revision.number) == (FIRST, OLD, 5)
    keeper.undo("u")
    assert ((folder / "job.toml").read_text(), lies(folder)) == ("three\n", NEW)


def test_a_table_is_kept_once_however_many_revisions_have_it(keeper: Keeper) -> None:
    big = OLD + b"# " + os.urandom(200_000)
    bring(keeper, big, "m0")
    for number in range(30):
        saved(keeper, f"{number}\n", f"m {number}")
    bring(keeper, OLD, "m1")
    bring(keeper, big, "m2")
    with keeper._store.reading() as rows:
        assert rows.execute("SELECT count(*) FROM content").fetchone() == (3,), "two surveys and the pumps"
        assert rows.execute("SELECT count(*) FROM lot").fetchone() == (2,)


def test_the_same_table_brought_in_again_is_nothing_new(keeper: Keeper) -> None:
    bring(keeper, OLD, "m1")
    assert len(keeper.revisions()) == 1
    one, again = bring(keeper, NEW, "m2"), bring(keeper, NEW, "m2")
    assert (one.again, again.again, len(keeper.revisions())) == (False, True, 2)


def test_an_editor_changes_takes_out_and_puts_in_tables(keeper: Keeper, folder: Path) -> None:
    (folder / "survey.csv").write_bytes(NEW)
    assert keeper.noticed()
    stands = keeper.standing().revision
    assert (stands.origin, stands.why, stands.parent) == ("outside", "survey.csv changed in an editor", 1)
    (folder / "prices.csv").write_bytes(b"item\n")
    (folder / "job.toml").write_text("two\n")
    (folder / "survey.csv").write_bytes(OLD)
    why = "job.toml and survey.csv changed in an editor; prices.csv put in the folder"
    assert keeper.standing().revision.why == why, "one look takes in all of it"
    (folder / "pumps.csv").unlink()
    assert keeper.standing().revision.why == "pumps.csv taken out of the folder"
    for at, (survey, prices, pumps) in enumerate(
        [(OLD, b"item\n", b"pump\n"), (NEW, None, b"pump\n"), (OLD, None, b"pump\n")]
    ):
        keeper.undo(f"u{at}")
        assert [lies(folder, name) for name in ("survey.csv", "prices.csv", "pumps.csv")] == [survey, prices, pumps]
    assert (folder / "job.toml").read_text() == FIRST
    for at in range(3):
        keeper.redo(f"r{at}")
    assert [lies(folder, name) for name in ("survey.csv", "prices.csv", "pumps.csv")] == [OLD, b"item\n", None]
    assert len(keeper.revisions()) == 4


def test_an_edit_of_the_same_length_within_the_clock_of_the_disk_is_seen(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Some disks stamp their files to two seconds: only the bytes tell, and they are read while the file is young."""
    now = time.time_ns()
    monkeypatch.setattr(TableFile, "stamp", lambda file: (now, now, 1, 1) if file.path.exists() else None)
    with Keeper(folder) as keeper:
        (folder / "survey.csv").write_bytes(OLD.replace(b"100", b"900"))
        assert keeper.noticed()


def test_a_table_that_stands_is_not_read_again(keeper: Keeper, folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A drag asks twenty times a second, and a survey may hold 64 MB."""
    monkeypatch.setattr("beckwright.site.folder.YOUNG", 0)
    keeper.text()
    monkeypatch.setattr(TableFile, "raw", fails)
    saved(keeper, "two\n", "m1")
    assert keeper.undo("u1").text == FIRST  # type: ignore[union-attr]


def test_what_an_editor_wrote_is_not_replaced_by_a_survey_nobody_saw_beside_it(keeper: Keeper, folder: Path) -> None:
    (folder / "survey.csv").write_bytes(b"theirs\n")
    told = keeper.bring("survey.csv", NEW, why="brought", mark="m1", based_on=1)
    assert isinstance(told, Conflict)
    assert lies(folder) == b"theirs\n"
    assert keeper.table(dict(told.ours.tables)["survey.csv"]) == NEW
    undone = keeper.undo("u", based_on=1)
    assert isinstance(undone, Conflict), "nor by an undo"
    assert lies(folder) == b"theirs\n"


def test_a_write_in_the_instant_before_the_renaming_stays(
    keeper: Keeper, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    put = TableFile.put

    def late(self: KeptFile, turn: int, *, over: bytes | None, gone: bool = False) -> None:
        (folder / "survey.csv").write_bytes(b"theirs\n")
        put(self, turn, over=over, gone=gone)  # type: ignore[arg-type]

    monkeypatch.setattr(TableFile, "put", late)
    bring(keeper, NEW, "m1")
    monkeypatch.undo()
    assert lies(folder) == b"theirs\n"
    assert keeper.standing().revision.number == 3
    assert [keeper.table(dict(keeper.version(number).tables)["survey.csv"]) for number in (1, 2, 3)] == [
        OLD,
        NEW,
        b"theirs\n",
    ]


@pytest.mark.parametrize("closed", [False, True])
def test_a_table_that_lags_behind_is_brought_up(
    keeper: Keeper, folder: Path, monkeypatch: pytest.MonkeyPatch, closed: bool
) -> None:
    """The database is on the disk and no file follows: as if the power had gone between the two."""
    (folder / "prices.csv").write_bytes(b"item\n")
    keeper.text()
    monkeypatch.setattr(KeptFile, "put", lambda *_, **__: None)
    keeper.take_up(1, why="back", mark="m1", based_on=2)
    monkeypatch.undo()
    assert lies(folder, "prices.csv") == b"item\n"
    if closed:
        keeper.close()
    with Keeper(folder) as other:
        assert other.standing().revision.number == 3
        assert lies(folder, "prices.csv") is None
        assert not other.noticed()
        assert isinstance(other.take_up(2, why="", mark="m2", based_on=3), Saved)
        assert lies(folder, "prices.csv") == b"item\n"
    assert sorted(path.name for path in folder.iterdir() if path.name.startswith(".")) == []


def test_no_room_for_the_new_table(keeper: Keeper, folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(os, "fsync", fails)
    with pytest.raises(JobError, match=r"survey\.csv: it cannot be used \(No space"):
        bring(keeper, NEW, "m1")
    monkeypatch.undo()
    assert lies(folder) == OLD
    assert len(keeper.revisions()) == 1
    assert not bring(keeper, NEW, "m1").again
    assert lies(folder) == NEW


def test_a_table_no_job_could_read_is_refused_and_left_alone(
    keeper: Keeper, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("beckwright.site.file.LARGEST_FILE", 100)
    (folder / "survey.csv").write_bytes(b"#" * 101)
    with pytest.raises(JobError, match=r"survey\.csv: it is larger than"):
        keeper.text()
    assert lies(folder) == b"#" * 101
    (folder / "survey.csv").unlink()
    (folder / "survey.csv").mkdir()
    with pytest.raises(JobError, match="it is a folder"):
        keeper.text()
    (folder / "survey.csv").rmdir()
    (folder / "survey.csv").write_bytes(OLD)
    assert keeper.text() == FIRST
    assert len(keeper.revisions()) == 1


def test_a_table_a_text_names_belongs_to_it_and_to_no_other(keeper: Keeper, folder: Path) -> None:
    (folder / "days.csv").write_bytes(b"one\n")
    (folder / "field_book.csv").write_bytes(b"levels\n")
    assert not keeper.noticed(), "nobody reads it yet"
    saved(keeper, 'days = "days.csv"\n', "m1")
    assert dict(keeper.standing().tables)["days.csv"] == sha256(b"one\n").hexdigest()
    (folder / "days.csv").write_bytes(b"two\n")
    assert keeper.standing().revision.why == "days.csv changed in an editor"
    keeper.undo("u1")
    assert lies(folder, "days.csv") == b"one\n"
    keeper.undo("u2")
    assert lies(folder, "days.csv") == b"one\n", "the first text never read it"
    (folder / "days.csv").write_bytes(b"three\n")
    keeper.redo("r1")
    assert lies(folder, "days.csv") == b"three\n", "and what was written meanwhile is not lost"
    assert keeper.standing().revision.origin == "outside"
    assert lies(folder, "field_book.csv") == b"levels\n"


def test_all_tables_a_job_is_read_from_are_kept(tmp_path: Path) -> None:
    """Whoever teaches the reader another table must have it kept."""
    folder = Path(shutil.copytree(EXAMPLES / "hazel_bank", tmp_path / "job"))
    text = (folder / "job.toml").read_text(encoding="utf-8")
    for name in TABLES:
        (folder / name).touch()
    asked: set[str] = set()

    def take(read: Any, path: Path, problems: list[Any], *told: str) -> Any:
        asked.add(path.name)
        return read(path, *told, problems)

    with pytest.raises(JobError):
        read_job_text(text, folder, take)
    assert asked <= set(tables_of(text))
    assert asked >= set(TABLES) - {"climate.csv"}, "and none is kept that nobody reads"


WAYS = ("save", "bring", "prices", "undo", "redo", "reopen")


@given(steps=st.lists(st.sampled_from(WAYS), min_size=1, max_size=25))
@settings(max_examples=10, derandomize=True, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_undo_and_redo_of_texts_and_tables(tmp_path_factory: pytest.TempPathFactory, steps: list[str]) -> None:
    """Law: a list of what lay in the folder and a place in it."""
    folder = tmp_path_factory.mktemp("line")
    (folder / "job.toml").write_text(FIRST)
    (folder / "survey.csv").write_bytes(OLD)
    now: tuple[bytes, bytes | None, bytes | None] = (FIRST.encode(), OLD, None)
    line, place = [now], 0
    keeper = Keeper(folder)
    for count, step in enumerate(steps):
        text, survey, prices = line[place]
        if step in ("undo", "redo"):
            place = max(0, place - 1) if step == "undo" else min(len(line) - 1, place + 1)
            (keeper.undo if step == "undo" else keeper.redo)(f"m{count}")
        elif step == "reopen":
            keeper.close()
            keeper = Keeper(folder)
        else:
            new = b"%d\n" % count
            made = {"save": (new, survey, prices), "bring": (text, new, prices), "prices": (text, survey, new)}[step]
            if step == "save":
                saved(keeper, new.decode(), f"m{count}")
            else:
                bring(keeper, new, f"m{count}", "survey.csv" if step == "bring" else "prices.csv")
            line, place = [*line[: place + 1], made], place + 1
        keeper.text()
        assert (lies(folder, "job.toml"), lies(folder), lies(folder, "prices.csv")) == line[place]
    assert not any(each.origin == "outside" for each in keeper.revisions())
    keeper.close()


VERSION_1 = """
CREATE TABLE revision (number INTEGER PRIMARY KEY AUTOINCREMENT, parent INTEGER REFERENCES revision,
    onward INTEGER REFERENCES revision, kept TEXT NOT NULL, why TEXT NOT NULL, name TEXT NOT NULL DEFAULT '',
    origin TEXT NOT NULL CHECK (origin IN ('first', 'saved', 'outside', 'aside')), raw BLOB NOT NULL);
CREATE TABLE head (only INTEGER PRIMARY KEY CHECK (only = 1), turn INTEGER NOT NULL,
    revision INTEGER NOT NULL REFERENCES revision, filed INTEGER NOT NULL REFERENCES revision);
CREATE TABLE mark (mark TEXT PRIMARY KEY, act TEXT NOT NULL, number INTEGER NOT NULL, digest TEXT NOT NULL,
    theirs INTEGER REFERENCES revision, base INTEGER REFERENCES revision);
CREATE TABLE reading (number INTEGER PRIMARY KEY AUTOINCREMENT, kind TEXT NOT NULL, seen TEXT NOT NULL,
    kept TEXT NOT NULL, content TEXT NOT NULL);
CREATE INDEX reading_by_kind ON reading (kind, number);
CREATE TABLE picture (digest TEXT PRIMARY KEY, raw BLOB NOT NULL);
CREATE TABLE photograph (number INTEGER PRIMARY KEY AUTOINCREMENT, digest TEXT NOT NULL REFERENCES picture,
    form TEXT NOT NULL, size INTEGER NOT NULL, chainage REAL, seen TEXT NOT NULL, kept TEXT NOT NULL,
    note TEXT NOT NULL);
CREATE TABLE entry (number INTEGER PRIMARY KEY AUTOINCREMENT, seen TEXT NOT NULL, kept TEXT NOT NULL,
    text TEXT NOT NULL);
INSERT INTO revision (kept, why, origin, raw)
    VALUES ('2026-05-02T09:30:00+00:00', 'first', 'first', CAST('one' AS BLOB));
INSERT INTO revision (parent, kept, why, origin, raw)
    VALUES (1, '2026-05-02T09:31:00+00:00', 'two', 'saved', CAST('two' AS BLOB));
UPDATE revision SET onward = 2 WHERE number = 1;
INSERT INTO head VALUES (1, 1, 2, 1);
INSERT INTO reading (kind, seen, kept, content)
    VALUES ('peg', '2026-05-02T09:30:00+00:00', '2026-05-02T09:30:00+00:00', '{"peg": 7}');
INSERT INTO entry (seen, kept, text) VALUES ('2026-05-02T09:30:00+00:00', '2026-05-02T09:30:00+00:00', 'rain');
PRAGMA user_version = 1;
"""


def test_a_store_from_before_tables_were_kept_is_brought_up_and_loses_nothing(folder: Path) -> None:
    """Its revisions get the tables that lie there: it is with those they were read until now."""
    (folder / "job.toml").write_bytes(b"two")
    rows = sqlite3.connect(folder / "site.sqlite")
    rows.executescript(VERSION_1)
    rows.close()
    for _ in range(2):
        with Keeper(folder) as keeper:
            assert [keeper.at(number) for number in (1, 2)] == ["one", "two"]
            assert {keeper.version(number).tables for number in (1, 2)} == {keeper.standing().tables}
            assert [each.content for each in keeper.readings()] == [{"peg": 7}]
            assert [each.text for each in keeper.diary()] == ["rain"]
            assert not keeper.noticed()
    with Keeper(folder) as keeper:
        keeper.undo("u")
        assert ((folder / "job.toml").read_bytes(), lies(folder)) == (b"one", OLD)


def test_a_job_has_a_word_of_its_own_that_stays_and_a_copy_has_another(tmp_path: Path) -> None:
    folder = Path(shutil.copytree(EXAMPLES / "hazel_bank", tmp_path / "one"))
    with Keeper(folder) as keeper:
        word = keeper.job
    with Keeper(folder) as keeper:
        assert keeper.job == word
    with Keeper(shutil.copytree(folder, tmp_path / "two")) as copy:
        assert copy.job != word
    read_job(folder)
