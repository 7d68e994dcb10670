"""Loss factors of fittings, in velocity heads of the bore they sit on."""

from beckwright.base.published import Grade
from beckwright.base.tabled import Tabled


def _fixed(factor: float) -> Tabled:
    return Tabled(
        amount=factor,
        low=factor,
        high=factor,
        unit="1",
        grade=Grade.PUBLISHED,
        source="epanet-2.2",
        place="table 3.3",
    )


FITTINGS: dict[str, Tabled] = {
    "bend 90 short": _fixed(0.9),
    "bend 90 medium": _fixed(0.8),
    "bend 90 long": _fixed(0.6),
    "bend 45": _fixed(0.4),
    "return bend": _fixed(2.2),
    "tee run": _fixed(0.6),
    "tee branch": _fixed(1.8),
    "gate valve": _fixed(0.2),
    "ball valve": Tabled(
        amount=0.06,
        low=0.05,
        high=0.07,
        unit="1",
        grade=Grade.PUBLISHED,
        source="crane-tp410",
        place="full bore, open: 3 times the rough-turbulent friction of clean steel, 25 to 75 mm",
    ),
    "check valve": _fixed(2.5),
    "globe valve": _fixed(10.0),
    "angle valve": _fixed(5.0),
    "entrance": _fixed(0.5),
    "exit": _fixed(1.0),
}
"""By the name a job gives, full open. A maker's own figure is better."""
