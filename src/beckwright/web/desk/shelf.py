"""Tables of a job folder kept as read, and read again only once their file has changed."""

from pathlib import Path
from threading import Lock
from typing import Any

from beckwright.base.errors import Problem

Stamp = tuple[int, int]
"""When a file was last written, ns, and its size."""


class Shelf:
    """What ``read_job_text`` takes tables from while one folder stays open."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._held: dict[tuple[str, ...], tuple[Stamp | None, Any, tuple[Problem, ...]]] = {}
        self._lock = Lock()

    def take(self, read: Any, path: Path, problems: list[Problem], *told: str) -> Any:
        """Give back the table and add its problems, from the file only where it is another than the last time."""
        key, stamp = (path.name, *told), _stamp(path)
        with self._lock:
            held = self._held.get(key)
        if held is None or held[0] != stamp:
            found: list[Problem] = []
            held = (stamp, read(path, *told, found), tuple(found))
            with self._lock:
                self._held[key] = held
        problems.extend(held[2])
        return held[1]

    def stamps(self) -> tuple[tuple[str, Stamp | None], ...]:
        """All tables of the folder with their stamps: as long as this is the same, so is every table."""
        return tuple((path.name, _stamp(path)) for path in sorted(self.folder.glob("*.csv")))


def _stamp(path: Path) -> Stamp | None:
    try:
        told = path.stat()
    except OSError:
        return None
    return told.st_mtime_ns, told.st_size
