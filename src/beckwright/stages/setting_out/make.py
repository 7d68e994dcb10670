"""Setting out from first to last."""

from dataclasses import replace

from beckwright.job.model import Job
from beckwright.stages.course import SetOutCourse
from beckwright.stages.earthworks.values import Groundwork, Trench
from beckwright.stages.ground import Ground
from beckwright.stages.setting_out.clear import all_works, course_works
from beckwright.stages.setting_out.findings import setting_out_findings
from beckwright.stages.setting_out.levels import levels_to_set
from beckwright.stages.setting_out.pegs import set_pegs
from beckwright.stages.setting_out.pit import guessed_corners, set_pit, whole_rim
from beckwright.stages.setting_out.values import Pair, SettingOut
from beckwright.stages.surroundings import Surroundings


def set_out(job: Job, course: SetOutCourse, ground: Ground, around: Surroundings, groundwork: Groundwork) -> SettingOut:
    """Set out pegs, pit and levels for the ground work as it is to be dug."""
    from shapely import get_coordinates, get_parts

    guessed = guessed_corners(groundwork.pit, ground)
    groundwork = replace(groundwork, pit=whole_rim(groundwork.pit, ground))
    along = course_works(course, groundwork.sections)
    works = all_works(along, groundwork)
    pegs = set_pegs(job, course, ground, around, groundwork, works)
    pit = set_pit(job, ground, around, groundwork.pit, guessed, works)
    return SettingOut(
        marks=job.site.marks,
        pegs=pegs,
        pit=pit,
        levels=levels_to_set(job, course, groundwork, pegs),
        outlines=tuple(get_coordinates(part.exterior)[:-1] for part in get_parts(along)),
        trench_depth=None if groundwork.trench is None else _depths(groundwork.trench),
        findings=tuple(setting_out_findings(job, pegs, pit)),
    )


def _depths(trench: Trench) -> Pair:
    depth = trench.ground - trench.bottom
    return float(depth.min()), float(depth.max())
