"""The figures a person looks at while the line moves, each with its band, its grade, and its words.

Read off the figures of the design, never worked again. What cannot be told has no answer.
"""

from collections.abc import Callable, Iterator, Mapping
from typing import Any

from beckwright.base import words
from beckwright.base.figures import Figure, dotted
from beckwright.compose import Design
from beckwright.figures import figures_of

Figures = Mapping[str, Figure]
Words = Callable[[Figure], str]


def answers(design: Design) -> list[dict[str, Any]]:
    """Answers in the order of the water; ``flow`` names the flow one holds for, and is empty where it holds for all."""
    named = {figure.name: figure for figure in figures_of(design)}
    whole = [answer(named[name], say) for name, say in _WHOLE.items() if name in named]
    at_flows = [
        answer(figure, say, flow) for flow in design.water.names for figure, say in _at_flow(named, flow, dotted(flow))
    ]
    return [*whole, *at_flows]


def number(amount: float) -> float | None:
    """An amount as JSON can hold it: None where there is no limit."""
    return float(f"{amount:.9g}") if abs(amount) < float("inf") else None


def answer(figure: Figure, say: Words, flow: str = "") -> dict[str, Any]:
    """One answer; ``say`` puts its figure in words."""
    return {
        "name": figure.name,
        "label": figure.label,
        "low": number(figure.low),
        "amount": number(figure.amount),
        "high": number(figure.high),
        "unit": figure.unit,
        "grade": figure.grade.value,
        "words": say(figure),
        "flow": flow,
    }


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


def _days(figure: Figure) -> str:
    return words.band(figure.low, figure.high, 0.5, "days", scale=1 / 86400)


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
    "reservoir.reserve.{flow}": _days,
    "supply.{flow}.watts": _watts,
}
