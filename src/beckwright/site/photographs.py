"""Photographs: bytes kept once under their digest, however often they are sent."""

from datetime import datetime
from hashlib import sha256

from beckwright.base.errors import JobError
from beckwright.base.quantities import Length
from beckwright.site.marks import take, taken
from beckwright.site.store import Rows, now, written
from beckwright.site.trouble import refused
from beckwright.site.values import Photograph

LARGEST = 20_000_000
"""Bytes of one photograph: twice what a telephone makes."""

_ACT = "photograph"
_COLUMNS = "SELECT number, digest, form, size, chainage, seen, kept, note FROM photograph"
_FORMS = (
    (0, b"\xff\xd8\xff", "image/jpeg"),
    (0, b"\x89PNG\r\n\x1a\n", "image/png"),
    (8, b"WEBP", "image/webp"),
    (4, b"ftypheic", "image/heic"),
    (4, b"ftypavif", "image/avif"),
)
"""Where in the bytes a form shows, and how. Drawings that can hold a program are not among them."""


def add(rows: Rows, raw: bytes, *, chainage: Length | None, note: str, when: datetime, mark: str) -> Photograph:
    """Keep a photograph once, and return what is known of it. Raises ``JobError`` where it is none or too large."""
    form, digest = _form(raw), sha256(raw).hexdigest()
    sent = sha256(f"{digest} {chainage} {written(when)}\n{note}".encode()).hexdigest()
    before = taken(rows, mark, _ACT, sent)
    if before is None:
        number = _insert(rows, raw, (digest, form, len(raw), chainage, written(when), now(), note))
        take(rows, mark, _ACT, number, digest=sent)
    else:
        number = before.number
    return _photograph(rows.execute(f"{_COLUMNS} WHERE number = ?", (number,)).fetchone())


def listed(rows: Rows) -> tuple[Photograph, ...]:
    """All photographs in the order they were kept."""
    return tuple(map(_photograph, rows.execute(f"{_COLUMNS} ORDER BY number")))


def raw_of(rows: Rows, digest: str) -> bytes:
    """The bytes. Raises ``JobError`` where there are none under this digest."""
    row = rows.execute("SELECT raw FROM picture WHERE digest = ?", (digest,)).fetchone()
    if row is None:
        raise _refused("there is no such photograph in this job", "Choose one of those the diary shows")
    raw: bytes = row[0]
    return raw


def _insert(rows: Rows, raw: bytes, columns: tuple[str, str, int, Length | None, str, str, str]) -> int:
    rows.execute("INSERT OR IGNORE INTO picture (digest, raw) VALUES (?, ?)", (columns[0], raw))
    told = "INSERT INTO photograph (digest, form, size, chainage, seen, kept, note) VALUES (?, ?, ?, ?, ?, ?, ?)"
    return int(rows.execute(told, columns).lastrowid or 0)


def _form(raw: bytes) -> str:
    if len(raw) > LARGEST:
        raise _refused(
            f"it holds {len(raw) / 1e6:.0f} MB", f"Take it with fewer pixels: {LARGEST / 1e6:.0f} MB at most"
        )
    for start, sign, form in _FORMS:
        if raw[start : start + len(sign)] == sign:
            return form
    raise _refused("it is no photograph that is known here", "Send a JPEG, PNG, WebP, HEIC or AVIF")


def _refused(found: str, remedy: str) -> JobError:
    return refused(_ACT, found, "A photograph is a picture of a usual form and size", remedy)


def _photograph(row: tuple[int, str, str, int, Length | None, str, str, str]) -> Photograph:
    number, digest, form, size, chainage, seen, kept, note = row
    return Photograph(
        number=number,
        digest=digest,
        form=form,
        size=size,
        chainage=chainage,
        seen=datetime.fromisoformat(seen),
        kept=datetime.fromisoformat(kept),
        note=note,
    )
