"""What is handed to a surveyor, a designer or an office with programs of their own: meaning, no file format."""

from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from beckwright.papers.handed_over.axis import axis_of
from beckwright.papers.handed_over.lines import lines_of, rounds_of
from beckwright.papers.handed_over.points import points_of
from beckwright.papers.handed_over.values import UPRIGHT, HandedOver, Net
from beckwright.papers.kept import keep
from beckwright.stages.earthworks.values import Groundwork, Surface
from beckwright.stages.setting_out.values import SettingOut

if TYPE_CHECKING:
    from beckwright.compose import Design

__all__ = ["FOLDER", "HandedOver", "exchange_files", "hand_over", "write_exchange"]

FOLDER = "for_other_programs"


def hand_over(design: "Design", groundwork: Groundwork, setting_out: SettingOut) -> HandedOver:
    """Gather what other programs are given."""
    return HandedOver(
        title=design.job.title,
        datum=design.job.datum,
        nets=(_existing_ground(design), Net(name="formation", surface=groundwork.formation)),
        axis=axis_of(design, groundwork),
        points=points_of(design, setting_out),
        lines=lines_of(design, groundwork, setting_out),
        rounds=rounds_of(design, groundwork),
    )


def exchange_files(handed: HandedOver) -> dict[str, bytes]:
    """Every file for other programs, by name."""
    from beckwright.papers.formats.geojson import write_geojson
    from beckwright.papers.formats.landxml import write_landxml
    from beckwright.papers.formats.model_dxf import write_model_dxf
    from beckwright.papers.formats.points_csv import write_columns, write_points

    return {
        "ground_and_course.xml": write_landxml(handed),
        "model.dxf": write_model_dxf(handed),
        "plan.geojson": write_geojson(handed),
        "points.csv": write_columns(handed),
        "points_p_n_e_z_d.csv": write_points(handed),
        "read_me.txt": read_me(handed),
    }


def write_exchange(files: Mapping[str, bytes], folder: Path) -> tuple[Path, ...]:
    """Write the files for other programs into ``for_other_programs`` in ``folder``; gives back the files written.

    Raises OSError where the folder cannot be written.
    """
    into = folder / FOLDER
    into.mkdir(parents=True, exist_ok=True)
    return tuple(keep(into / name, raw) for name, raw in files.items())


def read_me(handed: HandedOver) -> bytes:
    """Say what the files are, for whoever was handed them."""
    title, datum = handed.title, handed.datum
    invented = "Invented data: no real place, firm or person.\n" if handed.title.invented else ""
    return f"""{title.name}, revision {title.revision}, {title.date}, drawn by {title.drawn_by}
{invented}
All coordinates are metres on the site's own grid: easting (x), northing (y), level (z) above the job's zero.
Levels hang on {datum.name}, {datum.level:.3f} m. The grid is no national or world system.

ground_and_course.xml  LandXML 1.2: existing ground and formation as nets of triangles; the course as an alignment
                       with its profiles and cross-sections; the points. Stations are metres along the alignment:
                       the course's own chainage times {handed.axis.stretch:.6f}. Where the course steps down, the
                       lower level stands {UPRIGHT * 1000:.0f} mm downstream, for a profile cannot stand upright.
model.dxf              the same in metres, with contours and what stands on the site, one layer for each kind.
                       What nobody knows the level of (services, boundaries, the hose, trees) lies flat at 0.
plan.geojson           the plan for maps. RFC 7946 wants longitude and latitude: this file keeps the site's metres.
points.csv             pegs, lips, edges, dig levels, pit and marks: id, x_m, y_m, z_m, code.
points_p_n_e_z_d.csv   the same for an instrument, without a heading: point, NORTHING, EASTING, level, description.

PEG the nail of a peg beside the course or the pit; DIG dug ground on the line, before blinding; EDGE the edge of
the lining; LIP a lip; PIT a corner of the pit; MARK a fixed mark. Where a peg has two of a kind, "below" is downstream.
Check two marks before anything is set out from these files. Where they differ from the sheets, the sheets hold.
""".encode()


def _existing_ground(design: "Design") -> Net:
    ground, survey = design.ground, design.job.survey
    lines = (list(rows) for rows in survey.breaklines)
    return Net(
        name="existing ground",
        surface=Surface(points=ground.points, levels=ground.levels, triangles=ground.triangles),
        breaklines=tuple(np.column_stack((survey.points[rows], survey.levels[rows])) for rows in lines),
    )
