"""What someone should look at before digging: each with its place, number, limit, source and cure."""

from collections.abc import Iterator

from beckwright.base.findings import Finding
from beckwright.job.model import Job
from beckwright.stages.course import SetOutCourse
from beckwright.stages.earthworks import Groundwork
from beckwright.stages.falls import Fall
from beckwright.stages.findings.closer import closer_findings
from beckwright.stages.findings.earthworks import earthworks_findings
from beckwright.stages.findings.edges import edge_findings
from beckwright.stages.findings.falls import fall_findings
from beckwright.stages.findings.pit import pit_findings
from beckwright.stages.findings.root_ground import heap_findings, pit_side_findings, strip_findings
from beckwright.stages.findings.site import site_findings
from beckwright.stages.findings.stones import stone_findings
from beckwright.stages.findings.supply import supply_findings
from beckwright.stages.findings.water import water_findings
from beckwright.stages.levels import Budget, Freeboard
from beckwright.stages.reservoir import FilledReservoir
from beckwright.stages.setting_out import SettingOut
from beckwright.stages.stones import Blocked, Stability
from beckwright.stages.supply import Supply
from beckwright.stages.surroundings import CloserLook, Surroundings
from beckwright.stages.water import Water


def find(
    job: Job,
    course: SetOutCourse,
    waters: tuple[Water, Water],
    boards: tuple[Freeboard, Freeboard],
    budget: Budget,
    falls: tuple[Fall, ...],
    stability: Stability,
    plants: tuple[Blocked, ...],
    filled: FilledReservoir,
    supply: Supply,
    around: Surroundings,
) -> tuple[Finding, ...]:
    """All findings, the heaviest first, each kind in the order of the work.

    waters, boards  at the named flows, and with the pump flat out
    """
    water, _ = waters
    found = [
        *edge_findings(course, waters, boards, budget),
        *water_findings(water),
        *fall_findings(water, falls),
        *stone_findings(course, stability, plants),
        *supply_findings(job, supply),
        *pit_findings(job, course, filled),
        *site_findings(job, course, water, around),
    ]
    return tuple(sorted(found, key=lambda finding: -finding.severity))


def ground_work_findings(
    job: Job,
    course: SetOutCourse,
    around: Surroundings,
    closer: CloserLook,
    groundwork: Groundwork,
    setting_out: SettingOut,
) -> Iterator[Finding]:
    """Findings of the ground, the digging and the setting out."""
    yield from closer_findings(job, closer)
    yield from earthworks_findings(job, course, groundwork)
    yield from pit_side_findings(job, groundwork)
    yield from heap_findings(job, groundwork)
    yield from strip_findings(job, course, around.circles, groundwork)
    yield from setting_out.findings


__all__ = ["find", "ground_work_findings"]
