"""Shots and lips of the slope as JSON: each against the design, in millimetres and in words."""

from collections.abc import Iterable

from beckwright.base.words import (
    US,
    as_typed,
    band,
    grouped,
    millimetres,
    number_in,
    reads,
    share,
    unit_called,
    units_told,
    with_own_unit,
    with_unit,
)
from beckwright.compose import Design
from beckwright.readings.against import Against, Held, against
from beckwright.readings.lip_check import ENDS, LipCheck, lip_check
from beckwright.readings.rows import standing
from beckwright.readings.shots import lip_places
from beckwright.readings.staff import SetUp, Staff, collimation_of, set_ups, staff_shots
from beckwright.web.desk.opened import Desk
from beckwright.web.desk.state import Told, rounded
from beckwright.web.slope.bodies import LIPS, SET_UPS, SHOTS, WORDS
from beckwright.web.slope.levels import row_told


def places_told(desk: Desk) -> Told:
    """Where a staff can be held on this job: pegs, lips, the course from end to end, and the mark levels hang on."""
    laid = desk.laid(desk.stands())
    designed = laid.design
    return {
        "datum": {"name": designed.job.datum.name, "level": as_typed(designed.job.datum.level, "m")},
        "units_told": units_told(),
        "length": rounded(designed.course.length),
        "lips": [
            {"name": name, "at": f"{with_unit(at, 'm'):.1f}", "chainage": rounded(at)}
            for name, at in lip_places(designed.course).items()
        ],
        "pegs": [
            {"number": peg.number, "at": f"{peg.chainage:.2f}", "told": f"{number_in(peg.chainage, 'm'):.2f}"}
            for peg in laid.works.setting_out.pegs
        ],
    }


def read_shots_of(desk: Desk, designed: Design) -> tuple[tuple[SetUp, ...], tuple[Staff, ...]]:
    """Set-ups and shots as they were typed."""
    words = desk.keeper.readings(WORDS)
    standings = set_ups(standing(desk.keeper.readings(SET_UPS), words), designed.job.datum.level)
    return standings, staff_shots(standing(desk.keeper.readings(SHOTS), words), standings, designed)


def shots_told(desk: Desk, *, settled: bool) -> Told:
    """All set-ups and shots, the newest first, and what the works as built come to."""
    designed = desk.laid(desk.stands()).design
    standings, staffs = read_shots_of(desk, designed)
    found = against(designed, staffs, settled=settled)
    return {
        "set_ups": [_set_up(each) for each in reversed(standings)],
        "shots": [_shot(each, found) for each in reversed(found.held)],
        "flows": list(found.built.flows),
        "problems": [
            {"place": one.place, "found": one.found, "rule": one.rule, "remedy": one.remedy} for one in found.problems
        ],
        "counted": sum(each.counted for each in found.held),
        "open": sum(bool(each.asked) for each in found.held) + sum(bool(each.asked) for each in standings),
        "beyond": _beyond(found.held),
    }


def lips_told(desk: Desk) -> Told:
    """Every lip with its last check, and all checks, the newest first."""
    designed = desk.laid(desk.stands()).design
    rows = standing(desk.keeper.readings(LIPS), desk.keeper.readings(WORDS))
    checks = [_check(lip_check(row, designed), designed) for row in reversed(rows)]
    return {
        "lips": [
            {
                "name": fall.lip.name,
                "at": f"{with_unit(fall.lip.chainage, 'm'):.1f}",
                "wide": f"{with_unit(fall.lip.width, 'm'):.2f}",
                "level": f"{number_in(fall.lip.crest, 'm'):.3f}",
                "twice": _twice(designed, fall.lip.name),
            }
            for fall in designed.falls
        ],
        "checks": checks,
        "open": sum(bool(each["asked"]) for each in checks),
    }


def _set_up(each: SetUp) -> Told:
    collimation = collimation_of(each)
    return row_told(each.row, each.asked, each.reading.meant, usable=each.collimation is not None) | {
        "mark": each.row.text("mark"),
        "level": with_own_unit(each.row.text("level"), "m", each.row.measure),
        "hung": each.row.content.get("hung") is True,
        "collimation": "" if collimation is None else f"{number_in(collimation, 'm'):.3f}",
    }


