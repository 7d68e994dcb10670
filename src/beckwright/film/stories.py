"""A film of one story at one flow, and the bands and sets of films that people ask for."""

from typing import TypedDict, TypeVar, Unpack

from beckwright.base.quantities import Duration, FloatArray, Length, Ratio, Volume
from beckwright.compose import Design
from beckwright.film.asked import CELL, TOLERANCE, Asked, refuse
from beckwright.film.nodes import Loop, Nodes
from beckwright.film.pump import Pumping, pumping_of
from beckwright.film.read import read_film
from beckwright.film.reel import Progress, Rules, Scene
from beckwright.film.starts import Start, dry, rested, running
from beckwright.film.together import Work, do
from beckwright.film.values import Film, Story
from beckwright.stages.season import go_through_year
from beckwright.stages.water.beds import BANDS, MIDDLE
from beckwright.tables.practice import FLOAT_SWITCH_RISE, RESERVE_WANTED

T = TypeVar("T")

_PATIENCE: Duration = 7200.0
"""A film goes on for three times what all the water to be moved takes at the flow, and this long, at most."""


class Besides(TypedDict, total=False):
    """What may be asked of a band besides story and flow; the words are those of ``film``."""

    then: str
    cell: Length
    pools_filled: bool
    topped_up: bool
    missing: Volume
    endless: bool
    larger: Ratio
    restart_rise: Length
    tolerance: Ratio
    progress: Progress | None


def film(
    design: Design,
    story: Story,
    flow: str | None = None,
    *,
    then: str = "",
    end: int = MIDDLE,
    cell: Length = CELL,
    pools_filled: bool = False,
    topped_up: bool = False,
    missing: Volume = 0.0,
    endless: bool = False,
    larger: Ratio = 1.0,
    restart_rise: Length = FLOAT_SWITCH_RISE.amount,
    tolerance: Ratio = TOLERANCE,
    progress: Progress | None = None,
) -> Film:
    """Take the film of a design's loop through one story.

    story         ``first fill`` (all dry), ``restart`` (morning), ``stop``, or ``change`` from ``flow`` to ``then``
    flow          a named flow or ``flat out``; the largest named flow where not told
    end           which end of the laws' band: 0 low, 1 middle, 2 high depth
    cell          farthest apart two nodes of a run may stand, m
    pools_filled  at a first fill: pools filled from a hose beforehand
    topped_up     at a stop: a float kept the reservoir at its rest level while it ran
    missing       water gone from the reservoir before the film begins, m3
    endless       the pump never cuts out; it draws as from its least level where the reservoir is lower
    larger        the reservoir's plan is so many times the one designed
    restart_rise  rise over the pump's least level at which a float switch starts it again, m
    tolerance     error a step may make in a node, as share of what it holds
    progress      told the seconds of the film now and then; may raise to stop it

    At cells of 0.25 m every answer of the example jobs, at every named flow, lies within 1 %, or half a second, of that
    at 0.125 m: when half of a flow comes or is gone, when all is steady or nine tenths are back, lowest level and when,
    borrowed, returned, over the overflow. (One trickle that creeps to steady does so within 1.3 %.) At the ends of the
    band, and for a change of flow, within 2 %. A tolerance a tenth as large moves what is borrowed by 0.1 %.
    Raises JobError for a flow nobody named, another story, a number beyond its limits or a run without fall;
    ArithmeticError where the film needs more steps than it may take.
    """
    asked = Asked(
        story=story,
        then=then,
        end=end,
        cell=cell,
        pools_filled=pools_filled,
        topped_up=topped_up,
        missing=missing,
        endless=endless,
        larger=larger,
        restart_rise=restart_rise,
        tolerance=tolerance,
    )
    return do(filming(Loop(design), flow, asked, progress))[0]


def filming(
    loop: Loop, named: str | None, asked: Asked, progress: Progress | None = None
) -> Work[tuple[Film, Nodes, FloatArray]]:
    """Take a film as asked for: what it tells, its nodes, and the water in each of them frame by frame (t, m), m3."""
    design = loop.design
    flow = max(design.job.flows, key=lambda each: each.flow).name if named is None else named
    refuse(design, asked)
    nodes, pumping = loop.cut(asked.end, asked.cell), pumping_of(design, flow, asked.restart_rise, asked.larger)
    start = yield from _start(design, nodes, pumping, asked)
    if asked.then:
        pumping = pumping_of(design, asked.then, asked.restart_rise, asked.larger)
    rules = Rules(
        running=asked.story != "stop",
        endless=asked.endless,
        tolerance=asked.tolerance,
        until=_until(nodes, pumping, start),
    )
    taken = yield Scene(nodes, pumping, start.held, start.highest, rules, progress)
    return read_film(design, nodes, pumping, taken, asked, flow, start.added), nodes, taken.held


