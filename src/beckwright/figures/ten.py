"""The ten figures that matter: what a person asks first about a stream, in the units of the trade."""

from collections.abc import Mapping

from beckwright.base import words
from beckwright.base.figures import Figure, dotted
from beckwright.compose import Design, Works
from beckwright.figures import figures_of
from beckwright.figures.answers import days_in_reserve
from beckwright.figures.make import largest_flow, main_flow
from beckwright.figures.season import in_reserve
from beckwright.stages.reservoir import Pit

Told = tuple[str, str]
"""A label, and its figure in words."""

Figures = Mapping[str, Figure]


def ten_that_matter(design: Design) -> tuple[Told, ...]:
    """Ten figures in the order of the water, each with the flow it holds for; read off the figures, never worked again.

    What cannot be told, such as a cost without a price, says why instead.
    """
    job, named = design.job, {figure.name: figure for figure in figures_of(design)}
    main, largest = main_flow(job), largest_flow(job)
    return (
        _flat_out(named),
        _share_shown(named, main),
        _visible_depth(named, largest),
        _freeboard(named),
        _in_motion(named, largest),
        ("Water the pump may use", words.litres(named["reservoir.useful"].amount)),
        ("Lowest level after a morning start", _over_the_least(design.reservoir.pit, named["reservoir.level.lowest"])),
        (
            "Level after filling a dry stream from the reservoir alone",
            _over_the_least(design.reservoir.pit, named["reservoir.level.first_fill"]),
        ),
        _reserve(Works(design), main),
        _year(design, named, main),
    )


def _flat_out(named: Figures) -> Told:
    label, figure = "Flow with the pump flat out", named.get("supply.flow")
    if figure is None:
        return label, "none: this pump cannot lift the water to the source"
    return label, words.band(figure.low, figure.high, 100, "L/h", scale=3.6e6)


def _share_shown(named: Figures, flow: str) -> Told:
    least = min(_over_runs(named, flow, "shown"), key=lambda figure: figure.amount, default=None)
    label = f"Share in view at {flow}, where least shows"
    if least is None:
        return label, "all of it: the course has no stony run"
    return label, f"{words.band(least.low, least.high, 1, '%', scale=100)}, {_place(least)}"


def _visible_depth(named: Figures, flow: str) -> Told:
    deepest = max(_over_runs(named, flow, "depth"), key=lambda figure: figure.high, default=None)
    label = f"Visible depth at {flow}, deepest run"
    if deepest is None:
        return label, "none: the course has no stony run"
    return label, f"{words.band(deepest.low, deepest.high, 1, 'mm', scale=1000)}, {_place(deepest)}"


def _freeboard(named: Figures) -> Told:
    boards = (figure for name, figure in named.items() if name.startswith("freeboard."))
    least = min(boards, key=lambda figure: figure.amount)
    return least.label, words.millimetres(least.amount)


def _in_motion(named: Figures, flow: str) -> Told:
    moving = named[f"stored.{dotted(flow)}.in_motion"]
    step = 10 if moving.high >= 1 else 1
    return f"Water in motion at {flow}", words.band(moving.low, moving.high, step, "L", scale=1000)


def _over_the_least(pit: Pit, level: Figure) -> str:
    spare = level.amount - pit.pump_minimum
    if spare < 0:
        short = pit.held(pit.pump_minimum) - pit.held(level.amount)
        return f"the pump runs dry: {words.litres(short)} short of its least level, {words.metres(pit.pump_minimum)}"
    least = words.metres(pit.pump_minimum)
    return f"{words.metres(level.amount)}, {words.millimetres(spare)} over the pump's least, {least}"


def _reserve(works: Works, main: str) -> Told:
    figure = in_reserve(works)
    if figure is not None:
        lasts = days_in_reserve(figure)
        return figure.label, lasts if figure.high > 0 else "none: the water in motion alone is more than it may use"
    why = "the job names no climate station" if works.season is None else "nobody said how long it runs"
    return f"Dry days in reserve at {main}", f"not known: {why}"


def _year(design: Design, named: Figures, flow: str) -> Told:
    label, watts = f"Power at {flow}, and a year of running", named.get(f"supply.{dotted(flow)}.watts")
    drawn = "this pump cannot give it" if watts is None else words.watts(watts.amount)
    energy, cost = named.get("supply.year.energy"), named.get("supply.year.cost")
    if energy is None:
        return label, f"{drawn}; no year can be told"
    year = f"{drawn}; {words.kilowatt_hours(energy.amount)} a year"
    price = "no price given" if cost is None else f"{words.grouped(cost.amount)} {design.job.prices.currency} a year"
    return label, f"{year}, {price}"


def _over_runs(named: Figures, flow: str, last: str) -> list[Figure]:
    """One figure of every run at one flow."""
    stem = f"water.{dotted(flow)}."
    return [figure for name, figure in named.items() if name.startswith(stem) and name.endswith(f".{last}")]


def _place(figure: Figure) -> str:
    """Run, flow and chainage: what a label says after its first comma."""
    return figure.label.partition(", ")[2]


def figures_that_matter(design: Design) -> tuple[Figure, ...]:
    """Those of the ten that are figures of this design, in the same order: what a measurement is worth is read off."""
    job, named = design.job, {figure.name: figure for figure in figures_of(design)}
    main, largest = main_flow(job), largest_flow(job)
    boards = [figure for name, figure in named.items() if name.startswith("freeboard.")]
    picked = (
        named.get("supply.flow"),
        min(_over_runs(named, main, "shown"), key=lambda figure: figure.amount, default=None),
        max(_over_runs(named, largest, "depth"), key=lambda figure: figure.high, default=None),
        min(boards, key=lambda figure: figure.amount, default=None),
        named.get(f"stored.{dotted(largest)}.in_motion"),
        named.get("reservoir.useful"),
        named.get("reservoir.level.lowest"),
        named.get("reservoir.level.first_fill"),
        in_reserve(Works(design)),
        named.get("supply.year.cost") or named.get("supply.year.energy"),
    )
    return tuple(figure for figure in picked if figure is not None)
