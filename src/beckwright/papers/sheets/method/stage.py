"""One stage of the work as the method sheet tells it, and its days by the programme."""

from datetime import date

from beckwright.base.values import value
from beckwright.compose import Works


@value
class StageOfWork:
    """One stage.

    tasks    of the programme that fall into it
    numbers  of this job; ``orders`` what is done about them; ``decides`` whose word it waits for
    """

    name: str
    tasks: tuple[str, ...]
    numbers: tuple[str, ...]
    orders: tuple[str, ...]
    decides: str


def dates_of(works: Works, tasks: tuple[str, ...]) -> str:
    """First to last day of these tasks by the programme; empty where there is none."""
    if works.programme is None:
        return ""
    found = [dated for dated in works.programme.tasks if dated.task.name in tasks]
    if not found:
        return ""
    first, last = min(each.starts for each in found), max(each.ends for each in found)
    return _day(first) if first == last else f"{_day(first)} to {_day(last)}"


def _day(day: date) -> str:
    return f"{day.day} {day:%b}"
