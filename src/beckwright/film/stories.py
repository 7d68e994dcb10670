"""A film of one story at one flow, and the bands and sets of films that people ask for."""

from beckwright.base.errors import JobError, Problem
from beckwright.base.quantities import Duration, FloatArray, Length, Ratio, Volume
from beckwright.compose import Design
from beckwright.film.march import Progress, Rules, march
from beckwright.film.nodes import Nodes, cut
from beckwright.film.pump import FLAT_OUT, Pumping, pumping_of
from beckwright.film.read import read_film
from beckwright.film.starts import Start, dry, rested, running
from beckwright.film.values import STORIES, Film, Story
from beckwright.stages.water.beds import BANDS, MIDDLE
from beckwright.tables.practice import FLOAT_SWITCH_RISE, RESERVE_WANTED

CELL: Length = 0.25
TOLERANCE: Ratio = 1e-3
_PATIENCE: Duration = 7200.0
"""Beyond three times what all the water to be moved takes at the flow, a film goes on for this long at most."""


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
    restart_rise: Length = FLOAT_SWITCH_RISE.amount,
    tolerance: Ratio = TOLERANCE,
    progress: Progress | None = None,
) -> Film:
    """Take the film of a design's loop through one story.

    story         ``first fill`` (all dry), ``restart`` (morning), ``stop``, or ``change`` from ``flow`` to ``then``
    flow          a named flow or ``flat out``; the largest named flow where not told
    end           which end of the laws' band: 0 low, 1 middle, 2 high depth
    cell          farthest apart two nodes of a run may stand, m; at 0.25 answers are within 1 % of those at 0.125
    pools_filled  at a first fill: pools filled from a hose beforehand
    topped_up     at a stop: a float kept the reservoir at its rest level while it ran
    missing       water gone from the reservoir before the film begins, m3
    endless       the pump never cuts out; it draws as from its least level where the reservoir is lower
    restart_rise  rise over the pump's least level at which a float switch starts it again, m
    tolerance     error a step may make in a node, as share of what it holds
    progress      told the seconds of the film now and then; may raise to stop it
    Raises JobError for a story, flow, cell or end that is none, a run without fall, or a start below the overflow
    by more water than there is; ArithmeticError where the film needs more steps than it may take.
    """
    largest = max(design.job.flows, key=lambda each: each.flow).name
    name = largest if flow is None else flow
    _refuse(design, story, then, end, cell, tolerance)
    nodes, pumping = cut(design, end, cell), pumping_of(design, name, restart_rise)
    morning = rested(design, nodes, pumping, missing=missing)
    if story == "first fill":
        start = dry(nodes, pumping, pools_filled=pools_filled, missing=missing)
    elif story == "restart":
        start = morning
    else:
        start = running(nodes, pumping, morning, tolerance, topped_up=topped_up, missing=missing)
    if story == "change":
        pumping = pumping_of(design, then, restart_rise)
    rules = Rules(running=story != "stop", endless=endless, tolerance=tolerance, until=_until(nodes, pumping, start))
    taken = march(nodes, pumping, start.held, start.highest, rules, progress)
    return read_film(
        design,
        nodes,
        pumping,
        taken,
        story=story,
        flow=name,
        then=then,
        end=end,
        note=_note(pools_filled=pools_filled, topped_up=topped_up, missing=missing),
        cell=cell,
        added=start.added,
    )


def film_band(design: Design, story: Story, flow: str | None = None, **asked: object) -> tuple[Film, Film, Film]:
    """The same film by the laws that give the low, middle and high depth; ``asked`` as for ``film``."""
    low, middle, high = (film(design, story, flow, end=end, **asked) for end in range(BANDS))  # type: ignore[arg-type]
    return low, middle, high


def film_set(design: Design, flow: str | None = None, *, progress: Progress | None = None) -> tuple[Film, ...]:
    """The films a sheet and its findings need, each as a band.

    First fill, restart, stop; a restart after a dry spell where the climate is known; and a stop after a float has
    topped up while running.
    """
    dry_spell = design.reservoir.loss_rate
    films = [
        *film_band(design, "first fill", flow, progress=progress),
        *film_band(design, "restart", flow, progress=progress),
        *film_band(design, "stop", flow, progress=progress),
        *film_band(design, "stop", flow, topped_up=True, progress=progress),
    ]
    if dry_spell is not None:
        missing = RESERVE_WANTED.amount * dry_spell * design.water.wet_area
        films.extend(film_band(design, "restart", flow, missing=missing, progress=progress))
    return tuple(films)


def _until(nodes: Nodes, pumping: Pumping, start: Start) -> Duration:
    flow = max(pumping.at(pumping.rested), 1e-6)
    to_move: FloatArray = nodes.full[1:-2].sum() + pumping.hose + start.held[1:-2].sum()
    return 3.0 * float(to_move) / flow + _PATIENCE


def _note(*, pools_filled: bool, topped_up: bool, missing: Volume) -> str:
    told = ["pools filled first"] * pools_filled + ["topped up while running"] * topped_up
    return ", ".join(told + ["after a dry spell"] * (missing > 0))


def _refuse(design: Design, story: str, then: str, end: int, cell: Length, tolerance: Ratio) -> None:
    problems = []
    if story not in STORIES:
        problems.append(_problem("story", str(story), f"A story is one of {', '.join(STORIES)}"))
    if (story == "change") != bool(then):
        problems.append(_problem("then", then or "nothing", "A change, and only a change, says what flow comes then"))
    if end not in range(BANDS):
        problems.append(_problem("end", str(end), "An end of the band is 0, 1 or 2"))
    if not 0.01 <= cell <= 5.0:
        problems.append(_problem("cell", f"{cell} m", "Cells are 0.01 to 5 m long"))
    if not 1e-8 <= tolerance <= 0.05:
        problems.append(_problem("tolerance", str(tolerance), "A tolerance lies between 1e-8 and 0.05"))
    problems += [
        Problem(
            place=f"job.toml course.reaches, {run.run.name}",
            found="no fall",
            rule="Water runs down a run only if it falls",
            remedy="Give it a fall, or make it a pool",
        )
        for run in design.water.runs
        if run.stretch.slope <= 0
    ]
    if problems:
        raise JobError(problems)


def _problem(place: str, found: str, rule: str) -> Problem:
    return Problem(place=f"film {place}", found=found, rule=rule, remedy="Ask again")


__all__ = ["CELL", "FLAT_OUT", "film", "film_band", "film_set"]
