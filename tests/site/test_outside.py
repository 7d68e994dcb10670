"""Somebody writes job.toml in an editor: before, while and after the keeper does."""

import os
import threading
import time
from pathlib import Path

import pytest

from beckwright import JobError
from beckwright.site import Conflict, Keeper, Saved
from beckwright.site.file import JobFile
from tests.site.conftest import FIRST
from tests.site.test_revisions import on_disk, saved


def edit(folder: Path, text: str) -> None:
    (folder / "job.toml").write_bytes(text.encode())


def test_an_edit_while_open_becomes_a_revision(keeper: Keeper, folder: Path) -> None:
    edit(folder, "edited\r\n")
    assert keeper.noticed()
    assert not keeper.noticed()
    stands = keeper.standing()
    assert (stands.text, stands.revision.origin, stands.revision.parent) == ("edited\r\n", "outside", 1)
    assert keeper.undo("u").text == FIRST == on_disk(folder)  # type: ignore[union-attr]
    assert keeper.redo("r").text == "edited\r\n" == on_disk(folder)  # type: ignore[union-attr]


def test_an_edit_by_an_editor_that_writes_a_new_file(keeper: Keeper, folder: Path) -> None:
    (folder / "new").write_text("edited\n")
    (folder / "new").replace(folder / "job.toml")
    assert keeper.text() == "edited\n"
    assert keeper.noticed(), "whoever reads the text first, the change is still told"


def test_an_edit_while_closed_is_told_at_the_next_opening(folder: Path) -> None:
    with Keeper(folder) as keeper:
        saved(keeper, "two\n", "m1")
    edit(folder, "edited\n")
    with Keeper(folder) as keeper:
        assert keeper.noticed()
        assert [each.origin for each in keeper.revisions()] == ["first", "saved", "outside"]


def test_an_editor_that_puts_the_old_text_back_is_believed(folder: Path) -> None:
    """The same bytes as before the last save: not to be taken for a save that never reached the file."""
    with Keeper(folder) as keeper:
        saved(keeper, "two\n", "m1")
    edit(folder, FIRST)
    with Keeper(folder) as keeper:
        assert keeper.text() == on_disk(folder) == FIRST
        assert [each.origin for each in keeper.revisions()] == ["first", "saved", "outside"]


def test_a_save_and_an_edit_at_once_are_both_kept(keeper: Keeper, folder: Path) -> None:
    edit(folder, "theirs\n")
    told = keeper.save("ours\n", why="", mark="m1", based_on=1)
    assert isinstance(told, Conflict)
    assert (told.ours.text, told.theirs.text, told.base.text) == ("ours\n", "theirs\n", FIRST)
    assert on_disk(folder) == "theirs\n"


def test_undo_does_not_undo_an_edit_nobody_has_seen(keeper: Keeper, folder: Path) -> None:
    saved(keeper, "two\n", "m1")
    edit(folder, "edited\n")
    told = keeper.undo("u1")
    assert isinstance(told, Conflict)
    assert (told.ours.text, told.theirs.text) == (FIRST, "edited\n")
    assert on_disk(folder) == keeper.text() == "edited\n"
    assert isinstance(keeper.undo("u2"), Saved)
    assert on_disk(folder) == "two\n"


def test_an_edit_in_the_instant_between_look_and_rename_stays(
    keeper: Keeper, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    put = JobFile.put

    def late(self: JobFile, turn: int, *, over: bytes | None, gone: bool = False) -> None:
        edit(folder, "theirs\n")
        put(self, turn, over=over, gone=gone)

    monkeypatch.setattr(JobFile, "put", late)
    saved(keeper, "ours\n", "m1")
    monkeypatch.undo()
    assert on_disk(folder) == keeper.text() == "theirs\n"
    assert [keeper.at(each.number) for each in keeper.revisions()] == [FIRST, "ours\n", "theirs\n"]


def test_a_file_written_slowly_is_taken_in_whole(keeper: Keeper, folder: Path) -> None:
    def write() -> None:
        with (folder / "job.toml").open("wb", buffering=0) as file:
            for line in range(40):
                file.write(b"line = %d\n" % line)
                time.sleep(0.005)

    editor = threading.Thread(target=write)
    editor.start()
    time.sleep(0.05)
    keeper.text()
    editor.join()
    assert keeper.text() == on_disk(folder)
    assert [each.origin for each in keeper.revisions()] == ["first", "outside"]


@pytest.mark.parametrize("raw", [b"", b"name = 'caf\xe9'\n", b"\x00\x01", b"#" * 1_000_001], ids=str)
def test_a_file_that_is_no_text_is_refused_and_left_alone(keeper: Keeper, folder: Path, raw: bytes) -> None:
    (folder / "job.toml").write_bytes(raw)
    for ask in (keeper.text, lambda: keeper.save("x\n", why="", mark="m", based_on=1), lambda: keeper.undo("u")):
        with pytest.raises(JobError, match=r"job\.toml"):
            ask()
    assert (folder / "job.toml").read_bytes() == raw
    edit(folder, FIRST)
    assert keeper.text() == FIRST
    assert len(keeper.revisions()) == 1


def test_a_missing_file_is_put_back_at_the_next_opening(keeper: Keeper, folder: Path) -> None:
    saved(keeper, "two\n", "m1")
    (folder / "job.toml").unlink()
    assert keeper.text() == "two\n"
    keeper.close()
    with Keeper(folder):
        assert on_disk(folder) == "two\n"


def test_a_folder_without_a_job_stays_empty(tmp_path: Path) -> None:
    with pytest.raises(JobError, match="no such file"):
        Keeper(tmp_path)
    assert not list(tmp_path.iterdir())


@pytest.mark.skipif(os.name == "nt", reason="modes and links are those of POSIX")
def test_mode_and_link_of_the_file_stay(folder: Path, tmp_path_factory: pytest.TempPathFactory) -> None:
    real = tmp_path_factory.mktemp("elsewhere") / "shared.toml"
    real.write_text(FIRST)
    real.chmod(0o640)
    (folder / "job.toml").unlink()
    (folder / "job.toml").symlink_to(real)
    with Keeper(folder) as keeper:
        saved(keeper, "two\n", "m1")
    assert (folder / "job.toml").is_symlink()
    assert (real.read_text(), real.stat().st_mode & 0o777) == ("two\n", 0o640)
