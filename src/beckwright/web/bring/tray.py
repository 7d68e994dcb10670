"""Where survey files lie while a person looks at what was understood: in the system's temporary folder, for a while."""

import shutil
import tempfile
import weakref
from collections import OrderedDict
from collections.abc import AsyncIterator
from pathlib import Path, PureWindowsPath
from secrets import token_urlsafe
from threading import Event, Lock
from time import monotonic

from starlette.concurrency import run_in_threadpool

from beckwright.survey.gathered import refusal

MOST_LOTS, MOST_FILES = 3, 4
"""Lots held at once, the oldest given up for a new one, and files of one lot: a level book, tapes, marks."""
MOST_AT_ONCE = 3
"""Files on their way at once."""
SPARE = 300_000_000
"""Bytes that stay free on the disk."""
LONGEST_NAME = 60
LONGEST_READING = 100.0
"""Seconds a file is read for: less than a page waits for an answer."""
PIECE = 1 << 20


class Lot:
    """The files of one survey, in a folder of their own."""

    def __init__(self, folder: Path) -> None:
        self.number, self.folder = token_urlsafe(12), folder
        self.files: list[Path] = []

    def add(self, path: Path) -> None:
        """Take a file in; one of the same name is in its place."""
        self.files = [*(each for each in self.files if each != path), path]


class Tray:
    """The lots of one open job. Every method may be called from any thread."""

    def __init__(self) -> None:
        self._lots: OrderedDict[str, Lot] = OrderedDict()
        self._lock, self._coming = Lock(), 0
        self._root: Path | None = None
        self.reading = Lock()
        """Held by who reads a lot: one file is read at a time, for memory's sake."""
        self._stop, self.words = Event(), ""

    def lot(self, number: str) -> Lot:
        """Find a lot. Raises ``JobError`` where it is there no more."""
        with self._lock:
            lot = self._lots.get(number)
        if lot is None:
            rule, remedy = f"The last {MOST_LOTS} lots are held while the program is open", "Bring the file again"
            raise refusal("the file", "it is held no more", rule, remedy)
        return lot

    def forget(self, number: str) -> None:
        """Give up a lot and its files."""
        with self._lock:
            lot = self._lots.pop(number, None)
        if lot is not None:
            shutil.rmtree(lot.folder, ignore_errors=True)

    async def take_in(self, pieces: AsyncIterator[bytes], *, name: str, size: int, to: str | None) -> Lot:
        """Write a file to the disk as it comes.

        name  as the person's machine calls it; only its last part is used
        size  bytes it said it has: more are refused
        to    lot it belongs to; None for a new one
        Raises ``JobError`` where there is no room, or it does not keep to its size.
        """
        lot, draft = await run_in_threadpool(self._begin, size, to)
        try:
            path = lot.folder / plain_name(name)
            came = await _written(pieces, draft, size, path.name)
            if came != size:
                raise refusal(path.name, f"{came} of {size} bytes came", "It comes whole", "Bring it again")
            draft.replace(path)
            lot.add(path)
        finally:
            with self._lock:
                self._coming -= 1
            draft.unlink(missing_ok=True)
            if not lot.files:
                await run_in_threadpool(self.forget, lot.number)
        return lot

    def _begin(self, size: int, to: str | None) -> tuple[Lot, Path]:
        lot = None if to is None else self.lot(to)
        if lot is not None and len(lot.files) >= MOST_FILES:
            rule = f"A survey is put together from {MOST_FILES} files at most"
            raise refusal(
                "the files", f"there are {len(lot.files)} already", rule, "Begin again with the ones you need"
            )
        if shutil.disk_usage(tempfile.gettempdir()).free < size + SPARE:
            found, rule = (
                "there is no room for it on the disk",
                "It is written to the temporary folder while it is read",
            )
            raise refusal("the file", found, rule, "Free some room, or bring a part of it")
        with self._lock:
            if self._coming >= MOST_AT_ONCE:
                found, rule = "others are on their way", f"{MOST_AT_ONCE} files come at once at most"
                raise refusal("the file", found, rule, "Wait until one has come")
            self._coming += 1
            if self._root is None:
                self._root = Path(tempfile.mkdtemp(prefix="beckwright-bring-"))
                # When nobody brings to this job any more, and at the latest when the program ends.
                weakref.finalize(self, shutil.rmtree, self._root, ignore_errors=True)
            folder = Path(tempfile.mkdtemp(dir=self._root))
            draft = folder / ".coming" if lot is None else lot.folder / f".coming-{token_urlsafe(6)}"
            old = []
            if lot is None:
                lot = Lot(folder)
                self._lots[lot.number] = lot
                old = [self._lots.popitem(last=False)[1] for _ in range(len(self._lots) - MOST_LOTS)]
            else:
                folder.rmdir()
        for each in old:
            shutil.rmtree(each.folder, ignore_errors=True)
        return lot, draft

    def stop(self) -> None:
        """Stop the reading in hand at its next word."""
        self._stop.set()

    def patience(self, name: str) -> "Patience":
        """What follows the reading that begins now."""
        self._stop.clear()
        return Patience(self, name)

    @property
    def stopped(self) -> bool:
        """Whether the reading in hand was told to stop."""
        return self._stop.is_set()


class Patience:
    """Hears what a reader says of itself; ends it where it is stopped or takes too long."""

    def __init__(self, tray: Tray, name: str) -> None:
        self.tray, self.name, self.begun = tray, name, monotonic()

    def __call__(self, words: str) -> None:
        """Hear where the reader is. Raises ``JobError`` where it is to end."""
        self.tray.words = words
        if self.tray.stopped:
            raise refusal(self.name, "its reading was stopped", "Nothing was written", "Bring it again")
        if monotonic() - self.begun > LONGEST_READING:
            rule = f"A page waits {LONGEST_READING:.0f} s at most"
            remedy = "Choose a smaller window, or type beckwright survey import in the terminal"
            raise refusal(self.name, "reading it takes too long", rule, remedy)


def plain_name(given: str) -> str:
    """The last part of a file's name without what no folder may hold; never empty, never hidden, never long."""
    last = PureWindowsPath(given.replace("/", "\\")).name
    name = "".join(mark if mark.isprintable() and mark not in '<>:"|?*' else "_" for mark in last).strip(" .")
    stem, dot, ending = name.rpartition(".")
    if dot and len(ending) <= 8:
        name = f"{stem[: LONGEST_NAME - len(ending) - 1].strip(' .') or 'points'}.{ending}"
    return name[:LONGEST_NAME] or "points.txt"


async def _written(pieces: AsyncIterator[bytes], draft: Path, size: int, name: str) -> int:
    """Write the pieces, a megabyte at a time; give back how many bytes came."""
    came, held = 0, bytearray()
    try:
        with draft.open("wb") as file:
            async for piece in pieces:
                came += len(piece)
                if came > size:
                    break
                held += piece
                if len(held) >= PIECE:
                    await run_in_threadpool(file.write, bytes(held))
                    held.clear()
            await run_in_threadpool(file.write, bytes(held))
    except OSError as error:
        rule = "It is written to the temporary folder while it is read"
        raise refusal(name, f"it cannot be written ({error.strerror})", rule, "Free some room on the disk") from error
    return came
