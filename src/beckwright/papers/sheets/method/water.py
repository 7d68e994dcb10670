"""The method sheet where there is water: pump and electricity, first fill, children."""

from beckwright.base.words import bore, grouped, litres, metres, millimetres, opening, retold, watts, with_unit
from beckwright.compose import Design, Works
from beckwright.papers.sheets.method.numbers import Standing, standing_waters
from beckwright.papers.sheets.method.stage import StageOfWork
from beckwright.papers.sheets.overview.plan import cautions_told
from beckwright.tables.electrics import SOCKET_FROM_WATER
from beckwright.tables.hazards import RESIDUAL_CURRENT, WARM_WATER_HIGH, WARM_WATER_LOW


def electrics(design: Design, works: Works) -> StageOfWork:
    """What is drawn, from where, how near to water."""
    work, electrics = design.job.electrics, works.electrics
    chosen = design.supply.chosen
    drawn = max(
        (given.duty.watts for given in chosen.flows if given.duty is not None),
        default=chosen.flat_out.watts if chosen.flat_out else None,
    )
    numbers = [] if drawn is None else [f"Pump as run: up to {watts(drawn)} on the flows named."]
    if work is None or electrics is None:
        numbers.append("The job names no supply: walk the route with the electrician first.")
    else:
        numbers.append(
            f"From {work.board}: {metres(electrics.feeder.length)} of cable, {work.voltage:g} V, "
            f"{grouped(electrics.feeder.current, 1)} A."
        )
        water = electrics.route.connection_water
        if water is not None:
            numbers.append(
                f"Connection {metres(water)} from open water; {metres(SOCKET_FROM_WATER.amount)} is the habit."
            )
    return StageOfWork(
        name="Pump and electricity",
        tasks=("fit pump and outlet box", "connect the electrics"),
        numbers=tuple(numbers),
        orders=(
            (
                f"Residual current device of {1000 * RESIDUAL_CURRENT.amount:.0f} mA on everything outdoors, tools "
                "too; tested by its button each morning."
            ),
            "A licensed electrician designs, connects, tests and certifies. No joint in the ground, no extension lead.",
            "Nobody reaches into water with a live pump or lamp in it: isolate, lock off, prove dead, then the rope.",
        ),
        decides="a licensed electrician, to the rules of the place",
    )


def water(design: Design) -> StageOfWork:
    """First fill and hygiene."""
    filled = design.reservoir
    held = filled.pit.held(filled.pit.rested)
    hose = design.job.route
    return StageOfWork(
        name="First water, first weeks",
        tasks=("watch the reservoir", "water on the bare lining", "run at full, move stones", "test for leaks"),
        numbers=(
            (
                f"Reservoir holds {litres(held)} at rest; {metres(hose.length)} of hose, bore "
                f"{bore(hose.chosen.bore)}, hold {litres(filled.hose)}."
            ),
            retold(f"Water of [{WARM_WATER_LOW.amount:.0f} to {WARM_WATER_HIGH.amount:.0f} °C] that stands breeds ")
            + "legionella; drops in the air carry it (UK guidance).",
        ),
        orders=(
            (
                "Fill from the mains over an air gap, the garden hose hung above the water and never left in it. What "
                "has stood in a hose in the sun runs to waste first, not through a rose or a spray."
            ),
            "After a stop in warm weather: run it with nobody beside the falls, and empty hoses that lie dead.",
            "Not for drinking, not for play: birds and foxes use it. Wash hands before eating; cover cuts.",
        ),
        decides="whoever hands over, and the owner after them",
    )


def children(design: Design, works: Works) -> StageOfWork:
    """Where water stands deepest, and what keeps a child out."""
    waters = standing_waters(design)
    numbers = []
    if waters.open:
        deepest = waters.open[0]
        numbers.append(f"Deepest open water: {deepest.where}, {_deep(deepest)}.")
        others = [f"{each.where}: {_deep(each)}" for each in waters.open[1:4]]
        numbers += [f"Next: {', '.join(others)}."] if others else []
    numbers.append(f"Reservoir under its cover: {_deep(waters.covered)}; chamber {metres(works.chamber.depth)} deep.")
    chamber = design.job.chamber
    for told, words in ((chamber.locked, "lid locks"), (chamber.grille, "grille under it")):
        numbers.append(f"{opening(words)}: {'not told' if told is None else 'yes' if told else 'no'}.")
    if chamber.lid_bears is not None:
        numbers[-1] = f"{numbers[-1]} Both bear {with_unit(chamber.lid_bears, 'kg'):,.0f} as told."
    shallow = next(line for line in cautions_told() if line.startswith("Children"))
    return StageOfWork(
        name="Every evening: children, edges, water",
        tasks=(),
        numbers=tuple(numbers),
        orders=(
            f"{shallow} An open pit also fills with rain.",
            (
                "Pit, chamber and trenches covered or fenced, ladder out, key out of the machine, power off at the "
                "board. The lid is on and locked, the grille fixed with a tool, before the first water and ever after."
            ),
            "Wet stone beside deep water and over drops: no standing on lips, one hand for yourself.",
        ),
        decides="the last one to leave signs for it",
    )


def _deep(water: Standing) -> str:
    return f"{millimetres(water.depth)}{' while it runs' if water.running else ''}"
