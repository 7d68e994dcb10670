"""site.sqlite: one file, one connection, one writer at a time. What a write has returned from is on the disk."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from pathlib import Path
from threading import RLock

from beckwright.site.trouble import disk, refused

NAME = "site.sqlite"
VERSION = 2
PATIENCE = 10.0
"""Wait for another process that writes to the same job, s."""

RULE = "What is kept of a job needs a disk with room that you may write to"
REMEDY = "Make room, or let nothing else hold the file, and do it again; what was kept before is still there"

# Each is made where it is not there yet: a file of an older version is brought up to this one, and keeps all it holds.
_TABLES = (
    """CREATE TABLE IF NOT EXISTS revision (
        number INTEGER PRIMARY KEY AUTOINCREMENT,
        parent INTEGER REFERENCES revision,
        onward INTEGER REFERENCES revision,
        kept TEXT NOT NULL,
        why TEXT NOT NULL,
        name TEXT NOT NULL DEFAULT '',
        origin TEXT NOT NULL CHECK (origin IN ('first', 'saved', 'outside', 'aside')),
        raw BLOB NOT NULL)""",
    # turn counts the moves of the head; filed is the revision job.toml held before the last of them.
    """CREATE TABLE IF NOT EXISTS head (
        only INTEGER PRIMARY KEY CHECK (only = 1),
        turn INTEGER NOT NULL,
        revision INTEGER NOT NULL REFERENCES revision,
        filed INTEGER NOT NULL REFERENCES revision)""",
    """CREATE TABLE IF NOT EXISTS mark (
        mark TEXT PRIMARY KEY,
        act TEXT NOT NULL,
        number INTEGER NOT NULL,
        digest TEXT NOT NULL,
        theirs INTEGER REFERENCES revision,
        base INTEGER REFERENCES revision)""",
    """CREATE TABLE IF NOT EXISTS reading (
        number INTEGER PRIMARY KEY AUTOINCREMENT,
        kind TEXT NOT NULL,
        seen TEXT NOT NULL,
        kept TEXT NOT NULL,
        content TEXT NOT NULL)""",
    "CREATE INDEX IF NOT EXISTS reading_by_kind ON reading (kind, number)",
    "CREATE TABLE IF NOT EXISTS picture (digest TEXT PRIMARY KEY, raw BLOB NOT NULL)",
    """CREATE TABLE IF NOT EXISTS photograph (
        number INTEGER PRIMARY KEY AUTOINCREMENT,
        digest TEXT NOT NULL REFERENCES picture,
        form TEXT NOT NULL,
        size INTEGER NOT NULL,
        chainage REAL,
        seen TEXT NOT NULL,
        kept TEXT NOT NULL,
        note TEXT NOT NULL)""",
    """CREATE TABLE IF NOT EXISTS entry (
        number INTEGER PRIMARY KEY AUTOINCREMENT,
        seen TEXT NOT NULL,
        kept TEXT NOT NULL,
        text TEXT NOT NULL)""",
    # What a table held, once under its digest, however many revisions have it.
    "CREATE TABLE IF NOT EXISTS content (digest TEXT PRIMARY KEY, raw BLOB NOT NULL)",
    # All tables of a revision together, told as JSON from name to digest: most revisions share theirs.
    "CREATE TABLE IF NOT EXISTS lot (number INTEGER PRIMARY KEY, told TEXT NOT NULL UNIQUE)",
    """CREATE TABLE IF NOT EXISTS laid (
        revision INTEGER PRIMARY KEY REFERENCES revision,
        lot INTEGER NOT NULL REFERENCES lot)""",
    # A word no other job has.
    "CREATE TABLE IF NOT EXISTS job (only INTEGER PRIMARY KEY CHECK (only = 1), word TEXT NOT NULL)",
)

Rows = sqlite3.Connection
"""The open database, inside ``reading`` or ``writing``."""


class Store:
    """The database of one job folder. Every method may be called from any thread."""

    def __init__(self, folder: Path) -> None:
        """Open it, or make it. Raises ``JobError``."""
        self.path = folder / NAME
        self.lock = RLock()
        with disk(self.path, RULE, REMEDY):
            self._rows = sqlite3.connect(self.path, timeout=PATIENCE, isolation_level=None, check_same_thread=False)
        try:
            with disk(self.path, RULE, REMEDY):
                self._rows.execute("PRAGMA journal_mode = WAL")
                self._rows.execute("PRAGMA synchronous = FULL")
                self._rows.execute("PRAGMA foreign_keys = ON")
            with self.writing() as rows:
                self._begin(rows)
        except BaseException:
            self._rows.close()
            raise

    @contextmanager
    def reading(self) -> Iterator[Rows]:
        """Hold the database for reading."""
        with self.lock, disk(self.path, RULE, REMEDY):
            yield self._rows

    @contextmanager
    def writing(self) -> Iterator[Rows]:
        """Hold the database for writing: all of it is on the disk when this ends, or none."""
        with self.reading() as rows:
            rows.execute("BEGIN IMMEDIATE")
            try:
                yield rows
                rows.execute("COMMIT")
            finally:
                if rows.in_transaction:
                    rows.execute("ROLLBACK")

    def close(self) -> None:
        """Fold everything into the one file and let go of it."""
        with self.lock:
            self._rows.close()

    def _begin(self, rows: Rows) -> None:
        version = rows.execute("PRAGMA user_version").fetchone()[0]
        if version > VERSION:
            found, rule = "a newer beckwright has written to it", f"This one knows it up to version {VERSION}"
            raise refused(NAME, found, rule, "Open the job with the newer one")
        if version < VERSION:
            for table in _TABLES:
                rows.execute(table)
            rows.execute(f"PRAGMA user_version = {VERSION}")


def now() -> str:
    """This moment as the tables hold it."""
    return written(datetime.now(UTC))


def written(moment: datetime) -> str:
    """A moment as the tables hold it; one without a zone is taken as of this machine's."""
    return moment.astimezone(UTC).isoformat()
