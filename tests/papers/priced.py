"""Hazel Bank with its own prices and items of every trade, for the tests of papers on money."""

from pathlib import Path

from beckwright.base.items import Item
from beckwright.compose import Design, Works, design
from beckwright.job.read import read_job
from beckwright.stages.earthworks.items import earthworks_items
from beckwright.stages.money import Estimate, Variations, compare_with_quote, price
from beckwright.stages.supply import supply_items
from tests.stages.prices import item

EXAMPLES = Path(__file__).parents[2] / "examples"

BY_HAND = (
    item("lining.course", (73.05, 73.05, 74.5), "m2", "lining"),
    item("lining.fleece", (116.6, 128.3, 130.9), "m2", "lining"),
    item("crates", 20.0, "each", "crates"),
    item("chamber", 1.0, "each", "crates"),
    item("geotextile", (21.46, 21.46, 22.53), "m2", "crates"),
    item("stone.edge", (7200.0, 7200.0, 10740.0), "kg", "quarry"),
    item("stone.bed.pebbles", (1031.0, 1238.0, 1577.0), "kg", "quarry"),
    item("stone.cover", (1613.0, 1690.0, 1767.0), "kg", "quarry"),
    item("stone.base", (0.2, 0.28, 0.4), "m3", "merchant"),
    item("plants.caltha_palustris", (4.0, 5.0, 5.0), "each", "nursery"),
    item("planting.soil", (0.44, 0.65, 0.87), "m3", "merchant"),
    item("planting.compost", (0.47, 0.71, 0.95), "m3", "merchant"),
    item("electrics.lights.12_V.lamp_3_W", 6.0, "each", "electrician"),
    item("labour.own_crew", (5.9, 9.3, 17.6), "day", "own crew"),
    item("hire.digger", (2.0, 2.7, 4.4), "day", "hire"),
)
"""Amounts such as the rooms of the house come to; what is tested here is what is made of them."""


def items_of(designed: Design) -> tuple[Item, ...]:
    """The ground work and the supply as they are worked out, the rest by hand."""
    job = designed.job
    dug = earthworks_items(Works(designed).dug, job.earthworks.load)
    return (*dug, *BY_HAND, *supply_items(job, designed.supply))


def hazel_priced() -> tuple[Design, Estimate, Variations]:
    """Hazel Bank designed, priced and held against its quote."""
    designed = design(read_job(EXAMPLES / "hazel_bank"))
    estimate = price(designed.job, items_of(designed))
    variations = compare_with_quote(designed.job.quote, designed.job.money, estimate)
    assert variations is not None
    return designed, estimate, variations
