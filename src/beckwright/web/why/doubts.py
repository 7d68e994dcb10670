"""What nobody has measured, each with what a measurement is worth: how much narrower a figure's band becomes."""

import importlib
import pkgutil
from collections.abc import Iterable, Mapping, Sequence
from functools import cache
from itertools import chain
from typing import Any, NamedTuple

from beckwright import tables
from beckwright.base.errors import JobError
from beckwright.base.figures import Figure
from beckwright.base.published import Grade
from beckwright.base.tabled import Tabled
from beckwright.base.words import as_typed, band, quantity, quantity_band
from beckwright.compose import Design, Works
from beckwright.figures import figures_of_works
from beckwright.figures.influence import LEVEL_NUDGE, NUDGE
from beckwright.figures.ten import figures_that_matter
from beckwright.job.wording.keylines import toml_held
from beckwright.site import Version
from beckwright.web.desk.opened import Desk, Laid, edited
from beckwright.web.desk.state import Told
from beckwright.web.why.explained import figures_named
from beckwright.web.why.measuring import how_measured

MOVES_SHOWN = 3
_NOTHING = 1e-6
"""A band that grows by less than this share of its figure has not grown."""

_FILES = ".csv"
_PLACES = ("centre_m", ".x_m", ".y_m", ".at_m")
_DAY = 86400.0
_MOST_NUMBERS = 3
"""A list of more numbers than this is a line, not an amount."""


def doubts_told(desk: Desk, laid: Laid, held: Version) -> Told:
    """The doubt list, the one whose measurement narrows most first, and what the program itself assumes."""
    named = figures_named(laid)
    return laid._once("doubts", lambda: _told(desk, laid.design, held, named))  # Ours too.


def _told(desk: Desk, design: Design, held: Version, named: Mapping[str, Figure]) -> Told:
    given = toml_held(held.text)
    asked = _Asked(desk, design, held, named)
    rows = [_doubt(asked, number, key, _held(given, key)) for number, key in enumerate(design.job.doubts, 1)]
    return {
        "doubts": sorted(rows, key=lambda row: (-row["worth"], row["row"])),
        "assumed": _assumed(named.values()),
        "by": f"{NUDGE * 100:.0f} %",
        "by_level": f"{LEVEL_NUDGE * 1000:.0f} mm",
    }


class _Asked(NamedTuple):
    """The revision that stands, designed, with its figures."""

    desk: Desk
    design: Design
    held: Version
    named: Mapping[str, Figure]


def _doubt(asked: _Asked, row: int, key: str, held: Any) -> Told:
    moves, matters = _moves(asked, key, held)
    return {
        "key": key,
        "row": row,
        "value": held if _amount(held) or isinstance(held, str) else None,
        "shown": _shown(held),
        "unit": _unit(key) if _amount(held) else "",
        "typed": _typed(held, _unit(key)) if _amount(held) else "",
        "kind": _kind(key, held),
        "how": how_measured(key),
        "moves": moves[:MOVES_SHOWN],
        "matters": matters,
        "worth": max((move["share"] for move in moves), default=0.0) if matters else 0.0,
    }


def _moves(asked: _Asked, key: str, held: Any) -> tuple[list[Told], bool]:
    """What it moves, most first, and whether any of the ten figures is among it."""
    if _kind(key, held) not in {"level", "amount"}:
        return [], False
    either = [_tried(asked.desk, asked.held, key, _nudged(key, held, sign)) for sign in (-1, 1)]
    designs = [each for each in either if each is not None]
    now = figures_that_matter(asked.design)
    ten = _narrowed(asked.design, now, [_same(now, each) for each in designs])
    if ten:
        return ten, True
    works = [{figure.name: figure for figure in figures_of_works(Works(each))} for each in designs]
    others = [figure for figure in asked.named.values() if works and figure.name in works[0]]
    return _narrowed(asked.design, others, works), False


def _same(now: Sequence[Figure], other: Design) -> dict[str, Figure]:
    """The same figures of another design. The least place may be another one: it is told for the place as it is now."""
    from beckwright.figures import figures_of
    from beckwright.figures.season import in_reserve

    wanted = {figure.name for figure in now}
    found = (*figures_of(other), in_reserve(Works(other)))
    return {figure.name: figure for figure in found if figure is not None and figure.name in wanted}


def _narrowed(design: Design, now: Iterable[Figure], others: Sequence[Mapping[str, Figure]]) -> list[Told]:
    """Figures whose band is wider while the input may be off, the one that narrows by the largest share first."""
    told = []
    for figure in now:
        ends = [each[figure.name] for each in others if figure.name in each]
        low = min((figure.low, *(end.low for end in ends)))
        high = max((figure.high, *(end.high for end in ends)))
        narrower = (high - low) - (figure.high - figure.low)
        share = narrower / (_scale(design, figure) or 1.0)
        if share > _NOTHING and share < float("inf"):
            told.append(
                {
                    "name": figure.name,
                    "label": figure.label,
                    "doubtful": _band(low, high, figure.unit),
                    "measured": _band(figure.low, figure.high, figure.unit),
                    "share": round(share, 5),
                    "percent": f"{share * 100:.0f} %" if share >= 0.01 else "under 1 %",
                }
            )
    return sorted(told, key=lambda each: -each["share"])


