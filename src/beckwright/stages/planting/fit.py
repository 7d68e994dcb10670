"""Plants that fit a place: what to plant instead."""

from beckwright.base.quantities import Length
from beckwright.job.model.planting import Light, Place
from beckwright.stages.planting.names import look_up
from beckwright.tables.plants import PLANTS, Law, Listed, Plant, Zone


def fits(zone: Zone, light: Light, place: Place, *, tallest: Length) -> tuple[Plant, ...]:
    """Low plants for a zone and light that stay where they are put and stand on no list of the place.

    Those native to Britain first, then by name.
    """
    found = [
        row
        for row in PLANTS
        if zone in row.zones
        and light in row.light
        and row.height <= tallest
        and row.roots == "clump"
        and row.spreads == "low"
        and not laws_here(look_up(row.name).listed, place)
    ]
    return tuple(sorted(found, key=lambda row: (not row.native, row.name)))


def laws_here(listed: Listed | None, place: Place) -> tuple[Law, ...]:
    """Laws of the place that name a plant, the strictest first."""
    order = ("keeping", "sale", "the wild")
    laws = [law for law in listed.laws if place in law.places] if listed else []
    return tuple(sorted(laws, key=lambda law: order.index(law.forbids)))
