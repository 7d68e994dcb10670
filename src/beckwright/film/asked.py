"""What may be asked of a film, and what is refused."""

from beckwright.base.errors import JobError, Problem
from beckwright.base.quantities import Length, Ratio, Volume
from beckwright.base.values import value
from beckwright.compose import Design
from beckwright.film.values import STORIES, Story
from beckwright.stages.water.beds import BANDS, MIDDLE
from beckwright.tables.practice import FLOAT_SWITCH_RISE

CELL: Length = 0.25
TOLERANCE: Ratio = 2e-3
ROUGHEST: Ratio = 0.05


@value
class Asked:
    """One film as asked for; the words are those of ``film``."""

    story: Story
    then: str = ""
    end: int = MIDDLE
    cell: Length = CELL
    pools_filled: bool = False
    topped_up: bool = False
    missing: Volume = 0.0
    endless: bool = False
    larger: Ratio = 1.0
    restart_rise: Length = FLOAT_SWITCH_RISE.amount
    tolerance: Ratio = TOLERANCE


def refuse(design: Design, asked: Asked) -> None:
    """Raise one JobError with everything that cannot be filmed."""
    problems = [*_options(asked), *_numbers(design, asked), *_runs(design)]
    if problems:
        raise JobError(problems)


def _options(asked: Asked) -> list[Problem]:
    problems = []
    if asked.story not in STORIES:
        problems.append(_problem("story", str(asked.story), f"A story is one of {', '.join(STORIES)}"))
    if (asked.story == "change") != bool(asked.then):
        rule = "A change, and only a change, says what flow comes then"
        problems.append(_problem("then", asked.then or "nothing", rule))
    if asked.end not in range(BANDS):
        problems.append(_problem("end", str(asked.end), "An end of the band is 0, 1 or 2"))
    return problems


def _numbers(design: Design, asked: Asked) -> list[Problem]:
    pit = design.reservoir.pit
    limits = (
        ("cell", asked.cell, 0.01, 5.0, " m"),
        ("tolerance", asked.tolerance, 1e-8, ROUGHEST, ""),
        ("restart_rise", asked.restart_rise, 0.0, 5.0, " m"),
        ("missing", asked.missing, 0.0, asked.larger * max(pit.held(pit.rested), 0.0), " m3"),
        ("larger", asked.larger, 1e-3, 1e3, ""),
    )
    return [
        _problem(name, f"{number}{unit}", f"It lies between {low:g} and {high:g}{unit}")
        for name, number, low, high, unit in limits
        if not low <= number <= high
    ]


def _runs(design: Design) -> list[Problem]:
    return [
        Problem(
            place=f"job.toml course.reaches, {run.run.name}",
            found="it has no fall",
            rule="Water runs down a run only if it falls",
            remedy="Give it a fall, or make it a pool",
        )
        for run in design.water.runs
        if run.stretch.slope <= 0
    ]


def _problem(place: str, found: str, rule: str) -> Problem:
    return Problem(place=f"film {place}", found=found, rule=rule, remedy="Ask again")
