"""Names and numbers of the tree that come from the job rather than from its year."""

from beckwright.base.words import flow, millimetres, with_unit
from beckwright.care.normal import Normal
from beckwright.job.model import Job
from beckwright.tables.care import ONE_PERSON

TRADES = ("builder", "electrician")


def terms(job: Job, normal: Normal) -> dict[str, str]:
    """Who is rung, the gentlest flow, where the overflow goes, and what the lid weighs."""
    found = {trade: person(job, trade) for trade in TRADES}
    gentle = (
        f"{normal.gentle}, {flow(normal.gentle_rate)}" if normal.gentle_runs and normal.gentle != normal.flow else ""
    )
    found["off_or"] = f"Leave it off, or at {gentle}" if gentle else "Leave it off"
    found["set_gentle"] = f"Set it to {gentle}" if gentle else "Switch it off"
    if job.reservoir.overflow_to:
        found["overflow_to"] = job.reservoir.overflow_to
    if normal.known and normal.storm >= 0.0005:
        found["storm"] = millimetres(normal.storm)
    found["lid"] = lid(job)
    return found


def person(job: Job, trade: str) -> str:
    """Whoever the job names for a trade, with the telephone; else the trade itself."""
    for each in job.people:
        if trade in each.trade.lower():
            return f"{each.name}, {each.telephone}" if each.telephone else each.name
    return {"builder": "whoever built it", "electrician": "a licensed electrician"}[trade]


def lid(job: Job) -> str:
    """How the lid is lifted."""
    chamber = job.chamber
    if chamber.lid is None:
        return "Lift the lid with somebody beside you"
    piece = chamber.lid / chamber.lid_pieces
    each = " a piece" if chamber.lid_pieces > 1 else ""
    hands = "two people lift it" if piece > ONE_PERSON.amount else "lift it with a straight back"
    return f"The lid weighs {with_unit(piece, 'kg'):,.0f}{each}: {hands}"