def _shot(held: Held, found: Against) -> Told:
    staff = held.staff
    flows = zip(found.built.flows, held.freeboard, strict=False) if len(held.freeboard) else ()
    return row_told(staff.row, held.asked, staff.typed.meant, usable=staff.usable) | {
        "place": staff.place,
        "at": "" if staff.lip or staff.chainage is None else f"{with_unit(staff.chainage, 'm'):.2f}",
        "side": staff.side,
        "what": held.what,
        "given": staff.row.text("given"),
        "hung": staff.row.content.get("hung") is True,
        "set_up": staff.row.text("set_up"),
        "shot": "" if staff.level is None else f"{number_in(staff.level, 'm'):.3f}",
        "drawn": "" if held.drawn is None else f"{number_in(held.drawn, 'm'):.3f}",
        "off": "" if held.off is None else _mm(held.off),
        "way": "" if held.off is None else _way(held.off),
        "allowed": millimetres(held.allowed),
        "beyond": held.to_do,
        "cure": "" if staff.row.struck else held.cure,
        "freeboard": [f"{millimetres(float(board))} left at {flow}" for flow, board in flows],
        "counted": held.counted,
        "shot_before": "" if held.before is None else _before(held.before),
    }


def _way(off: float) -> str:
    return "as drawn" if round(off * 1000) == 0 else "low" if off < 0 else "high"


def _before(before: tuple[float, float]) -> str:
    apart, level = before
    way = "lower" if apart > 0 else "higher"
    return f"Shot here before: {number_in(level, 'm'):.3f}, {millimetres(abs(apart))} {way}."


def _beyond(held: Iterable[Held]) -> list[str]:
    """Places still to be put right, the farthest off first."""
    todo = [each for each in held if each.to_do]
    worst = sorted(todo, key=lambda each: -abs(each.off or 0.0))
    return [f"{each.what} at {with_unit(each.staff.chainage or 0.0, 'm'):.1f}: {each.cure}" for each in worst]


def _check(check: LipCheck, designed: Design) -> Told:
    flows = designed.water.names
    shares = [
        {"flow": flow, "left": _share(low, high), "right": _share(1 - high, 1 - low)}
        for flow, low, high in zip(flows, *check.share_left, strict=False)
    ]
    return row_told(check.row, check.asked, usable=check.tilt is not None) | {
        "lip": check.lip,
        "given": check.row.text("given"),
        "ends": {end: with_own_unit(check.row.text(end), "m", check.row.measure) for end in ENDS},
        "out": "" if check.tilt is None else _mm(check.tilt),
        "sure": f"±{_mm(check.sigma)}\u00a0{unit_called('mm')}",
        "high": "" if not check.shimmed else "left" if check.shimmed == "right" else "right",
        "shim": f"Shim the {check.shimmed} end up {millimetres(check.shim)}." if check.shimmed else "",
        "bow": "" if check.bow is None else _bow(check.bow),
        "shares": [] if check.row.struck else shares,
        "twice": _twice(designed, check.lip),
    }


def _share(low: float, high: float) -> str:
    return share(low) if f"{low * 100:.0f}" == f"{high * 100:.0f}" else f"{grouped(low * 100)} to {share(high)}"


def _bow(bow: float) -> str:
    if round(bow * 1000) == 0:
        return "The middle lies in line with the ends."
    return f"The middle stands {millimetres(abs(bow))} {'over' if bow > 0 else 'under'} the line of the ends."


def _tilts(low: float, high: float) -> str:
    """A band of tilts; in inches rounded outward to strokes of a tape."""
    if reads() is US:
        return band(low, high, 1, "mm", scale=1000)
    return f"{low * 1000:.1f} to {high * 1000:.1f} mm"


def _mm(length: float) -> str:
    """A height either way, as it stands before its unit."""
    return f"{number_in(abs(length) * 1000, 'mm'):,.0f}"


def _twice(designed: Design, name: str) -> list[str]:
    """The tilt that sends twice as much over one half, at each flow: the tolerance of a lip."""
    fall = next((each for each in designed.falls if each.lip.name == name), None)
    if fall is None:
        return []
    return [
        f"{flow}: {_tilts(low, high)}"
        for flow, low, high in zip(
            designed.water.names, fall.tilt.twice.min(axis=0), fall.tilt.twice.max(axis=0), strict=True
        )
    ]
