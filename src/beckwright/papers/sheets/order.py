"""The order list: what to ask each supplier for, in their units, and every pump and hose on offer side by side."""

from collections.abc import Iterator

import numpy as np

from beckwright.base.words import band, flow, grouped, kilowatt_hours, litres, metres, millimetres, share, tonnes, watts
from beckwright.compose import Design
from beckwright.papers.drawing import A3_FLAT, Mark, Sheet
from beckwright.papers.labels import paragraph
from beckwright.papers.sheets.frame import LEFT, TOP, SheetTitle, frame, heading, notes
from beckwright.papers.sheets.table import table
from beckwright.stages.supply import Offer

ITEM_WIDTHS = (40, 34, 122)
CAUTIONS = (
    "Amounts are net: no waste, laps or cutting are in them. The lining is one area, not a cutting plan.",
    "Ask for the pump by its duty point, not by its greatest flow or greatest head.",
    "Tails and unions must have the hose's own bore; one narrow tail spoils the hose.",
    "Ask the crate maker for long-term strength from above and from the side, in writing.",
    "A licensed electrician chooses cable and protection. Mains top-up needs an air gap: ask the water company.",
    "Stone of more than 25 kg is for two people or a machine; check the machine's lift at its reach.",
)
Row = tuple[str, str, str]


def order_sheet(design: Design, number: int, of: int) -> Sheet:
    """Order list on the left, the pairs of pump and hose on the right."""
    left = LEFT + 6
    marks: list[Mark] = [heading((left, TOP - 9), "To order")]
    drawn, down = table(
        (left, TOP - 12), ITEM_WIDTHS, [("item", "how much", "what to say"), *_items(design)], height=2.5, step=6.6
    )
    cautions, _ = notes((left, down - 8), CAUTIONS, sum(ITEM_WIDTHS), 2.5)
    marks.extend((*drawn, *cautions, *_pairs(design, left + sum(ITEM_WIDTHS) + 8)))
    title = SheetTitle(
        title="Order list",
        reader="for the counter, the quarry and the office",
        scale="no drawing",
        number=number,
        of=of,
    )
    return Sheet(
        name="order",
        title=f"{design.job.title.name}: order list",
        paper=A3_FLAT,
        marks=(*frame(design.job, title), *marks),
        description="What to order and how much, and every pump and hose on offer with flow, watts and energy a year.",
    )


def _items(design: Design) -> Iterator[Row]:
    yield from _supply_items(design)
    yield from _pit_items(design)
    yield from _course_items(design)


def _supply_items(design: Design) -> Iterator[Row]:
    job, chosen = design.job, design.supply.chosen
    item, count = "Pump", f"{chosen.together} x {chosen.pump.name}"
    for given in chosen.flows:
        if given.duty is not None:
            duty = f"{flow(given.wanted)} at {metres(given.duty.head)} of head"
            yield (
                f"{item}, duty at {given.name}",
                count,
                f"{duty}, {watts(given.duty.watts)}, speed {share(given.duty.speed)}",
            )
            item, count = "Same", "same pump"
    hose = chosen.hose
    bore = f"true bore {millimetres(hose.bore)} ({hose.bore / 0.0254:.2f} in)"
    yield (
        "Hose or pipe",
        f"{metres(design.quantities.hose)} and 10 %",
        f"{hose.name}: {bore}, {hose.wall} wall, in one piece",
    )
    yield "Fittings", "as listed", ", ".join(f"{number} x {name}" for name, number in job.route.fittings)


def _pit_items(design: Design) -> Iterator[Row]:
    reservoir, taken = design.job.reservoir, design.quantities
    plan = f"pit {metres(reservoir.length)} x {metres(reservoir.width)}"
    if reservoir.crate is not None:
        size = " x ".join(grouped(side * 1000) for side in reservoir.crate)
        layers = round(reservoir.fill_depth / reservoir.crate[2])
        yield "Void crates", f"{taken.crates} pieces", f"{size} mm, {layers} layers, with clips; {plan}"
    elif reservoir.fill == "stones":
        volume = design.reservoir.pit.plan * reservoir.fill_depth
        yield (
            "Stone for the pit",
            f"{volume:.1f} m³",
            f"washed, one size, voids {share(reservoir.voids)} by bucket test; {plan}",
        )
    stop = f"stop the pump {millimetres(reservoir.pump_depth)} over its floor"
    yield "Chamber", "1", f"pump lifts out; {stop}; lid under 25 kg, locked"
    if taken.cover > 0:
        yield "Stone over the pit", f"{taken.cover:.1f} m³", f"{millimetres(reservoir.cover_depth)} over geotextile"
    to = reservoir.overflow_to or "a lawful place"
    yield "Overflow pipe", "1", f"{millimetres(reservoir.overflow_bore)}, invert {metres(reservoir.overflow)}, to {to}"


