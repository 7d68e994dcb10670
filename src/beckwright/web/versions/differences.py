"""How two answers to one question differ, in words: like end held against like end, and rounded outward."""

import math
from collections.abc import Sequence
from typing import Any, Literal

from beckwright.base import words
from beckwright.base.values import value

Answer = dict[str, Any]
"""As ``beckwright.web.desk.answers`` tells one."""
Ends = Literal["band", "low", "amount"]


@value
class Way:
    """How a difference is told.

    ends   what its answer says in words: a whole band, or one end of it
    step   of ``unit`` that it is rounded outward to
    scale  from SI to ``unit``
    """

    ends: Ends
    step: float
    unit: str
    scale: float
    up: str = "more"
    down: str = "less"


_WAYS = {
    "supply.flow": Way(ends="band", step=10, unit="L/h", scale=3.6e6),
    "supply.year.energy": Way(ends="amount", step=1, unit="kWh", scale=1 / 3.6e6),
    "supply.year.cost": Way(ends="amount", step=1, unit="", scale=1),
    "reservoir.useful": Way(ends="band", step=10, unit="L", scale=1000),
    "reservoir.level": Way(ends="low", step=1, unit="mm", scale=1000, up="higher", down="lower"),
    "season.reserve": Way(ends="band", step=0.5, unit="days", scale=1 / 86400),
    "water": Way(ends="band", step=1, unit="mm", scale=1000),
    "freeboard": Way(ends="low", step=1, unit="mm", scale=1000),
    "stored": Way(ends="band", step=1, unit="L", scale=1000),
    "supply": Way(ends="amount", step=1, unit="W", scale=1),
    "earthworks": Way(ends="band", step=0.5, unit="m³", scale=1),
    "stonework": Way(ends="band", step=0.5, unit="t", scale=1e-3),
    "crates": Way(ends="amount", step=1, unit="", scale=1),
    "programme": Way(ends="band", step=1, unit="days", scale=1),
    "money": Way(ends="band", step=100, unit="", scale=1),
}
"""By the front of an answer's name, the closest first."""
_SHARE = Way(ends="band", step=1, unit="of 100 parts", scale=100)


def held_against(old: Sequence[Answer], new: Sequence[Answer]) -> list[Answer]:
    """Put answers side by side in the order of the new ones; those one side alone can tell have no difference."""
    were, are = ({_asked(each): each for each in side} for side in (old, new))
    keys = [*are, *(key for key in were if key not in are)]
    return [_pair(were.get(key), are.get(key)) for key in keys]


def difference(old: Answer, new: Answer) -> str:
    """What the new answer has more or less; empty where both say the same."""
    ends = ("low", "amount", "high")
    if old["words"] == new["words"] or any(each[end] is None for each in (old, new) for end in ends):
        return ""
    way = _way(new)
    told = ("low", "high") if way.ends == "band" else (way.ends, way.ends)
    low, high = sorted((new[end] - old[end]) * way.scale for end in told)
    unit = f"{way.unit or _currency(new)}".strip()
    if low >= 0:
        return f"{_span(low, high, way.step, unit)} {way.up}"
    if high <= 0:
        return f"{_span(-high, -low, way.step, unit)} {way.down}"
    if max(-low, high) < way.step:
        return f"{_span(high, high, way.step, unit)} either way"
    return f"{_span(-low, -low, way.step, unit)} {way.down} to {_span(high, high, way.step, unit)} {way.up}"


def _asked(answer: Answer) -> tuple[str, ...]:
    """What an answer answers: the least freeboard is one question, wherever along the stream the least may lie."""
    parts = answer["name"].split(".")
    if parts[0] == "water":
        return answer["flow"], parts[0], parts[-1]
    return (answer["flow"], "freeboard") if parts[0] == "freeboard" else (answer["flow"], answer["name"])


def _pair(old: Answer | None, new: Answer | None) -> Answer:
    one = new or old or {}
    both = old is not None and new is not None
    labels = [None if side is None else side["label"] for side in (old, new)]
    return {
        "label": one["label"],
        "label_before": labels[0] if both and labels[0] != labels[1] else "",
        "flow": one["flow"],
        "before": None if old is None else old["words"],
        "after": None if new is None else new["words"],
        "difference": difference(old, new) if old is not None and new is not None else "",
        "differs": not both or old is None or new is None or old["words"] != new["words"],
    }


def _way(answer: Answer) -> Way:
    name = answer["name"]
    if name.startswith("water.") and name.endswith(".shown"):
        return _SHARE
    fronts = [front for front in _WAYS if name == front or name.startswith(f"{front}.")]
    if fronts:
        return _WAYS[max(fronts, key=len)]
    # An answer nobody has told us how to say: to a thousandth of itself, in its own unit.
    largest = max(abs(answer["low"]), abs(answer["high"])) or 1.0
    step = 10.0 ** (math.floor(math.log10(largest)) - 3)
    return Way(ends="band", step=step, unit=words.in_print(answer["unit"]), scale=1)


def _currency(answer: Answer) -> str:
    return str(answer["words"]).rpartition(" ")[2] if answer["unit"] == "currency" else ""


def _span(low: float, high: float, step: float, unit: str) -> str:
    if max(low, high) < step:
        return f"under {words.band(step, step, step, unit)}".rstrip()
    return words.band(low, high, step, unit).rstrip()
