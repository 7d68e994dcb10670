"""What a text of job.toml holds, and where each key stands in it."""

import re
import tomllib
from collections import OrderedDict
from collections.abc import Iterator, Mapping
from functools import lru_cache
from threading import Lock
from types import MappingProxyType
from typing import Any

KEY = r"""(?:[A-Za-z0-9_-]+|"[^"\n]*"|'[^'\n]*')"""
DOTTED = rf"{KEY}(?:\s*\.\s*{KEY})*"
HEADER = re.compile(rf"^\s*(\[\[?)\s*({DOTTED})\s*\]")
ASSIGNED = re.compile(rf"^\s*({DOTTED})\s*=\s*(.*)$", re.DOTALL)
TOKEN = re.compile(r'"""(?:\\.|.)*?"""|\'\'\'.*?\'\'\'|"(?:\\.|[^"\\\n])*"|\'[^\'\n]*\'|#[^\n]*|[\[\]{}\n]', re.DOTALL)

Path = tuple[str | int, ...]

LONG_LINE = 2000
_DEEP = re.compile(rf"^\s*(?:\[\[?\s*)?{KEY}(?:\s*\.\s*{KEY}){{99}}", re.MULTILINE)

TEXTS_HELD = 4
"""Texts kept as parsed: while a point is dragged the same one is edited many times a second."""


_held: OrderedDict[str, dict[str, Any]] = OrderedDict()
_holding = Lock()


def toml_held(text: str) -> dict[str, Any]:
    """What a TOML text holds, parsed once. To be read only: others are given the same.

    Raises ValueError where it is no TOML, and RecursionError where it is nested deeper than anybody can follow.
    """
    with _holding:
        if text in _held:
            _held.move_to_end(text)
            return _held[text]
    return known(text, _parsed(text))


def known(text: str, held: dict[str, Any]) -> dict[str, Any]:
    """Let ``toml_held`` know what a text holds, and give it back."""
    with _holding:
        _held[text] = held
        _held.move_to_end(text)
        while len(_held) > TEXTS_HELD:
            _held.popitem(last=False)
    return held


def _parsed(text: str) -> dict[str, Any]:
    # A name of a hundred thousand parts would keep the parser busy for hours.
    if any(len(line) > LONG_LINE for line in text.split("\n")) and _DEEP.search(text):
        raise RecursionError
    return tomllib.loads(text)


@lru_cache(maxsize=TEXTS_HELD)
def key_lines(text: str) -> Mapping[Path, int]:
    """Return the line of every table, key and listed element of a TOML text that parses; counts start at line 1.

    A path is a tuple of keys, and of positions from 0 in lists.
    """
    lines: dict[Path, int] = {}
    counts: dict[Path, int] = {}
    table: Path = ()
    for number, statement in _statements(text):
        header, assigned = HEADER.match(statement), ASSIGNED.match(statement)
        if header:
            table = _opened(_parts(header[2]), listed=header[1] == "[[", counts=counts)
            for length in range(1, len(table) + 1):
                lines.setdefault(table[:length], number)
        elif assigned:
            path = table + _parts(assigned[1])
            for length in range(len(table) + 1, len(path) + 1):
                lines.setdefault(path[:length], number)
            lines.update({(*path, place): line for place, line in _elements(assigned[2], number)})
    return MappingProxyType(lines)


class KeyLines(Mapping[Path, int]):
    """``key_lines`` of a text, found when the first of them is asked for: only who tells of a fault asks."""

    def __init__(self, text: str) -> None:
        self._text = text

    def __getitem__(self, path: Path) -> int:
        return key_lines(self._text)[path]

    def __iter__(self) -> Iterator[Path]:
        return iter(key_lines(self._text))

    def __len__(self) -> int:
        return len(key_lines(self._text))


def line_of(path: Path, lines: Mapping[Path, int]) -> int | None:
    """Return the line of a path, or of the nearest thing around it that has a line."""
    for length in range(len(path), 0, -1):
        if path[:length] in lines:
            return lines[path[:length]]
    return None


def _statements(text: str) -> Iterator[tuple[int, str]]:
    """Lines joined until their brackets and triple quotes are closed, with the number of the first."""
    first, start, depth = 1, 0, 0
    for token in TOKEN.finditer(text + "\n"):
        mark = token[0]
        depth += (mark in "[{") - (mark in "]}") if len(mark) == 1 and mark != "\n" else 0
        if mark == "\n" and depth <= 0:
            statement = text[start : token.start()]
            yield first, statement
            first, start, depth = first + statement.count("\n") + 1, token.end(), 0


def _parts(dotted: str) -> tuple[str, ...]:
    return tuple(part.strip("\"'") for part in re.findall(KEY, dotted))


def _opened(parts: tuple[str, ...], *, listed: bool, counts: dict[Path, int]) -> Path:
    """Path of a table header, each list on the way standing at its newest element."""
    path: Path = ()
    for place, part in enumerate(parts):
        path = (*path, part)
        if listed and place == len(parts) - 1:
            counts[path] = counts.get(path, 0) + 1
        if path in counts:
            path = (*path, counts[path] - 1)
    return path


def _elements(written: str, first: int) -> Iterator[tuple[int, int]]:
    """Position and line of each bracketed element of a list."""
    if not written.startswith("["):
        return
    depth = place = 0
    for token in TOKEN.finditer(written):
        mark = token[0]
        if mark in ("[", "{"):
            depth += 1
            if depth == 2:
                yield place, first + written.count("\n", 0, token.start())
                place += 1
        elif mark in ("]", "}"):
            depth -= 1
