"""What the as-built sheet says beside its plan: what lies hidden and how deep, levels, pump and settings."""

from collections.abc import Iterator

from beckwright.base.words import (
    band,
    bore,
    chainages,
    flow,
    litres,
    metres,
    millimetres,
    number_in,
    opening,
    share,
    sizes,
    watts,
    with_unit,
)
from beckwright.compose import Design, Works
from beckwright.job.model import Run

Pair = tuple[str, str]


def hidden(design: Design, works: Works) -> Iterator[Pair]:
    """Everything that cannot be seen: what, and how deep."""
    job, trench = design.job, works.setting_out.trench_depth
    hose = f"{metres(job.route.length)}, bore {bore(job.route.chosen.bore)}"
    if trench is not None:
        yield "hose", f"{hose}; trench {band(*trench, 0.01, 'm')} deep"
    else:
        yield "hose", f"{hose}; its line was not drawn"
    work, electrics = job.electrics, works.electrics
    if work is not None and electrics is not None:
        drawn = "" if electrics.route.line is not None else ", its line not drawn"
        yield "supply cable", f"{metres(electrics.feeder.length)}, {millimetres(work.cover)} of cover as told{drawn}"
    else:
        yield "supply cable", "the job tells nothing of it: trace it"
    for service in job.site.services:
        deep = "depth unknown" if service.depth is None else f"{millimetres(service.depth)} down as told"
        yield service.name, deep
    for name, depth in _beds(design):
        yield f"lining under {name}", f"{millimetres(depth)} of stone over it"
    for lap in works.lining.laps:
        yield f"lap in {lap.place}", f"{chainages(*lap.chainage)}, {'bonded' if lap.bonded else 'loose'}, as drawn"
    if not works.lining.laps:
        yield "laps of the lining", "none drawn: one sheet"
    pit = job.reservoir
    covered = f"{millimetres(pit.cover_depth)} of cover over it and its lining" if pit.cover_depth else "no cover on it"
    yield f"reservoir, {pit.fill}", covered
    yield "overflow pipe", f"bore {millimetres(pit.overflow_bore)}, invert {metres(pit.overflow)}"
    yield "overflow leads to", pit.overflow_to


def _beds(design: Design) -> list[tuple[str, float]]:
    beds = {reach.bed.name: reach.bed.depth for reach in design.job.course.reaches if isinstance(reach, Run)}
    return [(name, depth) for name, depth in beds.items() if depth > 0]


def levels(design: Design, works: Works) -> Iterator[Pair]:
    """Levels and sizes of reservoir and chamber."""
    pit, given = design.reservoir.pit, design.job.chamber
    yield "cover", metres(pit.cover)
    yield "overflow; at rest", f"{metres(pit.overflow)}; {metres(pit.rested)}"
    yield "pump stops; where it stands", f"{metres(pit.pump_minimum)}; {metres(pit.sump_floor)}"
    size = design.job.reservoir
    yield (
        "inside the lining",
        f"{number_in(size.length, 'm'):.2f} x {metres(size.width)}; {litres(pit.held(pit.rested))}",
    )
    inside = "size not told" if given.inside is None else f"{sizes(given.inside)} inside"
    yield "chamber", f"{inside}, {metres(works.chamber.depth)} deep"
    locked = "not told" if given.locked is None else "yes" if given.locked else "no"
    lid = "" if works.chamber.piece is None else f", {with_unit(works.chamber.piece, 'kg'):.0f} a piece"
    yield "lid", f"locks: {locked}{lid}"


def settings(design: Design) -> list[tuple[str, str, str, str, str]]:
    """Pump settings: what each named flow takes."""
    rows = [("flow", "amount", "head", "watts", "speed")]
    for given in design.supply.chosen.flows:
        duty = given.duty
        told = ("cannot", "", "") if duty is None else (metres(duty.head), watts(duty.watts), share(duty.speed))
        rows.append((given.name, flow(given.wanted), *told))
    return rows


def pump(design: Design) -> str:
    """Which pump."""
    chosen = design.supply.chosen
    many = f"{chosen.together} x " if chosen.together > 1 else ""
    return f"Pump and settings: {many}{chosen.pump.name}, hose {chosen.hose.name}"


def told(design: Design) -> tuple[str, ...]:
    """Remarks of the job, as they stand in it."""
    return tuple(opening(note) for note in design.job.site.notes)
