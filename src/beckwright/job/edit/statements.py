"""Where each statement of a TOML text begins and ends, so that one can be changed and the rest left to the letter."""

import re
from functools import lru_cache

from beckwright.base.values import value
from beckwright.job.wording.keylines import ASSIGNED, HEADER, KEY, TEXTS_HELD, TOKEN, Path, key_lines


@value
class Statement:
    """A header, or a key with its value, over whole lines.

    table       the table it stands in; of a header, its own path
    start, end  characters of the text, the line's end included
    """

    path: Path
    table: Path
    start: int
    end: int
    header: bool


@lru_cache(maxsize=TEXTS_HELD)
def statements(text: str) -> tuple[Statement, ...]:
    """Return the statements of a TOML text that parses, in order."""
    named = _named(text)
    found = []
    start, line, depth = 0, 1, 0
    for token in TOKEN.finditer(text):
        mark = token[0]
        depth += (mark in ("[", "{")) - (mark in ("]", "}"))
        if mark == "\n" and depth <= 0:
            if line in named:
                found.append(_statement(named[line], text, start, token.end()))
            line += text.count("\n", start, token.end())
            start = token.end()
    return tuple(found)


def _named(text: str) -> dict[int, Path]:
    """The longest path that begins on each line."""
    named: dict[int, Path] = {}
    for path, line in key_lines(text).items():
        if len(path) > len(named.get(line, ())):
            named[line] = path
    return named


def _statement(path: Path, text: str, start: int, end: int) -> Statement:
    piece = text[start:end]
    assigned = ASSIGNED.match(piece)
    if HEADER.match(piece) or assigned is None:
        return Statement(path=path, table=path, start=start, end=end, header=True)
    while isinstance(path[-1], int):
        path = path[:-1]
    table = path[: len(path) - len(re.findall(KEY, assigned[1]))]
    return Statement(path=path, table=table, start=start, end=end, header=False)
