"""One figure told so that it can be followed by hand."""

from collections.abc import Iterator

from beckwright.base.figures import Figure
from beckwright.base.published import Equation
from beckwright.base.words import both, quantity, quantity_band
from beckwright.cli.tell import table, wrapped
from beckwright.figures.influence import Influence
from beckwright.tables.sources import SOURCES

_SHOWN = 8


def explained(figure: Figure) -> str:
    """Value, equation, inputs, source, grade and note."""
    return "\n".join(_parts(figure))


def moved_by(influences: tuple[Influence, ...], unit: str) -> str:
    """The inputs that move a figure most, each with what the figure becomes."""
    if not influences:
        return "No number of the job moves it."
    rows = [
        (found.key, found.change, f"{quantity(found.low, unit)}, {quantity(found.high, unit)}")
        for found in influences[:_SHOWN]
    ]
    return f"What moves it most\n{table(rows, heads=('input of the job', 'changed by', 'it becomes'), indent='  ')}"


def _parts(figure: Figure) -> Iterator[str]:
    yield f"{figure.label}: {both(figure.amount, figure.unit)}"
    band = quantity_band(figure.low, figure.high, figure.unit)
    if band:
        yield f"Band: {band}"
    yield f"Name: {figure.name}"
    yield ""
    if figure.equation is not None:
        yield from _worked(figure.equation, figure)
        yield ""
    yield wrapped(f"Source: {_reference(figure.source)}", rest="  ")
    yield f"Grade: {figure.grade.value}"
    if figure.note:
        yield wrapped(f"Note: {figure.note}", rest="  ")


def _worked(equation: Equation, figure: Figure) -> Iterator[str]:
    yield wrapped(equation.summary)
    yield f"  {equation.formula}"
    letters = {symbol.name: symbol for symbol in equation.symbols}
    rows = [
        (letters[item.name].letter, letters[item.name].meaning, both(item.amount, item.unit), f"from {item.comes}")
        for item in figure.inputs
    ]
    yield table(rows, indent="    ")
    given = {item.name: item.amount for item in figure.inputs}
    outside = [letters[name].meaning or name for name in equation.outside(**given)]
    if outside:
        yield wrapped(f"Outside what its source tested: {', '.join(outside)}.", first="  ")


def _reference(source: str) -> str:
    """A source in full, with the place in it; what is not a publication stands as it is."""
    key, _, place = source.partition(", ")
    return f"{SOURCES[key].reference} {place[:1].upper()}{place[1:]}" if key in SOURCES else source
