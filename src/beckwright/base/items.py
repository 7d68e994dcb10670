"""An item: something to be bought, hired, dug or laid, and the drawing it was read off. Money starts here."""

from typing import Literal

from beckwright.base.values import value

Supplier = Literal[
    "lining", "quarry", "crates", "pump and hose", "nursery", "electrician", "haulier", "hire", "merchant", "own crew"
]


@value
class Item:
    """One amount of one thing.

    key        stable and dotted, such as lining.sheet: a price list finds it by this
    name       what a builder calls it
    amount     likely; ``low`` and ``high`` are what it may come to
    unit       m, m2, m3, kg, h or each
    supplier   who is asked for it: one order sheet each
    drawing    what it was read off, in words: the sheet and the place on it
    note       what the supplier must know: sizes, the heaviest piece, how it is to be cut
    """

    key: str
    name: str
    amount: float
    low: float
    high: float
    unit: str
    supplier: Supplier
    drawing: str
    note: str = ""
