"""The example jobs designed once, and a plain job whose film can be worked in the head."""

from collections.abc import Iterable
from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np

from beckwright.compose import Design, design
from beckwright.film import Film, Loop
from beckwright.film.asked import Asked
from beckwright.film.stories import filming
from beckwright.film.together import Work, do
from beckwright.job.model import BedMakeUp, Job, NamedFlow, Pump, Reach, Run, Running
from beckwright.job.read import read_job

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = ("hazel_bank", "larkspur_court", "fennymoor_park", "withy_lane")


@cache
def designed(name: str) -> Design:
    return design(read_job(EXAMPLES / name))


Wanted = tuple[str | None, Asked]
"""A flow, or None for the largest, and the film asked for."""
Films = dict[str, Film]
"""By all that was asked for."""


def abreast(design: Design, wanted: Iterable[Wanted]) -> Films:
    """Films taken together, in a fraction of the time: each is to the bit what it is alone (``test_laws``)."""
    every, loop = {str(each): each for each in wanted}, Loop(design)

    def together() -> Work[Films]:
        taken = yield tuple(filming(loop, *each) for each in every.values())
        return {name: each[0] for name, each in zip(every, taken, strict=True)}

    return do(together())


BARE = BedMakeUp(name="bare", depth=0.0, size=(0.02, 0.04), voids=0.4, retained=0.05, laid="loose", manning=0.06)
STONES = replace(BARE, name="stones", depth=0.1, manning=None)
STEADY = Pump(
    name="all but the same flow at every level",
    flows=np.array([0.0, 0.003, 0.0030001]),
    heads=np.array([40.0, 39.0, 0.0]),
    watts=np.array([100.0, 200.0, 200.0]),
    slowest=1.0,
)
"""It gives 3 L/s whatever the lift."""


def straight(job: Job, reaches: tuple[Reach, ...], pump: Pump = STEADY) -> Job:
    """A job with these reaches in a straight line over a plane, 3 L/s, upright sides, and a roomy reservoir below."""
    length = sum(getattr(reach, "length", 0.0) for reach in reaches)
    fall = sum(reach.fall if isinstance(reach, Run) else getattr(reach, "drop", 0.0) for reach in reaches)
    corners = np.array([[-10.0, -10.0], [length + 10, -10.0], [length + 10, 10.0], [-10.0, 10.0]])
    cover = 100.0 - fall - 0.3
    return replace(
        job,
        survey=replace(
            job.survey,
            points=corners,
            levels=99.9 - corners[:, 0] * fall / length,
            codes=("GL",) * 4,
            breaklines=(),
        ),
        site=replace(job.site, trees=(), services=(), boundaries=(), groundwater_winter=None, groundwater_summer=None),
        source=replace(
            job.source,
            lip_level=100.0,
            lip_width=0.6,
            lip="flat slab",
            box_depth=0.2,
            box_length=0.5,
            hose_outlet=100.3,
        ),
        course=replace(
            job.course,
            line=np.array([[0.0, 0.0], [length, 0.0]]),
            reaches=reaches,
            end=None,
            side_slope=0.0,
            edges=(),
            measured_edges=None,
        ),
        flows=(NamedFlow(name="one", flow=0.003),),
        reservoir=replace(
            job.reservoir,
            cover=cover,
            centre=(length + 3.0, 0.0),
            length=4.0,
            width=2.0,
            overflow=cover - 0.3,
            rested=cover - 0.3,
            loads=(),
        ),
        route=replace(job.route, line=(), length=length + 5.0),
        pumps=replace(job.pumps, chosen=pump, offered=(pump,), together=1),
        running=(Running(flow="one", time=3.6e6, when="a while"),),
        climate=None,
        doubts=(),
    )


def one_run(bed: BedMakeUp = BARE, *, length: float = 20.0, fall: float = 1.0, sills: tuple[float, ...] = ()) -> Run:
    return Run(name="run", length=length, fall=fall, width=0.6, bed=bed, sills=sills)


def straight_design(*reaches: Reach, pump: Pump = STEADY) -> Design:
    return design(straight(read_job(EXAMPLES / "hazel_bank"), reaches, pump))
