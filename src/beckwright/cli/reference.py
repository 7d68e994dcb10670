"""The reference pages, written from the program itself so that they cannot disagree with it."""

import sys
from collections.abc import Callable, Iterator
from importlib import import_module
from pathlib import Path
from pkgutil import iter_modules
from typing import Annotated, get_args, get_origin

import typer

from beckwright.cli.commands import app

_WIDTH = 96
_MADE = "Written from the program by `python3 dev.py docs`; a test says when it is out of date.\n"


def commands() -> str:
    """Every command's help."""
    group = typer.main.get_command(app)
    whole = typer.Context(group, info_name="beckwright", terminal_width=_WIDTH)
    pages = [_help("beckwright", group.get_help(whole))]
    for name, command in getattr(group, "commands", {}).items():
        context = typer.Context(command, info_name=name, parent=whole, terminal_width=_WIDTH)
        pages.append(_help(f"beckwright {name}", command.get_help(context)))
    return "\n".join(["# Commands\n", _MADE, *pages])


def sources() -> str:
    """Every publication, how we know what it says, and the equations taken from it."""
    from beckwright.base.published import REGISTER
    from beckwright.tables.sources import SOURCES

    _load_equations()
    lines = [
        "# Sources\n",
        _MADE,
        "*stored*: we read it, or a quotation of it; *memory*: recalled and not looked up; *computed*: needs none.\n",
    ]
    for key, source in SOURCES.items():
        lines.append(f"## {key}\n\n{source.reference} (*{source.seen}*)\n")
        taken = sorted((each for each in REGISTER.values() if each.source == key), key=lambda each: each.name)
        lines.extend(f"- `{each.name}`: {each.summary} `{each.formula}` ({each.place})" for each in taken)
        lines.append("")
    return "\n".join(lines)


def nomenclature() -> str:
    """Every quantity of the house with its unit, and every symbol of the equations."""
    from beckwright.base import quantities
    from beckwright.base.published import REGISTER

    _load_equations()
    rows = ["| quantity | unit |", "|---|---|"]
    for name, hint in sorted(vars(quantities).items()):
        if get_origin(hint) is Annotated and get_args(hint)[0] is float:
            rows.append(f"| {name} | {get_args(hint)[1]} |")
    meanings: dict[tuple[str, str], set[str]] = {}
    for equation in REGISTER.values():
        for symbol in equation.symbols:
            meanings.setdefault((symbol.name, symbol.unit), set()).add(f"`{symbol.letter}` {symbol.meaning}")
    words = ["| input | unit | symbol and meaning |", "|---|---|---|"]
    words.extend(f"| {name} | {unit} | {'; '.join(sorted(told))} |" for (name, unit), told in sorted(meanings.items()))
    parts = ("# Words\n", _MADE, "## Quantities\n", *rows, "\n## Inputs of the equations\n", *words, "")
    return "\n".join(parts)


PAGES: dict[str, Callable[[], str]] = {"commands": commands, "sources": sources, "nomenclature": nomenclature}


def write_pages(folder: Path) -> Iterator[Path]:
    """Write every page into ``folder`` and yield where."""
    for name, page in PAGES.items():
        path = folder / f"{name}.md"
        path.write_text(page(), encoding="utf-8")
        yield path


def _load_equations() -> None:
    package = import_module("beckwright.equations")
    for module in iter_modules(package.__path__):
        import_module(f"beckwright.equations.{module.name}")


def _help(title: str, text: str) -> str:
    return f"## {title}\n\n```text\n{text.strip()}\n```\n"


if __name__ == "__main__":
    for written in write_pages(Path(sys.argv[1])):
        sys.stdout.write(f"Wrote {written.name}.\n")
