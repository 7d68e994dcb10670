"""Figures of pump and hose."""

from collections.abc import Iterator

from beckwright.base.figures import Figure, dotted
from beckwright.base.published import Grade
from beckwright.compose import Design
from beckwright.equations.energy import energy_cost
from beckwright.equations.pipe import (
    fittings_loss,
    friction_loss,
    laminar_friction,
    pipe_velocity,
    pipe_volume,
    reynolds_number,
    swamee_jain_friction,
    transition_friction,
)
from beckwright.equations.pump import static_lift, total_head
from beckwright.equations.water import water_viscosity
from beckwright.figures.make import by, told, worked
from beckwright.stages.supply import Duty, loss_sum
from beckwright.stages.water.beds import MIDDLE


def supply_figures(design: Design) -> Iterator[Figure]:
    """Flat out, at each named flow, and over a year."""
    job, supply = design.job, design.supply
    yield worked(
        job,
        "supply.hose_volume",
        "Water in the hose",
        design.reservoir.hose,
        by(pipe_volume, bore=(job.route.chosen.bore, "hoses.csv"), length=(job.route.length, "job: hose.length_m")),
    )
    yield from _flow(design)
    flat = supply.flat_out[MIDDLE]
    if flat is not None:
        yield from _duty(design, "supply", "flat out", flat)
    for number, given in enumerate(supply.chosen.flows):
        if given.duty is not None:
            stem = f"supply.{dotted(given.name)}"
            yield worked(
                job,
                f"{stem}.lift",
                f"Lift at {given.name}",
                given.lift,
                by(
                    static_lift,
                    outlet=(job.source.hose_outlet, "job: source"),
                    running=(
                        float(design.reservoir.drawn_from[MIDDLE, number]),
                        dotted("reservoir", "level", "drawn_from", given.name),
                    ),
                ),
                grade=Grade.PUBLISHED,
            )
            yield from _duty(design, stem, f"at {given.name}", given.duty)
            yield told(
                f"{stem}.speed",
                f"Share of full speed at {given.name}",
                given.duty.speed,
                "1",
                source="affinity laws on the pump table",
                note="n**2 times the table's head at flow / n equals the head needed",
                grade=Grade.PUBLISHED,
            )
            yield told(
                f"{stem}.throttled",
                f"Watts at {given.name} if a valve held it back",
                given.throttled or 0.0,
                "W",
                source="pumps.csv, between rows",
                grade=Grade.PUBLISHED,
            )
    yield from _year(design)


def supply_answers(design: Design) -> Iterator[Figure]:
    """Of the figures of pump and hose those a person looks at while the line moves."""
    yield from _flow(design)
    for given in design.supply.chosen.flows:
        if given.duty is not None:
            yield _watts(f"supply.{dotted(given.name)}", f"at {given.name}", given.duty)
    yield from _year(design)


def _flow(design: Design) -> Iterator[Figure]:
    least, flat, most = design.supply.flat_out
    if flat is not None:
        yield told(
            "supply.flow",
            "Flow flat out",
            flat.flow,
            "m3/s",
            ends=(least.flow if least else 0.0, most.flow if most else 0.0),
            grade=Grade.PUBLISHED,
            source="pump table and hose loss",
            note="found by trial: the pump's head there is supply.head; "
            "band from what this kind of hose wall is known to lose",
        )


def _watts(stem: str, words: str, duty: Duty) -> Figure:
    return told(
        f"{stem}.watts",
        f"Watts {words}",
        duty.watts,
        "W",
        source="pumps.csv, between rows",
        grade=Grade.PUBLISHED,
        note="" if duty.speed == 1 else f"table at flow / n, times n**3, n = {duty.speed:.4f}",
    )


def _duty(design: Design, stem: str, words: str, duty: Duty) -> Iterator[Figure]:
    job, hose, route, losses = design.job, design.job.route.chosen, design.job.route, duty.losses
    velocity = (losses.velocity, f"{stem}.velocity")
    yield worked(
        job,
        f"{stem}.velocity",
        f"Velocity in the hose {words}",
        losses.velocity,
        by(pipe_velocity, flow=(duty.flow, f"{stem}.flow"), bore=(hose.bore, "hoses.csv")),
    )
    yield worked(
        job,
        f"{stem}.reynolds",
        f"Reynolds number in the hose {words}",
        losses.reynolds,
        by(
            reynolds_number,
            velocity=velocity,
            bore=(hose.bore, "hoses.csv"),
            viscosity=(water_viscosity(job.water_temperature), "water.viscosity"),
        ),
    )
    yield _friction(design, stem, words, duty)
    yield worked(
        job,
        f"{stem}.smooth_loss",
        f"Head lost along a hose of this friction {words}",
        losses.along / hose.loss_factor,
        by(
            friction_loss,
            friction=(losses.friction, f"{stem}.friction"),
            length=(route.length, "job: hose.length_m"),
            bore=(hose.bore, "hoses.csv"),
            velocity=velocity,
        ),
    )
    yield told(
        f"{stem}.along",
        f"Head lost along the hose {words}",
        losses.along,
        "m",
        source=f"{stem}.smooth_loss",
        note=f"times {hose.loss_factor:g} for a {hose.wall} wall",
        grade=Grade.ASSUMED,
    )
    yield worked(
        job,
        f"{stem}.fittings",
        f"Head lost in fittings {words}",
        losses.fittings,
        by(fittings_loss, loss_sum=(loss_sum(route), "job: hose.fittings, table of fittings"), velocity=velocity),
    )
    yield worked(
        job,
        f"{stem}.head",
        f"Head the pump gives {words}",
        duty.head,
        by(
            total_head,
            static_lift=(duty.lift, f"{stem}.lift"),
            friction_loss=(losses.along, f"{stem}.along"),
            fittings_loss=(losses.fittings, f"{stem}.fittings"),
        ),
        grade=Grade.ASSUMED,
    )
    yield _watts(stem, words, duty)


def _friction(design: Design, stem: str, words: str, duty: Duty) -> Figure:
    hose, label = design.job.route.chosen, f"Friction factor of the hose {words}"
    reynolds = (duty.losses.reynolds, f"{stem}.reynolds")
    if hose.wall == "corrugated":
        return told(
            f"{stem}.friction", label, duty.losses.friction, "1", source="table: corrugated hose", grade=Grade.ASSUMED
        )
    if duty.losses.reynolds < 2000:
        return worked(
            design.job, f"{stem}.friction", label, duty.losses.friction, by(laminar_friction, reynolds=reynolds)
        )
    law = transition_friction if duty.losses.reynolds < 4000 else swamee_jain_friction
    return worked(
        design.job,
        f"{stem}.friction",
        label,
        duty.losses.friction,
        by(law, reynolds=reynolds, relative_roughness=(hose.roughness / hose.bore, "hoses.csv, roughness over bore")),
    )


def _year(design: Design) -> Iterator[Figure]:
    chosen, prices = design.supply.chosen, design.job.prices
    if chosen.energy is None:
        return
    yield told(
        "supply.year.energy",
        "Energy in a year of running",
        chosen.energy,
        "J",
        source="watts of each flow times its hours",
        note="job: running",
        grade=Grade.PUBLISHED,
    )
    if chosen.cost is not None and prices.energy is not None:
        yield worked(
            design.job,
            "supply.year.cost",
            f"Cost of a year of running, {prices.currency}",
            chosen.cost,
            by(
                energy_cost,
                energy=(chosen.energy, "supply.year.energy"),
                price=(prices.energy, f"job: prices ({prices.energy_source})"),
            ),
        )
