"""Figures of the stones: what stays on each run, what a fall strikes, and what plants do to the water."""

from collections.abc import Iterator

from beckwright.base.figures import Figure, dotted
from beckwright.base.published import Grade
from beckwright.base.words import with_unit
from beckwright.equations.drops import energy_over_floor, impact_velocity
from beckwright.equations.open_channel import unit_flow
from beckwright.equations.stability import (
    ball_mass,
    critical_shields,
    gentle_chute_size,
    isbash_size,
    relative_density,
    safe_size,
    shields_size,
    steep_chute_size,
)
from beckwright.figures.make import Came, by, told, worked
from beckwright.figures.water import ends_of
from beckwright.job.model import Job
from beckwright.stages.falls import Fall
from beckwright.stages.stones import Blocked, Foot, RunStones, Stability
from beckwright.stages.water.beds import HIGH
from beckwright.tables.stones import ISBASH, SIZE_SAFETY

DENSITY = "stones.relative_density"


def stone_figures(
    job: Job, falls: tuple[Fall, ...], stability: Stability, choked: tuple[Blocked, ...]
) -> Iterator[Figure]:
    """Stones at the largest flow there is. ``falls`` are those of the water with that flow."""
    flat_out = stability.flow not in (named.name for named in job.flows)
    flow = (stability.amount, "supply.flow" if flat_out else f"job: flows.{stability.flow}")
    yield worked(
        job,
        DENSITY,
        "Density of the stone over that of water",
        relative_density(job.materials.stone),
        by(relative_density, density=(job.materials.stone, "job: materials.stone_kg_m3")),
    )
    for run in stability.runs:
        yield from _run(job, stability, run, flow)
    fallen = {fall.lip.name: fall for fall in falls}
    for foot in stability.feet:
        yield from _foot(job, stability, foot, fallen[foot.name])
    for each in choked:
        yield from _choked(each)


def _run(job: Job, stability: Stability, run: RunStones, flow: Came) -> Iterator[Figure]:
    name, reach = dotted("stones", run.run.run.name), run.run.run
    where = f"{reach.name} at {stability.flow}"
    yield worked(
        job,
        f"{name}.unit_flow",
        f"Flow for each metre of {where}, all of it in view at the head",
        run.unit_flow,
        by(unit_flow, flow=flow, width=(reach.width, "job: course.reaches")),
    )
    yield from _shear(job, name, where, run) if run.law == "shields_size" else _chute(job, name, where, run)
    just = float(run.stays.max())
    yield worked(
        job,
        f"{name}.wanted",
        f"Median stone wanted on {where}",
        run.wanted,
        by(safe_size, size=(just, f"{name}.stays"), safety=(SIZE_SAFETY.amount, "table: stones, size safety")),
    )
    yield worked(
        job,
        f"{name}.mass",
        f"Mass of one stone wanted on {where}",
        run.mass,
        by(
            ball_mass,
            density=(job.materials.stone, "job: materials.stone_kg_m3"),
            size=(run.wanted, f"{name}.wanted"),
        ),
    )


def _chute(job: Job, name: str, where: str, run: RunStones) -> Iterator[Figure]:
    law = gentle_chute_size if run.law == "gentle_chute_size" else steep_chute_size
    tested = "tested on angular rock two stones deep"
    yield worked(
        job,
        f"{name}.stays",
        f"Median stone that just stays on {where}",
        float(run.stays.max()),
        by(
            law,
            unit_flow=(run.unit_flow, f"{name}.unit_flow"),
            slope=(run.run.stretch.slope, "job: course.reaches"),
        ),
        note=tested if run.tested else f"{tested}, never so steep",
    )


def _shear(job: Job, name: str, where: str, run: RunStones) -> Iterator[Figure]:
    slope, density = run.run.stretch.slope, relative_density(job.materials.stone)
    critical = critical_shields(slope)
    yield told(
        f"{name}.radius",
        f"Hydraulic radius at the head of {where}",
        run.radius[HIGH],
        "m",
        ends=ends_of(run.radius),
        source="uniform depth",
        note="of the high depth: the deeper water pulls harder",
        grade=Grade.PUBLISHED,
    )
    yield worked(
        job,
        f"{name}.critical_shields",
        f"Shear at which stones begin to move on {where}",
        critical,
        by(critical_shields, slope=(slope, "job: course.reaches")),
    )
    yield worked(
        job,
        f"{name}.stays",
        f"Stone that just stays on {where}",
        run.stays[HIGH],
        by(
            shields_size,
            hydraulic_radius=(float(run.radius[HIGH]), f"{name}.radius"),
            slope=(slope, "job: course.reaches"),
            relative_density=(density, DENSITY),
            critical_shields=(critical, f"{name}.critical_shields"),
        ),
        ends=ends_of(run.stays),
        grade=Grade.PUBLISHED,
    )


def _foot(job: Job, stability: Stability, foot: Foot, fall: Fall) -> Iterator[Figure]:
    name, where = dotted("stones", foot.name), f"{foot.name} at {stability.flow}"
    critical = float(fall.critical[int(fall.flows.argmax())])
    energy = energy_over_floor(fall.lip.drop, critical)
    yield worked(
        job,
        f"{name}.energy",
        f"Energy over the bed or the pool's rim below {where}",
        energy,
        by(
            energy_over_floor,
            drop=(fall.lip.drop, "job: course.reaches.drop_mm"),
            critical_depth=(critical, f"{dotted('lip', foot.name, stability.flow)}.critical"),
        ),
    )
    yield worked(
        job,
        f"{name}.velocity",
        f"Velocity with which the water of {where} strikes",
        foot.velocity,
        by(impact_velocity, energy=(energy, f"{name}.energy")),
    )
    for key, place, coefficient in (("calm", 0, ISBASH.high), ("rough", 1, ISBASH.low)):
        size = float(foot.wanted[place])
        yield worked(
            job,
            f"{name}.{key}",
            f"Stone that stays where the water of {where} lands, in {key} water",
            size,
            by(
                isbash_size,
                velocity=(foot.velocity, f"{name}.velocity"),
                relative_density=(relative_density(job.materials.stone), DENSITY),
                coefficient=(coefficient, f"table: stones, Isbash, {key}"),
            ),
            note="landing zone only: the pool takes the jet" if foot.taken else f"lands on: {foot.below}",
        )
        yield worked(
            job,
            f"{name}.{key}_mass",
            f"Mass of that stone, {where}, {key} water",
            foot.mass[place],
            by(
                ball_mass,
                density=(job.materials.stone, "job: materials.stone_kg_m3"),
                size=(size, f"{name}.{key}"),
            ),
        )


def _choked(each: Blocked) -> Iterator[Figure]:
    name, where = dotted("stones", each.run.run.name, "blocked"), f"{each.run.run.name} at {each.flow}"
    for closed, rise in zip(each.shares, each.rise, strict=True):
        yield told(
            f"{name}.rise_{closed * 100:.0f}",
            f"Rise of the water where plants close {closed:.0%} of {where}",
            rise,
            "m",
            source="uniform flow in the narrower bed, high end",
            note="where the run rises most; bare narrowing, without the drag of leaves",
            grade=Grade.ASSUMED,
        )
    yield told(
        f"{name}.under",
        f"Share of the width of {where} at which the first edge goes under",
        each.under,
        "1",
        source="uniform flow in the narrower bed, high end",
        note=f"at {with_unit(each.chainage, 'm'):.2f}, once the fill has settled; 1 where the sides alone carry it",
        grade=Grade.ASSUMED,
    )
