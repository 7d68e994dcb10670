"""A morning in words, and as plain data for other programs."""

from collections.abc import Iterator
from typing import Any

from beckwright.base import words
from beckwright.compose import Design
from beckwright.film import FLAT_OUT
from beckwright.readings.switch_on import wording
from beckwright.readings.switch_on.causes import BEHIND, CAGE, KINKED, LOSS, NOTHING, SLOW, WORN, Cause, alike
from beckwright.readings.switch_on.morning import Morning
from beckwright.readings.switch_on.noise import unit_of
from beckwright.readings.switch_on.priors import FILM, HIDDEN, STANDS
from beckwright.tables.switch_on import CONFIDENCE, LEADING, NARROWED

BY_HEART = (HIDDEN, FILM, STANDS)


def report(design: Design, found: Morning) -> tuple[str, ...]:
    """Paragraphs: what is likely, the next reading, what it really gives, what was learned and what cannot be told."""
    return (
        *likely(found),
        *following(found),
        *gives(design, found),
        *tied(found),
        *narrowed(found),
        _rests(found),
    )


def likely(found: Morning) -> Iterator[str]:
    """Every cause that has some chance, with what it was before."""
    told = [each for each in found.causes if each.chance >= 0.01]
    yield "Chances after these readings: " + "; ".join(_chance(each) for each in told) + "."
    first, near = found.causes[0], alike(found.causes)
    if near:
        yield f"These readings cannot tell these causes apart: {'; '.join(each.name for each in near)}."
    if first.name != NOTHING:
        yield f"{words.opening(first.name)}{_how_much(first)}. {wording.DOES[first.name]}"


def _chance(each: Cause) -> str:
    return f"{each.name} {each.chance * 100:.0f} in 100, before {each.before * 100:.0f}"


def _how_much(cause: Cause) -> str:
    if not len(cause.strength):
        return ""
    low, high = (float(each) for each in sorted(cause.strength[[0, 2]]))
    return {
        KINKED: f": the hose would lose {low:.1f} to {high:.1f} times what it should",
        WORN: f": it would give {low * 100:.0f} to {high * 100:.0f} % of its table",
        SLOW: f": it would turn at {low * 100:.0f} to {high * 100:.0f} % of the speed meant",
        CAGE: f": the chamber would stand {words.band(low, high, 5, 'mm', scale=1000)} below the crates",
        BEHIND: f": {low * 100:.0f} to {high * 100:.0f} % of the largest flow would go round",
        LOSS: f": {low * 100:.0f} to {high * 100:.0f} % of the largest flow would leave",
    }[cause.name]


def following(found: Morning) -> Iterator[str]:
    """The reading that tells the leading causes apart most often, and the one that would decide on each of them."""
    for place, each in enumerate(found.nexts[:2]):
        if each.tells < LEADING.amount:
            break
        shows = "; ".join(
            f"{words.opening(name)}: {wording.would_show(each.row, low, high)}" for name, low, high in each.means
        )
        yield (
            f"{'Or' if place else 'Next reading'}: {wording.asked(each.row)}. "
            f"It would tell the leading causes apart {each.tells * 100:.0f} times in 100. {shows}."
        )
    told = {cause: (each, often) for each in found.nexts for cause, often in each.decides}
    # Of two causes, what tells one from the other decides on both.
    for cause in (each.name for each in found.causes if each.name in told and len(told) > 2):
        each, often = told[cause]
        yield (
            f"{words.opening(cause)}: what would decide is this: {wording.asked(each.row)}. "
            f"It would tell it from the others {often * 100:.0f} times in 100."
        )