def _scale(design: Design, figure: Figure) -> float:
    """What a change is a share of: the figure, or of a reservoir's level the height the pump may use."""
    if ".level." in figure.name:
        return design.reservoir.pit.rested - design.reservoir.pit.pump_minimum
    return abs(figure.amount)


def _tried(desk: Desk, stands: Version, key: str, held: Any) -> Design | None:
    try:
        return desk.tried(edited(stands.text, [{"do": "set value", "key": key, "value": held}]), stands)[0]
    except (JobError, ArithmeticError):
        return None


def _nudged(key: str, held: Any, sign: int) -> Any:
    if isinstance(held, list):
        return [_nudged(key, each, sign) for each in held]
    moved = held + sign * LEVEL_NUDGE if _level(key) else held * (1 + sign * NUDGE)
    # Whole numbers stay whole where the file has them so: some keys take no others.
    return round(moved) if isinstance(held, int) and abs(held) >= 1 / NUDGE else round(moved, 9)


def _kind(key: str, held: Any) -> str:
    """A level, an amount, nought, of which there is no share, or a line or place, which is no single number."""
    if not _amount(held) or key.endswith(_PLACES):
        return "line"
    if _level(key):
        return "level"
    return "amount" if held not in (0, 0.0) else "nought"


def _level(key: str) -> bool:
    return key.endswith("level_m")


def _amount(held: Any) -> bool:
    """A number, or a few that change together."""
    if isinstance(held, list):
        return 0 < len(held) <= _MOST_NUMBERS and all(_amount(each) and not isinstance(each, list) for each in held)
    return isinstance(held, int | float) and not isinstance(held, bool)


def _unit(key: str) -> str:
    """Metric unit of a key, of those that are typed in other units too; empty for all else."""
    # The mass of a metre of stone is no length.
    ends = {"_kg_m": "", "_mm": "mm", "_m": "m", "_l_h": "L/h"}
    return next((unit for end, unit in ends.items() if key.endswith(end)), "")


def _typed(held: Any, unit: str) -> str:
    """What a person would type for what stands, in the reader's unit."""
    each = held if isinstance(held, list) else [held]
    return "; ".join(as_typed(one, unit) if unit else str(one) for one in each)


def _shown(held: Any) -> str:
    if _amount(held):
        return ", ".join(map(str, held)) if isinstance(held, list) else str(held)
    if isinstance(held, str):
        return held
    return (
        "a table of its own" if held is None else f"{len(held)} entries" if isinstance(held, list | dict) else str(held)
    )


def _held(given: Any, key: str) -> Any:
    """What stands at a dotted key, lists counted from 1; None for a table's name."""
    if key.endswith(_FILES):
        return None
    from beckwright.job.edit.keys import path_of

    for part in path_of(key, given):
        given = given[part] if isinstance(part, int) else given.get(part)
    return given


def _assumed(figures: Iterable[Figure]) -> list[Told]:
    """Rows of the program's own tables that are judgement, each with the figures whose equation takes it."""
    rows: dict[str, Told] = {}
    for figure in figures:
        for item in figure.inputs:
            row = next(
                (row for words, row in _judged() if item.comes.startswith("table: ") and words in item.comes), None
            )
            if row is not None:
                ends = quantity_band(row.low, row.high, row.unit)
                told = {
                    "words": ends or quantity(row.amount, row.unit),
                    "why": row.place,
                    "comes": item.comes[7:],
                    "figures": [],
                }
                held = rows.setdefault(item.comes, told)
                held["figures"].append({"name": figure.name, "label": figure.label})
    return sorted(
        ({**row, "count": len(row["figures"]), "figures": row["figures"][:MOVES_SHOWN]} for row in rows.values()),
        key=lambda row: -row["count"],
    )


@cache
def _judged() -> tuple[tuple[str, Tabled], ...]:
    """Every assumed row of the tables, under the words a figure tells it by: its constant's name, or its place."""
    modules = [
        importlib.import_module(each.name) for each in pkgutil.iter_modules(tables.__path__, "beckwright.tables.")
    ]
    named = chain.from_iterable(_rows(name, held) for module in modules for name, held in vars(module).items())
    return tuple((words, row) for words, row in named if row.grade is Grade.ASSUMED and words)


def _rows(name: str, held: Any) -> Iterable[tuple[str, Tabled]]:
    if isinstance(held, Tabled):
        return [(f"table: {name}", held), (held.place, held)]
    return [(row.place, row) for row in held.values() if isinstance(row, Tabled)] if isinstance(held, dict) else []


def _band(low: float, high: float, unit: str) -> str:
    if unit == "m3/s":
        return band(low, high, 10, "L/h", scale=3.6e6)
    if unit == "s" and high > _DAY:
        return band(low, high, 0.5, "days", scale=1 / _DAY)
    return quantity_band(low, high, unit) or quantity(low, unit)
