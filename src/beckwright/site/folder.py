"""What a revision holds as it lies in the folder: job.toml and the tables, the tables read again only once touched."""

import time
from collections.abc import Sequence
from hashlib import sha256
from pathlib import Path

from beckwright.base.values import value
from beckwright.job.read import tables_of
from beckwright.site.file import LIES_READY, NAME, REMEDY, RULE, JobFile, KeptFile, Stamp, TableFile
from beckwright.site.trouble import disk
from beckwright.site.values import Tables

YOUNG = 2_000_000_000
"""Coarsest clock a disk stamps its files by, ns: a file touched since may be written again under the same stamp."""


@value
class Held:
    """The bytes of job.toml, and which tables lie beside it."""

    raw: bytes
    tables: Tables

    @property
    def names(self) -> tuple[str, ...]:
        """Of all tables the text may be read with, there or not."""
        return tables_of(self.raw.decode("utf-8", "replace"))

    def digest(self, name: str) -> str | None:
        """Of a table; None where it is not among them."""
        return dict(self.tables).get(name)


class Folder:
    """The files of one job folder that revisions hold. Raises ``JobError`` where the disk fails."""

    def __init__(self, folder: Path) -> None:
        self.path = folder.resolve()
        self.job = JobFile(self.path)
        self._tables: dict[str, TableFile] = {}
        self._known: dict[str, tuple[Stamp, str]] = {}

    def file(self, name: str) -> KeptFile:
        """One of them by its name."""
        return self.job if name == NAME else self._table(name)

    def seen(self, ours: Held | None) -> Held | None:
        """What lies there now. A job.toml that is gone counts as ``ours``; None where there is neither."""
        raw = self.job.raw()
        if raw is None:
            raw = None if ours is None else ours.raw
        return None if raw is None else self.beside(raw)

    def beside(self, raw: bytes) -> Held:
        """A text with the tables it names that lie there now."""
        bare = Held(raw=raw, tables=())
        return Held(raw=raw, tables=self.tables(bare.names))

    def tables(self, names: Sequence[str]) -> Tables:
        """Those of some tables that lie there, each with the digest of what it holds."""
        digests = ((name, self.digest(name)) for name in names)
        return tuple((name, digest) for name, digest in digests if digest is not None)

    def clear(self, names: Sequence[str]) -> None:
        """Take away what lies ready for job.toml and some tables and will not be put in place."""
        files = [self.file(name).path for name in (NAME, *names)]
        ours = {(path.parent, path.name) for path in files}
        for parent in {path.parent for path in files}:
            with disk(self.job.path, RULE, REMEDY):
                for path in parent.glob(".*.*.*"):
                    found = LIES_READY.fullmatch(path.name)
                    if found and (parent, found[1]) in ours:
                        path.unlink(missing_ok=True)

    def _table(self, name: str) -> TableFile:
        if name not in self._tables:
            self._tables[name] = TableFile(self.path, name)
        return self._tables[name]

    def digest(self, name: str) -> str | None:
        """Of what a table holds now; None where there is no such file."""
        file = self._table(name)
        stamp, known = file.stamp(), self._known.pop(name, None)
        if known is None or known[0] != stamp:
            raw = None if stamp is None else file.raw()
            if stamp is None or raw is None:
                return None
            known = (stamp, digest_of(raw))
            if time.time_ns() - max(stamp[:2]) < YOUNG or file.stamp() != stamp:
                return known[1]
        self._known[name] = known
        return known[1]


def digest_of(raw: bytes) -> str:
    """What some bytes are asked for by."""
    return sha256(raw).hexdigest()


def differing(one: Held, other: Held) -> tuple[str, ...]:
    """Names of the files that are not alike in both, job.toml first."""
    job = () if one.raw == other.raw else (NAME,)
    names = sorted({*one.names, *other.names})
    return (*job, *(name for name in names if one.digest(name) != other.digest(name)))


def changed_outside(ours: Held, seen: Held) -> str:
    """What an editor did, in words: files changed, put in, taken out."""
    both = {NAME, *ours.names} & {NAME, *seen.names}
    names = [name for name in differing(ours, seen) if name in both]
    put_in = [name for name in names if name != NAME and ours.digest(name) is None]
    out = [name for name in names if name != NAME and seen.digest(name) is None]
    changed = [name for name in names if name not in (*put_in, *out)]
    done = (("changed in an editor", changed), ("put in the folder", put_in), ("taken out of the folder", out))
    return "; ".join(f"{_listed(those)} {what}" for what, those in done if those)


def _listed(names: list[str]) -> str:
    return " and ".join([", ".join(names[:-1]), names[-1]] if names[1:] else names)
