"""What a page needs of a design, as JSON: metres, litres an hour for named flows, everything else SI; rounded here."""

from typing import Any

import numpy as np

from beckwright.base.findings import Finding
from beckwright.base.quantities import FloatArray
from beckwright.base.words import units_told
from beckwright.compose import Design
from beckwright.job.model import Job, Pool, Run, Step
from beckwright.job.units import LITRE_PER_HOUR
from beckwright.stages.course import Stretch
from beckwright.stages.ground import Ground, contours
from beckwright.stages.surroundings import pit_corners
from beckwright.stages.surroundings.works import footprint
from beckwright.stages.water.beds import HIGH, LOW
from beckwright.web.desk.answers import answers, number

INTERVALS = (0.1, 0.25, 0.5, 1.0, 2.0, 5.0)
"""Steps between contours, m: the closest that draws no more of them than the next number."""
MOST_CONTOURS = 40
DECIMALS = 4
"""A tenth of a millimetre: finer than anything drawn or set out."""
SMOOTH_SPACING = 0.25
"""Between points of the smooth line, m: closer than a pen's width at any scale of a screen."""
PIT_LEVELS = ("cover", "rested", "sump_floor")
UNITS = {"length": "m", "level": "m", "chainage": "m", "flow": "m3/s", "flows.l_h": "L/h", "volume": "m3"}

Told = dict[str, Any]


def state(design: Design, *, revision: Any, ground: Told | None = None) -> Told:
    """Everything the pages draw.

    revision  of the text the design was made from
    ground    what ``ground_told`` said, where the survey has not changed since
    """
    job = design.job
    still = {
        "title": job.title.name,
        "drawn_by": job.title.drawn_by,
        "invented": job.title.invented,
        "doubts": list(job.doubts),
        "ground": ground_told(design.ground) if ground is None else ground,
        "trees": _trees(design),
        "units": UNITS,
        "units_told": units_told(),
    }
    return still | moving(design, revision=revision)


def moving(design: Design, *, revision: Any) -> Told:
    """What of ``state`` moves with whatever is dragged on the desk: survey, trees and words stay as they were told."""
    job = design.job
    return {
        "revision": revision,
        "datum": {"name": job.datum.name, "level": rounded(job.datum.level)},
        "flows": [{"name": each.name, "l_h": round(each.flow / LITRE_PER_HOUR, 3)} for each in job.flows],
        "course": _course(design),
        **_site(job),
        "reservoir": _reservoir(design),
        "hose": _hose(job),
        "answers": answers(design),
        "findings": [finding_told(finding) for finding in design.findings],
    }


def ground_told(ground: Ground) -> Told:
    """The survey's outline and its contours, closed lines ending where they began."""
    span = float(np.ptp(ground.levels))
    interval = next((step for step in INTERVALS if span / step <= MOST_CONTOURS), span / MOST_CONTOURS)
    drawn = []
    for contour in contours(ground, interval):
        line = np.concatenate((contour.line, contour.line[:1])) if contour.closed else contour.line
        drawn.append({"level": rounded(contour.level), "line": _many(line)})
    return {"hull": _many(ground.hull), "interval": interval, "contours": drawn}


def finding_told(finding: Finding) -> Told:
    """A finding with its severity as a word."""
    return {
        "severity": finding.severity.name.lower(),
        "code": finding.code,
        "place": finding.place,
        "says": finding.says,
        "cure": finding.cure,
        "source": finding.source,
        "chainage": [rounded(each) for each in finding.chainage],
        "figure": finding.figure,
    }


def _course(design: Design) -> Told:
    course = design.course
    along = np.linspace(0.0, course.length, max(2, int(np.ceil(course.length / SMOOTH_SPACING)) + 1))
    return {
        "line": _many(design.job.course.line),
        "smooth": _many(course.alignment.at(along)),
        "length": rounded(course.length),
        "freeboard_wanted": design.freeboard.wanted,
        "stations": _stations(design),
        "reaches": [_reach(stretch) for stretch in course.stretches],
        "lips": [
            {
                "name": lip.name,
                "chainage": rounded(lip.chainage),
                "crest": rounded(lip.crest),
                "drop": rounded(lip.drop),
                "width": rounded(lip.width),
            }
            for lip in design.water.lips
        ],
    }


