"""Which job this is: a word of its own, so that what waits for one job is never brought to another."""

from hashlib import sha256
from pathlib import Path
from secrets import token_hex

from beckwright.site.store import Rows


def word_of(rows: Rows, folder: Path) -> str:
    """The word of the job in a folder, made where it has none yet.

    The folder's name is in it: a copy under another name is another job from then on, though it holds the same store.
    """
    rows.execute("INSERT OR IGNORE INTO job (only, word) VALUES (1, ?)", (token_hex(16),))
    word = rows.execute("SELECT word FROM job").fetchone()[0]
    return sha256(f"{word} {folder.resolve().name}".encode()).hexdigest()[:20]
