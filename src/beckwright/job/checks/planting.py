"""Checks on the pockets as written: they lie along the course, and their shares fit."""

from collections.abc import Iterator

from beckwright.job.convert import reach_lengths
from beckwright.job.wording.fault import Fault
from beckwright.job.written.course import CourseWritten
from beckwright.job.written.planting import PocketWritten

SHORTEST = 0.1
"""Shortest pocket, m: one plant."""
OVER = 0.01
"""What three shares of a third may add up to beyond the whole, %."""


def pockets_once(pockets: list[PocketWritten]) -> Iterator[Fault]:
    """Refuse one name for two pockets."""
    seen: dict[str, int] = {}
    for place, pocket in enumerate(pockets):
        if pocket.name in seen:
            found = f'pockets {seen[pocket.name] + 1} and {place + 1} are both called "{pocket.name}"'
            yield ("pockets", place, "name"), found, "Each pocket has a name of its own", "Name one of them otherwise"
        seen.setdefault(pocket.name, place)


def pockets_in_place(course: CourseWritten, pockets: list[PocketWritten]) -> Iterator[Fault]:
    """Refuse pockets that end before they begin, and those beyond the course."""
    length = sum(reach_lengths(course))
    for place, pocket in enumerate(pockets):
        if pocket.to_m - pocket.from_m < SHORTEST - 1e-9:
            found = f"it runs from {pocket.from_m:g} to {pocket.to_m:g} m"
            remedy = f"Write to_m = {pocket.from_m + SHORTEST:g} or more"
            yield ("pockets", place, "to_m"), found, f"A pocket is at least {SHORTEST * 1000:g} mm long", remedy
        elif pocket.to_m > length + 1e-6:
            found = f"it ends at {pocket.to_m:g} m and the course at {length:.2f} m"
            yield ("pockets", place, "to_m"), found, "A pocket lies along the course", f"Write {length:.2f} or less"


def outside_is_outside(pockets: list[PocketWritten]) -> Iterator[Fault]:
    """Refuse a pocket outside the lining that lies on it."""
    for place, pocket in enumerate(pockets):
        if not pocket.inside and pocket.gap_mm < 0:
            found = f"it begins {-pocket.gap_mm:g} mm inside the edge of the lining and says inside = false"
            rule = "A pocket outside the lining begins at its edge or beyond"
            yield ("pockets", place, "gap_mm"), found, rule, "Write gap_mm = 0 or more, or inside = true"


def shares_fit(pockets: list[PocketWritten]) -> Iterator[Fault]:
    """Refuse more than the whole of a pocket."""
    for place, pocket in enumerate(pockets):
        total = sum(each.share_percent for each in pocket.plants)
        if total > 100 + OVER:
            found = f"its plants take {total:g} % of it together"
            yield ("pockets", place, "plants"), found, "Shares add up to 100 % at most", f"Take off {total - 100:g} %"
