"""Cures of cables and lamps, each for a licensed electrician to confirm: a thicker cable, a hood."""

from collections.abc import Iterator
from math import degrees, floor, radians

from beckwright.base.findings import Finding
from beckwright.base.words import opening
from beckwright.cures.bench import Bench
from beckwright.cures.finding import order, put, whole
from beckwright.cures.values import Order
from beckwright.tables.electrics import TURN_MARGIN


def supply_cable(bench: Bench, _: Finding) -> Iterator[Order]:
    """The least size of the table that keeps the drop."""
    electrics = bench.base.works.electrics
    better = next((row for row in electrics.feeder.sizes if row.within), None) if electrics else None
    if better is not None:
        words = f"Ask the electrician for {better.size:g} mm² of supply cable."
        yield order(words, put("electrics.cable_mm2", whole(better.size)))


def light_cable(bench: Bench, finding: Finding) -> Iterator[Order]:
    """The least size of the table that keeps the drop wished."""
    electrics = bench.base.works.electrics
    for string in electrics.strings if electrics else ():
        better = next((row for row in string.sizes if row.within), None)
        if better is not None and finding.place.startswith(f"Lights at {string.voltage:g} V"):
            words = f"Take {better.size:g} mm² of light cable."
            yield order(words, put("electrics.light_cable_mm2", whole(better.size)))


def hoods(bench: Bench, finding: Finding) -> Iterator[Order]:
    """Fit hoods that cut off before the eye of whoever should see no lamp."""
    electrics = bench.base.works.electrics
    kind = "in the beam" if finding.code == "lamp-dazzles" else "beside it"
    sights = [
        sight
        for sight in (electrics.sights if electrics else ())
        if sight.seen == kind and finding.place.startswith(f"{opening(sight.view.name)} sees ")
    ]
    cuts: dict[str, int] = {}
    for sight in sights:
        cut = max(floor((degrees(sight.off) - degrees(TURN_MARGIN.amount)) / 5 + 1e-9) * 5, 0)
        if radians(cut) <= sight.light.light.beam / 2:
            return
        name = sight.light.light.name
        cuts[name] = min(cut, cuts.get(name, cut))
    numbers = {row["name"]: number for number, row in enumerate(bench.base.given.get("lights", []), 1)}
    told = ", ".join(f"{name} at {cut}°" for name, cut in cuts.items())
    yield order(
        f"Fit hoods that cut off: {told}.",
        *(put(f"lights.{numbers[name]}.hood_deg", cut) for name, cut in cuts.items()),
    )
