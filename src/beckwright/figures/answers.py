"""The figures a person looks at while the line moves, each with its words: pages, papers and effects read them here.

Read off the figures of the design, never worked again, and only those that are looked at. What cannot be told has no
answer.
"""

from collections.abc import Callable, Iterator, Mapping

from beckwright.base import words
from beckwright.base.figures import Figure, dotted
from beckwright.base.values import value
from beckwright.compose import Design, Works
from beckwright.figures import figures_in_hand, figures_of_works

Figures = Mapping[str, Figure]
Words = Callable[[Figure], str]


@value
class Answer:
    """A figure in words; ``flow`` names the flow it holds for, and is empty where it holds for all."""

    figure: Figure
    words: str
    flow: str = ""


def answers_of(design: Design) -> list[Answer]:
    """Answers of a design in the order of the water."""
    named = {figure.name: figure for figure in figures_in_hand(design)}
    whole = [_answer(named[name], say) for name, say in _WHOLE.items() if name in named]
    at_flows = [
        _answer(figure, say, flow) for flow in design.water.names for figure, say in _at_flow(named, flow, dotted(flow))
    ]
    return [*whole, *at_flows]


def later_answers_of(works: Works) -> list[Answer]:
    """Answers of what follows from a design once its levels stand."""
    currency = works.design.job.prices.currency

    def money(figure: Figure) -> str:
        return words.band(figure.low, figure.high, 100, currency)

    asked: Mapping[str, Words] = {**_LATER, "money.p50": money, "money.p80": money}
    return [_answer(figure, asked[figure.name]) for figure in figures_of_works(works) if figure.name in asked]


def _answer(figure: Figure, say: Words, flow: str = "") -> Answer:
    return Answer(figure=figure, words=say(figure), flow=flow)


def _at_flow(named: Figures, flow: str, dot: str) -> Iterator[tuple[Figure, Words]]:
    shown, depths = (
        [figure for name, figure in named.items() if name.startswith(f"water.{dot}.") and name.endswith(f".{last}")]
        for last in ("shown", "depth")
    )
    if shown:
        yield min(shown, key=lambda figure: figure.amount), _share
        yield max(depths, key=lambda figure: figure.high), _depth
    boards = [named[name] for side in ("left", "right") if (name := f"freeboard.{dot}.{side}") in named]
    yield min(boards, key=lambda figure: figure.amount), lambda figure: words.millimetres(figure.low)
    for name, say in _EACH_FLOW.items():
        figure = named.get(name.format(flow=dot))
        if figure is not None:
            yield figure, say


def _flow(figure: Figure) -> str:
    return words.band(figure.low, figure.high, 100, "L/h", scale=3.6e6)


def _share(figure: Figure) -> str:
    return words.band(figure.low, figure.high, 1, "%", scale=100)


def _depth(figure: Figure) -> str:
    return words.band(figure.low, figure.high, 1, "mm", scale=1000)


def _litres(figure: Figure) -> str:
    return words.band(figure.low, figure.high, 10 if figure.high >= 1 else 1, "L", scale=1000)


def _level(figure: Figure) -> str:
    return words.metres(figure.low)


def _watts(figure: Figure) -> str:
    return words.watts(figure.amount)


def _energy(figure: Figure) -> str:
    return words.kilowatt_hours(figure.amount)


def _money(figure: Figure) -> str:
    currency = figure.label.rpartition(", ")[2]
    return f"{words.grouped(figure.amount)} {currency}"


_WHOLE: Mapping[str, Words] = {
    "supply.flow": _flow,
    "reservoir.useful": _litres,
    "reservoir.level.lowest": _level,
    "reservoir.level.first_fill": _level,
    "supply.year.energy": _energy,
    "supply.year.cost": _money,
}
_EACH_FLOW: Mapping[str, Words] = {
    "stored.{flow}.in_motion": _litres,
    "reservoir.level.running.{flow}": _level,
    "supply.{flow}.watts": _watts,
}


def days_in_reserve(figure: Figure) -> str:
    """How long it lasts, as the owner is told it."""
    return words.spell(figure.low, figure.high)


def _cubic(figure: Figure) -> str:
    return words.band(figure.low, figure.high, 0.5, "m³")


_LATER: Mapping[str, Words] = {
    "earthworks.balance.topsoil.left": _cubic,
    "earthworks.balance.subsoil.left": _cubic,
    "stonework.total": lambda figure: words.band(figure.low, figure.high, 0.5, "t", scale=1e-3),
    "crates.count": lambda figure: words.grouped(figure.amount),
    "season.reserve": days_in_reserve,
    "programme.days_80": lambda figure: words.band(figure.low, figure.high, 1, "days"),
}
