"""What was going on during a test: its words in a table, and what they mean."""

import re
from collections.abc import Sequence

from beckwright.base.errors import Problem
from beckwright.base.quantities import Length
from beckwright.base.values import value
from beckwright.job.wording.sentences import shown

_BY_PASS = re.compile(r"(?:ch|chainage|at)\.?\s*(\d+(?:[.,]\d+)?)", re.IGNORECASE)
_ON, _OFF = re.compile(r"\bon\b", re.IGNORECASE), re.compile(r"\boff\b", re.IGNORECASE)
OFF = "off"


@value
class State:
    """What was going on.

    flow   named flow it ran at; empty where the pump rested
    below  chainage the water was let in at: what lies above it was dry; 0 for the whole course
    """

    flow: str
    below: Length

    @property
    def running(self) -> bool:
        """Whether the pump ran."""
        return bool(self.flow)


def condition_of(flow: str, below: Length = 0.0, place: str = "") -> str:
    """A state as it stands in a table: ``"pump on full, by-passed to below lip 2, ch 9.2"``.

    flow   of the job; empty where the pump rests
    place  what lies just above where the water comes in, such as a lip
    """
    if not flow:
        return "pump off"
    where = f"below {place}, " if place else ""
    return f"pump on {flow}" if below <= 0 else f"pump on {flow}, by-passed to {where}ch {below:.10g}"


def state_of(condition: str, flows: Sequence[str], length: Length, where: str) -> State | Problem:
    """What a condition of a table means; a problem at ``where`` if it cannot be told.

    flows   names of the job's flows
    length  of the course
    """
    on, off = bool(_ON.search(condition)), bool(_OFF.search(condition))
    named = [flow for flow in flows if re.search(rf"\b{re.escape(flow)}\b", condition, re.IGNORECASE)]
    past = "by-pass" in condition.lower() or "bypass" in condition.lower()
    at = _BY_PASS.search(condition) if past else None
    rule = f"A condition says pump off, or on with one of {', '.join(flows)}; and by-passed to ch with a chainage"
    if on == off:
        found = f"condition is {shown(condition)}"
        return Problem(place=where, found=found, rule=rule, remedy="Write pump on or pump off")
    if on and len(named) != 1:
        found = f"condition is {shown(condition)}, which names {'no flow' if not named else 'several flows'}"
        return Problem(place=where, found=found, rule=rule, remedy="Name one of the flows")
    below = 0.0 if at is None else float(at[1].replace(",", "."))
    if past and not 0.0 < below < length:
        found = f"condition is {shown(condition)}"
        return Problem(place=where, found=found, rule=rule, remedy=f"Say where the water came in, up to {length:g} m")
    return State(flow=named[0] if on else "", below=below)
