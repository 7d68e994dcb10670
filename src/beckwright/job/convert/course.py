"""The stream, from as written to SI."""

from collections.abc import Iterable, Mapping
from math import dist

import numpy as np

from beckwright.job.convert.shared import pair
from beckwright.job.model import (
    BedMakeUp,
    Course,
    Edge,
    Layers,
    MeasuredEdges,
    Pool,
    Reach,
    Run,
    Source,
    Step,
)
from beckwright.job.units import MILLIMETRE, PERCENT
from beckwright.job.written import Written
from beckwright.job.written.course import BedWritten, CourseWritten, PoolWritten, RunWritten, SourceWritten, StepWritten
from beckwright.tables.beds import RETAINED


def line_length(points: Iterable[tuple[float, float]]) -> float:
    """Return the length along the straight lines between points, m."""
    listed = list(points)
    return sum(map(dist, listed, listed[1:]))


def reach_lengths(course: CourseWritten) -> list[float]:
    """Return each reach's length, m: 0 for a step, and for a run that gives none what is left of the line."""
    given = [0.0 if isinstance(reach, StepWritten) else reach.length_m for reach in course.reaches]
    left = line_length(course.line_m) - sum(length for length in given if length is not None)
    return [left if length is None else length for length in given]


def reach_names(course: CourseWritten) -> list[str]:
    """Return each reach's name: its own, or run 1, lip 1, pool 1 in order."""
    words = {"run": "run", "step": "lip", "pool": "pool"}
    counts = dict.fromkeys(words, 0)
    names = []
    for reach in course.reaches:
        counts[reach.kind] += 1
        names.append(reach.name or f"{words[reach.kind]} {counts[reach.kind]}")
    return names


def source_from(source: SourceWritten) -> Source:
    """The outlet box."""
    return Source(
        lip_level=source.lip_level_m,
        lip_width=source.lip_width_mm * MILLIMETRE,
        lip=source.lip,
        box_depth=source.box_depth_mm * MILLIMETRE,
        box_length=source.box_length_mm * MILLIMETRE,
        hose_outlet=source.lip_level_m + source.hose_outlet_above_lip_mm * MILLIMETRE,
    )


def beds_from(beds: Mapping[str, BedWritten]) -> dict[str, BedMakeUp]:
    """Bed make-ups by name."""
    return {name: _bed(name, bed) for name, bed in beds.items()}


def _bed(name: str, bed: BedWritten) -> BedMakeUp:
    return BedMakeUp(
        name=name,
        depth=bed.depth_mm * MILLIMETRE,
        size=pair(bed.size_mm),
        voids=bed.voids,
        retained=RETAINED.amount if bed.retained is None else bed.retained,
        laid=bed.laid,
        manning=bed.manning_n,
    )


def course_from(course: CourseWritten, beds: dict[str, BedMakeUp], measured: MeasuredEdges | None) -> Course:
    """The stream."""
    rows = zip(course.reaches, reach_names(course), reach_lengths(course), strict=True)
    return Course(
        line=np.array(course.line_m, dtype=float),
        reaches=tuple(_reach(reach, name, length, beds) for reach, name, length in rows),
        end=course.end_level_m,
        side_slope=course.side_slope,
        edge_above_bed=course.edge_above_bed_mm * MILLIMETRE,
        edges=tuple(
            Edge(start=edge.from_m, end=edge.to_m, side=edge.side, above_bed=edge.above_bed_mm * MILLIMETRE)
            for edge in course.edges
        ),
        measured_edges=measured,
        freeboard_wanted=course.freeboard_wanted_mm * MILLIMETRE,
        settlement=course.settlement_percent * PERCENT,
    )


def _reach(
    reach: RunWritten | StepWritten | PoolWritten, name: str, length: float, beds: dict[str, BedMakeUp]
) -> Reach:
    if isinstance(reach, StepWritten):
        return Step(
            name=name, drop=reach.drop_mm * MILLIMETRE, lip_width=reach.lip_width_mm * MILLIMETRE, lip=reach.lip
        )
    width = reach.width_mm * MILLIMETRE
    if isinstance(reach, PoolWritten):
        return Pool(name=name, length=length, width=width, depth=reach.depth_mm * MILLIMETRE)
    fall, sills = reach.fall_mm * MILLIMETRE, tuple(map(float, reach.sills_m))
    return Run(name=name, length=length, fall=fall, width=width, bed=beds[reach.bed], sills=sills)


def layers_from(written: Written) -> Layers:
    """What lies under the stones."""
    layers = written.layers
    return Layers(
        fleece_over=layers.fleece_over_mm * MILLIMETRE,
        lining=layers.lining_mm * MILLIMETRE,
        fleece_under=layers.fleece_under_mm * MILLIMETRE,
        blinding=layers.blinding_mm * MILLIMETRE,
        lining_mass=layers.lining_kg_m2,
        edge_allowance=layers.edge_allowance_mm * MILLIMETRE,
        lap=layers.lap_mm * MILLIMETRE,
    )
