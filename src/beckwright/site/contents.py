"""Tables of revisions: what they held, kept once under its digest, and which of them a revision has."""

import json

from beckwright.base.errors import JobError
from beckwright.site.file import NAME
from beckwright.site.folder import Folder, Held, digest_of
from beckwright.site.store import Rows
from beckwright.site.trouble import refused
from beckwright.site.values import Tables


def keep(rows: Rows, raw: bytes) -> str:
    """Keep what a table holds, once, and return its digest."""
    digest = digest_of(raw)
    rows.execute("INSERT OR IGNORE INTO content (digest, raw) VALUES (?, ?)", (digest, raw))
    return digest


def keep_all(rows: Rows, folder: Folder, tables: Tables) -> None:
    """Keep what lies in a folder. Raises ``JobError`` where it is no more what was seen there."""
    for name, digest in tables:
        if rows.execute("SELECT 1 FROM content WHERE digest = ?", (digest,)).fetchone() is None:
            raw = folder.file(name).raw()
            if raw is None or keep(rows, raw) != digest:
                raise still_written(name)


def renewed(rows: Rows, folder: Folder, raw: bytes, base: Held) -> Held:
    """A text with the tables of the one it was made from; one that it names first is kept as it lies in the folder."""
    names = Held(raw=raw, tables=()).names
    first = folder.tables([name for name in names if name not in base.names])
    keep_all(rows, folder, first)
    return Held(raw=raw, tables=tuple(sorted({*first, *(each for each in base.tables if each[0] in names)})))


def still_written(name: str) -> JobError:
    """The error about a file somebody is in the middle of writing."""
    found, rule = "another program is still writing to it", "It must be whole before it is taken in"
    return refused(name, found, rule, "Wait for that program, and do it again")


def raw_of(rows: Rows, digest: str) -> bytes:
    """What a table held. Raises ``JobError`` where nothing is kept under this digest."""
    row = rows.execute("SELECT raw FROM content WHERE digest = ?", (digest,)).fetchone()
    if row is None:
        raise refused("table", "it is not kept in this job", "A revision has the tables it was kept with", "Choose one")
    raw: bytes = row[0]
    return raw


def wanted(rows: Rows, held: Held, name: str) -> bytes | None:
    """What a file is to hold for a revision; None where the revision has no such table."""
    if name == NAME:
        return held.raw
    digest = held.digest(name)
    return None if digest is None else raw_of(rows, digest)


def lay(rows: Rows, revision: int, tables: Tables) -> None:
    """Say which tables a new revision has."""
    told = json.dumps(dict(sorted(tables)))
    rows.execute("INSERT OR IGNORE INTO lot (told) VALUES (?)", (told,))
    laid_so = "INSERT INTO laid (revision, lot) SELECT ?, number FROM lot WHERE told = ?"
    rows.execute(laid_so, (revision, told))


def laid(rows: Rows, revision: int) -> Tables:
    """The tables of a revision that is there."""
    asked = "SELECT told FROM laid JOIN lot ON lot.number = laid.lot WHERE revision = ?"
    return tuple(json.loads(rows.execute(asked, (revision,)).fetchone()[0]).items())


def adopt(rows: Rows, folder: Folder) -> None:
    """Give revisions kept before tables were the tables that lie there now: it is with these they were always read."""
    without = "SELECT number, raw FROM revision WHERE number NOT IN (SELECT revision FROM laid)"
    for number, raw in rows.execute(without).fetchall():
        tables = folder.beside(raw).tables
        keep_all(rows, folder, tables)
        lay(rows, number, tables)
