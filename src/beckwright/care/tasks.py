"""What is looked after when: months from this job's frost, trees, hours, plants and settlement."""

from collections.abc import Iterator

import numpy as np

from beckwright.base.quantities import Duration
from beckwright.base.values import value
from beckwright.base.words import grouped, millimetres, opening, with_unit
from beckwright.care.normal import Drops
from beckwright.care.told import dip, dip_unit
from beckwright.care.tree_terms import lid, person
from beckwright.compose import Design, Works
from beckwright.job.model import Job, Tree
from beckwright.stages.planting import PlacedPocket
from beckwright.stages.season import MONTHS
from beckwright.tables.care import CUT_MONTH, LEAF_MONTHS, LEAF_REACH, PUMP_HOURS
from beckwright.tables.season import FROSTY_MONTH

YEAR = 12
QUARTERS = (0, 3, 6, 9)
SETTLING_YEARS = 2


@value
class CareTask:
    """One thing to be done again and again.

    months  it is done in, January 0; rising
    weekly  every week of them, else once in each
    years   for so many years from the first; None for as long as it runs
    does    how, as orders
    by      who does it
    why     what of the job sets the months
    """

    key: str
    title: str
    months: tuple[int, ...]
    does: str
    by: str
    why: str
    weekly: bool = False
    years: int | None = None


def care_tasks(design: Design, works: Works, normal: Drops) -> tuple[CareTask, ...]:
    """Every task of this job, by their first month."""
    job = design.job
    found = (
        *_winter(job, normal),
        *_leaves(design),
        *_pump(job, normal),
        *_plants(works),
        _filling(job, normal),
        *_edges(job),
        _crates(job),
        *_electrics(job),
        _record(),
    )
    return tuple(sorted(found, key=lambda task: (task.months[0], task.key)))


def frost_span(normal: Drops) -> tuple[int, int] | None:
    """First and last month of winter, January 0: those with frost on as many days as make a winter month."""
    if normal.season is None or normal.season.frost_days is None:
        return None
    # From July on, so that a winter is one stretch.
    order = [(6 + turn) % YEAR for turn in range(YEAR)]
    hard = [month for month in order if normal.season.frost_days[month] >= FROSTY_MONTH.amount]
    return (hard[0], hard[-1]) if hard else None


def _winter(job: Job, normal: Drops) -> Iterator[CareTask]:
    span = frost_span(normal)
    if span is None or normal.season is None or normal.season.frost_days is None:
        return
    first, last = span
    frost = normal.season.frost_days
    drain, again = (first - 1) % YEAR, (last + 1) % YEAR
    told = (
        f"{grouped(float(frost[first]))} days with frost in "
        f"{MONTHS[first]}, {grouped(float(frost[last]))} in {MONTHS[last]}"
    )
    runs = any(normal.a_day[month] > 0 for month in _span(first, last))
    winter = (
        "It is to run in winter: then watch it daily in frost, "
        "for ice that dams a lip sends the water over the edge; or "
        if runs
        else ""
    )
    words = (
        f"{winter}drain hose and pump, lift the pump and keep it "
        "as its maker says, leave the hose open at its lowest end."
    )
    yield CareTask(
        key="drain", title="Drain down for winter", months=(drain,), does=opening(words), by="builder", why=told
    )
    fill = (
        f"Pump back, hose clipped, fill at rest to {millimetres(normal.rested)} "
        "below the lid, start and watch it once round."
    )
    yield CareTask(key="start", title="Start again after winter", months=(again,), does=fill, by="builder", why=told)


def _span(first: int, last: int) -> tuple[int, ...]:
    return tuple((first + turn) % YEAR for turn in range((last - first) % YEAR + 1))


def trees_near(design: Design) -> tuple[Tree, ...]:
    """Trees whose leaves fall into the stream, the nearest first."""
    line = design.course.stations.points
    away = [float(np.hypot(*(line - np.array(tree.at)).T).min()) for tree in design.job.site.trees]
    order = np.argsort(away, kind="stable").tolist()
    return tuple(design.job.site.trees[place] for place in order if away[place] <= LEAF_REACH.amount)


def _leaves(design: Design) -> Iterator[CareTask]:
    trees = trees_near(design)
    if not trees:
        return
    named = ", ".join(f"{tree.species or 'tree'} {tree.name}" for tree in trees)
    months = tuple(range(int(LEAF_MONTHS.low) - 1, int(LEAF_MONTHS.high)))
    yield CareTask(
        key="leaves",
        title="Leaves off lips and slots",
        months=months,
        weekly=True,
        does="Take leaves off every lip and off the stones over the reservoir; a net over the pools saves most of it.",
        by="you",
        why=f"{named} within {with_unit(LEAF_REACH.amount, 'm'):.0f} of the water",
    )


