"""How the command line speaks: answers to stdout, complaints to stderr, wrapped to the terminal."""

import shutil
import sys
import textwrap
import time
from collections.abc import Sequence

import typer

from beckwright.base.errors import JobError
from beckwright.base.words import held_together

WIDEST = 110
"""Columns beyond which a line of text is hard to follow."""
PATIENCE = 1.0
"""Seconds before a command says what it is doing."""


def complain(text: str) -> None:
    """Say what is wrong on stderr."""
    typer.echo(text, err=True)


def complain_of(error: JobError) -> None:
    """Say every problem on stderr, each with its rule and remedy."""
    count = len(error.problems)
    complain(f"{count} problem{'' if count == 1 else 's'}:")
    for problem in error.problems:
        complain(wrapped(str(problem), first="  - ", rest="    "))


def wrapped(text: str, *, first: str = "", rest: str | None = None) -> str:
    """Text wrapped to the terminal: ``first`` stands before its first line, ``rest`` before the others."""
    # No line may begin with the 3/8 of 2 3/8; what textwrap does not break at keeps them together.
    return textwrap.fill(
        held_together(text, "\xa0"),
        width=min(shutil.get_terminal_size((WIDEST, 24)).columns, WIDEST),
        initial_indent=first,
        subsequent_indent=first if rest is None else rest,
        break_on_hyphens=False,
        break_long_words=False,
    ).replace("\xa0", " ")


def table(rows: Sequence[Sequence[str]], *, heads: Sequence[str] = (), indent: str = "") -> str:
    """Rows of words in columns as wide as their widest word, two spaces apart."""
    every = [heads, *rows] if heads else rows
    widths = [max(map(len, column)) for column in zip(*every, strict=True)]
    return "\n".join(
        (indent + "  ".join(word.ljust(width) for word, width in zip(row, widths, strict=True))).rstrip()
        for row in every
    )


class Patience:
    """Says on a terminal what is being done, once it has taken longer than a person likes to wait unanswered."""

    def __init__(self) -> None:
        self.started = time.monotonic()
        self.shown = 0

    def say(self, text: str) -> None:
        """Put ``text`` in place of what was said before."""
        if sys.stderr.isatty() and time.monotonic() - self.started > PATIENCE:
            typer.echo(f"\r{text.ljust(self.shown)}", nl=False, err=True)
            self.shown = len(text)

    def hush(self) -> None:
        """Take away what was said."""
        if self.shown:
            typer.echo(f"\r{' ' * self.shown}\r", nl=False, err=True)
