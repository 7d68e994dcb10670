"""One job folder while it lies open: its keeper, and what has been worked out, so that nothing is worked out twice."""

from collections import OrderedDict
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from pathlib import Path
from threading import Lock
from typing import TYPE_CHECKING, Any, TypeVar

from beckwright.base.errors import Problem
from beckwright.base.words import reads
from beckwright.beside import Beside
from beckwright.compose import Design, Works, design
from beckwright.film import findings_of_films
from beckwright.job.edit import changes, edit, read_edit
from beckwright.job.model import Survey, Title
from beckwright.languages import spoken
from beckwright.site import Conflict, Keeper, Saved, Tables, Version
from beckwright.stages.ground import Ground, build_ground
from beckwright.web.desk.at_once import apart
from beckwright.web.desk.shelf import Shelf
from beckwright.web.desk.state import Told, ground_told
from beckwright.web.desk.turns import Turns

if TYPE_CHECKING:
    from beckwright.base.findings import Finding
    from beckwright.papers import Change
    from beckwright.papers.drawing import Sheet
    from beckwright.papers.seen import Seen

T = TypeVar("T")
Edits = Sequence[Mapping[str, Any]]
"""Edits in their JSON form."""

DESIGNS_HELD = 4
"""The job as it stands, and a few before it: who undoes a change should not wait."""


MOST_TOLD = 3
"""Things told of one revision; who wants them all can hold the two texts against each other."""


class Apart(Exception):  # noqa: N818  # A parting of ways is no error: both are kept.
    """Two people changed the same thing, each without the other's change before them."""

    def __init__(self, conflict: Conflict) -> None:
        self.conflict = conflict
        super().__init__(conflict.ours.revision.why)

    @property
    def problem(self) -> Problem:
        """The same as a person is told it."""
        ours, theirs = (each.revision for each in (self.conflict.ours, self.conflict.theirs))
        return Problem(
            place="job.toml",
            found=f"it was changed meanwhile: {theirs.why}",
            rule="Two changes of one thing from one revision cannot both stand",
            remedy=f"Yours is kept as revision {ours.number}. See both under Revisions, and let one of them stand",
        )


class Laid:
    """One text of the job designed, and what follows from it, each part worked out once, when it is first asked for."""

    def __init__(
        self,
        designed: Design,
        revisions: "Callable[[Title], tuple[Change, ...]]" = lambda _: (),
        address: str | None = None,
        seen: "Callable[[Design], Seen | None]" = lambda _: None,
        films: "Callable[[Design], tuple[Finding, ...]]" = findings_of_films,
    ) -> None:
        self.design = designed
        self.works = Works(designed)
        self._revisions, self._address, self._seen, self._films = revisions, address, seen, films
        self._lock = Lock()
        self._made: dict[str, Any] = {}

    def film_findings(self) -> "tuple[Finding, ...]":
        """Findings of the films."""
        return self._once("films", lambda: self._films(self.design))

    def findings(self) -> "tuple[Finding, ...]":
        """Findings of film and works, the heaviest first: those the design itself cannot know."""
        told = (*self.film_findings(), *self.works.findings)
        return tuple(sorted(told, key=lambda finding: -finding.severity))

    def sheets(self, progress: Callable[[int, int], None] | None = None) -> "dict[str, Sheet]":
        """The sheets by name, in the order of the set. ``progress`` as ``draw_sheets`` has it.

        Drawn once; the index again where a revision has been given a name since.
        """
        from beckwright.papers import draw_sheets, indexed

        changes = self._revisions(self.design.job.title)

        def make() -> "tuple[Sheet, ...]":
            return draw_sheets(
                self.design,
                self.works,
                changes=changes,
                address=self._address,
                seen=self._seen(self.design),
                progress=progress,
            )

        sheets, revisions = f"sheets in {spoken()}", f"told in {spoken()}"
        drawn = self._once(sheets, make)
        told = self._once(revisions, lambda: changes)
        if told != changes:
            drawn = indexed(self.design, drawn, changes=changes, address=self._address)
            with self._lock:
                self._made |= {sheets: drawn, revisions: changes}
        return {sheet.name: sheet for sheet in drawn}

    @property
    def drawn(self) -> bool:
        """Whether the sheets are there already, in the language of who asks; asked without waiting for who draws."""
        return f"sheets in {spoken()}" in self._made

    def _once(self, name: str, make: Callable[[], T]) -> T:
        with self._lock:
            if name not in self._made:
                self._made[name] = make()
            made: T = self._made[name]
            return made


