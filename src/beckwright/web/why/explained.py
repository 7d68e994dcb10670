"""One figure told so that it can be followed by hand, as JSON."""

from collections.abc import Container
from typing import Any

from beckwright.base.figures import Figure
from beckwright.base.published import Equation
from beckwright.base.words import both, quantity_band
from beckwright.figures import figures_of, figures_of_works
from beckwright.tables.sources import SOURCES
from beckwright.web.desk.answers import number
from beckwright.web.desk.opened import Laid


def figures_named(laid: Laid) -> dict[str, Figure]:
    """Every figure of the design and of its works by its name, in the order of the work."""

    def make() -> dict[str, Figure]:
        return {figure.name: figure for figure in (*figures_of(laid.design), *figures_of_works(laid.works))}

    return laid._once("figures", make)  # What a text is laid out into is ours too.


def explained(figure: Figure, named: Container[str] = ()) -> dict[str, Any]:
    """Value, band, equation with its inputs, source in full, grade and note.

    named  figures there are: an input that came from one of them names it as ``leads``

    What is ``published`` stays as it calls itself in every language.
    """
    key, _, place = figure.source.partition(", ")
    return {
        "name": figure.name,
        "label": figure.label,
        "amount": number(figure.amount),
        "low": number(figure.low),
        "high": number(figure.high),
        "unit": figure.unit,
        "words": both(figure.amount, figure.unit),
        "band": quantity_band(figure.low, figure.high, figure.unit),
        "grade": figure.grade.value,
        "source": SOURCES[key].reference if key in SOURCES else figure.source,
        "place": f"{place[:1].upper()}{place[1:]}" if key in SOURCES else "",
        "published": key in SOURCES and key != "definition",
        "note": figure.note,
        "equation": None if figure.equation is None else _worked(figure.equation, figure, named),
    }


def _worked(equation: Equation, figure: Figure, named: Container[str]) -> dict[str, Any]:
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
                "words": both(item.amount, item.unit),
                "comes": item.comes,
                "leads": item.comes if item.comes in named else "",
            }
            for item in figure.inputs
        ],
        "outside": [symbols[name].meaning or name for name in equation.outside(**given)],
    }
