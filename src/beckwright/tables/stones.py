"""Stones that are to stay: margins, how rough the water is that strikes them, and how far plants close a channel."""

from beckwright.base.published import Grade
from beckwright.base.tabled import Tabled

SIZE_SAFETY = Tabled(
    amount=1.2,
    low=1.2,
    high=1.2,
    unit="1",
    grade=Grade.PUBLISHED,
    source="robinson-1998",
    place="factor of safety on the size; kept for gentle slopes too",
)

ISBASH = Tabled(
    amount=0.86,
    low=0.86,
    high=1.20,
    unit="1",
    grade=Grade.PUBLISHED,
    source="isbash-1936",
    place="0.86 in rough water, 1.20 in calm: where a fall lands it is rough",
)

BLOCKED: dict[str, Tabled] = {
    name: Tabled(amount=share, low=share, high=share, unit="1", grade=Grade.ASSUMED, source="", place=place)
    for name, share, place in (
        ("10 %", 0.10, "plants at the edges in their first years"),
        ("25 %", 0.25, "plants along one edge"),
        ("50 %", 0.50, "plants along both edges"),
    )
}
"""Share of the bed's width that plants and their roots have closed, least first."""
