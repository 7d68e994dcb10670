"""Planting judged: plants the law names, roots that harm a lining, plants in the wrong place, soil that wicks."""

from collections.abc import Iterator

from beckwright.base.findings import Finding, Severity
from beckwright.base.words import chainages, share, with_unit
from beckwright.job.model import Job
from beckwright.stages.findings.plant_names import name_findings
from beckwright.stages.findings.plant_places import place_findings
from beckwright.stages.findings.pockets import channel_findings, pocket_findings
from beckwright.stages.planting import PlacedPocket, Planted, Planting
from beckwright.tables.planting import FLEECE_LAP, UNDER_EDGE

_MEMORY = "plant table of this house, from memory"


def planting_findings(job: Job, planting: Planting) -> Iterator[Finding]:
    """All findings on the planting, pocket by pocket, then those on the whole."""
    for placed in planting.pockets:
        for planted in placed.plants:
            yield from name_findings(placed, planted, planting.place)
            yield from place_findings(placed, planted, planting.place)
        yield from _bare(placed)
    yield from pocket_findings(job, planting.pockets)
    yield from channel_findings(planting)
    yield from _over(planting)
    yield from _harmful(planting)
    yield from _spreading(planting)
    yield from _wicking(planting)


def _bare(placed: PlacedPocket) -> Iterator[Finding]:
    left = 1.0 - sum(planted.share for planted in placed.plants)
    if left > 0.005:
        yield Finding(
            severity=Severity.NOTE,
            code="pocket-bare",
            place=_where(placed),
            says=f"{share(left)} of it is left bare.",
            cure="Mulch that part with pebbles, or give the plants the whole of it.",
            source="shares of this job",
            chainage=_span(placed),
        )


def _over(planting: Planting) -> Iterator[Finding]:
    for one, other, area in planting.over:
        yield Finding(
            severity=Severity.CAUTION,
            code="pockets-overlap",
            place=f"Pockets {one} and {other}",
            says=f"They share {with_unit(area, 'm²'):.2f}, and its plants and soil are counted twice.",
            cure=f"Draw one of them back until those {with_unit(area, 'm²'):.2f} are in one pocket only.",
            source="outlines on plan",
        )


def _harmful(planting: Planting) -> Iterator[Finding]:
    """One finding for all plants that harm people, one for those that harm only animals."""
    rows = [(row.named.plant, row.letters) for row in planting.orders if row.named.plant]
    people = [f"{plant.name} ({', '.join(letters)}): {plant.people}" for plant, letters in rows if plant.people]
    if people:
        yield Finding(
            severity=Severity.CAUTION,
            code="plants-harm-people",
            place="Plants that can harm people",
            says=f"{'; '.join(people)}.",
            cure="Keep them out of reach of small children, wear gloves, wash hands; if eaten, ask a doctor and take a "
            "leaf along.",
            source=_MEMORY,
        )
    pets = [f"{plant.name} ({', '.join(letters)})" for plant, letters in rows if plant.pets and not plant.people]
    if pets:
        yield Finding(
            severity=Severity.NOTE,
            code="plants-harm-animals",
            place="Plants that can harm pets or grazing animals",
            says=f"{'; '.join(pets)}.",
            cure="Fence animals off, or leave these out; ask a veterinary surgeon.",
            source=_MEMORY,
        )


def _spreading(planting: Planting) -> Iterator[Finding]:
    fast = [
        f"{planted.named.name} ({placed.letter})"
        for placed in planting.pockets
        for planted in placed.plants
        if placed.pocket.inside and _fast(planted)
    ]
    if fast:
        yield Finding(
            severity=Severity.NOTE,
            code="plants-spread",
            place="Fast spreaders inside the lining",
            says=f"{', '.join(fast)}: roots grow into the bed, dam the water and raise it over the edge.",
            cure="Sink them in baskets, and cut them back to the pocket each March.",
            source="common practice",
        )


def _fast(planted: Planted) -> bool:
    plant = planted.named.plant
    return plant is not None and plant.spreads == "high"


def _wicking(planting: Planting) -> Iterator[Finding]:
    inside = [placed.letter for placed in planting.pockets if placed.pocket.inside]
    if inside:
        yield Finding(
            severity=Severity.NOTE,
            code="capillary-break",
            place=f"Pocket{'s' * (len(inside) > 1)} {', '.join(inside)}, inside the lining",
            says="Soil, mulch, fleece or roots that touch the ground outside draw water over the edge.",
            cure=f"Keep soil and fleece {with_unit(UNDER_EDGE.amount * 1000, 'mm'):.0f} under the edge "
            "of the lining, stand the edge "
            f"upright against a stone with a dry strip behind it; lay fleece with {share(FLEECE_LAP.amount - 1)} for "
            "laps.",
            source=f"assumed: {UNDER_EDGE.place}",
        )


def _where(placed: PlacedPocket) -> str:
    return f"Pocket {placed.letter}, {placed.pocket.name}, {chainages(*_span(placed))}"


def _span(placed: PlacedPocket) -> tuple[float, float]:
    return placed.pocket.start, placed.pocket.end
