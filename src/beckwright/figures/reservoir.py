"""Figures of the reservoir."""

from collections.abc import Iterator

from beckwright.base.figures import Figure, dotted
from beckwright.base.published import Grade
from beckwright.compose import Design
from beckwright.equations.reservoir import (
    cover_pressure,
    design_pressure,
    spread_pressure,
    uplift_pressure,
    uplift_use,
    useful_water,
)
from beckwright.figures.make import by, told, worked
from beckwright.figures.water import ends_of
from beckwright.stages.water.beds import MIDDLE


def reservoir_figures(design: Design) -> Iterator[Figure]:
    """Levels, volumes, uplift and loads."""
    pit = design.reservoir.pit
    for name, label, level in (
        ("cover", "Cover", pit.cover),
        ("overflow", "Overflow", pit.overflow),
        ("rested", "Level with the pump off", pit.rested),
        ("pump_minimum", "Level at which the pump must stop", pit.pump_minimum),
        ("floor", "Floor of the pit", pit.floor),
    ):
        yield told(f"reservoir.level.{name}", label, level, "m", source="job: reservoir")
    for name, level in (("rested", pit.rested), ("pump_minimum", pit.pump_minimum)):
        yield told(
            f"reservoir.held.{name}",
            f"Water held at the {name.replace('_', ' ')} level",
            pit.held(level),
            "m3",
            source="layers of the pit",
            note="plan times depth times voids, layer by layer",
        )
    yield _useful(design)
    yield from _running(design)
    yield from _lowest(design)
    yield from _uplifts(design)
    yield from _loads(design)


def reservoir_answers(design: Design) -> Iterator[Figure]:
    """Of the figures of the reservoir those a person looks at while the line moves."""
    yield _useful(design)
    yield from _running(design)
    yield from _lowest(design)


def _useful(design: Design) -> Figure:
    filled, pit = design.reservoir, design.reservoir.pit
    rested, least = pit.held(pit.rested), pit.held(pit.pump_minimum)
    return worked(
        design.job,
        "reservoir.useful",
        "Water the pump may use",
        filled.useful,
        by(useful_water, rested=(rested, "reservoir.held.rested"), least=(least, "reservoir.held.pump_minimum")),
    )


def _lowest(design: Design) -> Iterator[Figure]:
    filled = design.reservoir
    yield told(
        "reservoir.level.lowest",
        "Lowest level of any flow after a morning start",
        filled.lowest,
        "m",
        source="least of the running levels, most water in motion",
        grade=Grade.PUBLISHED,
    )
    yield told(
        "reservoir.level.first_fill",
        "Lowest level if a dry stream is filled from the reservoir alone",
        float(filled.first_fill.min()),
        "m",
        grade=Grade.PUBLISHED,
        source="rest level less everything a dry course takes up",
        note="below the floor: that much water is missing",
    )


def _running(design: Design) -> Iterator[Figure]:
    filled = design.reservoir
    for number, flow in enumerate(design.water.names):
        running = filled.running[:, number]
        yield told(
            f"reservoir.level.running.{dotted(flow)}",
            f"Level while {flow} runs",
            running[MIDDLE],
            "m",
            ends=ends_of(running),
            source="rest level less the water in motion",
            grade=Grade.PUBLISHED,
            note=f"stored.{dotted(flow)}.in_motion taken out of the layers of the pit",
        )
        yield told(
            dotted("reservoir", "level", "drawn_from", flow),
            f"Level the pump draws from at {flow}",
            filled.drawn_from[MIDDLE, number],
            "m",
            ends=ends_of(filled.drawn_from[:, number]),
            source="the running level, but no lower than the pump's least",
            grade=Grade.PUBLISHED,
        )


def _uplifts(design: Design) -> Iterator[Figure]:
    for uplift in design.reservoir.uplifts:
        stem = f"reservoir.uplift.{dotted(uplift.state)}"
        yield worked(
            design.job,
            f"{stem}.pressure",
            f"Uplift, {uplift.state}",
            uplift.uplift,
            by(uplift_pressure, head=(max(uplift.head, 0.0), "job: site.groundwater_winter_m")),
        )
        if uplift.weight > 0:
            yield worked(
                design.job,
                stem,
                f"Share of the weight that uplift uses up, {uplift.state}",
                uplift.use,
                by(
                    uplift_use,
                    uplift=(uplift.uplift, f"{stem}.pressure"),
                    weight=(uplift.weight, "crates, cover and water inside"),
                ),
                grade=Grade.PRACTICE,
                note="screening only; above 1 it floats",
            )


def _loads(design: Design) -> Iterator[Figure]:
    job, reservoir = design.job, design.job.reservoir
    if design.reservoir.pressed:
        permanent = cover_pressure(reservoir.cover_weight, reservoir.cover_depth)
        yield worked(
            job,
            "reservoir.cover_pressure",
            "Pressure of the cover on the crates",
            permanent,
            by(
                cover_pressure,
                unit_weight=(reservoir.cover_weight, "job: reservoir.cover_kn_m3"),
                depth=(reservoir.cover_depth, "job: reservoir.cover_mm"),
            ),
            grade=Grade.PRACTICE,
        )
    for pressed in design.reservoir.pressed:
        load, stem = pressed.load, f"reservoir.load.{dotted(pressed.load.name)}"
        still = pressed.spread / load.dynamic
        yield worked(
            job,
            f"{stem}.spread",
            f"Pressure of {load.name} through the cover, standing",
            still,
            by(
                spread_pressure,
                force=(load.force, "job: reservoir.loads"),
                contact_length=(load.contact[0], "job: reservoir.loads"),
                contact_width=(load.contact[1], "job: reservoir.loads"),
                cover=(reservoir.cover_depth, "job: reservoir.cover_mm"),
            ),
        )
        yield worked(
            job,
            stem,
            f"Design pressure under {load.name}",
            pressed.design,
            by(
                design_pressure,
                permanent=(permanent, "reservoir.cover_pressure"),
                variable=(pressed.spread, f"{stem}.spread times {load.dynamic:g}"),
            ),
            grade=Grade.PRACTICE,
            note=f"moving, times {load.dynamic:g}; screening only, ask the supplier's engineer",
        )
        if pressed.use is not None:
            yield told(
                f"{stem}.use",
                f"Share of the crates' strength under {load.name}",
                pressed.use,
                "1",
                grade=Grade.PRACTICE,
                source="design pressure over long-term strength given",
            )