def _course_items(design: Design) -> Iterator[Row]:
    layers, taken, materials = design.job.layers, design.quantities, design.job.materials
    course = f"course {taken.lining_course:.1f} m² over {metres(taken.developed)}"
    parts = f"{layers.lining * 1000:g} mm; {course}, pit {taken.lining_pit:.1f} m²; {grouped(taken.lining_mass)} kg"
    yield "Lining", f"{np.ceil(taken.lining_course + taken.lining_pit):.0f} m² net", parts
    if taken.fleece > 0:
        where = [words for words, depth in (("under", layers.fleece_under), ("over", layers.fleece_over)) if depth > 0]
        yield "Fleece", f"{np.ceil(taken.fleece):.0f} m² net", f"{' and '.join(where)} the lining"
    beds = {bed.name: bed for bed in design.course.beds}
    for stone in taken.beds:
        bed = beds[stone.name]
        laid = f"washed, {_range(bed.size)}, {millimetres(bed.depth)} deep, {bed.laid}"
        yield f"Stone: {bed.name}", f"{tonnes(stone.mass)} ({stone.volume:.2f} m³)", laid
    if taken.edge_stone > 0:
        given = f"at {materials.edge_stone_per_bank:.0f} kg a metre as given"
        yield (
            "Edge stone",
            tonnes(taken.edge_stone),
            f"{_range(materials.edge_stone_sizes)}, both banks, {metres(taken.banks)}; {given}",
        )
    for lip in design.water.lips[1:]:
        level = f"set level across to 2 mm at {metres(lip.crest)}"
        yield f"Lip stone: {lip.name}", "1", f"{lip.kind}, {millimetres(lip.width)} of water, {level}"


def _range(sizes: tuple[float, float]) -> str:
    return f"{grouped(sizes[0] * 1000)} to {grouped(sizes[1] * 1000)} mm"


def _pairs(design: Design, left: float) -> list[Mark]:
    """Every pair on offer, those that give all the flows first, the thriftiest on top."""
    job = design.job
    ranked = sorted(
        design.supply.offers,
        key=lambda offer: (
            offer.energy is None,
            offer.energy or 0.0,
            -(offer.flat_out.flow if offer.flat_out else 0.0),
        ),
    )
    shown = ranked[:34]
    widths = (24, 23, 24, 25, 24, 25, 27)
    main = max(job.flows, key=lambda named: sum(row.time for row in job.running if row.flow == named.name)).name
    rows = [
        ("pump", "hose", "flat out", f"watts, {main}", "if throttled", "a year", f"{job.prices.currency} a year"),
        *(_pair(offer, main) for offer in shown),
    ]
    drawn, down = table((left, TOP - 12), widths, rows, height=2.2, step=5.8, across=("left", "left", *("right",) * 5))
    least, _, most = design.supply.flat_out
    ends = band(least.flow if least else 0.0, most.flow if most else 0.0, 100, "L/h", scale=3.6e6)
    words = [
        f"Chosen: {design.supply.chosen.pump.name} on {design.supply.chosen.hose.name}: {ends} flat out.",
        "Watts with the pump slowed to the flow; throttled: the same flow held back by a valve.",
        "A dash: this pair cannot give a flow that is to run. Energy price: "
        + (job.prices.energy_source or "none given")
        + ".",
    ]
    if len(ranked) > len(shown):
        words.append(f"{len(ranked) - len(shown)} more pairs do worse.")
    marks: list[Mark] = [heading((left, TOP - 9), "Every pump with every hose on offer"), *drawn]
    words.append(f"Reservoir: {litres(design.reservoir.useful)} usable.")
    down -= 6
    for line in words:
        said = paragraph((left, down), line, sum(widths), 2.2)
        marks.extend(said)
        down = said[-1].at[1] - 4.2
    return marks


def _pair(offer: Offer, main: str) -> tuple[str, ...]:
    given = next(each for each in offer.flows if each.name == main)
    count = f"{offer.together} x " if offer.together > 1 else ""
    return (
        f"{count}{offer.pump.name}",
        offer.hose.name,
        flow(offer.flat_out.flow) if offer.flat_out else "–",
        watts(given.duty.watts) if given.duty else "–",
        watts(given.throttled) if given.throttled is not None else "–",
        kilowatt_hours(offer.energy) if offer.energy is not None else "–",
        grouped(offer.cost) if offer.cost is not None else "–",
    )
