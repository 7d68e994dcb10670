"""The tasks of a stream in the order of the trade, their durations made from amounts and outputs.

Services and trees first; the pit before the course, so that its spoil goes into the banks; the course dug from the
bottom up; the hose before the bank stone; water on the bare lining before any stone hides it.
"""

from collections.abc import Iterator
from dataclasses import replace

from beckwright.base.items import Item
from beckwright.base.tabled import Tabled
from beckwright.base.values import value
from beckwright.job.model import Crew, WorkForce
from beckwright.stages.programme.values import Task
from beckwright.tables import outputs

Three = tuple[float, float, float]
"""Shortest, likely, longest; or low, likely, high."""


def tasks_for(items: tuple[Item, ...], force: WorkForce, pegs: int) -> tuple[Task, ...]:
    """Every task the amounts call for. One that has nothing to do drops out, and what waits for it waits for its own.

    pegs  to be set out
    """
    amounts = _Amounts(items=items)
    return _without_gaps(tuple(_all(amounts, force, pegs)))


@value
class _Amounts:
    """Amounts by the beginning of their keys."""

    items: tuple[Item, ...]

    def of(self, *keys: str) -> Three:
        """Low, likely and high of all items whose key is one of these or begins with one and a dot."""
        found = [item for item in self.items if any(item.key == key or item.key.startswith(f"{key}.") for key in keys)]
        return (
            sum(item.low for item in found),
            sum(item.amount for item in found),
            sum(item.high for item in found),
        )


def _days(amount: Three, output: Tabled, hours: float) -> Three:
    """Days for an amount at so much an hour; the fast output goes with the small amount."""
    low, likely, high = amount
    return low / output.high / hours, likely / output.amount / hours, high / output.low / hours


def _fixed(row: Tabled) -> Three:
    return row.low, row.amount, row.high


def _together(*parts: Three) -> Three:
    return sum(part[0] for part in parts), sum(part[1] for part in parts), sum(part[2] for part in parts)


def _shared(days: Three, people: float) -> Three:
    return days[0] / people, days[1] / people, days[2] / people


def _all(amounts: _Amounts, force: WorkForce, pegs: int) -> Iterator[Task]:
    yield from _ground(amounts, force, pegs)
    yield from _reservoir(amounts, force)
    yield from _water(amounts, force)
    yield from _stone(amounts, force)
    yield from _end(amounts, force)


def _task(name: str, crew: Crew, days: Three, after: tuple[str, ...], comes: str, *, weather: bool = False) -> Task:
    shortest, likely, longest = days
    return Task(
        name=name,
        crew=crew,
        shortest=shortest,
        likely=likely,
        longest=longest,
        after=after,
        weather=weather,
        comes=comes,
    )


def _ground(amounts: _Amounts, force: WorkForce, pegs: int) -> Iterator[Task]:
    by_hand = force.machine == "by hand"
    crew: Crew = "own crew" if by_hand else "digger"
    output, hours = outputs.DIGGING[force.machine], force.hours

    def dug(*keys: str) -> Three:
        days = _days(amounts.of(*keys), output, hours)
        return _shared(days, force.people) if by_hand else days

    pairs = force.people / 2
    yield _task("make ready", "own crew", _fixed(outputs.MADE_READY), (), outputs.MADE_READY.place)
    setting = _shared(_days((pegs, pegs, pegs), outputs.PEGS, hours), pairs)
    yield _task("set out", "own crew", setting, ("make ready",), f"{pegs} pegs")
    yield _task("strip topsoil", crew, dug("ground.strip"), ("set out",), "topsoil stripped", weather=True)
    yield _task("dig the pit", crew, dug("ground.pit"), ("strip topsoil",), "pit as cut", weather=True)
    filled = _shared(_days(amounts.of("ground.fill"), outputs.RAMMING, hours), force.people)
    course = _together(dug("ground.channel", "ground.pool", "ground.source"), filled)
    yield _task(
        "dig the course, ram the banks",
        crew,
        course,
        ("dig the pit",),
        "course as cut, banks as filled, from the bottom up",
        weather=True,
    )


def _reservoir(amounts: _Amounts, force: WorkForce) -> Iterator[Task]:
    hours, pairs = force.hours, force.people / 2
    lined = _together(
        _days(amounts.of("lining.pit"), outputs.LINING, hours),
        _days(amounts.of("lining.pit"), outputs.FLEECE, hours),
        _days(amounts.of("crates.volume"), outputs.CRATES, hours),
    )
    yield _task(
        "line and fill the reservoir",
        "own crew",
        _shared(lined, pairs),
        ("dig the pit", "dig the course, ram the banks"),
        "sheet, fleece and crates of the pit",
        weather=True,
    )
    yield _task(
        "watch the reservoir",
        "nobody",
        _fixed(outputs.RESERVOIR_TEST),
        ("line and fill the reservoir",),
        outputs.RESERVOIR_TEST.place,
    )


