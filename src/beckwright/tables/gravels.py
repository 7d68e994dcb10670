"""What a layer of stone holds: voids, the part that drains, the part that clings. Shares of the layer's volume."""

from beckwright.base.published import Grade
from beckwright.base.tabled import Tabled
from beckwright.base.values import value


@value
class Gravel:
    """A kind of stone layer.

    voids     not stone
    drains    runs out under its own weight
    retained  stays behind: voids less what drains
    """

    name: str
    voids: Tabled
    drains: Tabled
    retained: Tabled


SINGLE_SIZE_SPREAD = Tabled(
    amount=4.0,
    low=3.0,
    high=4.0,
    unit="1",
    grade=Grade.PRACTICE,
    source="",
    place="largest over smallest size up to which stone is sold as one size",
)

WASHED_FROM = Tabled(
    amount=0.004,
    low=0.002,
    high=0.004,
    unit="m",
    grade=Grade.PRACTICE,
    source="",
    place="smallest size in washed stone; what is finer fills the voids",
)

FINE_BELOW, MEDIUM_BELOW = (
    Tabled(amount=size, low=size, high=size, unit="m", grade=Grade.PUBLISHED, source="morris-johnson-1967", place=place)
    for size, place in ((0.008, "fine gravel is 4 to 8 mm"), (0.016, "medium gravel is 8 to 16 mm"))
)


def _row(amount: float, low: float, high: float, grade: Grade, source: str, place: str) -> Tabled:
    return Tabled(amount=amount, low=low, high=high, unit="1", grade=grade, source=source, place=place)


def _natural(name: str, voids: tuple[float, float, float], drains: tuple[float, float, float]) -> Gravel:
    return Gravel(
        name=f"natural {name} gravel",
        voids=_row(*voids, Grade.PUBLISHED, "morris-johnson-1967", f"porosity of {name} gravel (recalled)"),
        drains=_row(*drains, Grade.PUBLISHED, "johnson-1967", f"specific yield of {name} gravel"),
        retained=_row(
            voids[0] - drains[0],
            0.04,
            voids[0] - drains[1],
            Grade.ASSUMED,
            "",
            "voids less specific yield at their means; up to the least yield; not less than washed stone",
        ),
    )


GRAVELS: dict[str, Gravel] = {
    "washed": Gravel(
        name="washed stone of one size",
        voids=_row(
            0.40, 0.35, 0.45, Grade.PUBLISHED, "lid-guide", "20 or 50 mm clear stone; rounded less, dumped more"
        ),
        drains=_row(0.35, 0.29, 0.41, Grade.ASSUMED, "", "voids less what clings; 0.35 unless a bucket was filled"),
        retained=_row(0.05, 0.04, 0.06, Grade.ASSUMED, "", "water that clings in a drained layer of washed stone"),
    ),
    "mixed": Gravel(
        name="mixed gravel",
        voids=_row(0.30, 0.25, 0.35, Grade.PRACTICE, "", "handbook pages: the small stones fill the gaps of the large"),
        drains=_row(0.24, 0.17, 0.31, Grade.ASSUMED, "", "voids less what clings"),
        retained=_row(0.06, 0.04, 0.08, Grade.ASSUMED, "", "between washed stone and natural gravel"),
    ),
    "fine": _natural("fine", (0.34, 0.25, 0.385), (0.25, 0.21, 0.35)),
    "medium": _natural("medium", (0.32, 0.24, 0.44), (0.23, 0.13, 0.26)),
    "coarse": _natural("coarse", (0.28, 0.24, 0.365), (0.22, 0.12, 0.26)),
}
"""By kind: sieved and washed, mixed sizes, and as dug with its fines."""
