"""What the owner needs, at a terminal: what is normal, the tree, the tasks, the record, and what is added."""

import re
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np
import typer

from beckwright.base import words
from beckwright.base.errors import JobError, Problem
from beckwright.cli.tell import table, wrapped
from beckwright.job.units import LITRE, LITRE_PER_HOUR

if TYPE_CHECKING:
    from beckwright.care import CareTask, FaultTree, Normal, Second, Sinking, Trend
    from beckwright.compose import Design

NOT_SAID = "The job names no station of climate.csv: what a dry day takes is not told. Write station under [climate]."
_DATED = re.compile(r"(\d{4})-(\d{2})-(\d{2})")
_HOLDS = re.compile(r"\s*(\d+(?:\.\d+)?)(?:\s*(?:-|to)\s*(\d+(?:\.\d+)?))?\s*")


def in_words(normal: "Normal", tree: "FaultTree", tasks: "tuple[CareTask, ...]") -> str:
    """Levels, a row for each month, the tree of the month, and the year's tasks."""
    parts = [*_levels(normal, tree), "", *(_months(normal) if normal.known else [wrapped(NOT_SAID)])]
    parts += ["", *_tree(tree), "", typer.style("Through the year", bold=True), *_tasks(tasks)]
    return "\n".join(parts)


def _levels(normal: "Normal", tree: "FaultTree") -> Iterator[str]:
    from beckwright.care import numbers

    said = numbers(normal, tree.month)
    yield typer.style("Stick, from the lid down to the water", bold=True)
    rows = [("at rest", said["rested"]), ("overflow", said["overflow"]), ("pump's least", said["least"])]
    if "running" in said:
        rows += [(f"running, {normal.flow}", said["running"]), ("lowest at the start", said["lowest"])]
        rows.append(("first water back after", said["back"]))
    else:
        rows.append((f"runs out of water at {normal.flow} after", said["cuts_out"]))
    yield table(rows, indent="  ")
    yield wrapped(
        f"{said['litre_deep']} on the stick: the reservoir shows {said['amplified']} times what the stream loses."
    )


def _months(normal: "Normal") -> Iterator[str]:
    from beckwright.care import numbers
    from beckwright.stages.season import MONTHS

    heads = ("", "dry day, down", "dry week, down", "fill up a week", "lasts at rest", "more in a night is not")
    yield typer.style("What is normal, without filling up", bold=True)
    rows = []
    for month, called in enumerate(MONTHS):
        said = numbers(normal, month)
        rows.append(
            (called, *(said.get(key, "") for key in ("day_down", "week_down", "topped", "lasts", "night_most")))
        )
    yield table(rows, heads=heads, indent="  ")


def _tree(tree: "FaultTree") -> Iterator[str]:
    from beckwright.care import Leaf
    from beckwright.stages.season import MONTHS

    yield typer.style(f"When something is wrong, in {MONTHS[tree.month]}", bold=True)
    for symptom in tree.symptoms:
        keys = tree.below(symptom.first)
        number = {key: place for place, key in enumerate(keys, 1)}
        yield typer.style(words.opening(symptom.name), bold=True)
        for key in keys:
            at = tree.at(key)
            says = at.does if isinstance(at, Leaf) else f"{at.asks} Yes: {number[at.yes]}. No: {number[at.no]}."
            yield wrapped(says, first=f"  {number[key]:>2}  ", rest="      ")


def _tasks(tasks: "tuple[CareTask, ...]") -> Iterator[str]:
    from beckwright.stages.season import MONTHS

    for task in tasks:
        months = "every month" if len(task.months) == 12 else ", ".join(MONTHS[month][:3] for month in task.months)
        often = ", weekly" if task.weekly else ""
        yield wrapped(f"{months}{often}. {task.title} ({task.by}). {task.does}", first="  ", rest="      ")


def as_data(normal: "Normal", tree: "FaultTree", tasks: "tuple[CareTask, ...]") -> dict[str, Any]:
    """The same in SI; bands low first, dips in m from the lid. What has no end is null."""
    return {
        "flow": normal.flow,
        "dips": {name: getattr(normal, name) for name in ("rested", "overflow", "least")},
        "running": _plain(normal.running),
        "lowest": _plain(normal.lowest),
        "back": _plain(normal.back),
        "cuts_out": normal.cuts_out,
        "dry_day": _plain(np.array([normal.dry_days(month) for month in range(12)])),
        "dry_day_down": _plain(np.array([normal.downs(normal.dry_days(month)) for month in range(12)])),
        "topped_a_week": _plain(normal.topped),
        "month": tree.month + 1,
        "symptoms": [{"name": each.name, "first": each.first} for each in tree.symptoms],
        "questions": [{"key": q.key, "asks": q.asks, "yes": q.yes, "no": q.no} for q in tree.questions],
        "leaves": [{"key": e.key, "does": e.does, "who": e.who, "stops": e.stops} for e in tree.leaves],
        "tasks": [
            {
                "title": t.title,
                "months": [month + 1 for month in t.months],
                "weekly": t.weekly,
                "does": t.does,
                "by": t.by,
            }
            for t in tasks
        ],
    }


def _plain(held: "np.ndarray[Any, Any]") -> Any:
    return np.where(np.isfinite(held), held.astype(object), np.array(None)).tolist()


