"""Tables of two revisions held against each other, in words: the ground point by point, the others line by line."""

from beckwright.base.values import value
from beckwright.base.words import opening
from beckwright.job.edit import changes
from beckwright.site import Keeper, Version
from beckwright.survey.resurveyed import NAME as SURVEY
from beckwright.survey.resurveyed import against, lines_against, lines_in, points_in

GROUND = "the ground, survey.csv"


@value
class TableChange:
    """One table that differs. ``str()`` gives it as a sentence without its stop.

    what           the table, a file's name as it is
    before, after  how much it holds; empty where there was, or is, none
    differs        what is otherwise, in words; empty where only one of them has it
    """

    what: str
    before: str
    after: str
    differs: str

    def __str__(self) -> str:
        what = opening(self.what) if self.what == GROUND else self.what
        if not self.before:
            return f"{what} put in the folder: {self.after}"
        if not self.after:
            return f"{what} taken out of the folder: {self.before}"
        return f"{what}: {self.differs}"


def tables_changed(keeper: Keeper, old: Version, new: Version) -> tuple[TableChange, ...]:
    """The tables that differ between two revisions, the ground first."""
    was, now = dict(old.tables), dict(new.tables)
    names = sorted(
        (name for name in {*was, *now} if was.get(name) != now.get(name)), key=lambda name: (name != SURVEY, name)
    )
    return tuple(_changed(name, _raw(keeper, was.get(name)), _raw(keeper, now.get(name))) for name in names)


def told_changes(keeper: Keeper, old: Version, new: Version) -> list[str]:
    """All that differs between two revisions, a sentence each: tables, then text. Raises ``JobError``."""
    tables = [str(change) for change in tables_changed(keeper, old, new)]
    return [*tables, *(str(change) for change in changes(old.text, new.text))]


def files_changed(old: Version, new: Version) -> list[str]:
    """Names of the files that differ, job.toml first."""
    was, now = dict(old.tables), dict(new.tables)
    job = [] if old.text == new.text else ["job.toml"]
    return [*job, *sorted(name for name in {*was, *now} if was.get(name) != now.get(name))]


def _changed(name: str, old: bytes | None, new: bytes | None) -> TableChange:
    moved = against(old, new) if name == SURVEY and old is not None and new is not None else None
    differs = "" if old is None or new is None else str(moved) if moved else lines_against(old, new)
    what = GROUND if name == SURVEY else name
    return TableChange(what=what, before=_holds(name, old), after=_holds(name, new), differs=differs)


def _holds(name: str, raw: bytes | None) -> str:
    if raw is None:
        return ""
    return (points_in(raw) if name == SURVEY else "") or lines_in(raw)


def _raw(keeper: Keeper, digest: str | None) -> bytes | None:
    return None if digest is None else keeper.table(digest)