def film_band(
    design: Design, story: Story, flow: str | None = None, **besides: Unpack[Besides]
) -> tuple[Film, Film, Film]:
    """The same film by the laws that give the low, middle and high depth; ``besides`` as for ``film``."""
    return do(filming_band(Loop(design), story, flow, **besides))


def filming_band(
    loop: Loop, story: Story, flow: str | None = None, **besides: Unpack[Besides]
) -> Work[tuple[Film, Film, Film]]:
    """The work of ``film_band``."""
    progress = besides.pop("progress", None)
    asked = (Asked(story=story, end=end, **besides) for end in range(BANDS))  # type: ignore[misc]
    low, middle, high = yield tuple(filming(loop, flow, each, progress) for each in asked)
    return low[0], middle[0], high[0]


def film_set(design: Design, flow: str | None = None, *, progress: Progress | None = None) -> tuple[Film, ...]:
    """The films a sheet and its findings need, each as a band: a dozen, or fifteen where the climate is known.

    First fill, restart, stop; a stop after a float has topped up while it ran; a restart after a dry spell.
    """
    return tuple(each for band in do(_all(filming_set(Loop(design), flow, progress))) for each in band)


def filming_set(
    loop: Loop, flow: str | None = None, progress: Progress | None = None
) -> tuple[Work[tuple[Film, Film, Film]], ...]:
    """The work of ``film_set``, band by band."""
    asked: list[tuple[Story, Besides]] = [
        ("first fill", {}),
        ("restart", {}),
        ("stop", {}),
        ("stop", {"topped_up": True}),
    ]
    missing = lost_in_a_dry_spell(loop.design)
    if missing > 0:
        asked.append(("restart", {"missing": missing}))
    told = progress and _furthest(progress)
    for _, besides in asked:
        besides["progress"] = told
    return tuple(filming_band(loop, story, flow, **besides) for story, besides in asked)


def _all(works: tuple[Work[T], ...]) -> Work[tuple[T, ...]]:
    """All of these at a time."""
    done: tuple[T, ...] = yield works
    return done


def _furthest(progress: Progress) -> Progress:
    """Tell of the film that has come furthest, of those taken abreast."""
    furthest = 0.0

    def tell(seconds: Duration) -> None:
        nonlocal furthest
        furthest = max(furthest, seconds)
        progress(furthest)

    return tell


def lost_in_a_dry_spell(design: Design) -> Volume:
    """Water that is missing after seven dry days, but no more than there is, m3; 0 without climate and weather.

    With real days it is what the driest seven in a row of the year told take, middle of the band, their rain given
    back: the year whose dry weeks the owner is told of, too. Without them it evaporates on days of the driest month.
    """
    job, pit, rate = design.job, design.reservoir.pit, design.reservoir.loss_rate
    taken = 0.0 if rate is None else RESERVE_WANTED.amount * rate * design.water.wet_area
    if job.weather is not None:
        season = go_through_year(job, design.course, design.water, design.reservoir, design.supply)
        taken = taken if season is None else float(season.driest_week[1])
    return min(taken, pit.held(pit.rested))


def _start(design: Design, nodes: Nodes, pumping: Pumping, asked: Asked) -> Work[Start]:
    if asked.story == "first fill":
        return dry(nodes, pumping, pools_filled=asked.pools_filled, missing=asked.missing)
    morning = rested(design, nodes, pumping, missing=asked.missing)
    if asked.story == "restart":
        return morning
    return (
        yield from running(nodes, pumping, morning, asked.tolerance, topped_up=asked.topped_up, missing=asked.missing)
    )


def _until(nodes: Nodes, pumping: Pumping, start: Start) -> Duration:
    flow = max(pumping.at(pumping.rested), 1e-6)
    to_move = float(nodes.full[1:-2].sum() + pumping.hose + start.held[1:-2].sum())
    return 3.0 * to_move / flow + _PATIENCE
