"""Edges over the years: the visits shot on the slope and in dated files, which edges sink, and until when it holds."""

from collections.abc import Sequence
from datetime import date

import numpy as np

from beckwright.base.errors import JobError, Problem
from beckwright.base.words import millimetres, opening, with_unit
from beckwright.care import Sinking, settling
from beckwright.care.settling import YEAR
from beckwright.care.visits import Visit, day_in, visits_of_files, visits_typed
from beckwright.care.years import STRAIGHT, gone_said, pace_said, sinking_said
from beckwright.compose import Design
from beckwright.tables.practice import FREEBOARD_FAILS
from beckwright.web.care.charts import HIGH, LEFT, LOW, RIGHT, TOP, WIDE, Drawn, chart
from beckwright.web.desk.opened import Desk
from beckwright.web.desk.state import Told
from beckwright.web.slope.works import read_shots_of

MOST_CHARTS = 6
"""Edges drawn one by one, the soonest too low first; the others stand in the table."""


def settled_told(desk: Desk, since: date | None) -> Told:
    """All visits, and of those from ``since`` on the edges shot more than once."""
    designed = desk.laid(desk.stands()).design
    visits, problems, doubled = _visits(desk, designed)
    counted = [visit for visit in visits if since is None or visit.day >= since]
    found = settling(designed, counted)
    return {
        "visits": [
            {
                "day": visit.day.isoformat(),
                "comes": visit.comes,
                "edges": sum(level is not None for shot in visit.shots for level in (shot.left, shot.right)),
                "counted": since is None or visit.day >= since,
            }
            for visit in visits
        ],
        "doubled": doubled,
        "problems": [{"place": one.place, "found": one.found, "remedy": one.remedy} for one in problems],
        "edges": [_edge(each) for each in found],
        "charts": [{"says": sinking_said(each), "chart": _chart(each)} for each in found[:MOST_CHARTS]],
        "along": [_along(side, rows) for side, rows in _sides(found) if len(rows) > 1],
        "big": _big(found),
        "note": f"{STRAIGHT} Begin at a visit after the first winters.",
    }


def _visits(desk: Desk, designed: Design) -> tuple[list[Visit], list[Problem], list[str]]:
    """Visits by date, what is wrong with files, and files left out because that day was typed on the slope."""
    typed, problems, doubled = list(visits_typed(read_shots_of(desk, designed)[1], designed)), list[Problem](), []
    days, found = {visit.day for visit in typed}, list(typed)
    for path in sorted(desk.folder.glob("as_built*.csv")):
        day = day_in(path.name)
        if day is None:
            continue
        if day in days:
            doubled.append(f"{path.name}: that day was typed on the slope, and counts as typed.")
            continue
        try:
            found += visits_of_files([path], designed)
        except JobError as error:
            problems += error.problems
    return sorted(found, key=lambda visit: visit.day), problems, doubled


def _big(found: Sequence[Sinking]) -> Told:
    """The one thing that is told large: the edge that is too low first."""
    worst = next((each for each in found if each.runs_out[0] is not None), None)
    if not found:
        return {"head": "\u2013", "says": "No edge was shot on two dates yet."}
    if worst is None:
        return {"head": "not foreseen", "says": "No edge comes to its limit within the years a line may be believed."}
    if worst.freeboard <= FREEBOARD_FAILS.amount:
        return {"head": "now", "says": sinking_said(worst)}
    return {"head": gone_said(worst), "says": sinking_said(worst)}


def _edge(each: Sinking) -> Told:
    return {
        "what": opening(each.what),
        "at": f"{with_unit(each.chainage, 'm'):.1f}",
        "pace": pace_said(each),
        "sinks": each.sinks,
        "left": millimetres(each.freeboard),
        "gone": gone_said(each),
    }


def _chart(each: Sinking) -> Told:
    """Its freeboard over the years: what is left now, and what was left by as much as it has come down since."""
    years = np.array([_year(day) for day in each.dates])
    left = each.freeboard + each.levels - each.levels[-1]
    first = None if each.runs_out[0] is None else _year(each.runs_out[0])
    limit = FREEBOARD_FAILS.amount
    drawn = Drawn(
        years=years,
        amounts=left,
        slope=-each.rate[::-1],
        limit=limit,
        limit_says=f"limit {millimetres(limit)}",
        crosses=first,
        says=sinking_said(each),
    )
    return chart(drawn, millimetres)


def _year(day: date) -> float:
    return day.year + (day - date(day.year, 1, 1)).days / (YEAR / 86400.0)


def _sides(found: Sequence[Sinking]) -> list[tuple[str, list[Sinking]]]:
    sides = sorted({each.what for each in found})
    return [(side, sorted((each for each in found if each.what == side), key=lambda e: e.chainage)) for side in sides]


def _along(side: str, rows: list[Sinking]) -> Told:
    """One side from source to reservoir: a line for each visit, how far it lies from where it was shot first."""
    days = sorted({day for each in rows for day in each.dates})
    first, last = rows[0].chainage, rows[-1].chainage
    gone = [float(level - each.levels[0]) for each in rows for level in each.levels]
    high, low = max(*gone, 0.0), min(*gone, -0.001)
    span = max(high - low, 1e-6)

    def at(chainage: float, off: float) -> list[float]:
        across = LEFT + (chainage - first) / max(last - first, 1e-9) * (RIGHT - LEFT)
        return [round(across, 1), round(TOP + (high - off) / span * (LOW - TOP), 1)]

    lines = []
    for day in days:
        points = [
            at(each.chainage, float(each.levels[each.dates.index(day)] - each.levels[0]))
            for each in rows
            if day in each.dates
        ]
        lines.append({"points": points, "words": f"{day:%Y}"})
    worst = min(gone)
    says = f"{opening(side)}, from where each was shot first: at most {millimetres(-worst)} down."
    ends = [f"{with_unit(first, 'm'):.1f}", f"{with_unit(last, 'm'):.1f}"]
    return {"wide": WIDE, "high": HIGH, "zero": at(first, 0.0)[1], "ends": [LEFT, RIGHT], "foot": LOW, "lines": lines,
            "from_to": ends, "says": says}  # fmt: skip