def pump_months(job: Job, normal: Drops) -> tuple[int, ...]:
    """Months in which the hours since the last cleaning come to what a pump runs between two; at least once a year."""
    if normal.season is None or normal.season.running.sum() <= 0:
        return (3,)
    first, since, found = job.season.first - 1, 0.0, list[int]()
    for turn in range(YEAR):
        month = (first + turn) % YEAR
        since += float(normal.season.running[month])
        if since >= PUMP_HOURS.amount:
            found.append(month)
            since = 0.0
    return tuple(sorted(found)) or (3,)


def _pump(job: Job, normal: Drops) -> Iterator[CareTask]:
    running: Duration = 0.0 if normal.season is None else float(normal.season.running.sum())
    why = f"{grouped(running / 3600)} hours a year, {grouped(PUMP_HOURS.amount / 3600)} between two cleanings"
    yield CareTask(
        key="pump",
        title="Clean pump and cage",
        months=pump_months(job, normal),
        does=f"Off at the isolator. {lid(job)}. Pump up by its rope, "
        "cage and slots brushed, sludge out of the sump, lid locked.",
        by="you",
        why=why if running else "once a year: nobody said how long it runs",
    )


def _plants(works: Works) -> Iterator[CareTask]:
    pockets = works.planting.pockets
    if not pockets:
        return
    spread = sorted({name for each in pockets for name in _spreading(each)})
    named = f" Thin out first: {', '.join(spread[:4])}." if spread else ""
    inside = [each.letter for each in pockets if each.reach > 0]
    channel = (
        f" Keep the channel open at pocket {', '.join(inside)}: roots dam it and the water goes over the edge."
        if inside
        else ""
    )
    yield CareTask(
        key="plants",
        title="Cut and thin the plants",
        months=(int(CUT_MONTH.amount) - 1,),
        does="Cut what died back, and take it away from the "
        f"water.{named}{channel} Nothing goes into the wild or a ditch.",
        by="you",
        why=f"{len(pockets)} pockets",
    )


def _spreading(pocket: PlacedPocket) -> Iterator[str]:
    for planted in pocket.plants:
        plant = planted.named.plant
        if plant is not None and plant.spreads == "high":
            yield plant.name


def _filling(job: Job, normal: Drops) -> CareTask:
    runs = tuple(month for month in QUARTERS if not normal.known or normal.a_day[month] > 0) or QUARTERS
    return CareTask(
        key="filling",
        title="Filling up and overflow",
        months=runs,
        does=f"At rest it fills to {dip(normal.rested)} and no higher, "
        f"overflow at {dip(normal.overflow)} {dip_unit()} below the "
        "lid. Open air gap over it, no hose hanging in; overflow's mouth free.",
        by="you",
        why=f"overflow to {job.reservoir.overflow_to}" if job.reservoir.overflow_to else "every quarter it runs",
    )


def _edges(job: Job) -> Iterator[CareTask]:
    if job.course.settlement <= 0:
        return
    yield CareTask(
        key="edges",
        title="Shoot the edges and lips again",
        months=(2, 8),
        years=SETTLING_YEARS,
        does="Levels of both edges and every lip; beckwright care with "
        "--settling tells which sink and when they are too low.",
        by="builder",
        why=f"fill settles, {grouped(job.course.settlement * 100)} % reckoned, most of it in the first year",
    )


def _crates(job: Job) -> CareTask:
    kept = (
        f" Keep off it what is heavier than: {', '.join(each.name for each in job.reservoir.loads)}."
        if job.reservoir.loads
        else ""
    )
    return CareTask(
        key="lid",
        title="Lid, grille and ground over the reservoir",
        months=(3,),
        does=f"{lid(job)}. It must lie flat and lock; no hollow in the "
        f"ground over the reservoir.{kept} Treat every standing depth as "
        "a danger to children.",
        by="you",
        why="every spring, common practice",
    )


def _electrics(job: Job) -> Iterator[CareTask]:
    yield CareTask(
        key="button",
        title="Test button of the protective switch",
        months=QUARTERS,
        does="Press T at the board: it must trip. If it does not, "
        f"leave all off and ring {person(job, 'electrician')}.",
        by="you",
        why="every quarter, common practice",
    )
    yield CareTask(
        key="electrician",
        title="Electrician's look",
        months=(3,),
        does="Cable, joints, isolator and lights looked at by a licensed "
        "electrician, at the interval written on the certificate.",
        by="electrician",
        why="local rules decide how often",
    )


def _record() -> CareTask:
    return CareTask(
        key="record",
        title="Yearly record",
        months=(4,),
        does="Flat out: bucket and watch at the outlet, watts at the "
        "plug, stick at rest and running: a row each in service.csv.",
        by="builder",
        why="what changes slowly is seen in no single year",
    )
