"""One figure told so that it can be followed by hand."""

from collections.abc import Iterator

from beckwright.base.figures import Figure
from beckwright.base.published import Equation
from beckwright.base.words import both, quantity, quantity_band
from beckwright.cli.tell import table, wrapped
from beckwright.figures.influence import Influence
from beckwright.figures.spoken import came, credited
from beckwright.languages import say
from beckwright.tables.sources import SOURCES

_SHOWN = 8


def explained(figure: Figure) -> str:
    """Value, equation, inputs, source, grade and note."""
    return "\n".join(_parts(figure))


def moved_by(influences: tuple[Influence, ...], unit: str) -> str:
    """The inputs that move a figure most, each with what the figure becomes."""
    if not influences:
        return say("No number of the job moves it.")
    rows = [
        (say(found.key), say(found.change), f"{say(quantity(found.low, unit))}, {say(quantity(found.high, unit))}")
        for found in influences[:_SHOWN]
    ]
    heads = tuple(map(say, ("input of the job", "changed by", "it becomes")))
    return f"{say('What moves it most')}\n{table(rows, heads=heads, indent='  ')}"


def _parts(figure: Figure) -> Iterator[str]:
    yield f"{say(figure.label)}: {say(both(figure.amount, figure.unit))}"
    band = quantity_band(figure.low, figure.high, figure.unit)
    if band:
        yield f"{say('Band')}: {say(band)}"
    yield f"{say('Name')}: {figure.name}"
    yield ""
    if figure.equation is not None:
        yield from _worked(figure.equation, figure)
        yield ""
    yield wrapped(f"{say('Source')}: {_reference(figure.source)}", rest="  ")
    yield f"{say('Grade')}: {say(figure.grade.value)}"
    if figure.note:
        yield wrapped(f"{say('Note')}: {say(figure.note)}", rest="  ")


def _worked(equation: Equation, figure: Figure) -> Iterator[str]:
    yield wrapped(say(equation.summary))
    yield f"  {equation.formula}"
    letters = {symbol.name: symbol for symbol in equation.symbols}
    rows = [
        (
            letters[item.name].letter,
            say(letters[item.name].meaning),
            say(both(item.amount, item.unit)),
            f"{say('from')} {came(item.comes)}",
        )
        for item in figure.inputs
    ]
    yield table(rows, indent="    ")
    given = {item.name: item.amount for item in figure.inputs}
    outside = [say(letters[name].meaning) or name for name in equation.outside(**given)]
    if outside:
        yield wrapped(f"{say('Outside what its source tested')}: {', '.join(outside)}.", first="  ")


def _reference(source: str) -> str:
    """A source in full, with the place in it; what is not a publication stands as it is."""
    key, _, place = source.partition(", ")
    if key not in SOURCES:
        return credited(source)
    held, place = (say(SOURCES[key].reference), say(place)) if key == "definition" else (SOURCES[key].reference, place)
    return f"{held} {place[:1].upper()}{place[1:]}"
