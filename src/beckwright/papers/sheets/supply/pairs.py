"""Every pump with every hose on offer as one table: the cheapest over the years on top, and why."""

from beckwright.base.words import band, flow, grouped, kilowatt_hours, litres, share, watts
from beckwright.compose import Design
from beckwright.figures.make import main_flow
from beckwright.papers.drawing import A3_FLAT, Across, Mark, Sheet
from beckwright.papers.sheets.shared.frame import LEFT, LOW, TITLE_HIGH, TOP, SheetTitle, frame, heading, notes
from beckwright.papers.sheets.shared.table import table
from beckwright.stages.money import LifeCost

WIDTHS = (10, 30, 30, 28, 30, 28, 28, 26, 26, 30, 4, 108)
ACROSS: tuple[Across, ...] = ("left", "left", "left", *("right",) * 7, "left", "left")
STEP = 6.0
TOP_ROW = TOP - 14.0
ROWS = int((TOP_ROW - LOW - TITLE_HIGH - 34.0) / STEP) - 1
"""Pairs of the table; what does worse than these is counted and not drawn."""


def pairs_sheet(design: Design, lives: tuple[LifeCost, ...], number: int, of: int) -> Sheet:
    """The pairs, with what the chosen one gives flat out."""
    job, main, years = design.job, main_flow(design.job), design.job.money.years
    currency = job.prices.currency
    heads = (
        *("", "pump", "hose", "flat out", f"watts, {main}", "if throttled", "energy a year"),
        *(f"{currency} a year", "to buy", f"{years} years", "", "why"),
    )
    rows = [_row(design, place, life, main) for place, life in enumerate(lives[:ROWS], 1)]
    drawn, down = table((LEFT + 6.0, TOP_ROW), WIDTHS, [heads, *rows], height=2.2, step=STEP, across=ACROSS)
    said, _ = notes((LEFT + 6.0, down - 8.0), tuple(_notes(design, lives)), 214.0, 2.0)
    marks: list[Mark] = [*drawn, *said]
    title = SheetTitle(
        title="Pump and hose", reader="for the designer and the client", scale="no drawing", number=number, of=of
    )
    return Sheet(
        name="pump-and-hose",
        title=f"{job.title.name}: every pump with every hose",
        paper=A3_FLAT,
        marks=(
            *frame(job, title),
            heading(
                (LEFT + 6.0, TOP - 9.0), "Every pump with every hose on offer, the cheapest over the years on top", 5.0
            ),
            *marks,
        ),
        description=f"{len(lives)} pairs of pump and hose with flow, watts, energy and cost.",
    )


def _row(design: Design, place: int, life: LifeCost, main: str) -> tuple[str, ...]:
    offer = life.offer
    given = next(each for each in offer.flows if each.name == main)
    count = f"{offer.together} x " if offer.together > 1 else ""
    chosen = offer.pump.name == design.job.pumps.chosen.name and offer.hose.name == design.job.route.chosen.name
    return (
        f"{place}",
        f"{count}{offer.pump.name}",
        offer.hose.name,
        flow(offer.flat_out.flow) if offer.flat_out else "–",
        watts(given.duty.watts) if given.duty else "–",
        watts(given.throttled) if given.throttled is not None else "–",
        kilowatt_hours(life.energy) if life.energy is not None else "–",
        *("–" if money is None else grouped(money) for money in (life.year, life.first, life.worth)),
        "",
        f"chosen; {life.why}" if chosen else life.why,
    )


def _notes(design: Design, lives: tuple[LifeCost, ...]) -> list[str]:
    job, terms = design.job, design.job.money
    least, _, most = design.supply.flat_out
    ends = band(least.flow if least else 0.0, most.flow if most else 0.0, 100, "L/h", scale=3.6e6)
    tax = f"{terms.tax_name} in all prices" if terms.tax is not None else "prices as they were given"
    chosen, usable = design.supply.chosen, litres(design.reservoir.useful)
    rates = f"interest {share(terms.interest)}, rise of prices {share(terms.rise)} a year"
    said = [
        f"Chosen: {chosen.pump.name} on {chosen.hose.name}, {ends} flat out; reservoir {usable} usable.",
        "Watts with the pump slowed to the flow; throttled: the same flow held back by a valve.",
        "A dash: the pair cannot give it, or a price is missing.",
        f"{terms.years} years: bought, run, pump replaced every {terms.pump_life} years; {rates}; {tax}.",
    ]
    if job.prices.energy_source:
        said.append(f"Price of energy: {job.prices.energy_source}.")
    if len(lives) > ROWS:
        said.append(f"{len(lives) - ROWS} more pairs do worse.")
    return said
