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


def _porosity(amount: float, low: float, high: float, of: str) -> Tabled:
    return _row(amount, low, high, Grade.PUBLISHED, "morris-johnson-1967", f"porosity of {of} gravel (recalled)")


def _specific_yield(amount: float, low: float, high: float, of: str) -> Tabled:
    return _row(amount, low, high, Grade.PUBLISHED, "johnson-1967", f"specific yield of {of} gravel")


def _clings(amount: float, high: float) -> Tabled:
    place = "voids less specific yield, at their means; up to the least yield; not less than washed stone"
    return _row(amount, 0.04, high, Grade.ASSUMED, "", place)


VOIDS: dict[str, Tabled] = {
    "washed": _row(
        0.40, 0.35, 0.45, Grade.PUBLISHED, "lid-guide", "clear stone of 20 or 50 mm; rounded less, dumped more"
    ),
    "mixed": _row(0.30, 0.25, 0.35, Grade.PRACTICE, "", "handbook pages: small stones fill the gaps of the large"),
    "fine": _porosity(0.34, 0.25, 0.385, "fine"),
    "medium": _porosity(0.32, 0.24, 0.44, "medium"),
    "coarse": _porosity(0.28, 0.24, 0.365, "coarse"),
}
"""Share that is not stone."""

DRAINS: dict[str, Tabled] = {
    "washed": _row(0.35, 0.29, 0.41, Grade.ASSUMED, "", "voids less what clings; 0.35 unless a bucket was filled"),
    "mixed": _row(0.24, 0.17, 0.31, Grade.ASSUMED, "", "voids less what clings"),
    "fine": _specific_yield(0.25, 0.21, 0.35, "fine"),
    "medium": _specific_yield(0.23, 0.13, 0.26, "medium"),
    "coarse": _specific_yield(0.22, 0.12, 0.26, "coarse"),
}
"""Share that runs out under its own weight."""

RETAINED: dict[str, Tabled] = {
    "washed": _row(0.05, 0.04, 0.06, Grade.ASSUMED, "", "water that clings in a drained layer of washed stone"),
    "mixed": _row(0.06, 0.04, 0.08, Grade.ASSUMED, "", "between washed stone and natural gravel"),
    "fine": _clings(0.09, 0.13),
    "medium": _clings(0.09, 0.19),
    "coarse": _clings(0.06, 0.16),
}
"""Share that stays behind."""

_NAMES = {
    "washed": "washed stone of one size",
    "mixed": "mixed gravel",
    "fine": "natural fine gravel",
    "medium": "natural medium gravel",
    "coarse": "natural coarse gravel",
}

GRAVELS: dict[str, Gravel] = {
    kind: Gravel(name=name, voids=VOIDS[kind], drains=DRAINS[kind], retained=RETAINED[kind])
    for kind, name in _NAMES.items()
}
"""By kind: sieved and washed, of mixed sizes, and as dug with its fines."""
