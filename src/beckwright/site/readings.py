"""Readings from site: each one kept as it was sent."""

import json
from collections.abc import Mapping
from datetime import datetime
from hashlib import sha256
from typing import Any

from beckwright.site.marks import take, taken
from beckwright.site.store import Rows, now, written
from beckwright.site.trouble import refused
from beckwright.site.values import Reading

_ACT = "reading"
_COLUMNS = "SELECT number, kind, seen, kept, content FROM reading"


def add(rows: Rows, kind: str, content: Mapping[str, Any], *, when: datetime, mark: str) -> Reading:
    """Keep a reading once, and return it. Raises ``JobError`` where a number in it is none."""
    sent = (kind, written(when), _told(content))
    digest = sha256("\n".join(sent).encode()).hexdigest()
    before = taken(rows, mark, _ACT, digest)
    if before is None:
        insert = "INSERT INTO reading (kind, seen, content, kept) VALUES (?, ?, ?, ?)"
        number = int(rows.execute(insert, (*sent, now())).lastrowid or 0)
        take(rows, mark, _ACT, number, digest=digest)
    else:
        number = before.number
    return _reading(rows.execute(f"{_COLUMNS} WHERE number = ?", (number,)).fetchone())


def listed(rows: Rows, kind: str | None) -> tuple[Reading, ...]:
    """Readings of one kind, or all of them, in the order they were kept."""
    if kind is None:
        return tuple(map(_reading, rows.execute(f"{_COLUMNS} ORDER BY number")))
    return tuple(map(_reading, rows.execute(f"{_COLUMNS} WHERE kind = ? ORDER BY number", (kind,))))


def _told(content: Mapping[str, Any]) -> str:
    try:
        return json.dumps(dict(content), allow_nan=False, sort_keys=True)
    except ValueError as error:
        found, rule = "it holds a number without end", "A reading is made of numbers a staff or a clock can show"
        raise refused(_ACT, found, rule, "Read it again") from error


def _reading(row: tuple[int, str, str, str, str]) -> Reading:
    number, kind, seen, kept, content = row
    return Reading(
        number=number,
        kind=kind,
        seen=datetime.fromisoformat(seen),
        kept=datetime.fromisoformat(kept),
        content=json.loads(content),
    )
