"""What was understood of a survey file, in words a builder can shake the head at."""

from typing import TYPE_CHECKING

from beckwright.base.words import grouped
from beckwright.cli.survey.given import ruled
from beckwright.cli.tell import table, wrapped

if TYPE_CHECKING:
    from beckwright.survey.understood import Understood

MOST = 12
"""Codes that are told one by one."""


def previewed(understood: "Understood") -> str:
    """How many points, where, how high, their codes, and what was taken for granted."""
    from beckwright.survey.told import extent_told

    count = len(understood.points)
    parts = [f"{understood.source}: {understood.kind}, {grouped(count)} point{'' if count == 1 else 's'}"]
    if count:
        extent = extent_told(
            understood.points, understood.levels, shift=understood.shift, lines=understood.breakline_counts
        )
        parts += [table(extent, indent="  "), _codes(understood)]
    if understood.notes:
        parts.append("\n".join(wrapped(note, first="  - ", rest="    ") for note in understood.notes))
    return "\n\n".join(part for part in parts if part)


def questions_in_words(understood: "Understood") -> str:
    """Each question with the options that answer it."""
    count = len(understood.questions)
    parts = [f"{count} question{'' if count == 1 else 's'}:"]
    for number, question in enumerate(understood.questions, 1):
        asked = wrapped(question.says, first=f"  {number}. ", rest="     ")
        parts.append(f"{asked}\n{table(question.choices, indent='       ')}")
    return "\n\n".join(parts)


def _codes(understood: "Understood") -> str:
    rows = [
        (
            told.written or "(none)",
            told.became if told.known else "as it is" if told.written else "none",
            str(told.count),
        )
        for told in understood.codes_told[:MOST]
    ]
    more = f"\n  and {len(understood.codes_told) - MOST} more" if len(understood.codes_told) > MOST else ""
    heads = ("code", "became", "points")
    return "\n".join(f"  {line}" for line in ruled(heads, rows, words=2).split("\n")) + more
