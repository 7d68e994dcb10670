"""What the care page tells, in words and in the reader's units: the normal range, the tree, and a drop judged."""

import math
from typing import Any

from beckwright.base.words import band, millimetres, opening, unit_called
from beckwright.care import FaultTree, Judged, Normal, fault_tree, numbers
from beckwright.care.judge import Over
from beckwright.care.told import capped
from beckwright.job.model import Job
from beckwright.stages.season import MONTHS

SPOKEN: dict[Over, tuple[str, str]] = {
    "nights": ("a night of {month}, pump off", "{amount} nights of {month}, pump off"),
    "hours": ("an hour of a day of {month}", "{amount} hours of a day of {month}"),
    "days": ("a day and night of {month}", "{amount} days and nights of {month}"),
}
"""One of a kind, and several of it."""
CAUTIONS = (
    "Children and water: somebody stays beside it while the lid is open. Treat every standing depth as a danger.",
    "Wires, tripped switches, anything burnt: touch nothing wet, leave it off, ring a licensed electrician.",
    "Nobody digs before pipes and cables are found.",
)


def care_told(job: Job, normal: Normal, month: int) -> dict[str, Any]:
    """The page for a month, January 0."""
    said, tree = numbers(normal, month), fault_tree(job, normal, month)
    return {
        "month": month + 1,
        "months": list(MONTHS),
        "known": normal.known,
        "unit": unit_called("mm"),
        "ranges": _ranges(normal, said),
        "levels": [{"name": name, "says": words} for name, words in _levels(normal, said)],
        "read": _read(said),
        "tree": _tree(tree),
        "people": [{"name": each.name, "trade": each.trade, "telephone": each.telephone} for each in job.people],
        "cautions": list(CAUTIONS),
    }


def _ranges(normal: Normal, said: dict[str, str]) -> list[dict[str, str]]:
    """The few numbers that are set large."""
    if not normal.known:
        return []
    rows = [("a dry day", "day_down"), ("a dry week", "week_down"), ("a night, pump off, no more than", "night_most")]
    return [{"name": name, "says": said[key]} for name, key in rows if key in said]


def _levels(normal: Normal, said: dict[str, str]) -> list[tuple[str, str]]:
    rows = [("at rest, full", said["rested"]), ("pump's least", said["least"])]
    if "running" in said:
        rows.insert(1, (f"running, {normal.flow}", said["running"]))
        rows.insert(2, ("lowest at the start", said["lowest"]))
    return rows


def _read(said: dict[str, str]) -> str:
    wait = f"Pump off, wait {said['settles']}. " if "settles" in said else "Pump off, and wait until all is back. "
    return (
        f"{wait}Both readings like that: switching on alone takes "
        f"{said['lent']} out. {said['litre_deep']} on the stick."
    )


def _tree(tree: FaultTree) -> dict[str, Any]:
    return {
        "symptoms": [{"name": opening(each.name), "first": each.first} for each in tree.symptoms],
        "questions": {each.key: {"asks": each.asks, "yes": each.yes, "no": each.no} for each in tree.questions},
        "leaves": {each.key: {"does": each.does, "who": each.who, "stops": each.stops} for each in tree.leaves},
    }


def judged_told(normal: Normal, judged: Judged, month: int, amount: float, over: Over) -> dict[str, Any]:
    """What to think of a drop, why, and what to do."""
    room = normal.least - normal.rested
    span = SPOKEN[over][0 if amount == 1 else 1].format(month=MONTHS[month], amount=f"{amount:g}")
    most = judged.normal
    normal_is = (
        f"up to {millimetres(most)}" if most < room else f"anything down to the pump's least, {millimetres(room)}"
    )
    usual = band(float(judged.expected[0]), min(float(judged.expected[2]), room), 1, "mm", scale=1000)
    if float(judged.expected[0]) >= room:
        usual = capped(normal, judged.expected)
    says = (
        f"{millimetres(judged.down)} in {span}. "
        f"Weather takes {usual}; with the stick's own error {normal_is} is normal."
    )
    return {"verdict": judged.verdict, "says": says, "does": _does(normal, judged, room), "left": _left(judged)}


def _does(normal: Normal, judged: Judged, room: float) -> str:
    fill = f"{millimetres(normal.rested)} below the lid"
    if judged.verdict == "normal":
        return f"Fill up at rest to {fill}, through an open air gap. Read again in a week."
    if judged.verdict == "look closer":
        rings = f" From {millimetres(judged.rings)} on, ring." if judged.rings < room else ""
        return f"Shut the feed, leave the pump off for a night and read again. Walk both edges for wet ground.{rings}"
    return (
        "Leave the pump off, shut the feed, note both readings and the hours, and ring. Do not dig and touch no wires."
    )


def _left(judged: Judged) -> str:
    if not math.isfinite(judged.left) or judged.verdict == "normal":
        return ""
    if judged.left < 3600:
        return "At this pace the pump is at its least within the hour."
    if judged.left < 2 * 86400:
        return f"At this pace the pump is at its least in {judged.left / 3600:.0f} hours."
    return f"At this pace the pump is at its least in {judged.left / 86400:.0f} days."
