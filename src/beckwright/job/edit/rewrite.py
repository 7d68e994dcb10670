"""Write changes into a TOML text: only the statements that change are parsed and written again."""

from collections.abc import Iterable, Mapping
from typing import Any

from beckwright.base.values import value
from beckwright.job.edit.numbers import spots_of
from beckwright.job.edit.statements import Statement, statements
from beckwright.job.wording.keylines import Path


@value
class Put:
    """Let ``held`` stand at a path. None takes out what stands there: a key, a row or an element of a list."""

    path: Path
    held: Any


@value
class Insert:
    """Put a row or an element into the list at a path, before the one of that number."""

    path: Path
    number: int
    held: Any


Rewrite = Put | Insert
Splice = tuple[int, int, str]
"""Characters from, to, and what stands there instead."""


def rewrite(text: str, changes: Iterable[Rewrite]) -> str:
    """Return the text with the changes made. All paths are those of the text as it came.

    Comments, blank lines and the spelling of everything else stay. Where several changes meet in one list they are
    made in the order given.
    """
    text = text if text.endswith("\n") or not text else f"{text}\n"
    found = statements(text)
    splices: list[Splice] = []
    within: dict[int, tuple[Statement, list[Rewrite]]] = {}
    for change in changes:
        around = _around(found, change)
        if around is None:
            splices.extend(_placed(text, found, change))
        else:
            within.setdefault(around.start, (around, []))[1].append(change)
    splices.extend(_written_again(text, around, inside) for around, inside in within.values())
    return _spliced(text, splices)


def numbers_put(text: str, given: dict[str, Any], changes: Iterable[Rewrite]) -> dict[str, Any] | None:
    """What a text holds once ``rewrite`` has made the changes; None where they do more than put numbers for numbers.

    Parsing it all again takes longest of an edit, and tells nothing that is not known. ``given``, what the text holds
    now, stays as it is. A number whose statement is not found is put beside it: then only the parser can tell.
    """
    found = statements(text)
    for change in changes:
        if isinstance(change, Insert) or type(change.held) not in (int, float) or _around(found, change) is None:
            return None
        try:
            before = _at(given, change.path)
        except (KeyError, IndexError, TypeError):
            return None
        if type(before) not in (int, float):
            return None
        held = _spelled(change.path[-1], change.held, before)
        # What says the same stays as it is written: 0 below nothing, too.
        if held != before or type(held) is not type(before):
            given = _with(given, change.path, held)
    return given


def _with(holder: Any, path: Path, held: Any) -> Any:
    """A copy of a table or a list with one thing in it put anew; what lies beside it is the same."""
    if not path:
        return held
    made = holder.copy()
    made[path[0]] = _with(holder[path[0]], path[1:], held)
    return made


def _around(found: tuple[Statement, ...], change: Rewrite) -> Statement | None:
    """The key statement in which a change falls."""
    for statement in found:
        if not statement.header and change.path[: len(statement.path)] == statement.path:
            return statement
    return None


def _written_again(text: str, around: Statement, changes: list[Rewrite]) -> Splice:
    if any(isinstance(change, Put) and change.path == around.path and change.held is None for change in changes):
        return around.start, around.end, ""
    piece = text[around.start : around.end]
    plain = _numbers_again(piece, around, changes)
    if plain is not None:
        return around.start, around.end, plain
    import tomlkit

    document: Any = tomlkit.parse(piece)
    for change in changes:
        inside = change.path[len(around.table) :]
        if isinstance(change, Insert):
            _at(document, inside).insert(change.number, change.held)
        else:
            _put(_at(document, inside[:-1]), inside[-1], change.held)
    return around.start, around.end, tomlkit.dumps(document)


def _numbers_again(piece: str, around: Statement, changes: list[Rewrite]) -> str | None:
    """A statement of numbers with some of them changed where they stand; None where there is more to it.

    A line is dragged by two numbers at a time, and to parse all the others again takes longest of the whole edit.
    """
    spots = spots_of(piece)
    splices: dict[Path, Splice] = {}
    for change in changes:
        spot = spots.get(change.path[len(around.path) :])
        if (
            spot is None
            or change.path in splices
            or isinstance(change, Insert)
            or type(change.held) not in (int, float)
        ):
            return None
        held = _spelled(change.path[-1], change.held, spot.number)
        same = held == spot.number and type(held) is type(spot.number)
        splices[change.path] = spot.start, spot.end, piece[spot.start : spot.end] if same else str(held)
    return _spliced(piece, list(splices.values()))


