"""What was understood of a survey file, in words a builder can shake the head at."""

from typing import TYPE_CHECKING

from beckwright.base.words import grouped, metres
from beckwright.cli.survey.given import ruled
from beckwright.cli.tell import table, wrapped

if TYPE_CHECKING:
    from beckwright.survey.understood import Understood

MOST = 12
"""Codes, or breaklines, that are told one by one."""


def previewed(understood: "Understood") -> str:
    """How many points, where, how high, their codes, and what was taken for granted."""
    count = len(understood.points)
    parts = [f"{understood.source}: {understood.kind}, {grouped(count)} point{'' if count == 1 else 's'}"]
    if count:
        parts += [table(_extent(understood), indent="  "), _codes(understood)]
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


def _extent(understood: "Understood") -> list[tuple[str, str]]:
    (west, south), (east, north) = understood.points.min(axis=0), understood.points.max(axis=0)
    low, high = float(understood.levels.min()), float(understood.levels.max())
    rows = [
        ("plan", f"{metres(east - west)} by {metres(north - south)}"),
        ("x", f"{metres(west)} to {metres(east)}"),
        ("y", f"{metres(south)} to {metres(north)}"),
        ("levels", f"{metres(low)} to {metres(high)}, {metres(high - low)} of fall"),
    ]
    if understood.shift != (0.0, 0.0):
        east_off, north_off = understood.shift
        rows.append(("shift", f"{metres(east_off)} taken off every x, {metres(north_off)} off every y"))
    return [*rows, ("breaklines", _breaklines(understood))]


def _breaklines(understood: "Understood") -> str:
    counts = understood.breakline_counts
    if not counts:
        return "none"
    named = ", ".join(f"{name} ({count})" for name, count in list(counts.items())[:MOST])
    more = f" and {len(counts) - MOST} more" if len(counts) > MOST else ""
    return f"{len(counts)}, {grouped(counts.total())} points on them: {named}{more}"


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
