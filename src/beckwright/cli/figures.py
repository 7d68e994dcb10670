"""Figures as a table and as JSON, and which of them a word means."""

from collections.abc import Sequence
from difflib import get_close_matches
from typing import Any

from beckwright.base.figures import Figure
from beckwright.base.words import quantity, quantity_band
from beckwright.cli.tell import table

_HEADS = ("figure", "value", "band", "grade", "source")
_MOST = 6


def as_table(figures: Sequence[Figure]) -> str:
    """One row for each figure, in SI units."""
    return table([_row(figure) for figure in figures], heads=_HEADS)


def as_objects(figures: Sequence[Figure]) -> list[dict[str, Any]]:
    """One object for each figure; the help of the command tells the fields."""
    return [
        {
            "name": figure.name,
            "label": figure.label,
            "amount": figure.amount,
            "low": figure.low,
            "high": figure.high,
            "unit": figure.unit,
            "grade": figure.grade.value,
            "source": figure.source,
            "equation": figure.equation.name if figure.equation else None,
            "note": figure.note,
        }
        for figure in figures
    ]


def ten_in_words(ten: Sequence[tuple[str, str]]) -> str:
    """Labels and figures side by side."""
    return table(ten)


def under(name: str, word: str) -> bool:
    """Whether a figure's name is ``word`` or begins with it, dot by dot."""
    return name == word or name.startswith(f"{word}.")


def near(word: str, names: tuple[str, ...]) -> tuple[str, ...]:
    """Names a person may have meant: spelt almost so, or with the word in them."""
    close = get_close_matches(word.lower(), names, n=_MOST, cutoff=0.6)
    holding = [name for name in names if word.lower() in name and name not in close]
    return tuple([*close, *holding][:_MOST])


def _row(figure: Figure) -> tuple[str, ...]:
    return (
        figure.name,
        quantity(figure.amount, figure.unit),
        quantity_band(figure.low, figure.high, figure.unit),
        figure.grade.value,
        figure.source,
    )
