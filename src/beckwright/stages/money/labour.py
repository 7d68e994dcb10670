"""Labour and hire as items: days by the programme, the whole crew by the day."""

from collections.abc import Iterator
from typing import get_args

from beckwright.base.figures import dotted
from beckwright.base.items import Item, Supplier
from beckwright.base.words import grouped, opening
from beckwright.job.model import Crew, WorkForce
from beckwright.stages.programme import Programme

_ASKED: dict[Crew, Supplier] = {"electrician": "electrician"}
"""Who is asked for a crew's days; the others are the builder's own."""


def labour_items(force: WorkForce, programme: Programme | None) -> tuple[Item, ...]:
    """Days of every crew, and of the digger; none without a programme."""
    return () if programme is None else (*_crews(force, programme), *_hires(programme))


def _days(programme: Programme, crew: Crew) -> tuple[float, float, float]:
    tasks = [dated.task for dated in programme.tasks if dated.task.crew == crew]
    return (
        sum(task.shortest for task in tasks),
        sum(task.likely for task in tasks),
        sum(task.longest for task in tasks),
    )


def _crews(force: WorkForce, programme: Programme) -> Iterator[Item]:
    for crew in get_args(Crew):
        low, likely, high = _days(programme, crew)
        if crew in ("digger", "nobody") or high <= 0:
            continue
        own = f"{force.people} people, {force.hours:g} h a day; " if crew == "own crew" else ""
        yield Item(
            key=dotted("labour", crew),
            name=opening(crew),
            amount=likely,
            low=low,
            high=high,
            unit="day",
            supplier=_ASKED.get(crew, "own crew"),
            drawing="programme",
            note=f"{own}days of work in fair weather: days rained off are not in it",
        )


def _hires(programme: Programme) -> Iterator[Item]:
    """The digger: from its days of work to every day it stands on site."""
    low, likely, high = _days(programme, "digger")
    held = sum(hire.days for hire in programme.hires if hire.what.startswith("digger"))
    if high <= 0:
        return
    yield Item(
        key="hire.digger",
        name="Digger with driver",
        amount=likely,
        low=low,
        high=max(high, float(held)),
        unit="day",
        supplier="hire",
        drawing="programme",
        note=f"{grouped(likely, 1)} days of digging; on site {held} days of the calendar from first to last",
    )
