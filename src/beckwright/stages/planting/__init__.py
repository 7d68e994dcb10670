"""Planting: pockets inside and outside the lining, how wet each is, what grows there, and what it does to the water."""

from beckwright.stages.planting.items import planting_items
from beckwright.stages.planting.make import plant
from beckwright.stages.planting.names import Named, look_up, plain
from beckwright.stages.planting.values import Choked, Ordered, PlacedPocket, Planted, Planting

__all__ = [
    "Choked",
    "Named",
    "Ordered",
    "PlacedPocket",
    "Planted",
    "Planting",
    "look_up",
    "plain",
    "plant",
    "planting_items",
]
