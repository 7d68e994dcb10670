"""Tables of revisions kept as read, each read once however many revisions have it.

They are read from a folder of their own, one for each lot of tables, never from the job folder: what a revision is
designed with is what it was kept with, whoever writes in the job folder meanwhile.
"""

import shutil
import tempfile
import weakref
from collections import OrderedDict
from functools import partial
from pathlib import Path
from threading import RLock
from typing import Any

from beckwright.base.errors import Problem
from beckwright.job.model import Job, Survey
from beckwright.job.read import Take, read_job_text
from beckwright.job.tables import read_survey
from beckwright.site import Keeper, Tables

LOTS_HELD, TABLES_HELD = 6, 60


class Shelf:
    """What the jobs of one folder are read from while it stays open. Every method may be called from any thread."""

    def __init__(self, keeper: Keeper) -> None:
        self.keeper = keeper
        self._home = Path(tempfile.mkdtemp(prefix="beckwright-tables-"))
        weakref.finalize(self, shutil.rmtree, self._home, ignore_errors=True)
        self._lots: OrderedDict[Tables, Path] = OrderedDict()
        self._held: OrderedDict[tuple[str | None, ...], tuple[Any, tuple[Problem, ...]]] = OrderedDict()
        self._lock = RLock()

    def read(self, text: str, tables: Tables, instead: Take | None = None) -> Job:
        """Read a job from a text and the tables of a revision. Raises ``JobError``.

        instead  takes a table in instead of the shelf
        """
        with self._lock:
            return read_job_text(text, self._laid_out(tables), instead or self.take_of(tables))

    def take_of(self, tables: Tables) -> Take:
        """How the tables of a revision are taken in."""
        return partial(self._take, dict(tables))

    def survey(self, tables: Tables) -> Survey | None:
        """The survey of a revision; None where it has none that can be read."""
        with self._lock:
            found: Survey | None = self.take_of(tables)(read_survey, self._laid_out(tables) / "survey.csv", [])
        return found

    def _take(self, digests: dict[str, str], read: Any, path: Path, problems: list[Problem], *told: str) -> Any:
        """Give back the table and add its problems, read only where no revision had it before."""
        key = (path.name, digests.get(path.name), *told)
        with self._lock:
            if key not in self._held:
                found: list[Problem] = []
                self._held[key] = (read(path, *told, found), tuple(found))
            self._held.move_to_end(key)
            while len(self._held) > TABLES_HELD:
                self._held.popitem(last=False)
            table, noted = self._held[key]
        problems.extend(noted)
        return table

    def _laid_out(self, tables: Tables) -> Path:
        """A folder with the tables of a revision in it, and nothing else."""
        if tables not in self._lots:
            folder = Path(tempfile.mkdtemp(dir=self._home))
            for name, digest in tables:
                (folder / name).write_bytes(self.keeper.table(digest))
            self._lots[tables] = folder
        self._lots.move_to_end(tables)
        while len(self._lots) > LOTS_HELD:
            shutil.rmtree(self._lots.popitem(last=False)[1], ignore_errors=True)
        return self._lots[tables]
