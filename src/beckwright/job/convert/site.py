"""The place, from as written to SI."""

import math

from beckwright.base.words import Measure
from beckwright.job.convert.shared import length_or_none
from beckwright.job.model import (
    Boundary,
    Foundation,
    Mark,
    Runoff,
    Service,
    Site,
    Title,
    Tree,
)
from beckwright.job.units import MILLIMETRE
from beckwright.job.written import Written
from beckwright.job.written.site import BoundaryWritten, ServiceWritten, TreeWritten


def title_from(written: Written) -> Title:
    """Title of the job."""
    job = written.job
    return Title(
        name=job.title,
        client=job.client,
        revision=job.revision,
        date=job.date.isoformat(),
        drawn_by=job.drawn_by,
        invented=job.invented,
        units=Measure(job.units),
        language=job.language,
    )


def site_from(written: Written) -> Site:
    """The place and what stands in it."""
    site = written.site
    return Site(
        soil=site.soil,
        topsoil=site.topsoil_mm * MILLIMETRE,
        groundwater_winter=site.groundwater_winter_m,
        groundwater_summer=site.groundwater_summer_m,
        access_width=site.access_width_m,
        trees=tuple(map(_tree, written.trees)),
        services=tuple(map(_service, written.services)),
        boundaries=tuple(map(_boundary, written.boundaries)),
        marks=tuple(Mark(name=mark.name, at=(mark.x_m, mark.y_m), level=mark.level_m) for mark in written.marks),
        foundations=tuple(
            Foundation(name=each.name, line=tuple(each.line_m), depth=length_or_none(each.depth_mm), note=each.note)
            for each in written.foundations
        ),
        runoff=tuple(Runoff(name=each.name, line=tuple(each.line_m), note=each.note) for each in written.runoff),
        notes=tuple(site.notes),
        latitude=None if site.latitude_deg is None else math.radians(site.latitude_deg),
        altitude=site.altitude_m,
    )


def _tree(tree: TreeWritten) -> Tree:
    stems = tree.stems_mm or [tree.stem_mm or 0.0]
    return Tree(
        name=tree.name,
        species=tree.species,
        at=(tree.x_m, tree.y_m),
        stems=tuple(stem * MILLIMETRE for stem in stems),
        protected=tree.protected,
    )


def _service(service: ServiceWritten) -> Service:
    return Service(
        name=service.name,
        kind=service.kind,
        line=tuple(service.line_m),
        depth=length_or_none(service.depth_mm),
        clearance=service.clearance_mm * MILLIMETRE,
        note=service.note,
    )


def _boundary(boundary: BoundaryWritten) -> Boundary:
    return Boundary(
        name=boundary.name,
        line=tuple(boundary.line_m),
        clearance=boundary.clearance_mm * MILLIMETRE,
        damp_proof=boundary.damp_proof_level_m,
    )