def _stations(design: Design) -> Told:
    """Arrays of one length, source first; ``reach`` numbers the reaches, and so the pieces between steps."""
    course, at, water = design.course, design.course.stations, design.water
    laid = footprint(design.job, course)
    to_left, to_right = laid.edge
    left, right = course.alignment.beside(at.chainage, to_left), course.alignment.beside(at.chainage, -to_right)
    levels = ("ground", "dig", "liner", "bed", "rim", "edge_left", "edge_right", "settled_left", "settled_right")
    return {
        "reach": at.reach.tolist(),
        "x": _many(at.points[:, 0]),
        "y": _many(at.points[:, 1]),
        **{name: _many(getattr(at, name)) for name in ("chainage", "width", *levels)},
        "to_left": _many(to_left),
        "to_right": _many(to_right),
        "left": _many(left),
        "right": _many(right),
        "still": _many(water.still),
        "held": water.held.tolist(),
        "water": {name: _water(design, row) for row, name in enumerate(water.names)},
    }


def _water(design: Design, flow: int) -> Told:
    """Both ends of the band of running levels; ``left`` and ``right`` are the freeboard of the settled edges."""
    level, board = design.water.level, design.freeboard
    return {
        "low": _many(level[LOW, flow]),
        "high": _many(level[HIGH, flow]),
        "left": _many(board.settled_left[flow]),
        "right": _many(board.settled_right[flow]),
    }


def _reach(stretch: Stretch) -> Told:
    reach = stretch.reach
    told: Told = {
        "name": reach.name,
        "start": rounded(stretch.start),
        "end": rounded(stretch.end),
        "bed_start": rounded(stretch.bed_start),
        "bed_end": rounded(stretch.bed_end),
    }
    match reach:
        case Run():
            sills = [rounded(stretch.start + sill) for sill in reach.sills]
            return told | {"kind": "run", "width": reach.width, "bed": reach.bed.name, "sills": sills}
        case Step():
            return told | {"kind": "step", "width": reach.lip_width, "drop": rounded(reach.drop), "lip": reach.lip}
        case Pool():
            return told | {"kind": "pool", "width": reach.width, "depth": rounded(reach.depth)}


def _trees(design: Design) -> list[Told]:
    return [
        {
            "name": circle.tree.name,
            "species": circle.tree.species,
            "x": rounded(circle.tree.at[0]),
            "y": rounded(circle.tree.at[1]),
            "stem": rounded(circle.stem),
            "radius": rounded(circle.radius),
            "protected": circle.tree.protected,
        }
        for circle in design.surroundings.circles
    ]


def _site(job: Job) -> Told:
    site = job.site
    return {
        "services": [{"name": each.name, "kind": each.kind, "line": _pairs(each.line)} for each in site.services],
        "boundaries": [{"name": each.name, "line": _pairs(each.line)} for each in site.boundaries],
    }


def _reservoir(design: Design) -> Told:
    reservoir, pit = design.job.reservoir, design.reservoir.pit
    return {
        "corners": _pairs(pit_corners(reservoir)),
        "centre": [rounded(each) for each in reservoir.centre],
        "length": rounded(reservoir.length),
        "width": rounded(reservoir.width),
        "turned": number(reservoir.turned),
        "levels": {name: rounded(getattr(pit, name)) for name in PIT_LEVELS},
    }


def _hose(job: Job) -> Told:
    return {"line": _pairs(job.route.line)}


def rounded(length: float) -> float:
    """A length or level as JSON holds it."""
    return round(float(length), DECIMALS)


def _many(lengths: FloatArray) -> list[Any]:
    listed: list[Any] = np.round(lengths, DECIMALS).tolist()
    return listed


def _pairs(line: tuple[tuple[float, float], ...]) -> list[list[float]]:
    return [[rounded(x), rounded(y)] for x, y in line]