def _water(amounts: _Amounts, force: WorkForce) -> Iterator[Task]:
    hours, pairs = force.hours, force.people / 2
    trench = _shared(_days(amounts.of("hose.length"), outputs.TRENCHING, hours), pairs)
    yield _task(
        "trench and hose", "own crew", trench, ("line and fill the reservoir",), "length of the hose", weather=True
    )
    sheet = _together(
        _days(amounts.of("lining.course"), outputs.LINING, hours),
        _days(amounts.of("lining.fleece"), outputs.FLEECE, hours),
    )
    yield _task(
        "line the course",
        "own crew",
        _shared(sheet, pairs),
        ("trench and hose",),
        "sheet and fleece of the course, from the bottom up",
        weather=True,
    )
    yield _task(
        "water on the bare lining", "own crew", _fixed(outputs.BED_TEST), ("line the course",), outputs.BED_TEST.place
    )


def _stone(amounts: _Amounts, force: WorkForce) -> Iterator[Task]:
    hours, pairs = force.hours, force.people / 2
    lips = amounts.of("stone.lip")
    bedded = (lips[0] / outputs.LIPS.high, lips[1] / outputs.LIPS.amount, lips[2] / outputs.LIPS.low)
    yield _task(
        "bed the lips",
        "own crew",
        _shared(bedded, pairs),
        ("water on the bare lining",),
        f"{lips[1]:.0f} lips",
        weather=True,
    )
    yield _task("lips set", "nobody", _fixed(outputs.CURING), ("bed the lips",), outputs.CURING.place)
    output = outputs.STONE["by hand" if force.machine == "by hand" else "by machine"]
    edges = _shared(_days(amounts.of("stone.edge"), output, hours), pairs)
    yield _task("set the edge stones", "own crew", edges, ("bed the lips",), "edge stone by mass", weather=True)
    beds = _shared(_days(amounts.of("stone.bed"), outputs.PEBBLES, hours), pairs)
    yield _task("lay the beds", "own crew", beds, ("set the edge stones",), "bed stone by mass", weather=True)


def _end(amounts: _Amounts, force: WorkForce) -> Iterator[Task]:
    yield _task("fit pump and outlet box", "own crew", _fixed(outputs.FITTED), ("lay the beds",), outputs.FITTED.place)
    yield _task(
        "connect the electrics",
        "electrician",
        _fixed(outputs.CONNECTED),
        ("fit pump and outlet box", "watch the reservoir"),
        outputs.CONNECTED.place,
    )
    yield _task(
        "run at full, move stones",
        "own crew",
        _fixed(outputs.RUNNING_TEST),
        ("connect the electrics", "lips set"),
        outputs.RUNNING_TEST.place,
    )
    yield _task("settle", "nobody", _fixed(outputs.SETTLING), ("run at full, move stones",), outputs.SETTLING.place)
    yield _task("trim the edges", "own crew", _fixed(outputs.TRIMMED), ("settle",), outputs.TRIMMED.place)
    plants = _shared(_days(amounts.of("plants"), outputs.PLANTS, force.hours), force.people)
    yield _task("plant", "planting", plants, ("trim the edges",), "plants by number", weather=True)
    yield _task(
        "test for leaks", "nobody", _fixed(outputs.TIGHTNESS_TEST), ("trim the edges",), outputs.TIGHTNESS_TEST.place
    )
    yield _task(
        "hand over",
        "own crew",
        _fixed(outputs.HANDED_OVER),
        ("test for leaks", "plant"),
        outputs.HANDED_OVER.place,
    )


def _without_gaps(tasks: tuple[Task, ...]) -> tuple[Task, ...]:
    """Take out tasks that have nothing to do, joining what waits for them to what they waited for."""
    idle = {task.name: task.after for task in tasks if task.longest <= 0}

    def awaited(names: tuple[str, ...]) -> tuple[str, ...]:
        found: list[str] = []
        for name in names:
            found += awaited(idle[name]) if name in idle else (name,)
        return tuple(dict.fromkeys(found))

    return tuple(replace(task, after=awaited(task.after)) for task in tasks if task.name not in idle)
