"""What came back from site, as the as-built sheet takes it: levels shot, and photographs."""

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import numpy as np

from beckwright.base.errors import JobError
from beckwright.base.values import value
from beckwright.compose import Design, design
from beckwright.readings import AsBuilt, Shot, as_built, read_shots
from beckwright.site.values import Photograph

SHOTS = "as_built.csv"


@value
class Seen:
    """What came back from site.

    shots        in order downstream; ``come`` tells from where
    photographs  kept in the job
    trouble      why shots there are could not be read, a sentence each
    """

    shots: tuple[Shot, ...] = ()
    come: str = ""
    photographs: tuple[Photograph, ...] = ()
    trouble: tuple[str, ...] = ()


def seen_in(folder: Path, designed: Design, photographs: Sequence[Photograph] = ()) -> Seen:
    """What lies in a job folder. A file that cannot be read is told, and stops nothing."""
    found = of_job(designed)
    if (folder / SHOTS).is_file():
        try:
            found = Seen(shots=read_shots(folder / SHOTS, designed.course), come=SHOTS)
        except JobError as error:
            found = Seen(trouble=_told(error))
    return replace(found, photographs=tuple(photographs))


def of_job(designed: Design) -> Seen:
    """The edges shot that the job itself carries, from its edges.csv; nothing where it has none."""
    edges = designed.job.course.measured_edges
    if edges is None:
        return Seen()
    shots = tuple(
        Shot(chainage=float(at), lip="", left=float(left), middle=None, right=float(right), dig=None, note="")
        for at, left, right in zip(edges.chainages, edges.left, edges.right, strict=True)
    )
    return Seen(shots=shots, come="edges.csv")


def held_against(designed: Design, seen: Seen) -> tuple[AsBuilt | None, tuple[str, ...]]:
    """The shots held against the levels as drawn, and why they cannot be; neither where nothing was shot."""
    if not seen.shots:
        return None, seen.trouble
    job = designed.job
    drawn = designed
    if job.course.measured_edges is not None:
        bare = replace(job, course=replace(job.course, measured_edges=None))
        drawn = design(bare, designed.ground)
    try:
        return as_built(drawn, tuple(shot for shot in seen.shots if _on(shot, drawn))), ()
    except JobError as error:
        return None, _told(error)


def _on(shot: Shot, drawn: Design) -> bool:
    return bool(0.0 <= shot.chainage <= drawn.course.length + np.finfo(float).eps)


def _told(error: JobError) -> tuple[str, ...]:
    return tuple(f"{each.place}: {each.found}. {each.remedy}." for each in error.problems)
