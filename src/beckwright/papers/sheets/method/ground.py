"""The method sheet before anything is laid: services, trees, the pit, the course and the hose."""

from beckwright.base.words import metres, millimetres, opening, with_unit
from beckwright.compose import Design, Works
from beckwright.job.model import Service
from beckwright.papers.sheets.method.numbers import deepest_dig
from beckwright.papers.sheets.method.stage import StageOfWork
from beckwright.stages.surroundings import Crossing, Near
from beckwright.tables.practice import SPOIL_CLEARANCE
from beckwright.tables.site import DIGGER_STANDOFF
from beckwright.tables.soils import STANDS


def ready(design: Design, works: Works) -> StageOfWork:
    """Services, trees and the way in, before anybody digs."""
    around = design.surroundings
    numbers = [_service(near) for near in around.services] or [
        "The job tells of no pipe and no cable: ask all the same."
    ]
    for circle in around.circles:
        if circle.works or circle.pit or circle.hose:
            kept = ", protected" if circle.tree.protected else ""
            numbers.append(
                f"{opening(circle.tree.species)} {circle.tree.name}{kept}: {metres(circle.by_hand)} by hand in its "
                f"circle of {metres(circle.radius)}."
            )
    access = around.access
    if access.machine is not None and access.needed is not None:
        numbers.append(
            f"Digger {metres(access.machine)} wide wants {metres(access.needed)}; narrowest way in "
            f"{metres(access.width)}."
        )
    fenced = "Fence the trees (tree sheet). " if around.circles else ""
    return StageOfWork(
        name="Before the first spade",
        tasks=("make ready", "set out"),
        numbers=tuple(numbers),
        orders=(
            (
                "Get plans of buried services from their owners. Have them traced by someone competent and sprayed on "
                "the grass: pipes and private cables lie where no plan shows them."
            ),
            (
                "Find each in trial slots dug by hand, spade laid flat, before a machine comes near; electricity off "
                "where that can be had. Struck: stop, get away, ring the owner."
            ),
            (
                f"{fenced}Write up where the first-aid box, the way in for an ambulance and the "
                "stop-tap are. Nobody digs alone."
            ),
        ),
        decides="services: their owners and whoever traces"
        + ("; trees: tree officer, arboriculturist" if fenced else ""),
    )


def _service(near: Near) -> str:
    service = near.thing
    if not isinstance(service, Service):
        return ""
    deep = "depth unknown" if service.depth is None else f"{metres(service.depth)} down as told"
    away = [f"pit {metres(near.pit)}", f"stream bed {metres(near.course)}"]
    away += [f"hose {metres(near.hose)}"] if near.hose is not None else []
    crossed = "".join(f" {_crossed(crossing)}" for crossing in near.crossings)
    return (
        f"{opening(service.name)}, {deep}: away from {', '.join(away)}; by hand {metres(service.clearance)} each side."
        f"{crossed}"
    )


def _crossed(crossing: Crossing) -> str:
    where = "" if crossing.along is None else f" at {with_unit(crossing.along, 'm'):.1f}"
    left = (
        "nobody knows what is left over it" if crossing.left is None else f"{millimetres(crossing.left)} left over it"
    )
    return f"{opening(crossing.part)} crosses it{where}, dug {millimetres(crossing.dug)}: {left}."


def pit(design: Design, works: Works) -> StageOfWork:
    """How deep, in what soil, beside what; who looks when."""
    pit, site, soil = works.groundwork.pit, design.job.site, STANDS[design.job.site.soil]
    sides = (
        "drawn with upright sides: supported, or battered back, before anybody goes in"
        if pit.batter == 0
        else f"sides drawn {pit.batter:g} across for each 1 up"
    )
    numbers = [
        f"Pit up to {metres(pit.depth)} deep below the ground, {sides}.",
        (
            f"Soil as told: {site.soil}. Table B-1 (US): {_slope(soil.low, soil.high)} across for each 1 up at the "
            "steepest, flatter where water comes in. Which type it is, only a competent person on the spot can tell."
        ),
    ]
    if site.groundwater_winter is not None:
        below = ": the pit goes below it" if pit.depth > site.groundwater_winter else ""
        numbers.append(f"Ground water in winter {metres(site.groundwater_winter)} down{below}.")
    numbers += [
        (
            f"Footing {footing.foundation.name}: the {part.part} goes {millimetres(part.below)} below its line at 45 "
            "degrees."
        )
        for footing in works.closer.footings
        for part in footing.parts[:1]
    ]
    return StageOfWork(
        name="Dig the pit",
        tasks=("strip topsoil", "dig the pit"),
        numbers=tuple(numbers),
        orders=(
            (
                "No depth is free of risk. Nobody in it before the competent person has looked: before each shift, "
                "after rain, after any fall of ground, and it is written down (overleaf)."
            ),
            (
                f"Heaps {metres(SPOIL_CLEARANCE.amount)} and the machine's tracks {metres(DIGGER_STANDOFF.amount)} or "
                "more back from the edge; a ladder in it; nobody within the swing or under the bucket."
            ),
            "Water in it is pumped out before anybody goes in. Cracks along the edge, bulging, a smell: out, and ring.",
        ),
        decides="the competent person for the dig",
    )


def _slope(low: float, high: float) -> str:
    return f"{low:g}" if low == high else f"{low:g} to {high:g}"


def course(design: Design, works: Works) -> StageOfWork:
    """The stream's dig and the hose's trench."""
    deep, where = deepest_dig(works)
    numbers = [f"Stream dug up to {millimetres(deep)} below the ground, at {with_unit(where, 'm'):.1f}."]
    trench = works.setting_out.trench_depth
    if trench is not None:
        numbers.append(
            f"Hose trench up to {millimetres(trench[1])} deep, {millimetres(design.job.earthworks.trench_width)} wide."
        )
    trees = "; roots as the tree sheet says." if design.surroundings.circles else "."
    hands = [near for near in design.surroundings.services if near.crossings]
    numbers += [f"{opening(near.thing.name)} is crossed: see above." for near in hands]
    return StageOfWork(
        name="Dig the course, lay the hose",
        tasks=("dig the course, ram the banks", "trench and hose"),
        numbers=tuple(numbers),
        orders=(
            "From the lower end up. Inside a root circle and beside a service by hand" + trees,
            "A narrow trench falls in without a sound: nobody kneels or lies in one. Boards or tape over it at night.",
            "Rammers: gloves, boots, hearing; turns of minutes, not hours.",
        ),
        decides="the competent person; by a service whoever traced it",
    )
