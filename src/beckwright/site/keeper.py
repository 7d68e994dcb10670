"""The keeper of a job folder: what a call has returned from is on the disk, and nothing kept is ever written over."""

from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path
from typing import Any, Self

from beckwright.base.quantities import Length
from beckwright.job.read import LARGEST_JOB, tables_of
from beckwright.site import contents, diary, photographs, readings, revisions
from beckwright.site.file import NAME as JOB
from beckwright.site.folder import Folder, Held
from beckwright.site.identity import word_of
from beckwright.site.line import Line
from beckwright.site.marks import take, taken
from beckwright.site.store import NAME as STORE
from beckwright.site.store import Rows, Store
from beckwright.site.trouble import refused, whole
from beckwright.site.values import Conflict, Entry, Photograph, Reading, Revision, Saved, Tables, Version


class Keeper:
    """One job folder. Every method may be called from any thread, and raises ``JobError`` where the disk fails.

    Each write carries a ``mark``, a word nobody else has: sent again, it is taken once. Whoever writes with an editor
    is listened to: before anything is answered, job.toml and the tables are held against the revision that stands.
    """

    def __init__(self, folder: Path | str) -> None:
        """Open a folder with a job.toml. Raises ``JobError``."""
        self.folder = Path(folder)
        self._files = Folder(self.folder)
        if not (self.folder / STORE).is_file():
            self._files.job.check()
        self._store = Store(self.folder)
        self._unseen = False
        try:
            with self._store.writing() as rows:
                self.job = word_of(rows, self.folder)
                contents.adopt(rows, self._files)
            with self._line() as line:
                line.restore()
        except BaseException:
            self._store.close()
            raise

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def close(self) -> None:
        """Let go of the folder, so that it can be copied file by file."""
        self._store.close()

    def text(self) -> str:
        """The text of job.toml as it stands."""
        return self.standing().text

    def standing(self) -> Version:
        """The revision that stands, its text and its tables."""
        with self._line() as line:
            return revisions.version(line.rows, line.head.revision)

    def noticed(self) -> bool:
        """Whether a file was changed in an editor since this was last asked; the change is a revision by now."""
        with self._line():
            pass
        with self._store.lock:
            unseen, self._unseen = self._unseen, False
            return unseen

    def save(self, text: str, *, why: str, mark: str, based_on: int) -> Saved | Conflict:
        """Keep a text with the tables of ``based_on`` and let it stand, or beside the line where another one stands.

        A mark sent again gives the job as it stands now, or the same conflict.
        """
        raw = _raw(text)
        return self._save(lambda rows, base: contents.renewed(rows, self._files, raw, base), why, mark, based_on)

    def bring(self, name: str, raw: bytes, *, why: str, mark: str, based_on: int) -> Saved | Conflict:
        """Keep a table in the place of the one ``based_on`` has, and let it stand as ``save`` does."""

        def brought(rows: Rows, base: Held) -> Held:
            return Held(
                raw=base.raw, tables=tuple(sorted((dict(base.tables) | {name: contents.keep(rows, raw)}).items()))
            )

        return self._save(brought, why, mark, based_on)

    def take_up(self, revision: int, *, why: str, mark: str, based_on: int) -> Saved | Conflict:
        """Let the text and the tables of a revision stand again, as a new revision, as ``save`` does."""

        def again(rows: Rows, _: Held) -> Held:
            return revisions.held(rows, revisions.one(rows, revision).number)

        return self._save(again, why, mark, based_on)

    def undo(self, mark: str, *, based_on: int | None = None) -> Saved | Conflict:
        """Go back to the text the standing one was made from; at the first one, stay there.

        based_on  revision the person looked at; without it, the one that stood before job.toml was looked at
        """
        return self._move("undo", mark, based_on, _back)

    def redo(self, mark: str, *, based_on: int | None = None) -> Saved | Conflict:
        """Go to the text last left by undo, or last saved from here; where there is none, stay here."""
        return self._move("redo", mark, based_on, _onward)

    def name(self, revision: int, name: str) -> Revision:
        """Give a revision a name; an empty one takes it away."""
        whole(name, "name")
        with self._store.writing() as rows:
            revisions.one(rows, revision)
            revisions.call(rows, revision, name)
            return revisions.one(rows, revision)

    def revisions(self) -> tuple[Revision, ...]:
        """All revisions, oldest first, those kept beside the line among them."""
        with self._store.reading() as rows:
            return revisions.listed(rows)

    def at(self, revision: int) -> str:
        """The text of a revision."""
        return self.version(revision).text

    def version(self, revision: int) -> Version:
        """A revision, its text and its tables."""
        with self._store.reading() as rows:
            return revisions.version(rows, revision)

    def tables_with(self, text: str, base: Version) -> Tables:
        """The tables a text would be kept with that was made from a revision."""
        if tables_of(text) == tables_of(base.text):
            return base.tables
        with self._store.writing() as rows:
            held = Held(raw=whole(base.text, JOB), tables=base.tables)
            return contents.renewed(rows, self._files, whole(text, JOB), held).tables

    def table(self, digest: str) -> bytes:
        """What a table of a revision held."""
        with self._store.reading() as rows:
            return contents.raw_of(rows, digest)

    def add_reading(self, kind: str, content: Mapping[str, Any], *, when: datetime, mark: str) -> Reading:
        """Keep what was read on site; ``content`` is anything JSON can hold."""
        whole(kind, "reading")
        with self._store.writing() as rows:
            return readings.add(rows, kind, content, when=when, mark=mark)

    def readings(self, kind: str | None = None) -> tuple[Reading, ...]:
        """Readings of one kind, or all, in the order they were kept."""
        with self._store.reading() as rows:
            return readings.listed(rows, kind)

    def add_photograph(
        self, raw: bytes, *, when: datetime, mark: str, chainage: Length | None = None, note: str = ""
    ) -> Photograph:
        """Keep a photograph as it was taken."""
        whole(note, "photograph")
        with self._store.writing() as rows:
            return photographs.add(rows, raw, chainage=chainage, note=note, when=when, mark=mark)

    def photograph(self, digest: str) -> bytes:
        """The bytes of a photograph."""
        with self._store.reading() as rows:
            return photographs.raw_of(rows, digest)

    def photographs(self) -> tuple[Photograph, ...]:
        """All photographs without their bytes, in the order they were kept."""
        with self._store.reading() as rows:
            return photographs.listed(rows)

    def write_diary(self, text: str, *, when: datetime, mark: str) -> Entry:
        """Add an entry to the diary."""
        whole(text, "diary")
        with self._store.writing() as rows:
            return diary.add(rows, text, when=when, mark=mark)

    def diary(self) -> tuple[Entry, ...]:
        """The diary in the order it was written."""
        with self._store.reading() as rows:
            return diary.listed(rows)

    def _save(self, made: Callable[[Rows, Held], Held], why: str, mark: str, based_on: int) -> Saved | Conflict:
        whole(why, "why")
        with self._line() as line:
            before = taken(line.rows, mark, "save")
            if before is None:
                return _grow(line, made, why, mark, based_on)
            if before.theirs is None or before.base is None:
                return _saved(line, again=True)
            return _conflict(line, before.number, before.theirs, before.base)

    def _move(
        self, act: str, mark: str, based_on: int | None, leads: Callable[[Revision], int | None]
    ) -> Saved | Conflict:
        with self._line() as line:
            if taken(line.rows, mark, act) is not None:
                return _saved(line, again=True)
            stood = revisions.one(line.rows, line.before if based_on is None else based_on)
            to, stands = leads(stood) or stood.number, line.head.revision
            if stands not in (to, stood.number):
                return _conflict(line, to, stands, stood.number)
            if to != stands:
                line.go(to)
            take(line.rows, mark, act, to)
            return _saved(line, again=False)

    @contextmanager
    def _line(self) -> Iterator[Line]:
        """Hold the line: the files are looked at first, and replaced last, once the database is on the disk."""
        with self._store.reading():
            with self._store.writing() as rows:
                line = Line(rows, self._files)
                yield line
            self._unseen |= line.outside
            line.put()


