"""Figures behind the order list."""

from collections.abc import Iterator

from beckwright.base.figures import Figure, dotted
from beckwright.base.published import Grade
from beckwright.base.words import opening
from beckwright.compose import Design
from beckwright.equations.stone import stone_mass
from beckwright.figures.make import by, told, worked


def order_figures(design: Design) -> Iterator[Figure]:
    """Quantities before waste, laps and cutting."""
    taken, job = design.quantities, design.job
    given = {bed.name: bed for bed in design.course.beds}
    for name, label, amount, unit, note in (
        (
            "developed",
            "Length along the lining, risers included",
            taken.developed,
            "m",
            "station by station along the lining",
        ),
        (
            "lining.course",
            "Lining over the course",
            taken.lining_course,
            "m2",
            "girth with edge allowance times developed length",
        ),
        ("lining.pit", "Lining over the pit", taken.lining_pit, "m2", "one sheet over floor and sides up to the cover"),
        ("fleece", "Fleece", taken.fleece, "m2", "as the lining, each layer"),
        ("edge_stone", "Edge stone", taken.edge_stone, "kg", "both banks times the mass a metre given"),
        ("crates", "Crates, whole", taken.crates, "1", "laid both ways round, the more of the two; none cut"),
        ("hose", "Hose on the route", taken.hose, "m", "job: hose.length_m"),
        ("cover", "Stone over the crates", taken.cover, "m3", "plan of the pit times the cover's depth"),
    ):
        yield told(
            f"order.{name}",
            label,
            amount,
            unit,
            source="levels and sizes of this design",
            note=note,
            grade=Grade.PUBLISHED,
        )
    yield told(
        "order.lining.mass", "Mass of the lining", taken.lining_mass, "kg", source="area times job: layers.lining_kg_m2"
    )
    for bed in taken.beds:
        stem = f"order.bed.{dotted(bed.name)}"
        yield told(
            f"{stem}.volume",
            f"{opening(bed.name)}, as laid",
            bed.volume,
            "m3",
            source="length times width times depth",
        )
        yield worked(
            job,
            f"{stem}.mass",
            f"{opening(bed.name)}, mass",
            bed.mass,
            by(
                stone_mass,
                density=(job.materials.stone, "job: materials.stone_kg_m3"),
                volume=(bed.volume, f"{stem}.volume"),
                voids=(given[bed.name].voids, f"job: beds.{bed.name}.voids"),
            ),
        )
