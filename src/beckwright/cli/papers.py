"""The papers from the command line: for whom, in which forms, with the revisions the job remembers."""

import gc
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from difflib import get_close_matches
from pathlib import Path
from typing import TYPE_CHECKING

import typer

from beckwright.base.errors import JobError, Problem
from beckwright.beside import FOR_PAPERS, FOR_SHEETS, Beside
from beckwright.cli.tell import Patience, complain, complain_of

if TYPE_CHECKING:
    from beckwright.compose import Design
    from beckwright.job.model import Title
    from beckwright.papers import Change, Form, Reader
    from beckwright.papers.seen import Seen

UNUSABLE = 2
"""What the command ends with when what it was given cannot be used."""


def write(
    folder: Path, into: Path, design: "Callable[[], Design]", *, readers: Sequence[str], forms: Sequence[str]
) -> tuple[Path, ...]:
    """Write the papers of the job in ``folder``. Ends the command where a name is unknown or nothing can be written."""
    patience = Patience()
    patience.say("Designing ...")
    # The other processes read their libraries while this one reads its own.
    libraries = FOR_SHEETS if forms and {"dxf", "other"}.isdisjoint(forms) else FOR_PAPERS
    with _unswept(), Beside(libraries=libraries) as beside:
        from beckwright.papers import readers_named, write_papers

        try:
            chosen, wanted = _chosen(readers_named, readers, forms)
        except JobError as error:
            complain_of(error)
            raise typer.Exit(UNUSABLE) from error
        designed = design()
        try:
            return write_papers(
                designed,
                into,
                readers=chosen,
                forms=wanted,
                changes=changes(folder, designed.job.title),
                seen=seen(folder, designed),
                progress=lambda words: patience.say(words[:1].upper() + words[1:]),
                beside=beside,
            )
        except OSError as error:
            complain(f"The papers cannot be written to {into}: {error.strerror}. Choose another folder.")
            raise typer.Exit(UNUSABLE) from error
        finally:
            patience.hush()


@contextmanager
def _unswept() -> Iterator[None]:
    """Look for no things that hold each other: a tenth of the time, for hardly any are made before the command ends."""
    swept = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if swept:
            gc.enable()


def _chosen(
    readers_named: "Callable[[Sequence[str]], tuple[Reader, ...]]", readers: Sequence[str], forms: Sequence[str]
) -> "tuple[tuple[Reader, ...], tuple[Form, ...]]":
    """Readers and forms by the names given; every name nobody knows at once."""
    from beckwright.papers import USUAL_FORMS, Form, Reader

    problems, known = list[Problem](), tuple[Reader, ...]()
    try:
        known = readers_named(readers)
    except JobError as error:
        problems += error.problems
    names = [word.lower().lstrip(".") for word in forms]
    problems += [_no_form(given) for given, name in zip(forms, names, strict=True) if name not in [*Form]]
    if problems:
        raise JobError(problems)
    return known, tuple(dict.fromkeys(Form(name) for name in names)) or USUAL_FORMS


def _no_form(given: str) -> Problem:
    from beckwright.papers import EVERY_FORM

    near = get_close_matches(given.lower(), EVERY_FORM, n=1, cutoff=0.5)
    return Problem(
        place="form",
        found=f"“{given}” is no form of the papers",
        rule=f"The forms are {', '.join(EVERY_FORM)}",
        remedy=f"Ask for {near[0]}" if near else "Ask for one of them",
    )


def changes(folder: Path, title: "Title") -> "tuple[Change, ...]":
    """Revisions the index tells; none where the folder keeps none: looking makes no file in it."""
    from beckwright.site import Keeper
    from beckwright.site.store import NAME

    if not (folder / NAME).is_file():
        return ()
    from beckwright.web.versions.revised import changes_told

    with Keeper(folder) as keeper:
        return changes_told(keeper, title)


def seen(folder: Path, designed: "Design") -> "Seen":
    """Levels shot and photographs, for the as-built sheets; looking makes no file in the folder."""
    from beckwright.papers.seen import seen_in
    from beckwright.site import Keeper
    from beckwright.site.store import NAME

    if not (folder / NAME).is_file():
        return seen_in(folder, designed)
    with Keeper(folder) as keeper:
        return seen_in(folder, designed, keeper.photographs())
