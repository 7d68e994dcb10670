"""What the owner needs, at a terminal: what is normal, the tree, the tasks, the record, and what is added."""

import re
from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

import numpy as np
import typer

from beckwright.base import words
from beckwright.base.errors import JobError, Problem
from beckwright.cli.tell import table, wrapped
from beckwright.job.units import LITRE, LITRE_PER_HOUR

if TYPE_CHECKING:
    from beckwright.care import CareTask, FaultTree, Normal, Second, Sinking, Trend

NOT_SAID = "The job names no station of climate.csv: what a dry day takes is not told. Write station under [climate]."
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

    heads = (
        "",
        "dry day, down",
        "dry week, down",
        "fill up a week",
        "runs, none filled up",
        "more in a night is not",
    )
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
    from beckwright.care.years import trend_said

    return "\n".join(wrapped(trend_said(each)) for each in trends)


def settling_in_words(found: "tuple[Sinking, ...]") -> str:
    """Edges that sink, the soonest too low first."""
    from beckwright.care.years import STRAIGHT, gone_said, pace_said

    rows = [
        (
            each.what,
            f"{words.with_unit(each.chainage, 'm'):.1f}",
            pace_said(each),
            "yes" if each.sinks else "not shown",
            words.millimetres(each.freeboard),
            gone_said(each),
        )
        for each in found
    ]
    heads = ("edge", "at", "down a year", "sinks", "freeboard now", "too low")
    if not rows:
        return "No edge was shot on two dates."
    return "\n".join([table(rows, heads=heads), wrapped(STRAIGHT)])


def second_in_words(second: "Second") -> str:
    """What a second feature does to the level and the pump."""
    from beckwright.care.years import second_said

    return f"{typer.style('With a second feature', bold=True)}\n{table(second_said(second), indent='  ')}"


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
