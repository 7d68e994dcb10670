"""A file of a job folder that revisions hold: read whole, and replaced whole. At no instant is there half a file.

What it is to hold is laid beside it first, then the database is told, then the one is renamed over the other. What
still lies beside it is how a later look knows that the renaming never came.
"""

import os
import re
import shutil
from pathlib import Path

from beckwright.base.errors import JobError, Problem
from beckwright.job.read import LARGEST_JOB
from beckwright.job.tables.columns import LARGEST_FILE
from beckwright.job.tables.files import take_bytes, take_text
from beckwright.site.trouble import disk

NAME = "job.toml"
RULE = "The job's folder must be yours to write in, with room on its disk"
REMEDY = "Make room, or close what holds the file, and do it again; what was kept before is all still there"
LIES_READY = re.compile(r"\.(.+)\.\d+\.(ready|gone)", re.DOTALL)
"""Name of what lies beside a file until it is put in its place."""

Stamp = tuple[int, int, int, int]
"""When a file was written, when it was last touched in any way, ns, its size, and which file it is."""


class KeptFile:
    """One file of a folder, through its link where it is one. Raises ``JobError`` where the disk fails."""

    def __init__(self, folder: Path, name: str) -> None:
        path = folder / name
        self.path = path.resolve() if path.is_symlink() else path

    def raw(self) -> bytes | None:
        """Its bytes; None where there is no such file."""
        raise NotImplementedError

    def lay_ready(self, turn: int, raw: bytes | None) -> None:
        """Lay the next bytes beside it, on the disk; for None, a note that it is to be taken away."""
        beside = self._beside(turn, gone=raw is None)
        with disk(self.path, RULE, REMEDY):
            with beside.open("wb") as file:
                file.write(raw or b"")
                file.flush()
                os.fsync(file.fileno())
            if self.path.exists():
                shutil.copymode(self.path, beside)

    def lies_ready(self, turn: int, raw: bytes | None) -> bool:
        """Whether these bytes, or the note, still lie beside it."""
        try:
            return self._beside(turn, gone=raw is None).read_bytes() == (raw or b"")
        except FileNotFoundError:
            return False

    def put(self, turn: int, *, over: bytes | None, gone: bool = False) -> None:
        """Rename what lies ready over it, where it still holds ``over`` or is gone; or take it away.

        Where it holds something else, somebody has written it since it was looked at: it stays, and the next look takes
        it in. Where nothing lies ready, another process has put it in place already.
        """
        beside = self._beside(turn, gone=gone)
        if self.raw() not in (None, over) or not beside.exists():
            return
        with disk(self.path, RULE, REMEDY):
            if gone:
                self.path.unlink(missing_ok=True)
                beside.unlink(missing_ok=True)
            else:
                try:
                    beside.replace(self.path)
                except FileNotFoundError:
                    return
            _settle(self.path.parent)

    def _beside(self, turn: int, *, gone: bool) -> Path:
        return self.path.with_name(f".{self.path.name}.{turn}.{'gone' if gone else 'ready'}")


class JobFile(KeptFile):
    """The job.toml of one folder."""

    def __init__(self, folder: Path) -> None:
        super().__init__(folder, NAME)

    def raw(self) -> bytes | None:
        """Its bytes, no more of them than a job may hold and one; None where there is no such file."""
        with disk(self.path, RULE, REMEDY):
            try:
                with self.path.open("rb") as file:
                    return file.read(LARGEST_JOB + 1)
            except FileNotFoundError:
                return None

    def check(self) -> None:
        """Raise ``JobError`` where it cannot be read as text."""
        problems: list[Problem] = []
        take_text(self.path, largest=LARGEST_JOB, problems=problems)
        if problems:
            raise JobError(problems)


class TableFile(KeptFile):
    """A table of one folder. What stands in it is no matter here: whoever reads the job is told."""

    def raw(self) -> bytes | None:
        """Its bytes; None where there is no such file. Raises ``JobError`` where no table can be that large."""
        problems: list[Problem] = []
        raw = take_bytes(self.path, largest=LARGEST_FILE, problems=problems)
        if raw is None and self.path.exists():
            raise JobError(problems)
        return raw

    def stamp(self) -> Stamp | None:
        """What is another once it has been written; None where there is no such file."""
        with disk(self.path, RULE, REMEDY):
            try:
                told = self.path.stat()
            except FileNotFoundError:
                return None
        return told.st_mtime_ns, told.st_ctime_ns, told.st_size, told.st_ino


def _settle(folder: Path) -> None:
    """Have the disk remember the renaming. Windows does so by itself and opens no folder."""
    if os.name == "nt":
        return
    held = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(held)
    finally:
        os.close(held)
