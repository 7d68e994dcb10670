"""The diary: dated words that are added to and never rewritten."""

from datetime import datetime
from hashlib import sha256

from beckwright.site.marks import take, taken
from beckwright.site.store import Rows, now, written
from beckwright.site.values import Entry

_ACT = "diary"
_COLUMNS = "SELECT number, seen, kept, text FROM entry"


def add(rows: Rows, text: str, *, when: datetime, mark: str) -> Entry:
    """Keep an entry once, and return it."""
    digest = sha256(f"{written(when)}\n{text}".encode()).hexdigest()
    before = taken(rows, mark, _ACT, digest)
    if before is None:
        insert = "INSERT INTO entry (seen, kept, text) VALUES (?, ?, ?)"
        number = int(rows.execute(insert, (written(when), now(), text)).lastrowid or 0)
        take(rows, mark, _ACT, number, digest=digest)
    else:
        number = before.number
    return _entry(rows.execute(f"{_COLUMNS} WHERE number = ?", (number,)).fetchone())


def listed(rows: Rows) -> tuple[Entry, ...]:
    """All entries in the order they were kept."""
    return tuple(map(_entry, rows.execute(f"{_COLUMNS} ORDER BY number")))


def _entry(row: tuple[int, str, str, str]) -> Entry:
    number, seen, kept, text = row
    return Entry(number=number, seen=datetime.fromisoformat(seen), kept=datetime.fromisoformat(kept), text=text)