def gives(design: Design, found: Morning) -> Iterator[str]:
    """What each setting that was run really gives, beside what was expected."""
    pump = design.job.pumps.chosen
    for each in (one for one in found.running if one.read):
        said = (
            f"{words.opening(each.name)}: gives {wording.flow(each.flow[1])}; expected {wording.flow(each.flow[0])}. "
            f"Water in motion {wording.litres(each.in_motion[1])}; expected {wording.litres(each.in_motion[0])}. "
            f"The reservoir settles {wording.level(each.level[1])}."
        )
        least = design.reservoir.pit.pump_minimum - design.reservoir.pit.floor
        if each.level[1, 1] < least:
            said += f" From a start the pump comes to its least level after {wording.empty(each)}."
        yield said
    if any(each.read for each in found.running):
        top = words.flow(float(pump.flows[-1]) * design.job.pumps.together)
        yield f"The table of pump {pump.name} ends at {top} with no head at all: no stream sees that figure."


def tied(found: Morning) -> Iterator[str]:
    """What cannot be told apart."""
    for each in found.ties:
        told = " or ".join(wording.asked(row) for row in each.told_by)
        more = f" To narrow them: {told}." if told else ""
        yield f"These readings cannot tell {each.one} from {each.other} (correlation {each.correlation:+.2f}).{more}"


def narrowed(found: Morning) -> Iterator[str]:
    """What was narrowed and by how much; what these readings say nothing of."""
    for each in found.learned:
        if each.left <= NARROWED.amount:
            yield (
                f"{words.opening(each.name)}: {wording.learned(each, 1)}, before {wording.learned(each, 0)} "
                f"({each.grade.value}); {100 - each.left * 100:.0f} % narrower."
            )
    silent = [each.name for each in found.learned if each.left > NARROWED.amount and each.name not in BY_HEART]
    if silent:
        yield f"These readings say little of {', '.join(silent)}."


def _rests(found: Morning) -> str:
    leading = found.causes[0].name
    under = "" if leading == NOTHING else f", taken as if the cause were: {leading}"
    return (
        f"Bands hold the true value {CONFIDENCE.amount * 100:.0f} times in 100 if the assumptions hold{under}. "
        f"Chances rest on how often each cause turns up, which is assumed. "
        f"The readings are kept unaltered; their digest (SHA-256) is {found.digest}."
    )


def as_data(found: Morning) -> dict[str, Any]:
    """The same as plain data: SI, bands as low, middle, high."""
    return {
        "readings": [
            {
                "line": each.row.line,
                "kind": each.row.kind,
                "flow": each.row.flow,
                "place": each.row.place,
                "unit": unit_of(each.row.kind)[0].replace("mm", "m"),
                "seen": each.seen,
                "expected": each.expected.tolist(),
                "fitted": each.fitted,
                "counts": each.counts,
                "why_not": each.why_not,
            }
            for each in found.beside
        ],
        "settings": [
            {
                "flow": each.name,
                "run": each.read,
                **{
                    name: {"before": array[0].tolist(), "after": array[1].tolist()}
                    for name, array in (
                        ("flow_m3_s", each.flow),
                        ("reservoir_level_m", each.level),
                        ("in_motion_m3", each.in_motion),
                        ("watts", each.watts),
                        ("share_in_view", each.shown),
                        ("empty_after_s", each.empty),
                    )
                },
            }
            for each in found.running
            if each.read or each.name == FLAT_OUT
        ],
        "learned": [
            {
                "name": each.name,
                "grade": each.grade.value,
                "before": each.band[0].tolist(),
                "after": each.band[1].tolist(),
                "left": each.left,
            }
            for each in found.learned
        ],
        "cannot_tell": [
            {
                "one": each.one,
                "other": each.other,
                "correlation": each.correlation,
                "told_by": [wording.asked(row) for row in each.told_by],
            }
            for each in found.ties
        ],
        "causes": [
            {"name": each.name, "before": each.before, "chance": each.chance, "strength": each.strength.tolist()}
            for each in found.causes
        ],
        "next": [
            {
                "reading": wording.asked(each.row),
                "tells_apart": each.tells,
                "decides": dict(each.decides),
                "would_show": {name: [low, high] for name, low, high in each.means},
            }
            for each in found.nexts
        ],
        "asked": [{"line": each.line, "found": each.found, "asks": each.asks} for each in found.doubts],
        "likely_wrong": found.wrong,
        "digest": found.digest,
    }
