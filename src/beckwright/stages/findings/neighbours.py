"""Pipes and cables under the works, and boundaries beside them."""

from collections.abc import Iterator

import numpy as np

from beckwright.base.findings import Finding, Severity
from beckwright.base.words import metres, millimetres, opening, with_unit
from beckwright.job.model import Boundary, Service
from beckwright.stages.course import SetOutCourse
from beckwright.stages.surroundings import Crossing, Near
from beckwright.stages.water import Water
from beckwright.stages.water.beds import HIGH
from beckwright.tables.practice import DAMP_PROOF_CLEARANCE
from beckwright.tables.site import PARTY_WALL_NEAR


def service_findings(near: Near) -> Iterator[Finding]:
    """One pipe or cable that the works come nearer to than its clearance."""
    service = near.thing
    if not isinstance(service, Service):
        return
    distances = (("reservoir pit", near.pit), ("stream", near.course), ("hose trench", near.hose))
    close = [(part, away) for part, away in distances if away is not None and away < service.clearance]
    if not close:
        return
    over = any(part == "reservoir pit" and away == 0 for part, away in close)
    struck = any(crossing.left is not None and crossing.left <= 0 for crossing in near.crossings)
    yield Finding(
        severity=Severity.FAIL if over or struck else Severity.CAUTION,
        code="near-service",
        place=f"{opening(service.kind)} ({service.name}), "
        + ("depth unknown" if service.depth is None else f"{metres(service.depth)} down as told"),
        says=opening("; ".join(_closeness(near, part, away) for part, away in close)) + ".",
        cure=_locate(service, near.crossings),
        source="common practice; HSG47 (UK)",
        chainage=near.within[0] if near.within else (),
    )


def _closeness(near: Near, part: str, away: float) -> str:
    crossings = [crossing for crossing in near.crossings if crossing.part == part]
    if crossings:
        return "; ".join(map(_crossed, crossings))
    where = f" at {with_unit(near.nearest, 'm'):.1f}" if part == "stream" else ""
    name = "stream bed" if part == "stream" else part
    return f"{name} lies over it{where}" if away == 0 else f"{name} {metres(away)} away{where}"


def _crossed(crossing: Crossing) -> str:
    name = "stream bed" if crossing.part == "stream" else crossing.part
    deep = f"dug {millimetres(crossing.dug)}" + (" below its cover" if crossing.part == "reservoir pit" else "")
    where = "" if crossing.along is None else f" {_spot(crossing)}"
    if crossing.left is None:
        return f"{name} crosses it{where}, {deep}: nobody knows what is left over it"
    if crossing.left <= 0:
        return f"{name} crosses it{where}, {deep}: {millimetres(-crossing.left)} below its top"
    return f"{name} crosses it{where}, {deep}: {millimetres(crossing.left)} left over it"


def _spot(crossing: Crossing) -> str:
    along = f"{with_unit(crossing.along or 0.0, 'm'):.1f}"
    return f"{along} from the pump" if crossing.part == "hose trench" else f"at {along}"


def _locate(service: Service, crossings: tuple[Crossing, ...]) -> str:
    spots = [_spot(crossing) for crossing in crossings if crossing.along is not None]
    holes = f" {' and '.join(spots)}" if spots else ""
    struck = [-crossing.left for crossing in crossings if crossing.left is not None and crossing.left <= 0]
    away = f" Move the dig, or dig {millimetres(max(struck))} shallower and leave it its cover." if struck else ""
    return (
        f"Have it traced and marked by someone competent, find it in trial holes dug by hand{holes}, and dig by hand "
        f"{millimetres(service.clearance)} each side.{away}"
    )


def boundary_findings(near: Near, course: SetOutCourse, water: Water) -> Iterator[Finding]:
    """One boundary the works come nearer to than was asked, and water beside a damp-proof course."""
    boundary = near.thing
    if not isinstance(boundary, Boundary):
        return
    part, closest = _closest(near)
    if closest < boundary.clearance:
        yield Finding(
            severity=Severity.CAUTION,
            code="near-boundary",
            place=opening(boundary.name),
            says=f"The {part} comes within {metres(closest)}; {metres(boundary.clearance)} is to be kept.",
            cure=f"Move it {metres(boundary.clearance - closest)} off, or agree it in writing with whoever owns the "
            "other side.",
            source="job.toml boundaries",
            chainage=near.within[0] if part == "stream" and near.within else (),
        )
    if boundary.damp_proof is not None:
        yield from _damp(boundary, boundary.damp_proof, course, water)


def notice_findings(boundaries: tuple[Near, ...]) -> Iterator[Finding]:
    """A reminder of the law where a boundary is near enough for it to matter: one for them all."""
    near = [each for each in boundaries if _closest(each)[1] < PARTY_WALL_NEAR.amount]
    if near:
        part, away = min((_closest(each) for each in near), key=lambda closest: closest[1])
        yield Finding(
            severity=Severity.NOTE,
            code="neighbour-notice",
            place=opening(", ".join(each.thing.name for each in near)),
            says=f"The {part} is dug {metres(away)} away. In England and Wales a dig within "
            f"{metres(PARTY_WALL_NEAR.amount)} of a neighbour's building or wall, and below its foundations, wants "
            "notice.",
            cure="Ask what is founded on the other side, and where the law asks for it give notice a month before.",
            source=f"common practice: {PARTY_WALL_NEAR.place}",
        )


def _closest(near: Near) -> tuple[str, float]:
    return min((("pit", near.pit), ("stream", near.course), ("source", near.source)), key=lambda part: part[1])


def _damp(boundary: Boundary, damp_proof: float, course: SetOutCourse, water: Water) -> Iterator[Finding]:
    """Water standing above the damp-proof line of a wall: the channel must keep off or be tanked."""
    highest = float(np.max(water.level[HIGH], initial=-np.inf))
    limit = damp_proof - DAMP_PROOF_CLEARANCE.amount
    if highest > limit:
        yield Finding(
            severity=Severity.CAUTION,
            code="above-damp-proof",
            place=f"{opening(boundary.name)}, damp-proof course at {metres(damp_proof)}",
            says=f"Water runs as high as {metres(highest)}; it should stay under {metres(limit)} near the wall.",
            cure=f"Keep the channel {millimetres(DAMP_PROOF_CLEARANCE.amount)} or more off the wall, with an open gap.",
            source=f"common practice: {DAMP_PROOF_CLEARANCE.place}",
            chainage=(0.0, course.length),
        )
