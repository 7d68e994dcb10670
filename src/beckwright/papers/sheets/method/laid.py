"""The method sheet where things are laid and lifted: lining, lid, stone."""

from beckwright.base.words import metres, opening, with_unit
from beckwright.compose import Design, Works
from beckwright.papers.sheets.method.numbers import heaviest_sheet
from beckwright.papers.sheets.method.stage import StageOfWork
from beckwright.stages.stonework.values import ToLift
from beckwright.tables.lining import CARRIED

_PEOPLE = {1: "one person carries it", 2: "two people carry it", 3: "three people carry it"}


def lining(design: Design, works: Works) -> StageOfWork:
    """Masses of sheet and lid against what people carry."""
    name, mass, people = heaviest_sheet(works)
    carried = "three people do not carry it" if people is None else f"by the filter {_PEOPLE[people]}"
    numbers = [f"Heaviest piece of sheet: {name}, {with_unit(mass, 'kg'):,.0f}; {carried}."]
    _, women, men = works.stonework.by_hand[0]
    pair = works.stonework.by_hand[1]
    numbers.append(
        f"Filter of HSE L23 (UK), close to the body: one person {_masses(women, men)}, two {_masses(*pair[1:])}; no "
        "limit, and less at arm's length, twisting, often, on wet stone."
    )
    chamber = works.chamber
    if chamber.piece is not None:
        numbers.append(f"Lid: {with_unit(chamber.piece, 'kg'):,.0f} a piece.")
    return StageOfWork(
        name="Line and fill",
        tasks=("line and fill the reservoir", "line the course"),
        numbers=tuple(numbers),
        orders=(
            "Roll, drag or machine what is heavier than the filter; count the people before the sheet is opened.",
            "No sheet opened in wind: it flies, and takes who holds it. Nobody walks under it. Wet sheet is ice.",
            "Solvent and primer: open air, gloves, no flame. Nobody climbs into the chamber, not even head first.",
        ),
        decides="whoever leads on site",
    )


def _masses(low: float, high: float) -> str:
    unit = f"{with_unit(high, 'kg'):,.0f}"
    first = f"{with_unit(low, 'kg'):,.0f}".split(" ")[0]
    return f"{first} to {unit}"


def stone(design: Design, works: Works) -> StageOfWork:
    """The heaviest stone against the lift chart."""
    lifts = works.stonework.lifts
    numbers: list[str] = []
    if lifts:
        top = lifts[0]
        numbers.append(
            f"Heaviest stone set: {top.what}, {top.count} of {with_unit(top.mass, 'kg'):,.0f}, lifted by: {top.by}."
        )
        if top.people is None:
            numbers.append(_charted(top))
        for by in ("nobody can tell", "nothing told"):
            stuck = [lift.what for lift in lifts if lift.by == by]
            if stuck:
                numbers.append(f"{opening(by)} what lifts: {_few(stuck)}.")
        if design.job.stonework.gear:
            numbers.append(f"Bucket, hitch and slings counted: {with_unit(design.job.stonework.gear, 'kg'):,.0f}.")
    else:
        numbers.append("The job tells of no stone set singly.")
    return StageOfWork(
        name="Set the stone",
        tasks=("bed the lips", "set the edge stones", "lay the beds"),
        numbers=tuple(numbers),
        orders=(
            (
                "Each lift against the chart at its reach and on its slope before it leaves the ground; slings and "
                "hooks marked with their load and looked over that morning. No stone on bucket teeth."
            ),
            (
                "One banksman, one set of signals; anybody may shout stop. Nobody under the load, downhill of it, or "
                "within the swing. Look up: wires."
            ),
            (
                f"By hand up to the filter ({_masses(CARRIED.low, CARRIED.high)} for one), feet clear of the drop, "
                "bars and not fingers. Cut stone wet, mask and eyes."
            ),
        ),
        decides="whoever plans the lifts; the driver may refuse any",
    )


def _charted(top: ToLift) -> str:
    at = "" if top.reach is None else f" at {metres(top.reach)} from the machine's middle"
    if top.machine is None:
        return f"No lift chart was given: have the machine's before it is lifted{at}."
    if top.machine == 0:
        return f"The chart does not reach it{at}."
    return f"The chart, gear taken off, gives {with_unit(top.machine, 'kg'):,.0f}{at}."


def _few(names: list[str]) -> str:
    more = len(names) - 3
    return ", ".join(names[:3]) + (f" and {more} more" if more > 0 else "")
