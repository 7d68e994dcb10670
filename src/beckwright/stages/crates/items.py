"""What the pit asks for: crates, their wrap and clips, stone round and over them, the chamber and its lid."""

from collections.abc import Iterator

from beckwright.base.constants import STANDARD_GRAVITY
from beckwright.base.items import Item, Supplier
from beckwright.base.words import band, metres, millimetres, share, sizes, with_unit
from beckwright.equations.stone import stone_mass
from beckwright.job.model import Job
from beckwright.stages.crates.values import ChamberFit, CrateLayout
from beckwright.stages.reservoir import FilledReservoir
from beckwright.tables.crates import CLIPS, GAP_VOIDS, LID_BEARS, LID_PIECE, WRAP_LAP
from beckwright.tables.stonework import WASTE

Ends = tuple[float, float, float]
"""Low, likely, high."""


def crate_items(job: Job, layout: CrateLayout | None, chamber: ChamberFit, filled: FilledReservoir) -> tuple[Item, ...]:
    """Everything bought for the pit but its lining. ``layout`` is None where no crates fill it."""
    return (
        *(_crates(job, layout) if layout else ()),
        *_fill(job, filled),
        *_cover(job, filled),
        *_chamber(job, chamber),
    )


def _item(key: str, name: str, ends: Ends, unit: str, supplier: Supplier, drawing: str, note: str) -> Item:
    low, likely, high = ends
    return Item(
        key=key,
        name=name,
        amount=likely,
        low=low,
        high=high,
        unit=unit,
        supplier=supplier,
        drawing=drawing,
        note=note,
    )


def _same(amount: float) -> Ends:
    return (amount, amount, amount)


def _wasted(drawn: float) -> Ends:
    return (drawn * (1 + WASTE.low), drawn * (1 + WASTE.amount), drawn * (1 + WASTE.high))


def _crates(job: Job, layout: CrateLayout) -> Iterator[Item]:
    pit, drawing = job.reservoir, "pit plan, layers of crates"
    size = sizes(pit.crate or ())
    low, likely, high = layout.clips
    block = (pit.length, pit.width, pit.fill_depth)
    taken = f"; {layout.taken} of {layout.places} give way to the chamber" if layout.taken else ""
    strengths = [
        f"{words} {with_unit(given / 1000, 'kPa'):.0f}"
        for words, given in (
            ("short-term", pit.strength_vertical),
            ("long-term", pit.strength_long_term),
            ("side", pit.strength_lateral),
        )
        if given is not None
    ]
    told = ", ".join(strengths) or "tell the strengths, short-term, long-term and side"
    yield _item(
        "crates",
        "Void crates",
        _same(layout.count),
        "each",
        "crates",
        drawing,
        f"{size}, none cut, {layout.layers} layers{taken}; {told}; "
        f"clips {low} to {high}, {likely} at {CLIPS.amount:g} a joint, maker's rule first; "
        f"{share(layout.stacked)} of upper joints stand over joints",
    )
    yield _item(
        "crates.volume", "Volume of the crates", _same(layout.volume), "m3", "crates", drawing, f"{layout.count} pieces"
    )
    yield _item(
        "geotextile",
        "Geotextile round the crates",
        (layout.wrap, layout.wrap, layout.wrap * (1 + WASTE.low)),
        "m2",
        "crates",
        "pit plan and section",
        f"laps of {millimetres(WRAP_LAP.amount)} counted; block {' x '.join(map(metres, block))}",
    )
    if layout.gap_fill > 0:
        mass = stone_mass(job.materials.stone, layout.gap_fill, GAP_VOIDS.amount)
        yield _item(
            "stone.gap",
            "Washed stone round the crates",
            _wasted(mass),
            "kg",
            "quarry",
            drawing,
            f"one size, {with_unit(layout.gap_fill, 'm³'):.2f} as laid, filled in by hand",
        )


def _fill(job: Job, filled: FilledReservoir) -> Iterator[Item]:
    pit = job.reservoir
    if pit.fill == "stones":
        volume = filled.pit.plan * pit.fill_depth
        yield _item(
            "stone.fill",
            "Washed stone for the pit",
            _wasted(stone_mass(job.materials.stone, volume, pit.voids)),
            "kg",
            "quarry",
            "pit plan and section",
            f"washed, one size, voids {share(pit.voids)} by bucket test, {with_unit(volume, 'm³'):.1f} as laid",
        )


def _cover(job: Job, filled: FilledReservoir) -> Iterator[Item]:
    pit = job.reservoir
    if pit.cover_depth > 0 and pit.fill != "open":
        volume = filled.pit.plan * pit.cover_depth
        yield _item(
            "stone.cover",
            "Stone over the pit",
            _wasted(pit.cover_weight / STANDARD_GRAVITY * volume),
            "kg",
            "quarry",
            "pit section",
            f"{millimetres(pit.cover_depth)} over geotextile, {with_unit(volume, 'm³'):.1f} as laid",
        )


def _chamber(job: Job, chamber: ChamberFit) -> Iterator[Item]:
    given, slots = job.chamber, chamber.slots
    inside = "inside size to be told" if given.inside is None else f"{_pair(given.inside)} inside"
    area = band(slots.wanted[0] * 1e4, slots.wanted[1] * 1e4, 10, "cm²")
    deep = f"{metres(chamber.depth)} deep, slots of {area} under the least level"
    supplier: Supplier = "merchant" if job.reservoir.fill == "open" else "crates"
    if job.reservoir.fill != "open":
        yield _item(
            "chamber",
            "Chamber with its pump's lift-out",
            _same(1),
            "each",
            supplier,
            "pit section",
            f"{inside}, {deep}; stop the pump {millimetres(job.reservoir.pump_depth)} over its floor",
        )
    piece = f"{given.lid_pieces} pieces" if given.lid_pieces > 1 else "one piece"
    yield _item(
        "lid",
        "Lid and grille of the chamber",
        _same(1),
        "each",
        supplier,
        "pit section",
        f"{piece} of {with_unit(LID_PIECE.amount, 'kg'):.0f} or less each, locks, a grille under it; "
        f"lid and grille bear {with_unit(LID_BEARS.amount, 'kg'):.0f} each",
    )


def _pair(sides: tuple[float, float]) -> str:
    return sizes(sides)
