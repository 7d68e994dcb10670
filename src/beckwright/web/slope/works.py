"""Shots and lips of the slope as JSON: each against the design, in millimetres and in words."""

from collections.abc import Iterable

from beckwright.base.words import grouped, share
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
    laid = desk.laid(desk.stands().text)
    designed = laid.design
    return {
        "datum": {"name": designed.job.datum.name, "level": f"{designed.job.datum.level:.3f}"},
        "length": rounded(designed.course.length),
        "lips": [{"name": name, "at": f"{at:.1f} m"} for name, at in lip_places(designed.course).items()],
        "pegs": [{"number": peg.number, "at": f"{peg.chainage:.2f}"} for peg in laid.works.setting_out.pegs],
    }


def read_shots_of(desk: Desk, designed: Design) -> tuple[tuple[SetUp, ...], tuple[Staff, ...]]:
    """Set-ups and shots as they were typed."""
    words = desk.keeper.readings(WORDS)
    standings = set_ups(standing(desk.keeper.readings(SET_UPS), words), designed.job.datum.level)
    return standings, staff_shots(standing(desk.keeper.readings(SHOTS), words), standings, designed)


def shots_told(desk: Desk, *, settled: bool) -> Told:
    """All set-ups and shots, the newest first, and what the works as built come to."""
    designed = desk.laid(desk.stands().text).design
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
    designed = desk.laid(desk.stands().text).design
    rows = standing(desk.keeper.readings(LIPS), desk.keeper.readings(WORDS))
    checks = [_check(lip_check(row, designed), designed) for row in reversed(rows)]
    return {
        "lips": [
            {
                "name": fall.lip.name,
                "at": f"{fall.lip.chainage:.1f} m",
                "wide": f"{fall.lip.width:.2f} m",
                "level": f"{fall.lip.crest:.3f}",
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
        "level": each.row.text("level"),
        "hung": each.row.content.get("hung") is True,
        "collimation": "" if collimation is None else f"{collimation:.3f}",
    }


def _shot(held: Held, found: Against) -> Told:
    staff = held.staff
    flows = zip(found.built.flows, held.freeboard, strict=False) if len(held.freeboard) else ()
    return row_told(staff.row, held.asked, staff.typed.meant, usable=staff.usable) | {
        "place": staff.place,
        "side": staff.side,
        "what": held.what,
        "given": staff.row.text("given"),
        "hung": staff.row.content.get("hung") is True,
        "set_up": staff.row.text("set_up"),
        "shot": "" if staff.level is None else f"{staff.level:.3f}",
        "drawn": "" if held.drawn is None else f"{held.drawn:.3f}",
        "off": "" if held.off is None else grouped(abs(held.off) * 1000),
        "way": "" if held.off is None else _way(held.off),
        "allowed": grouped(held.allowed * 1000),
        "beyond": held.to_do,
        "cure": "" if staff.row.struck else held.cure,
        "freeboard": [f"{grouped(float(board) * 1000)} mm left at {flow}" for flow, board in flows],
        "counted": held.counted,
        "shot_before": "" if held.before is None else _before(held.before),
    }


def _way(off: float) -> str:
    return "as drawn" if round(off * 1000) == 0 else "low" if off < 0 else "high"


def _before(before: tuple[float, float]) -> str:
    apart, level = before
    return f"Shot here before: {level:.3f}, {grouped(abs(apart) * 1000)} mm {'lower' if apart > 0 else 'higher'}."


def _beyond(held: Iterable[Held]) -> list[str]:
    """Places still to be put right, the farthest off first."""
    todo = [each for each in held if each.to_do]
    worst = sorted(todo, key=lambda each: -abs(each.off or 0.0))
    return [f"{each.what} at {each.staff.chainage or 0.0:.1f} m: {each.cure}" for each in worst]


def _check(check: LipCheck, designed: Design) -> Told:
    flows = designed.water.names
    shares = [
        {"flow": flow, "left": _share(low, high), "right": _share(1 - high, 1 - low)}
        for flow, low, high in zip(flows, *check.share_left, strict=False)
    ]
    return row_told(check.row, check.asked, usable=check.tilt is not None) | {
        "lip": check.lip,
        "given": check.row.text("given"),
        "ends": {end: check.row.text(end) for end in ENDS},
        "out": "" if check.tilt is None else grouped(abs(check.tilt) * 1000),
        "sure": f"±{check.sigma * 1000:.0f}\u00a0mm",
        "high": "" if not check.shimmed else "left" if check.shimmed == "right" else "right",
        "shim": f"Shim the {check.shimmed} end up {grouped(check.shim * 1000)} mm." if check.shimmed else "",
        "bow": "" if check.bow is None else _bow(check.bow),
        "shares": [] if check.row.struck else shares,
        "twice": _twice(designed, check.lip),
    }


def _share(low: float, high: float) -> str:
    return share(low) if f"{low * 100:.0f}" == f"{high * 100:.0f}" else f"{grouped(low * 100)} to {share(high)}"


def _bow(bow: float) -> str:
    by = round(bow * 1000)
    if by == 0:
        return "The middle lies in line with the ends."
    return f"The middle stands {abs(by)} mm {'over' if by > 0 else 'under'} the line of the ends."


def _twice(designed: Design, name: str) -> list[str]:
    """The tilt that sends twice as much over one half, at each flow: the tolerance of a lip."""
    fall = next((each for each in designed.falls if each.lip.name == name), None)
    if fall is None:
        return []
    return [
        f"{flow}: {low * 1000:.1f} to {high * 1000:.1f} mm"
        for flow, low, high in zip(
            designed.water.names, fall.tilt.twice.min(axis=0), fall.tilt.twice.max(axis=0), strict=True
        )
    ]
