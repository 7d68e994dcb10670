"""Planting, from as written to SI."""

from beckwright.job.convert.shared import length_or_none
from beckwright.job.model.planting import PlantingWork, PlantShare, Pocket
from beckwright.job.units import MILLIMETRE, PERCENT
from beckwright.job.written import Written
from beckwright.job.written.planting import PocketWritten


def planting_from(written: Written) -> PlantingWork:
    """Pockets and how they are planted."""
    given = written.planting
    return PlantingWork(
        pattern=given.pattern,
        loss=given.loss_percent * PERCENT,
        place=given.jurisdiction,
        pockets=tuple(map(_pocket, written.pockets)),
    )


def _pocket(pocket: PocketWritten) -> Pocket:
    return Pocket(
        name=pocket.name,
        start=pocket.from_m,
        end=pocket.to_m,
        side=pocket.side,
        inside=pocket.inside,
        gap=pocket.gap_mm * MILLIMETRE,
        width=pocket.width_mm * MILLIMETRE,
        above_bed=length_or_none(pocket.above_bed_mm),
        soil=length_or_none(pocket.soil_mm),
        light=pocket.light,
        plants=tuple(
            PlantShare(plant=each.plant, share=each.share_percent * PERCENT, spacing=length_or_none(each.spacing_mm))
            for each in pocket.plants
        ),
    )
