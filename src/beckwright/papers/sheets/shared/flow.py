"""Blocks of words and tables set one under the other in columns, and on to further sheets where they are long."""

from collections.abc import Sequence

from beckwright.base.values import value
from beckwright.papers.drawing import Across, Mark, Millimetres
from beckwright.papers.sheets.shared.frame import heading, notes
from beckwright.papers.sheets.shared.table import table

HEAD: Millimetres = 8.0
"""Room for a block's heading and what parts it from the block over it, mm."""
AFTER: Millimetres = 3.0


@value
class Block:
    """A heading with a table under it, or with numbered lines.

    widths  of the columns, mm; empty for numbered lines: each row is then one line
    rows    the first is the head of a table
    """

    title: str
    rows: tuple[tuple[str, ...], ...]
    widths: tuple[Millimetres, ...] = ()
    across: tuple[Across, ...] = ()


@value
class Column:
    """Room for blocks: left, width, and from where down to where, mm."""

    left: Millimetres
    wide: Millimetres
    top: Millimetres
    low: Millimetres


def flowed(
    blocks: Sequence[Block],
    columns: Sequence[Column],
    *,
    height: Millimetres,
    step: Millimetres,
    first: Sequence[Column] = (),
) -> tuple[tuple[Mark, ...], ...]:
    """Set the blocks; gives the marks of each sheet. A table too long for a column goes on in the next one.

    columns  of one sheet: every further sheet has the same
    first    of a sheet before those, where something else leaves room on it
    """
    pages: list[Sequence[Column]] = [first] if first else [columns]
    sheets: list[list[Mark]] = [[]]
    place, down = 0, pages[0][0].top
    for block in blocks:
        rest: Block | None = block
        while rest is not None:
            column = pages[-1][place]
            marks, end, rest = _set(rest, column, down, height, step)
            sheets[-1] += marks
            down = end
            if rest is not None:
                place += 1
                if place == len(pages[-1]):
                    pages.append(columns)
                    sheets.append([])
                    place = 0
                down = pages[-1][place].top
    return tuple(map(tuple, sheets))


def _set(
    block: Block, column: Column, down: Millimetres, height: Millimetres, step: Millimetres
) -> tuple[list[Mark], Millimetres, Block | None]:
    """Set as much of a block as there is room for; gives back its lower end and what is left of it."""
    title = heading((column.left, down - 5.5), block.title, 3.2)
    if not block.widths:
        lines = tuple(" ".join(row) for row in block.rows)
        said, low = notes((column.left, down - HEAD - height * 1.4), lines, column.wide, height)
        fits = low + height * 2.1 >= column.low or down == column.top
        return ([title, *said], low - AFTER, None) if fits else ([], down, block)
    room = int((down - HEAD - column.low) / step)
    if room < min(3, len(block.rows)) and down < column.top:
        return [], down, block
    here = block.rows[: max(room, 2)]
    drawn, low = table((column.left, down - HEAD), block.widths, here, height=height, step=step, across=block.across)
    left = block.rows[len(here) :]
    rest = None
    if left:
        title_on = block.title if block.title.endswith(", on") else f"{block.title}, on"
        rest = Block(title=title_on, rows=(block.rows[0], *left), widths=block.widths, across=block.across)
    return [title, *drawn], low - AFTER, rest
