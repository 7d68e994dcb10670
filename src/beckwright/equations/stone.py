"""Mass of stone as it lies."""

from beckwright.base.published import published
from beckwright.base.quantities import Density, Mass, Ratio, Volume


@published(source="definition", place="conservation of mass")
def bulk_density(density: Density, voids: Ratio) -> Density:
    """Mass of laid stone for each volume, voids included.

    ``rho_b = rho (1 - n)``

    density  rho  of solid stone
    voids    n    share of the volume that is not stone
    """
    return density * (1 - voids)


@published(source="definition", place="conservation of mass")
def stone_mass(density: Density, volume: Volume, voids: Ratio) -> Mass:
    """Mass of stone that fills a volume as laid.

    ``M = rho W (1 - n)``

    density  rho  of solid stone
    volume   W    filled, voids included
    voids    n    share of the volume that is not stone
    """
    return density * volume * (1 - voids)
