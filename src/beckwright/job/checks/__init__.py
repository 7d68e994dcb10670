"""Cross checks: what no single number can tell. Each runs when all the parts it needs could be read."""

import inspect
from collections.abc import Callable, Iterator, Mapping
from typing import Any

from beckwright.base.errors import Problem
from beckwright.job.checks import course, electrics, lining, money, planting, stonework, weather, works
from beckwright.job.wording.fault import Fault
from beckwright.job.wording.keylines import Path
from beckwright.job.wording.sentences import near_miss, place_of, shown

Check = Callable[..., Iterator[Fault]]

CHECKS: tuple[Check, ...] = (
    works.stems_once,
    works.trees_once,
    works.groundwater_in_order,
    course.points_apart,
    course.line_crosses,
    course.one_open_length,
    course.lengths_add_up,
    course.falls_add_up,
    course.order_of_reaches,
    course.names_once,
    course.runs_fall,
    course.sills_in_place,
    course.lips_fit,
    course.beds_known,
    course.stones_sized,
    course.edges_in_place,
    course.course_on_survey,
    works.flows_differ,
    works.fill_given,
    works.levels_in_order,
    works.hose_lets_go_above,
    works.loads_complete,
    works.strengths_in_order,
    course.reservoir_on_survey,
    works.hose_known,
    works.fittings_known,
    works.fittings_counted,
    works.pump_known,
    works.running_known,
    works.hours_in_year,
    works.edge_stones_sized,
    planting.pockets_once,
    planting.pockets_in_place,
    planting.outside_is_outside,
    planting.shares_fit,
    stonework.chart_in_order,
    stonework.pools_bed_known,
    stonework.stone_sizes_in_order,
    stonework.crates_countable,
    stonework.chamber_fits,
    lining.rolls_once,
    lining.rolls_wider_than_laps,
    money.tax_in_prices_told,
    money.tax_rate_told,
    money.groups_once,
    electrics.electrics_told,
    electrics.cables_known,
    electrics.lights_once,
    electrics.views_once,
    electrics.lights_placed,
    electrics.lights_on_survey,
    weather.table_lies_here,
    weather.place_told,
    weather.wind_height_told,
    weather.sun_fits_the_day,
)
WANTED = tuple((one, tuple(inspect.signature(one).parameters)) for one in CHECKS)
"""Each check with the names of the parts it needs."""
FILES = ("survey.csv", "pumps.csv", "hoses.csv", "climate.csv", "weather.csv", "edges.csv", "prices.csv", "quote.csv")


def check(parts: Mapping[str, Any], lines: Mapping[Path, int]) -> Iterator[Problem]:
    """Yield what the cross checks find.

    parts  sections of the job as written and tables read, by name; what could not be read is left out
    lines  line of each key, for the messages
    """
    for one, wanted in WANTED:
        if all(name in parts for name in wanted):
            for path, found, rule, remedy in one(**{name: parts[name] for name in wanted}):
                yield Problem(place=place_of(path, lines), found=found, rule=rule, remedy=remedy)


def check_doubts(doubts: list[str], given: Mapping[str, Any], lines: Mapping[Path, int]) -> Iterator[Problem]:
    """Yield the doubts that name nothing in the job. ``given`` is job.toml as parsed."""
    for place, doubt in enumerate(doubts):
        if doubt not in FILES and not _stands(doubt, given):
            nearest = near_miss(doubt, [*FILES, *_keys(given, ())])
            remedy = f'Did you mean "{nearest}"' if nearest else "Write the key with its section, such as site.soil"
            rule = "A doubt names a key of this file or a table of this job"
            path = ("job", "doubts", place)
            yield Problem(place=place_of(path, lines), found=f"doubt {shown(doubt)}", rule=rule, remedy=remedy)


def _stands(name: str, given: object) -> bool:
    """Whether a dotted name stands in a parsed file, as ``_keys`` spells them; a key may hold dots itself."""
    if isinstance(given, Mapping):
        inside = [(str(key), held) for key, held in given.items()]
        return any(
            name == key or (name.startswith(f"{key}.") and _stands(name[len(key) + 1 :], held)) for key, held in inside
        )
    if isinstance(given, list):
        number, _, more = name.partition(".")
        held = next((each for place, each in enumerate(given, 1) if str(place) == number), None)
        return isinstance(held, Mapping) and (not more or _stands(more, held))
    return False


def _keys(given: object, path: tuple[str, ...]) -> Iterator[str]:
    """Dotted names of everything in a parsed file; positions in lists count from 1."""
    inside: Iterator[tuple[str, object]] = iter(())
    if isinstance(given, Mapping):
        inside = ((str(key), held) for key, held in given.items())
    elif isinstance(given, list):
        inside = ((str(place), held) for place, held in enumerate(given, 1) if isinstance(held, Mapping))
    for key, held in inside:
        yield ".".join((*path, key))
        yield from _keys(held, (*path, key))