def _back(revision: Revision) -> int | None:
    return revision.parent


def _onward(revision: Revision) -> int | None:
    return revision.onward


def _raw(text: str) -> bytes:
    raw = whole(text, JOB)
    if len(raw) > LARGEST_JOB:
        found, rule = "it has grown too large", f"{JOB} may hold {LARGEST_JOB / 1e6:g} MB"
        raise refused(JOB, found, rule, "Take something out of it")
    return raw


def _grow(line: Line, made: Callable[[Rows, Held], Held], why: str, mark: str, based_on: int) -> Saved | Conflict:
    base, stood = revisions.one(line.rows, based_on).number, line.head.revision
    was = revisions.held(line.rows, base)
    held = made(line.rows, was)
    nothing_new = held in (was, revisions.held(line.rows, stood))
    if not nothing_new and base != stood:
        ours = revisions.add(line.rows, held, parent=base, why=why, origin="aside")
        take(line.rows, mark, "save", ours, theirs=stood, base=base)
        return _conflict(line, ours, stood, base)
    if not nothing_new:
        line.grow(held, why)
    take(line.rows, mark, "save", line.head.revision)
    return _saved(line, again=False)


def _saved(line: Line, *, again: bool) -> Saved:
    version = revisions.version(line.rows, line.head.revision)
    return Saved(revision=version.revision, text=version.text, again=again)


def _conflict(line: Line, ours: int, theirs: int, base: int) -> Conflict:
    return Conflict(
        ours=revisions.version(line.rows, ours),
        theirs=revisions.version(line.rows, theirs),
        base=revisions.version(line.rows, base),
    )
