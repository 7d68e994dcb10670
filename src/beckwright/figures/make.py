"""Small makers, so that a figure and its working are written side by side."""

from collections.abc import Iterable

from beckwright.base.figures import Figure, Input
from beckwright.base.published import Equation, Grade
from beckwright.base.quantities import Duration, Flow
from beckwright.job.model import Job

ORDER = (Grade.MEASURED, Grade.PUBLISHED, Grade.PRACTICE, Grade.ASSUMED)
"""From the surest to the least sure."""

Came = tuple[float, str]
"""A number and where it came from: a figure's dotted name, ``job: KEY`` or ``table: ROW``."""


def weakest(grades: Iterable[Grade]) -> Grade:
    """The least sure of several grades."""
    return max(grades, key=ORDER.index)


def by(equation: Equation, **inputs: Came) -> tuple[Equation, tuple[Input, ...]]:
    """An equation with every one of its inputs and where each came from."""
    return equation, tuple(
        Input(name=symbol.name, amount=float(inputs[symbol.name][0]), unit=symbol.unit, comes=inputs[symbol.name][1])
        for symbol in equation.symbols
    )


def worked(
    job: Job,
    name: str,
    label: str,
    amount: float,
    working: tuple[Equation, tuple[Input, ...]],
    *,
    ends: tuple[float, float] | None = None,
    grade: Grade = Grade.MEASURED,
    note: str = "",
) -> Figure:
    """A figure that an equation gives: at its inputs the equation's value is ``amount``.

    ends   low and high of its band, where it has one
    grade  the weakest among its inputs that are not the job's own
    """
    equation, inputs = working
    doubtful = any(_doubted(job, item.comes) for item in inputs)
    return Figure(
        name=name,
        label=label,
        amount=float(amount),
        low=float(ends[0] if ends else amount),
        high=float(ends[1] if ends else amount),
        unit=equation.unit,
        grade=weakest((equation.grade, grade, Grade.ASSUMED if doubtful else Grade.MEASURED)),
        source=f"{equation.source}, {equation.place}",
        equation=equation,
        inputs=inputs,
        note=note,
    )


def told(
    name: str,
    label: str,
    amount: float,
    unit: str,
    *,
    source: str,
    note: str = "",
    ends: tuple[float, float] | None = None,
    grade: Grade = Grade.MEASURED,
) -> Figure:
    """A figure without one closing equation: given by the person, or found by a sum or a trial that ``note`` tells."""
    return Figure(
        name=name,
        label=label,
        amount=float(amount),
        low=float(ends[0] if ends else amount),
        high=float(ends[1] if ends else amount),
        unit=unit,
        grade=grade,
        source=source,
        equation=None,
        inputs=(),
        note=note,
    )


def _doubted(job: Job, comes: str) -> bool:
    key = comes.removeprefix("job: ")
    return comes.startswith("job: ") and any(key == doubt or key.startswith(f"{doubt}.") for doubt in job.doubts)


def main_flow(job: Job) -> str:
    """The flow that runs longest in a year; the largest one where nobody said how long any runs."""
    times: dict[str, Duration] = {}
    for running in job.running:
        times[running.flow] = times.get(running.flow, 0.0) + running.time
    return max(times, key=lambda flow: times[flow]) if times else largest_flow(job)


def largest_flow(job: Job) -> str:
    """The largest of the named flows."""

    def amount(number: int) -> Flow:
        return job.flows[number].flow

    return job.flows[max(range(len(job.flows)), key=amount)].name
