"""Figures of the trees, services, boundaries and the way in."""

from collections.abc import Iterator
from math import pi

from beckwright.base.figures import Figure, dotted
from beckwright.base.published import Grade
from beckwright.base.words import opening, with_unit
from beckwright.compose import Design
from beckwright.equations.site import cover_left, reach_needed, way_needed
from beckwright.equations.trees import combined_stem, combined_stem_many, root_area, root_radius
from beckwright.figures.make import by, told, worked
from beckwright.stages.surroundings import Access, Near, RootCircle
from beckwright.stages.surroundings.plane import total
from beckwright.tables.site import DIGGER_STANDOFF, WAY_CLEARANCE
from beckwright.tables.trees import MANY_STEMS, ROOT_RADIUS_CAP

_PLAN = "distances on plan"


def site_figures(design: Design) -> Iterator[Figure]:
    """Root circles and what lies in them, distances, cover over services, the way in."""
    around = design.surroundings
    for circle in around.circles:
        yield from _circle(design, circle)
        yield from _inside(circle)
    for kind, things in (("services", around.services), ("boundaries", around.boundaries)):
        for number, near in enumerate(things, 1):
            yield from _near(dotted(kind, str(number)), near)
            yield from _crossings(design, dotted(kind, str(number)), near)
    yield from _access(design, around.access)


def _circle(design: Design, circle: RootCircle) -> Iterator[Figure]:
    tree = circle.tree
    stem, name = dotted("trees", tree.name, "stem"), dotted("trees", tree.name, "root_radius")
    one, label = f"One stem for {tree.species} {tree.name}", f"Root circle of {tree.species} {tree.name}, radius"
    if len(tree.stems) == 1:
        yield told(stem, f"Stem of {tree.species} {tree.name}", circle.stem, "m", source="job: trees")
    elif len(tree.stems) < MANY_STEMS.amount:
        working = by(combined_stem, squares=(sum(each**2 for each in tree.stems), "job: trees"))
        yield worked(design.job, stem, one, circle.stem, working)
    else:
        mean = sum(tree.stems) / len(tree.stems)
        working = by(combined_stem_many, mean=(mean, "job: trees"), count=(len(tree.stems), "job: trees"))
        yield worked(design.job, stem, one, circle.stem, working)
    if circle.radius < root_radius(circle.stem):
        source = f"{ROOT_RADIUS_CAP.source}, {ROOT_RADIUS_CAP.place}"
        yield told(name, label, circle.radius, "m", source=source, note="at its cap", grade=Grade.PUBLISHED)
    else:
        yield worked(design.job, name, label, circle.radius, by(root_radius, stem=(circle.stem, stem)))
    yield worked(
        design.job,
        dotted("trees", tree.name, "root_area"),
        f"Root circle of {tree.species} {tree.name}, area",
        pi * circle.radius**2,
        by(root_area, radius=(circle.radius, name)),
    )


def _inside(circle: RootCircle) -> Iterator[Figure]:
    tree = circle.tree
    whose = f"{tree.species} {tree.name}"
    yield told(
        dotted("trees", tree.name, "nearest"), f"{opening(whose)} to the line", circle.nearest, "m", source=_PLAN
    )
    rows = (
        ("line", "line of the stream", circle.length, "m", "to where it crosses the circle"),
        ("works", "stream with its banks", total(circle.works), "m", "by chainage, to the station"),
        ("hose", "hose trench", total(circle.hose_spans), "m", "to where it crosses the circle"),
        ("by_hand", "to be dug by hand if nothing is moved", circle.by_hand, "m", "stream with its banks, and hose"),
        ("deepest", "deepest dig", circle.deepest, "m", "at the stations whose lining is inside"),
        ("highest", "highest fill", circle.highest, "m", "at the stations whose bank or bed is inside"),
        ("dug", "plan of the stream's dig", circle.dug, "m2", "width inside at each station; bends not corrected for"),
        ("covered", "plan of the stream with its banks", circle.covered, "m2", "as the dig; ground level beyond edges"),
        ("pit", "plan of the pit", circle.pit_area, "m2", "without its batter"),
    )
    for name, label, amount, unit, note in rows:
        if amount > 0:
            yield told(
                dotted("trees", tree.name, name),
                f"Inside the circle of {whose}: {label}",
                amount,
                unit,
                source=_PLAN,
                note=note,
            )
    if circle.shift is not None:
        yield told(
            dotted("trees", tree.name, "shift"),
            f"Shift of the line that clears {whose}",
            circle.shift.offset,
            "m",
            source=_PLAN,
            note="left positive; up to the next 50 mm and one more",
        )


def _near(stem: str, near: Near) -> Iterator[Figure]:
    name = near.thing.name
    for part, label, away in (
        ("stream", "bed of the stream", near.course),
        ("bank", "foot of the bank", near.bank),
        ("pit", "reservoir's pit", near.pit),
        ("source", "outlet box", near.source),
        ("hose", "hose", near.hose),
    ):
        if away is not None:
            yield told(f"{stem}.{part}", f"{opening(name)} to the {label}", away, "m", source=_PLAN)


def _crossings(design: Design, stem: str, near: Near) -> Iterator[Figure]:
    for number, crossing in enumerate(near.crossings, 1):
        dug = f"{stem}.dug.{number}"
        where = "" if crossing.along is None else f" at {with_unit(crossing.along, 'm'):.2f}"
        yield told(
            dug, f"{opening(crossing.part)} over {near.thing.name}{where}, dug", crossing.dug, "m", source="levels"
        )
        if crossing.left is not None:
            yield worked(
                design.job,
                f"{stem}.left.{number}",
                f"Ground left over {near.thing.name} under the {crossing.part}{where}",
                crossing.left,
                by(
                    cover_left,
                    depth=(crossing.left + crossing.dug, f"job: services.{near.thing.name}.depth_mm"),
                    dug=(crossing.dug, dug),
                ),
                note="by a depth nobody has seen until a trial hole shows it",
            )


def _access(design: Design, access: Access) -> Iterator[Figure]:
    yield told(
        "access.width", "Narrowest clear width of the way in", access.width, "m", source="job: site.access_width_m"
    )
    if access.machine is None or access.needed is None:
        return
    machine = (access.machine, "job: earthworks.digger_width_mm")
    yield worked(
        design.job,
        "access.needed",
        "Clear width the digger wants",
        access.needed,
        by(way_needed, machine=machine, clearance=(WAY_CLEARANCE.amount, "table: WAY_CLEARANCE")),
        grade=WAY_CLEARANCE.grade,
        note="turns, steps and slopes of the way are not modelled",
    )
    for part in access.reaches:
        yield worked(
            design.job,
            dotted("access", "reach", part.part),
            f"Reach from one side over the {part.part}",
            part.one_side,
            by(
                reach_needed,
                machine=machine,
                standoff=(DIGGER_STANDOFF.amount, "table: DIGGER_STANDOFF"),
                across=(part.across, "sizes of this design"),
            ),
            grade=DIGGER_STANDOFF.grade,
            note="level ground; a bucket reaches less far the deeper it digs",
        )
