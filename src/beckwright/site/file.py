"""job.toml itself: read whole, and replaced whole. At no instant is there half a file.

The new text is laid beside it first, then the database is told, then the one is renamed over the other. A text still
lying beside it is how a later look knows that the renaming never came.
"""

import os
import shutil
from pathlib import Path

from beckwright.base.errors import JobError, Problem
from beckwright.job.read import LARGEST_JOB
from beckwright.job.tables.files import take_text
from beckwright.site.trouble import disk

NAME = "job.toml"
RULE = "The job's folder must be yours to write in, with room on its disk"
REMEDY = "Make room, or close what holds the file, and do it again; the texts kept before are all still there"


class JobFile:
    """The job.toml of one folder, through its link where it is one. Raises ``JobError`` where the disk fails."""

    def __init__(self, folder: Path) -> None:
        self.path = (folder / NAME).resolve()

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

    def lay_ready(self, turn: int, raw: bytes) -> None:
        """Lay the next bytes beside it, on the disk."""
        beside = self._beside(turn)
        with disk(self.path, RULE, REMEDY):
            with beside.open("wb") as file:
                file.write(raw)
                file.flush()
                os.fsync(file.fileno())
            if self.path.exists():
                shutil.copymode(self.path, beside)

    def lies_ready(self, turn: int, raw: bytes) -> bool:
        """Whether these bytes still lie beside it."""
        try:
            return self._beside(turn).read_bytes() == raw
        except FileNotFoundError:
            return False

    def put(self, turn: int, *, over: bytes | None) -> None:
        """Rename what lies ready over it, where it still holds ``over`` or is gone.

        Where it holds something else, somebody has written it since it was looked at: it stays, and the next look takes
        it in. Where nothing lies ready, another process has put it in place already.
        """
        if self.raw() not in (None, over):
            return
        with disk(self.path, RULE, REMEDY):
            try:
                self._beside(turn).replace(self.path)
            except FileNotFoundError:
                return
            _settle(self.path.parent)

    def clear(self) -> None:
        """Take away what lies ready and will not be put in place."""
        with disk(self.path, RULE, REMEDY):
            for path in self.path.parent.glob(f".{NAME}.*.ready"):
                path.unlink(missing_ok=True)

    def _beside(self, turn: int) -> Path:
        return self.path.with_name(f".{NAME}.{turn}.ready")


def _settle(folder: Path) -> None:
    """Have the disk remember the renaming. Windows does so by itself and opens no folder."""
    if os.name == "nt":
        return
    held = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(held)
    finally:
        os.close(held)
