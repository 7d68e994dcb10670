"""Names of plants judged: what the law says of them, and names nobody knows."""

from collections.abc import Iterator

from beckwright.base.findings import Finding, Severity
from beckwright.base.words import chainages
from beckwright.job.model.planting import Place
from beckwright.stages.planting import PlacedPocket, Planted
from beckwright.stages.planting.fit import fits, laws_here
from beckwright.tables.plants import Law, Listed

_TABLE = "plant table of this house, from memory"
_FORBIDDEN = {
    "sale": "it may not be sold",
    "keeping": "it may not be sold, kept, grown or moved",
    "the wild": "it is an offence to plant it in the wild or let it get there",
}
_BRITAIN = ("England", "Wales", "Scotland", "Northern Ireland")


def name_findings(placed: PlacedPocket, planted: Planted, place: Place) -> Iterator[Finding]:
    """Findings on what one plant is."""
    named = planted.named
    if named.listed is not None:
        yield from _listed(placed, planted, named.listed, place)
    if named.sold_as is not None and laws_here(named.sold_as, place):
        yield _sold_as(placed, planted, named.sold_as, place)
    if named.plant is None and named.listed is None:
        yield _unknown(placed, planted)


def _listed(placed: PlacedPocket, planted: Planted, listed: Listed, place: Place) -> Iterator[Finding]:
    laws = laws_here(listed, place)
    plant = planted.named.plant
    if laws:
        wild = laws[0].forbids == "the wild"
        yield _finding(
            Severity.CAUTION if wild else Severity.FAIL,
            "plant-invasive",
            placed,
            planted,
            f"{_known_as(planted, listed)}{_ruled(laws)}; {_FORBIDDEN[laws[0].forbids]}.",
            f"{_instead(placed, place)} Never put its remains in a stream, a ditch or a compost heap.",
            "; ".join(f"{law.law}, {law.date} ({law.seen})" for law in laws),
        )
    elif plant is None or not (plant.native and place in _BRITAIN):
        yield _finding(
            Severity.NOTE,
            "plant-invasive-elsewhere",
            placed,
            planted,
            f"{_known_as(planted, listed)}{_ruled(listed.laws)}, which does not hold in {place}.",
            f"Ask whether {place} has a list of its own that names it, or leave it out.",
            "; ".join(f"{law.law}, {law.date} ({law.seen})" for law in listed.laws),
        )


def _known_as(planted: Planted, listed: Listed) -> str:
    given = planted.named.given
    return f"That is {listed.name}: " if given != listed.name else "It is "


def _ruled(laws: tuple[Law, ...]) -> str:
    return " and ".join(f"on the list of the {law.law} (since {law.date})" for law in laws)


def _sold_as(placed: PlacedPocket, planted: Planted, sold: Listed, place: Place) -> Finding:
    laws = laws_here(sold, place)
    return _finding(
        Severity.CAUTION,
        "plant-sold-as",
        placed,
        planted,
        f"Plants sold under this name are often {sold.name}, {_ruled(laws)}.",
        f"Have the nursery state in writing which it is, or: {_instead(placed, place)}",
        "; ".join(f"{law.law}, {law.date} ({law.seen})" for law in laws),
    )


def _unknown(placed: PlacedPocket, planted: Planted) -> Finding:
    named = planted.named
    told = "It is not in the plant table; its facts are not known here"
    count = "" if planted.spacing is not None else ", and without a spacing it is not counted"
    if named.sisters:
        some = ", ".join(named.sisters)
        says = f"{told}{count}. Only the genus is given, and {some} of that genus stand on lists of invasive plants."
        return _finding(
            Severity.CAUTION, "plant-genus-alone", placed, planted, says, "Write the whole botanical name.", _TABLE
        )
    near = f'Did you mean "{named.near}"? ' if named.near else ""
    risky = " That one is on lists of invasive plants." if named.near_listed else ""
    space = "Check the spelling." if planted.spacing is not None else "Check the spelling, or write spacing_mm."
    return _finding(
        Severity.CAUTION if named.near_listed else Severity.NOTE,
        "plant-unknown",
        placed,
        planted,
        f"{told}{count}.",
        f"{near}{space}{risky}",
        _TABLE,
    )


def _instead(placed: PlacedPocket, place: Place) -> str:
    others = fits(placed.zone, placed.pocket.light, place, tallest=1.2)[:3]
    names = " or ".join(row.name for row in others)
    return f"Take it out and plant {names}." if names else "Take it out."


def _finding(
    severity: Severity, code: str, placed: PlacedPocket, planted: Planted, says: str, cure: str, source: str
) -> Finding:
    pocket = placed.pocket
    return Finding(
        severity=severity,
        code=code,
        place=f"{planted.named.given} in pocket {placed.letter}, {chainages(pocket.start, pocket.end)}",
        says=says,
        cure=cure,
        source=source,
        chainage=(pocket.start, pocket.end),
    )
