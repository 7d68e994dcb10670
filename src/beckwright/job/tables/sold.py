"""How a thing is sold, as the tables of money write it: by a measure, or by a bag, roll or load that holds some."""

import re
from typing import get_args

from beckwright.base.quantities import Density
from beckwright.job.model.money import Measure, Sold
from beckwright.job.units import TONNE
from beckwright.job.wording.sentences import near_miss, shown

LITRE = 1e-3
MEASURES: dict[str, tuple[float, Measure]] = {
    **{name: (1.0, name) for name in get_args(Measure)},
    "t": (TONNE, "kg"),
    "litre": (LITRE, "m3"),
}
"""What one of each measure is in the units amounts are counted in."""

PACKS = ("bulk bag", "bag", "load", "roll", "sheet", "pack", "box", "pallet", "can", "tube", "set", "pot", "week")
"""What is sold whole: how much one holds is the supplier's to say."""

Found = tuple[str, str, str]
"""What was found, the rule, the remedy."""

_HOLDS = re.compile(r"^(\d+(?:[.,]\d+)?)\s*(\w+)$")


def sold_by(word: str, holds: str, density: Density | None) -> Sold | Found:
    """How a thing is sold; or what is wrong with the words.

    word   a measure or a pack
    holds  how much one pack holds, such as ``0.8 t``; empty for a measure, and for packs counted by the piece
    """
    if word in MEASURES:
        size, measure = MEASURES[word]
        if holds:
            return f"holds is {shown(holds)} for the unit {word}", "Only a bag, roll or load holds some", "Take it out"
        return Sold(word=word, holds=size, measure=measure, whole=measure == "each", density=density)
    if word not in PACKS:
        known = (*MEASURES, *PACKS)
        nearest = near_miss(word, known)
        remedy = f'Did you mean "{nearest}"' if nearest else "Write one of these, and in holds how much one is"
        return f"unit is {shown(word)}", f"It must be one of {', '.join(known)}", remedy
    return _pack(word, holds, density)


def _pack(word: str, holds: str, density: Density | None) -> Sold | Found:
    if not holds:
        return Sold(word=word, holds=1.0, measure="each", whole=True, density=density)
    read = _HOLDS.match(holds)
    amount = float(read[1].replace(",", ".")) if read else 0.0
    if read is None or read[2] not in MEASURES or amount <= 0:
        rule = f"It is a number and one of {', '.join(MEASURES)}"
        return f"holds is {shown(holds)}", rule, "Write it as 0.8 t or 25 m"
    size, measure = MEASURES[read[2]]
    return Sold(word=word, holds=amount * size, measure=measure, whole=True, density=density)
