"""What the lining comes to, for the order and the money: sheet, fleece, seams."""

from collections.abc import Iterator

from beckwright.base.items import Item
from beckwright.base.words import metres, with_unit
from beckwright.job.model import Job
from beckwright.stages.lining.carry import told_mass
from beckwright.stages.lining.values import Lining
from beckwright.tables.lining import CUT_ENDS

PLAN, PIECES = "lining sheet, table of pieces", "lining sheet, order"


def lining_items(job: Job, lining: Lining) -> tuple[Item, ...]:
    """Items of the lining. Sheet and fleece are as cut; the high end adds what is lost at cut ends."""
    return tuple(_items(job, lining))


def _items(job: Job, lining: Lining) -> Iterator[Item]:
    bought, pit = sum(piece.area for piece in lining.pieces), lining.pit
    thick = f"{with_unit(job.layers.lining * 1000, 'mm'):g}"
    yield Item(
        key="lining.course",
        name=f"Lining over the course, {thick}",
        amount=bought,
        low=bought,
        high=bought * (1 + CUT_ENDS.amount),
        unit="m2",
        supplier="lining",
        drawing=PLAN,
        note=_pieces(lining),
    )
    roll = "by need" if pit.roll is None else f"{pit.strips} x a roll of {metres(pit.roll)}"
    yield Item(
        key="lining.pit",
        name=f"Lining of the reservoir, {thick}",
        amount=pit.area,
        low=pit.area,
        high=pit.area * (1 + CUT_ENDS.amount),
        unit="m2",
        supplier="lining",
        drawing=PLAN,
        note=f"{metres(pit.along)} x {metres(pit.across)}, {roll}; {told_mass(pit.mass)}",
    )
    if lining.fleece:
        fleece = sum(layer.area for layer in lining.fleece)
        yield Item(
            key="lining.fleece",
            name="Fleece",
            amount=fleece,
            low=sum(layer.lies_on for layer in lining.fleece),
            high=fleece * (1 + CUT_ENDS.amount),
            unit="m2",
            supplier="lining",
            drawing=PIECES,
            note=" and ".join(layer.where for layer in lining.fleece) + " the lining, laps in it",
        )
    if lining.seam > 0:
        yield Item(
            key="lining.seam",
            name="Bonded seam",
            amount=lining.seam,
            low=lining.seam,
            high=lining.seam * (1 + CUT_ENDS.amount),
            unit="m",
            supplier="lining",
            drawing=PIECES,
            note="tape, primer, roller and cover strip of the sheet's own maker; dry and clean while it is made",
        )


def _pieces(lining: Lining) -> str:
    cut = ", ".join(
        f"{piece.letter} {metres(piece.length)} x {metres(piece.width)}" for piece in reversed(lining.pieces)
    )
    heaviest = max(lining.pieces, key=lambda piece: piece.mass)
    return f"{cut}; the heaviest, {heaviest.letter}, {told_mass(heaviest.mass)}"
