"""Sets of sheets drawn once for all workers of a run: seconds each, and many tests look at the same ones."""

import pickle
import time
from collections.abc import Callable
from functools import lru_cache
from pathlib import Path
from typing import TypeVar

from beckwright import Design, design, read_job
from beckwright.papers import draw_sheets
from beckwright.papers.drawing import Sheet

EXAMPLES = Path(__file__).parents[1] / "examples"
NAMES = ("hazel_bank", "larkspur_court", "fennymoor_park", "withy_lane")
PATIENCE = 300.0
"""s another worker may take to draw a set, before it is drawn here all the same."""

T = TypeVar("T")


class Drawn:
    """The sheets of the examples as whoever reads English and metres has them, kept in a folder of this run."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.sheets = lru_cache(maxsize=2)(self._sheets)

    def _sheets(self, name: str) -> tuple[Sheet, ...]:
        return once(self.folder / name, lambda: draw_sheets(designed(name)))


def designed(name: str) -> Design:
    """An example designed."""
    return design(read_job(EXAMPLES / name))


def once(path: Path, make: Callable[[], T]) -> T:
    """What another process has kept at a path, or else what is made here and kept there for the others."""
    lock, until = path.with_suffix(".lock"), time.monotonic() + PATIENCE
    while not path.exists():
        try:
            lock.mkdir()
        except FileExistsError:
            if time.monotonic() > until:
                return make()
            time.sleep(0.1)
            continue
        try:
            if not path.exists():
                written = path.with_suffix(".part")
                written.write_bytes(pickle.dumps(make(), pickle.HIGHEST_PROTOCOL))
                written.replace(path)
        finally:
            lock.rmdir()
    made: T = pickle.loads(path.read_bytes())  # noqa: S301  # Written by this run of ours.
    return made
