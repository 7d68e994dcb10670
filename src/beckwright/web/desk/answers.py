"""The figures a person looks at while the line moves, as JSON: each with its band, its grade, and its words."""

from typing import Any

from beckwright.compose import Design
from beckwright.figures.answers import Answer, answers_of


def answers(design: Design) -> list[dict[str, Any]]:
    """Answers in the order of the water; ``flow`` names the flow one holds for, and is empty where it holds for all."""
    return [answer(each) for each in answers_of(design)]


def number(amount: float) -> float | None:
    """An amount as JSON can hold it: None where there is no limit."""
    return float(f"{amount:.9g}") if abs(amount) < float("inf") else None


def answer(told: Answer) -> dict[str, Any]:
    """One answer."""
    figure = told.figure
    return {
        "name": figure.name,
        "label": figure.label,
        "low": number(figure.low),
        "amount": number(figure.amount),
        "high": number(figure.high),
        "unit": figure.unit,
        "grade": figure.grade.value,
        "words": told.words,
        "flow": told.flow,
    }
