"""One figure told so that it can be followed by hand, as JSON."""

from typing import Any

from beckwright.base.figures import Figure
from beckwright.base.published import Equation
from beckwright.base.words import quantity, quantity_band
from beckwright.figures import figures_of, figures_of_works
from beckwright.tables.sources import SOURCES
from beckwright.web.answers import number
from beckwright.web.desk import Laid


def figure_called(name: str, laid: Laid) -> Figure | None:
    """A figure of the design or of its works; None where there is none of that name."""
    found = next((figure for figure in figures_of(laid.design) if figure.name == name), None)
    return found or next((figure for figure in figures_of_works(laid.works) if figure.name == name), None)


def explained(figure: Figure) -> dict[str, Any]:
    """Value, band, equation with its inputs, source in full, grade and note."""
    key, _, place = figure.source.partition(", ")
    return {
        "name": figure.name,
        "label": figure.label,
        "amount": number(figure.amount),
        "low": number(figure.low),
        "high": number(figure.high),
        "unit": figure.unit,
        "words": quantity(figure.amount, figure.unit),
        "band": quantity_band(figure.low, figure.high, figure.unit),
        "grade": figure.grade.value,
        "source": SOURCES[key].reference if key in SOURCES else figure.source,
        "place": place if key in SOURCES else "",
        "note": figure.note,
        "equation": None if figure.equation is None else _worked(figure.equation, figure),
    }


def _worked(equation: Equation, figure: Figure) -> dict[str, Any]:
    symbols = {symbol.name: symbol for symbol in equation.symbols}
    given = {item.name: item.amount for item in figure.inputs}
    return {
        "name": equation.name,
        "summary": equation.summary,
        "formula": equation.formula,
        "inputs": [
            {
                "letter": symbols[item.name].letter,
                "meaning": symbols[item.name].meaning,
                "amount": number(item.amount),
                "unit": item.unit,
                "words": quantity(item.amount, item.unit),
                "comes": item.comes,
            }
            for item in figure.inputs
        ],
        "outside": [symbols[name].meaning or name for name in equation.outside(**given)],
    }
