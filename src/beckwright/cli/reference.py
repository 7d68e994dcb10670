"""The command reference, written from the commands themselves so that it cannot disagree with them."""

import sys
from collections.abc import Iterator

import typer

from beckwright.cli.commands import app

_WIDTH = 96


def reference() -> str:
    """Every command's help as one page of Markdown."""
    group = typer.main.get_group(app)
    pages = ["# Commands\n", "Written from the program by `python3 dev.py docs`; a test says when it is out of date.\n"]
    return "\n".join([*pages, *_pages(group)])


def _pages(group: typer.core.TyperGroup) -> Iterator[str]:
    whole = typer.Context(group, info_name="beckwright", terminal_width=_WIDTH, **group.context_settings)
    yield _page("beckwright", group.get_help(whole))
    for name, command in group.commands.items():
        context = typer.Context(command, info_name=name, parent=whole, terminal_width=_WIDTH)
        yield _page(f"beckwright {name}", command.get_help(context))


def _page(title: str, text: str) -> str:
    return f"## {title}\n\n```text\n{text.strip()}\n```\n"


if __name__ == "__main__":
    sys.stdout.write(reference())