def record_in_words(trends: "tuple[Trend, ...]") -> str:
    """What the yearly record shows, an item a paragraph."""
    return "\n".join(wrapped(trend_said(each)) for each in trends)


def trend_said(trend: "Trend") -> str:
    """One item: how it changes in a year, what that means, and when."""
    item = trend.record.item
    now = f"{_amount(trend.now, trend)} now"
    if not trend.enough:
        return f"{words.opening(item.name)}: {now}. Too few years for a trend."
    low, _, high = (each / item.times for each in trend.slope.tolist())
    if low <= 0 <= high:
        change = "no change that shows"
    elif trend.share is not None:
        ends = sorted(abs(each) * 100 for each in (trend.share[0], trend.share[2]))
        change = f"{words.band(ends[0], ends[1], 0.5, '%')} {'less' if high < 0 else 'more'} a year"
    else:
        change = f"{'less' if high < 0 else 'more'} every year"
    told = f"{words.opening(item.name)}: {now}, {change}."
    if trend.limit is None:
        return told
    limit = f"The limit is {_amount(trend.limit.amount, trend)}: {trend.limit.why}."
    return f"{told} {limit} {_when(trend)}"


def _when(trend: "Trend") -> str:
    if trend.limit is not None and (trend.now < trend.limit.amount) == trend.limit.below:
        return "It is past that now."
    if trend.crosses is None:
        return "At this pace it is not reached within the years a line may be believed."
    first, last = trend.crosses.tolist()
    begins = max(int(first), int(trend.record.years[-1]))
    if not np.isfinite(last):
        return f"At this pace it may be reached from {begins} on, or never."
    return f"At this pace it is reached from {begins} to {max(int(last) + 1, begins)}."


def _amount(amount: float, trend: "Trend") -> str:
    item = trend.record.item
    metric = {"L/h": ("L/h", 3.6e6, 10 if item.key == "flow_l_h" else 0.1), "W": ("W", 1, 1), "mm": ("mm", 1000, 1)}
    unit, scale, step = metric[item.written]
    return words.band(amount, amount, step, unit, scale=scale)


def settling_in_words(found: "tuple[Sinking, ...]") -> str:
    """Edges that sink, the soonest too low first."""
    rows = [
        (
            each.what,
            f"{words.with_unit(each.chainage, 'm'):.1f}",
            words.band(float(each.rate[0]), float(each.rate[2]), 1, "mm", scale=1000),
            "yes" if each.sinks else "not shown",
            words.millimetres(each.freeboard),
            " to ".join(day.isoformat() if day else "not foreseen" for day in each.runs_out),
        )
        for each in found
    ]
    heads = ("edge", "at", "down a year", "sinks", "freeboard now", "too low from")
    if not rows:
        return "No edge was shot on two dates."
    return "\n".join(
        [table(rows, heads=heads), wrapped("A straight line: fill sinks ever more slowly, most of it in year one.")]
    )


def second_in_words(second: "Second") -> str:
    """What a second feature does to the level and the pump."""

    def dips(band: "np.ndarray[Any, Any]") -> str:
        return words.band(float(band[0]), float(band[-1]), 5, "mm", scale=1000)

    rows = [
        ("water in motion it adds", words.band(float(second.stored[0]), float(second.stored[-1]), 1, "L", scale=1000)),
        ("running, from the lid, now", dips(second.alone)),
        ("running, both", dips(second.running)),
        ("lowest at the start of both", dips(second.lowest)),
        ("both want", f"{words.flow(second.flow)} at {words.metres(second.head)} of head"),
        ("pump at that flow gives", "its table ends before" if second.gives is None else words.metres(second.gives)),
    ]
    return f"{typer.style('With a second feature', bold=True)}\n{table(rows, indent='  ')}"


def holds_of(text: str) -> tuple[float, float]:
    """Litres such as 30 or 30-50, to m3. Raises JobError."""
    match = _HOLDS.fullmatch(text)
    ends = sorted(float(end) * LITRE for end in match.groups() if end) if match else []
    if not ends or ends[0] <= 0:
        rule, remedy = "It is litres, one number or two with a dash", "Write --holds-l 30-50"
        raise JobError([Problem(place="--holds-l", found=f"it is {text[:40]!r}", rule=rule, remedy=remedy)])
    return ends[0], ends[-1]


def flow_of(litres_an_hour: float) -> float:
    """A flow as typed, to SI."""
    return litres_an_hour * LITRE_PER_HOUR


def visits_of(paths: "list[Path]", design: "Design") -> "list[tuple[date, Any]]":
    """Levels shot on several dates; each file has its date in its name. Raises JobError with every problem."""
    from beckwright.readings import read_shots

    problems: list[Problem] = []
    found = []
    for path in paths:
        match = _DATED.search(path.name)
        try:
            day = date(*map(int, match.groups())) if match else None
        except ValueError:
            day = None
        if day is None:
            rule, remedy = "The name of each file has the date it was shot", "Call it as_built_2027-03-20.csv"
            problems.append(Problem(place=path.name, found="it has no date in its name", rule=rule, remedy=remedy))
            continue
        try:
            found.append((day, read_shots(path, design.course)))
        except JobError as error:
            problems += error.problems
    if problems:
        raise JobError(problems)
    return found
