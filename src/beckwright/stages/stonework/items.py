"""What the quarry and the merchant are asked for."""

from collections.abc import Iterator

from beckwright.base.figures import dotted
from beckwright.base.items import Item
from beckwright.base.quantities import Mass
from beckwright.base.words import metres, millimetres, number_in, opening, sizes, with_unit
from beckwright.job.model import Job, Run
from beckwright.stages.stonework.values import Sizes, Stonework, Tonnage
from beckwright.tables.stonework import BASE_DEPTH, BASE_OVER

_PACK = {"foam": "cans of foam", "mortar": "bags of mortar"}


def stonework_items(job: Job, stonework: Stonework) -> tuple[Item, ...]:
    """Everything bought for the stone, with its band."""
    return (
        *_edge(job, stonework),
        *_beds(job, stonework),
        *_lips(stonework),
        *_cheeks(stonework),
        *_fixed(stonework),
        *_bases(stonework),
        *_joints(stonework),
    )


def _stone(key: str, name: str, order: Tonnage, drawing: str, note: str) -> Item:
    return Item(
        key=key,
        name=name,
        amount=order.likely,
        low=order.low,
        high=order.high,
        unit="kg",
        supplier="quarry",
        drawing=drawing,
        note=f"{note}; {'; '.join(order.reasons)}",
    )


def _edge(job: Job, stonework: Stonework) -> Iterator[Item]:
    edge = stonework.edge
    if edge.order.high > 0:
        heaviest = next(lift.mass for lift in stonework.lifts if lift.what == "largest edge stones")
        yield _stone(
            "stone.edge",
            "Edge stone",
            edge.order,
            f"course plan, both banks, {metres(edge.bank)}",
            f"{_range(job.materials.edge_stone_sizes)}, heaviest {_kilograms(heaviest)}{_tip(stonework)}",
        )


def _beds(job: Job, stonework: Stonework) -> Iterator[Item]:
    make_ups = {reach.bed.name: reach.bed for reach in job.course.reaches if isinstance(reach, Run)}
    for bed in stonework.beds:
        low, likely, high = stonework.delivery.bags
        bags = f"{likely} bulk bags of {_kilograms(stonework.delivery.bag)}, {low} to {high}"
        yield _stone(
            f"stone.bed.{dotted(bed.name)}",
            f"{opening(bed.name)} for the bed",
            bed.order,
            f"long section, {with_unit(bed.runs + bed.pools, 'm²'):.1f} along the slope, {millimetres(bed.depth)} deep",
            f"washed, {_range(make_ups[bed.name].size)}, {with_unit(bed.volume, 'm³'):.2f} as laid; all beds: {bags}",
        )


def _lips(stonework: Stonework) -> Iterator[Item]:
    if not stonework.lips:
        return
    count, sizes = len(stonework.lips), "; ".join(f"{lip.name}: {_size(lip.size)}" for lip in stonework.lips)
    yield Item(
        key="stone.lip",
        name="Lip stones",
        amount=count,
        low=count,
        high=count,
        unit="each",
        supplier="quarry",
        drawing="lip cards, one stone to each step",
        note=f"{sizes}; set level across, chosen one by one",
    )
    heaviest = max(lip.mass for lip in stonework.lips)
    yield _stone(
        "stone.lip_mass",
        "Mass of the lip stones",
        stonework.lip_order,
        "lip cards",
        f"heaviest {_kilograms(heaviest)}",
    )


def _cheeks(stonework: Stonework) -> Iterator[Item]:
    if stonework.cheek is not None and stonework.cheeks:
        yield _stone(
            "stone.cheek",
            "Cheek stones",
            stonework.cheek_order,
            "lip cards, one each side of each lip",
            f"{stonework.cheeks} of {_size(stonework.cheek)}, {_kilograms(stonework.cheek_mass)} each{_tip(stonework)}",
        )


def _fixed(stonework: Stonework) -> Iterator[Item]:
    if not stonework.fixed:
        return
    orders = [each.order for each in stonework.fixed]
    places = "; ".join(
        f"{each.place}: {each.count} of {_range(each.size)}, up to {_kilograms(each.each[1])}"
        for each in stonework.fixed
    )
    whole = Tonnage(
        likely=sum(order.likely for order in orders),
        low=sum(order.low for order in orders),
        high=sum(order.high for order in orders),
        reasons=orders[0].reasons,
    )
    yield _stone("stone.fixed", "Larger stones that stay", whole, "long section, runs and landings named", places)


def _bases(stonework: Stonework) -> Iterator[Item]:
    bases = stonework.bases
    if bases.count:
        low, high = (bases.volume * end / BASE_DEPTH.amount for end in (BASE_DEPTH.low, BASE_DEPTH.high))
        yield Item(
            key="stone.base",
            name="Lean mix or rammed stone under heavy stones",
            amount=bases.volume,
            low=low,
            high=high,
            unit="m3",
            supplier="merchant",
            drawing=f"{bases.count} stones over {_kilograms(BASE_OVER.amount)}, lips, cheeks and landings",
            note=f"{millimetres(BASE_DEPTH.amount)} deep, over fleece: never on a fold of it",
        )


def _joints(stonework: Stonework) -> Iterator[Item]:
    joints = stonework.joints
    if joints.length > 0:
        low, likely, high = joints.containers
        yield Item(
            key="joint.containers",
            name=opening(_PACK[joints.kind]),
            amount=likely,
            low=low,
            high=high,
            unit="each",
            supplier="merchant",
            drawing=f"lip cards, {metres(joints.lips)} behind and beside lips, {metres(joints.sills)} across sills",
            note=f"{metres(joints.fills)} of joint each; steers water, the lining seals",
        )


def _tip(stonework: Stonework) -> str:
    delivery = stonework.delivery
    if delivery.loads is None or delivery.lorry is None:
        return ""
    low, _, high = delivery.loads
    return (
        f"; all stone {low if low == high else f'{low} to {high}'} loads of {with_unit(delivery.lorry / 1000, 't'):g}"
    )


def _size(size: Sizes) -> str:
    return sizes(size)


def _range(size: tuple[float, float]) -> str:
    return f"{number_in(size[0] * 1000, 'mm'):,.0f} to {with_unit(size[1] * 1000, 'mm'):,.0f}"


def _kilograms(mass: Mass) -> str:
    return f"{with_unit(mass, 'kg'):,.0f}"
