"""Figures of the programme: how long each task takes as it mostly goes, and how long it all takes with what chance."""

from collections.abc import Iterator

import numpy as np

from beckwright.base.figures import Figure, dotted
from beckwright.base.published import Grade
from beckwright.base.words import opening
from beckwright.equations.programme import days_with_weather, expected_duration
from beckwright.figures.make import by, told, worked
from beckwright.job.model import Job
from beckwright.stages.programme import Dated, Programme


def programme_figures(job: Job, programme: Programme | None) -> Iterator[Figure]:
    """Every task, then the whole; none where nobody said when it begins."""
    if programme is None:
        return
    for dated in programme.tasks:
        yield from _task(job, dated)
    yield told(
        "programme.days",
        "From the first day to the last, as it mostly goes",
        programme.likely,
        "day",
        source="the network worked forwards through the calendar",
        grade=Grade.ASSUMED,
    )
    for share in (50, 80, 90):
        yield told(
            f"programme.days_{share}",
            f"Days that {share} of 100 tries keep",
            float(np.quantile(programme.finishes, share / 100)),
            "day",
            source=f"{len(programme.finishes)} tries between the guesses, seed {job.force.seed}",
            grade=Grade.ASSUMED,
        )


def _task(job: Job, dated: Dated) -> Iterator[Figure]:
    task, stem = dated.task, f"programme.{dotted(dated.task.name)}"
    yield worked(
        job,
        f"{stem}.expected",
        f"{opening(task.name)}: mean of three guesses, in fair weather",
        expected_duration(task.shortest, task.likely, task.longest),
        by(
            expected_duration,
            shortest=(task.shortest, task.comes),
            likely=(task.likely, task.comes),
            longest=(task.longest, task.comes),
        ),
        ends=(task.shortest, task.longest),
        grade=Grade.PRACTICE,
    )
    if task.weather:
        yield worked(
            job,
            f"{stem}.likely",
            f"{opening(task.name)}: as it mostly goes, days lost to weather counted",
            dated.duration,
            by(
                days_with_weather,
                duration=(task.likely, task.comes),
                lost=(job.force.lost, "job: programme.lost_to_weather_percent"),
            ),
            grade=Grade.ASSUMED,
        )