def _at(document: Any, path: Path) -> Any:
    for part in path:
        document = document[part]
    return document


def _put(holder: Any, key: str | int, held: Any) -> None:
    known = key < len(holder) if isinstance(key, int) else key in holder
    if held is None:
        if known:
            holder.pop(key)
        return
    stands: Any = holder[key] if known else None
    # tomlkit hands out true and false as they are.
    before = stands.unwrap() if hasattr(stands, "unwrap") else stands
    held = _spelled(key, held, before)
    if before != held or type(before) is not type(held):
        holder[key] = held


def _placed(text: str, found: tuple[Statement, ...], change: Rewrite) -> Iterable[Splice]:
    """Splices of a change that falls between statements."""
    if isinstance(change, Insert):
        yield _new_row(text, found, change)
    elif change.held is None:
        yield from _gone(text, found, change.path)
    else:
        yield _new_key(text, found, change)


def _new_key(text: str, found: tuple[Statement, ...], change: Put) -> Splice:
    table = change.path[:-1]
    line = _lines({str(change.path[-1]): change.held})
    beside = [statement.end for statement in found if statement.table == table]
    if beside or not table:
        at = max(beside, default=0)
        return at, at, line
    return len(text), len(text), f"\n[{_dotted(table)}]\n{line}"


def _new_row(text: str, found: tuple[Statement, ...], change: Insert) -> Splice:
    block = f"[[{_dotted(change.path)}]]\n{_lines(change.held)}"
    if change.number:
        at = max(statement.end for statement in _under(found, (*change.path, change.number - 1)))
        return at, at, f"\n{block}"
    below = _under(found, (*change.path, 0))
    return (below[0].start, below[0].start, f"{block}\n") if below else (len(text), len(text), f"\n{block}")


def _gone(text: str, found: tuple[Statement, ...], path: Path) -> Iterable[Splice]:
    """Take a row out with the comments inside it, and the blank line after it."""
    inside = _under(found, path)
    for place, statement in enumerate(inside):
        last = place == len(inside) - 1
        following = [other.start for other in found if other.start >= statement.end]
        joined = not last and following[0] == inside[place + 1].start
        end = following[0] if joined else statement.end
        yield statement.start, end + (last and text.startswith("\n", end)), ""


def _under(found: tuple[Statement, ...], path: Path) -> list[Statement]:
    return [statement for statement in found if statement.path[: len(path)] == path]


def _lines(row: Mapping[str, Any]) -> str:
    import tomlkit

    written = tomlkit.document()
    for key, held in row.items():
        written.add(key, _inline(_spelled(key, held)))
    return tomlkit.dumps(written)


def _spelled(key: str | int, held: Any, before: Any = None) -> Any:
    """A whole number without a point where one stood, and where it is millimetres, as people write them."""
    whole = isinstance(held, float) and held.is_integer()
    return int(held) if whole and (isinstance(before, int) or str(key).endswith("_mm")) else held


def _inline(held: Any) -> Any:
    """A value on one line: a section within a row is written in braces, and so are those in its lists."""
    import tomlkit

    if isinstance(held, Mapping):
        table = tomlkit.inline_table()
        table.update({key: _inline(inner) for key, inner in held.items()})
        return table
    if isinstance(held, list | tuple):
        array = tomlkit.array()
        array.extend([_inline(inner) for inner in held])
        return array
    return held


def _dotted(path: Path) -> str:
    import tomlkit

    return tomlkit.key([part for part in path if isinstance(part, str)]).as_string()


def _spliced(text: str, splices: list[Splice]) -> str:
    pieces, at = [], 0
    for start, end, instead in sorted(splices, key=lambda splice: splice[:2]):
        pieces += [text[at:start], instead]
        at = end
    return "".join([*pieces, text[at:]])
