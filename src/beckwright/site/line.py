"""The line of heads and job.toml beside it: kept in step, and told apart when somebody wrote in an editor."""

from time import sleep

from beckwright.site import revisions
from beckwright.site.file import NAME, JobFile
from beckwright.site.revisions import Head
from beckwright.site.store import Rows
from beckwright.site.trouble import refused

PAUSE = 0.02
"""Between two looks at a file somebody is writing, s: two that agree are believed."""
LOOKS = 50


class Line:
    """The head during one write, after a look at job.toml.

    before   number of the revision that stood before the look
    head     where the job stands; ``before``, unless there was an edit outside
    outside  whether an edit in an editor has just been taken in
    """

    def __init__(self, rows: Rows, file: JobFile) -> None:
        self.rows, self.file = rows, file
        stood = revisions.head(rows)
        self.outside, self._due = False, False
        self.head = revisions.begin(rows, self._checked(None)) if stood is None else self._look(stood)
        self.before = self.head.revision if stood is None else stood.revision

    def go(self, to: int) -> None:
        """Move the head to a revision, and lay its text ready for job.toml."""
        self.file.lay_ready(self.head.turn + 1, revisions.raw_of(self.rows, to))
        self.head = revisions.move(self.rows, self.head, to, filed=self.head.revision)
        self._due = True

    def grow(self, raw: bytes, why: str) -> None:
        """Keep a text and let it stand."""
        stood = self.head.revision
        new = revisions.add(self.rows, raw, parent=stood, why=why, origin="saved")
        revisions.lead_on(self.rows, stood, new)
        self.go(new)

    def restore(self) -> None:
        """Clear away what lies ready, and lay the standing text ready where job.toml is missing."""
        self.file.clear()
        if self.file.raw() is None:
            self.file.lay_ready(self.head.turn, revisions.raw_of(self.rows, self.head.revision))
            self._due = True

    def put(self) -> None:
        """Put in place what was laid ready, once the database is on the disk."""
        if self._due:
            self.file.put(self.head.turn, over=revisions.raw_of(self.rows, self.head.filed))

    def _look(self, stood: Head) -> Head:
        ours, seen = revisions.raw_of(self.rows, stood.revision), self.file.raw()
        if seen != ours and self.file.lies_ready(stood.turn, ours):
            self.file.put(stood.turn, over=revisions.raw_of(self.rows, stood.filed))
            seen = self.file.raw()
        if seen is None or seen == ours:
            return stood
        raw = self._checked(ours)
        return stood if raw == ours else self._take_in(raw, stood)

    def _take_in(self, raw: bytes, stood: Head) -> Head:
        self.outside = True
        why = f"{NAME} changed in an editor"
        new = revisions.add(self.rows, raw, parent=stood.revision, why=why, origin="outside")
        revisions.lead_on(self.rows, stood.revision, new)
        return revisions.move(self.rows, stood, new, filed=new)

    def _checked(self, ours: bytes | None) -> bytes:
        """What job.toml holds once nobody is in the middle of writing it: a text, or ``JobError``."""
        seen = self.file.raw()
        for _ in range(LOOKS):
            sleep(PAUSE)
            before, seen = seen, self.file.raw()
            if seen is not None and seen in (before, ours):
                break
        self.file.check()
        if seen is None or self.file.raw() != seen:
            found, rule = "another program is still writing to it", "It must be whole before it is taken in"
            raise refused(NAME, found, rule, "Wait for that program, and do it again")
        return seen
