"""Figures of the planting: ground, plants, soil, fleece, and what stands in the channel."""

from collections.abc import Iterator

from beckwright.base.figures import Figure, dotted
from beckwright.base.published import Grade
from beckwright.base.words import share
from beckwright.equations.planting import barrier_area, ground_area, share_closed
from beckwright.figures.make import by, told, worked
from beckwright.job.model import Job
from beckwright.stages.planting import PlacedPocket, Planted, Planting
from beckwright.stages.planting.make import DENSITY

_PLAN = "outlines on plan"


def planting_figures(job: Job, planting: Planting) -> Iterator[Figure]:
    """Every pocket with its plants, then the runs that pockets stand in."""
    for placed in planting.pockets:
        yield from _pocket(job, placed)
        for number, planted in enumerate(placed.plants, 1):
            yield from _plants(job, planting, placed, planted, dotted("planting", placed.letter, str(number)))
    for choked in planting.choked:
        stem = dotted("planting", choked.run)
        working = by(
            share_closed,
            reach=(choked.share * choked.width, "job: pockets"),
            width=(choked.width, "job: course.reaches"),
        )
        yield worked(job, f"{stem}.closed", f"Share of {choked.run} closed by plants", choked.share, working)
        for part, label, amount in (
            ("rise", "Rise of the water by plants", choked.rise),
            ("left", "Freeboard left with plants", choked.left),
        ):
            yield told(
                f"{stem}.{part}",
                f"{label} in {choked.run}, at {choked.flow}",
                amount,
                "m",
                source="uniform flow in what is left of the bed",
                note="high end of the band",
                grade=Grade.ASSUMED,
            )


def _pocket(job: Job, placed: PlacedPocket) -> Iterator[Figure]:
    stem, name = dotted("planting", placed.letter), f"pocket {placed.letter}, {placed.pocket.name}"
    yield told(f"{stem}.plan", f"Plan of {name}", placed.plan, "m2", source=_PLAN)
    yield told(f"{stem}.slope", f"Slope of {name}", placed.slope, "rad", source="the survey; inside, the stream's fall")
    working = by(ground_area, plan=(placed.plan, f"{stem}.plan"), slope=(placed.slope, f"{stem}.slope"))
    yield worked(job, f"{stem}.ground", f"Ground of {name}", placed.ground, working)
    for part, label, amount in (
        ("over_water", f"Soil over running water, {name}", placed.over_water),
        ("from_water", f"Near side to the water's edge, {name}", placed.from_water),
        ("from_lining", f"Nearest lining, {name}", placed.from_lining),
    ):
        if amount is not None:
            yield told(f"{stem}.{part}", label, amount, "m", source=_PLAN)
    yield told(f"{stem}.soil", f"Soil of {name}", placed.soil, "m3", source="ground by depth", grade=Grade.PRACTICE)
    if placed.pocket.inside:
        yield told(f"{stem}.outline", f"Outline of {name}", placed.round_it, "m", source=_PLAN)
        working = by(
            barrier_area,
            floor=(placed.ground, f"{stem}.ground"),
            round_it=(placed.round_it, f"{stem}.outline"),
            depth=(placed.soil_depth, "job: pockets.soil_mm, else table: SOIL_DEPTH"),
        )
        yield worked(job, f"{stem}.fleece", f"Barrier fleece of {name}", placed.fleece, working, grade=Grade.PRACTICE)


def _plants(job: Job, planting: Planting, placed: PlacedPocket, planted: Planted, stem: str) -> Iterator[Figure]:
    if planted.spacing is None:
        return
    name = f"{planted.named.name} in pocket {placed.letter}"
    given = any(each.plant == planted.named.given and each.spacing is not None for each in placed.pocket.plants)
    comes = "job: pockets.plants.spacing_mm" if given else "table: plants, spacing_mm"
    working = by(
        DENSITY[planting.pattern],
        area=(planted.area, f"share of {dotted('planting', placed.letter, 'ground')}"),
        spacing=(planted.spacing, comes),
    )
    grade = Grade.MEASURED if given else Grade.ASSUMED
    yield worked(job, f"{stem}.covers", f"{name}, that cover its ground", planted.covers, working, grade=grade)
    yield told(
        f"{stem}.order",
        f"{name}, to order",
        planted.number,
        "1",
        source="up to whole plants",
        note=f"with {share(planting.loss)} for losses",
        ends=(planted.low, planted.high),
        grade=Grade.PRACTICE,
    )