class Desk:
    """The open job. Every method may be called from any thread.

    beside  who takes the films; without it they are taken here
    """

    def __init__(self, folder: Path, address: str | None = None, beside: Beside | None = None) -> None:
        self.folder, self.address = folder, address
        self._beside = Beside(0) if beside is None else beside
        self.keeper = Keeper(folder)
        self.shelf = Shelf(self.keeper)
        self.turns = Turns()
        self._lock, self._keeping, self._slow, self._filming = Lock(), Lock(), Lock(), Lock()
        self._grounds: list[tuple[Survey, Ground, Told]] = []
        self._laid: OrderedDict[Any, Laid] = OrderedDict()
        self._tried: tuple[Any, Design] | None = None

    def stands(self) -> Version:
        """The text that stands, with its revision; what an editor wrote meanwhile is it."""
        return self.keeper.standing()

    def keep(self, edits: Edits, *, mark: str, based_on: int) -> None:
        """Keep edits made on a revision, once the job they make can be designed.

        Where another change came first the edits are made on that one, as long as the two touch different things.
        Sent again they go the same way again, and every mark on it is known. Raises ``JobError`` and ``Apart``.
        """
        with self._keeping:
            turn = 0
            while isinstance(kept := self._kept(edits, f"{mark}.{turn}", based_on), Conflict):
                if not apart(kept, edits):
                    raise Apart(kept)
                turn, based_on = turn + 1, kept.theirs.revision.number

    def _kept(self, edits: Edits, mark: str, based_on: int) -> Saved | Conflict:
        base = self.keeper.version(based_on)
        text = edited(base.text, edits)
        self._laid_with(text, self.keeper.tables_with(text, base))
        return self.keeper.save(text, why=why(base.text, text), mark=mark, based_on=based_on)

    def tried(self, text: str, base: Version) -> tuple[Design, Told]:
        """A text made from a revision designed with its tables, and its ground told. Raises ``JobError``."""
        tables = self.keeper.tables_with(text, base)
        designed, told = self._designed(text, tables)
        # Let go where it was tried last, it is kept as it was answered.
        self._tried = ((text, tables, reads()), designed)
        return designed, told

    def laid(self, held: Version) -> Laid:
        """A revision designed with its own tables, once. Raises ``JobError``."""
        return self._laid_with(held.text, held.tables)

    def _designed(self, text: str, tables: Tables) -> tuple[Design, Told]:
        job = self.shelf.read(text, tables)
        ground, told = self._ground_of(job.survey)
        return design(job, ground), told

    def _laid_with(self, text: str, tables: Tables) -> Laid:
        key = (text, tables, reads())
        with self._lock:
            made = self._laid.pop(key, None)
            if made is None:
                tried = self._tried
                designed = tried[1] if tried and tried[0] == key else self._designed(text, tables)[0]
                made = Laid(designed, self._revisions, self.address, self._seen, self._films)
            self._laid[key] = made
            while len(self._laid) > DESIGNS_HELD:
                self._laid.popitem(last=False)
        return made

    def _revisions(self, title: Title) -> "tuple[Change, ...]":
        from beckwright.web.versions.revised import changes_told

        return changes_told(self.keeper, title)

    def _seen(self, designed: Design) -> "Seen":
        """Levels shot and photographs, for the as-built sheets."""
        from beckwright.papers.seen import seen_in

        return seen_in(self.folder, designed, self.keeper.photographs())

    def _films(self, designed: Design) -> "tuple[Finding, ...]":
        return self._beside.ask(findings_of_films, designed).awaited()

    @contextmanager
    def slowly(self) -> Iterator[tuple[Laid, Version]]:
        """The job as it stands once nothing else slow is being worked out.

        Who waited while the line moved on is answered for where it stands now, and what it left is never worked out.
        What is quick goes first.
        """
        with self._slow, self.turns.slow():
            held = self.stands()
            yield self.laid(held), held

    @contextmanager
    def filming(self) -> Iterator[tuple[Laid, Version]]:
        """As ``slowly``, for films: another process takes them, so that whatever else is slow need not wait."""
        with self._filming, self.turns.slow():
            held = self.stands()
            yield self.laid(held), held

    def ground_told(self, laid: Laid) -> Told:
        """The ground of a design, as the pages draw it."""
        return self._ground_of(laid.design.job.survey)[1]

    def _ground_of(self, survey: Survey) -> tuple[Ground, Told]:
        """The surface of a survey: built again only for another one, for nobody moves survey points with the line."""
        held = next((each for each in self._grounds if each[0] is survey), None)
        if held is None:
            ground = build_ground(survey)
            held = (survey, ground, ground_told(ground))
            self._grounds = [*self._grounds, held][-DESIGNS_HELD:]
        return held[1], held[2]


def edited(text: str, edits: Edits) -> str:
    """A text with edits made one after the other. Raises ``JobError``."""
    for given in edits:
        text = edit(text, read_edit(given))
    return text


def why(old: str, new: str) -> str:
    """What differs between two texts, in words."""
    return in_short([str(change) for change in changes(old, new)])


def in_short(told: Sequence[str]) -> str:
    """The first of many differences, and how many more there are."""
    more = [f"and {len(told) - MOST_TOLD} more"] if len(told) > MOST_TOLD else []
    return "; ".join([*told[:MOST_TOLD], *more]) or "nothing but comments"
