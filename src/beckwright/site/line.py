"""The line of heads and the files beside it: kept in step, and told apart when somebody wrote in an editor."""

from time import sleep

from beckwright.site import contents, revisions
from beckwright.site.file import NAME
from beckwright.site.folder import Folder, Held, changed_outside, differing
from beckwright.site.revisions import Head
from beckwright.site.store import Rows

PAUSE = 0.02
"""Between two looks at a file somebody is writing, s: two that agree are believed."""
LOOKS = 50
"""At most. A table that is gone is believed to be after as many: some editors take a file away before they write it."""


class Line:
    """The head during one write, after a look at job.toml and the tables.

    before   number of the revision that stood before the look
    head     where the job stands; ``before``, unless there was an edit outside
    outside  whether an edit in an editor has just been taken in
    """

    def __init__(self, rows: Rows, folder: Folder) -> None:
        self.rows, self.folder = rows, folder
        stood = revisions.head(rows)
        self.outside = False
        self._due: set[str] = set()
        self.head = self._begin() if stood is None else self._look(stood)
        self.before = self.head.revision if stood is None else stood.revision

    def go(self, to: int) -> None:
        """Move the head to a revision, and lay ready whatever file it has otherwise; what it never reads stays."""
        was, new = (revisions.held(self.rows, number) for number in (self.head.revision, to))
        for name in differing(was, new):
            if name != NAME and (name not in new.names or self.folder.digest(name) == new.digest(name)):
                continue
            self.folder.file(name).lay_ready(self.head.turn + 1, contents.wanted(self.rows, new, name))
            self._due.add(name)
        self.head = revisions.move(self.rows, self.head, to, filed=self.head.revision)

    def grow(self, held: Held, why: str) -> None:
        """Keep a text and its tables, and let them stand."""
        stood = self.head.revision
        new = revisions.add(self.rows, held, parent=stood, why=why, origin="saved")
        revisions.lead_on(self.rows, stood, new)
        self.go(new)

    def restore(self) -> None:
        """Clear away what lies ready, and lay the standing text ready where job.toml is missing."""
        stands = revisions.held(self.rows, self.head.revision)
        self.folder.clear(stands.names)
        if self.folder.job.raw() is None:
            self.folder.job.lay_ready(self.head.turn, stands.raw)
            self._due.add(NAME)

    def put(self) -> None:
        """Put in place what was laid ready, once the database is on the disk."""
        if self._due:
            self._put(self.head, self._due)

    def _put(self, head: Head, names: set[str]) -> None:
        filed, stands = (revisions.held(self.rows, number) for number in (head.filed, head.revision))
        for name in sorted(names):
            over, gone = contents.wanted(self.rows, filed, name), name != NAME and stands.digest(name) is None
            self.folder.file(name).put(head.turn, over=over, gone=gone)

    def _begin(self) -> Head:
        seen = self._settled(None)
        contents.keep_all(self.rows, self.folder, seen.tables)
        return revisions.begin(self.rows, seen)

    def _look(self, stood: Head) -> Head:
        ours = revisions.held(self.rows, stood.revision)
        seen = self._seen(ours)
        if seen != ours:
            lags = {name for name in differing(ours, seen) if self._lies_ready(stood, ours, name)}
            self._put(stood, lags)
            seen = self._seen(ours)
        if seen == ours:
            return stood
        seen = self._settled(ours)
        return stood if seen == ours else self._take_in(seen, ours, stood)

    def _lies_ready(self, stood: Head, ours: Held, name: str) -> bool:
        return self.folder.file(name).lies_ready(stood.turn, contents.wanted(self.rows, ours, name))

    def _take_in(self, seen: Held, ours: Held, stood: Head) -> Head:
        self.outside = True
        contents.keep_all(self.rows, self.folder, seen.tables)
        why = changed_outside(ours, seen)
        new = revisions.add(self.rows, seen, parent=stood.revision, why=why, origin="outside")
        revisions.lead_on(self.rows, stood.revision, new)
        return revisions.move(self.rows, stood, new, filed=new)

    def _seen(self, ours: Held) -> Held:
        return self.folder.seen(ours) or ours

    def _settled(self, ours: Held | None) -> Held:
        """What the files hold once nobody is in the middle of writing them: a text and its tables, or ``JobError``."""
        seen = self.folder.seen(ours)
        for _ in range(LOOKS):
            sleep(PAUSE)
            before, seen = seen, self.folder.seen(ours)
            if seen is not None and (seen == ours or (seen == before and not _lost(ours, seen))):
                break
        if ours is None or seen is None or seen.raw != ours.raw:
            self.folder.job.check()
        again = self.folder.seen(ours)
        if seen is None or again is None or again != seen:
            raise contents.still_written(NAME if seen is None or again is None else ", ".join(differing(seen, again)))
        return seen


def _lost(ours: Held | None, seen: Held) -> bool:
    """Whether a table is gone that was there."""
    return ours is not None and any(name in seen.names and seen.digest(name) is None for name, _ in ours.tables)
