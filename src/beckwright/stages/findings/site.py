"""Roots, pipes, cables, boundaries and walls."""

from collections.abc import Iterator

import numpy as np

from beckwright.base.figures import dotted
from beckwright.base.findings import Finding, Severity
from beckwright.base.words import chainages, metres, millimetres, opening
from beckwright.job.model import Boundary, Job, Service
from beckwright.stages.course import SetOutCourse
from beckwright.stages.surroundings import Near, RootCircle, Surroundings
from beckwright.stages.water import Water
from beckwright.stages.water.beds import HIGH
from beckwright.tables.practice import DAMP_PROOF_CLEARANCE


def site_findings(job: Job, course: SetOutCourse, water: Water, around: Surroundings) -> Iterator[Finding]:
    """Findings on what the works come close to."""
    for circle in around.circles:
        yield from _roots(circle)
    for near in around.services:
        yield from _service(near)
    for near in around.boundaries:
        yield from _boundary(near, course, water)
    if job.site.groundwater_winter is None:
        yield Finding(
            severity=Severity.CAUTION,
            code="groundwater-unknown",
            place="Reservoir pit",
            says="Nobody has measured how high the ground water stands in winter.",
            cure="Dig a trial hole to 0.3 m below the pit floor and watch it for a day in winter.",
            source="common practice",
        )


def _roots(circle: RootCircle) -> Iterator[Finding]:
    tree = circle.tree
    inside = ", ".join(chainages(*span) for span in circle.inside)
    works = [inside] * bool(inside) + ["reservoir pit"] * circle.pit + ["hose trench"] * circle.hose
    if not works:
        return
    raised = (
        f" The ground is raised over roots at {', '.join(chainages(*s) for s in circle.raised)}."
        if circle.raised
        else ""
    )
    yield Finding(
        severity=Severity.FAIL if tree.protected and (circle.raised or circle.pit) else Severity.CAUTION,
        code="inside-root-circle",
        place=f"Inside the {tree.species}'s root circle ({tree.name}, {metres(circle.radius)}): {', '.join(works)}",
        says=("It is protected: no work without consent." if tree.protected else "Its roots need this ground.")
        + raised,
        cure=_spare_roots(circle),
        source="BS 5837:2012 4.6.1",
        chainage=circle.inside[0] if circle.inside else (),
        figure=dotted("trees", tree.name, "root_radius"),
    )


def _spare_roots(circle: RootCircle) -> str:
    ask = "Ask the tree officer before any work. " if circle.tree.protected else ""
    away = [f"move the line {metres(circle.radius - circle.nearest)}"] * bool(circle.inside)
    away += ["lead the hose round it"] * circle.hose + ["move the pit"] * circle.pit
    order = " and ".join(away)
    return f"{ask}{order[0].upper()}{order[1:]}, or dig by hand there and raise no soil."


def _service(near: Near) -> Iterator[Finding]:
    service = near.thing
    if not isinstance(service, Service):
        return
    touched = [
        (name, away)
        for name, away in (("reservoir pit", near.pit), ("stream bed", near.course), ("hose trench", near.hose))
        if away is not None and away < service.clearance
    ]
    if not touched:
        return
    depth = "depth unknown" if service.depth is None else f"{metres(service.depth)} down as told"
    over = any(name == "reservoir pit" and away == 0 for name, away in touched)
    yield Finding(
        severity=Severity.FAIL if over else Severity.CAUTION,
        code="near-service",
        place=f"{opening(service.kind)} ({service.name}), {depth}",
        says="; ".join(f"{name} {'crosses it' if away == 0 else metres(away) + ' away'}" for name, away in touched)
        + ".",
        cure=f"Have it traced and marked by someone competent; dig by hand {millimetres(service.clearance)} each side.",
        source="common practice; HSG47 (UK)",
    )


def _boundary(near: Near, course: SetOutCourse, water: Water) -> Iterator[Finding]:
    boundary = near.thing
    if not isinstance(boundary, Boundary):
        return
    closest = min(near.pit, near.course)
    if closest < boundary.clearance:
        yield Finding(
            severity=Severity.CAUTION,
            code="near-boundary",
            place=opening(boundary.name),
            says=f"The works come within {metres(closest)}; {metres(boundary.clearance)} is to be kept.",
            cure="Move the works, or agree it in writing with whoever owns the other side.",
            source="job.toml boundaries",
        )
    if boundary.damp_proof is not None:
        yield from _damp(boundary, boundary.damp_proof, course, water)


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
