"""A start or a stop of the whole loop as JSON: what a screen can show of the films by the three laws, and its words."""

from collections.abc import Callable, Iterator, Sequence
from typing import Any

import numpy as np

from beckwright.base.quantities import Duration, FloatArray, Length, Level
from beckwright.base.words import band as rounded_band
from beckwright.base.words import litres, number_in, with_unit
from beckwright.compose import Design
from beckwright.film import NEVER, Film, Section, Story, film_band, film_findings, film_section
from beckwright.film.tell import clock_band, litres_band
from beckwright.job.model import Pool
from beckwright.stages.water.beds import HIGH, LOW, MIDDLE
from beckwright.web.desk.opened import Laid
from beckwright.web.desk.state import Told, finding_told, rounded

MOMENTS, SECTIONS, AFTER = 240, 96, 24
"""Even moments within what is drawn, of those the ones with a long section, and moments after what is drawn."""
LAWS = ("low", "middle", "high")
OUTSIDE: Sequence[tuple[str, str]] = (
    ("film", "over the stones"),
    ("pools", "in the pools"),
    ("pores", "between the stones"),
    ("box", "in the outlet box"),
    ("hose", "in the hose"),
)
_SPILT = 1e-3
"""Less than a litre over the overflow is nothing."""
_LEAST_SPAN: Duration = 10.0


def film_told(laid: Laid, story: Story, flow: str) -> Told:
    """One story at one flow by the low, middle and high law; worked out once for a text. Raises ``JobError``."""
    return laid._once(f"film, {story}, {flow}", lambda: _told(laid.design, story, flow))  # Ours too.


def _told(design: Design, story: Story, flow: str) -> Told:
    (middle, section), low, high = film_section(design, story, flow), *_ends(design, story, flow)
    band = (low, middle, high)
    topped = film_band(design, story, flow, topped_up=True) if story == "stop" else ()
    span = _span(band)
    moments = _moments(band, span)
    return {
        "story": story,
        "flow": flow,
        "laws": list(LAWS),
        "span": round(span, 1),
        "thinned": f"{MOMENTS} even moments to {span:.0f} s and {AFTER} on to the end, read between the frames, with "
        "every frame at which a level is lowest or highest and at which the pump runs out of water; "
        f"{SECTIONS} long sections, by the middle law",
        "frames": [len(each.seconds) for each in band],
        "seconds": _list(moments, 2),
        "level": _each(band, lambda each: _list(np.interp(moments, each.seconds, each.level), 5)),
        "pumped": _each(band, lambda each: _list(np.interp(moments, each.seconds, each.pumped), 8)),
        "back": _each(band, lambda each: _list(np.interp(moments, each.seconds, each.back), 8)),
        "outside": {name: [_water(each, name, moments) for each in band] for name, _ in OUTSIDE},
        "spilt": _each(band, lambda each: _water(each, "spilt", moments)),
        "topped_up": _list(np.interp(moments, topped[-1].seconds, topped[-1].level), 5) if topped else None,
        "level_words": [_heights(design, list(row)) for row in _levels(band, moments)],
        "outside_words": [_outside(band, moment) for moment in moments],
        "chainage": _list(middle.chainage, 3),
        "reached": _each(band, lambda each: [_time(float(when)) for when in each.reached]),
        "lips": [_lip(band, number) for number in range(len(middle.lips))],
        "section": _section(section, span),
        "happens": sorted(_happens(design, band), key=lambda event: event["seconds"]),
        "captions": list(_captions(design, band, topped)),
        "lowest": _each(band, lambda each: round(each.lowest, 5)),
        "highest": _each(band, lambda each: round(each.highest, 5)),
        "ended": _each(band, lambda each: each.ended),
        "findings": [finding_told(finding) for finding in film_findings(design, (*band, *topped))],
    }


def loop_told(design: Design, *, revision: int) -> Told:
    """What all films of a design stand on: the course, the pit with its levels on the dip stick, the flows."""
    pit, water = design.reservoir.pit, design.water
    stand = ("floor", "sump_floor", "pump_minimum", "rested", "fill_top", "overflow", "cover")
    top = pit.floor + np.ceil((max(pit.overflow, pit.rested) - pit.floor) * 10 + 0.2) / 10
    return {
        "revision": revision,
        "title": design.job.title.name,
        "invented": design.job.title.invented,
        "flows": [
            {"name": name, "l_h": round(float(rate) * 3.6e6)}
            for name, rate in zip(water.names, water.flows, strict=True)
        ],
        "length": rounded(design.course.length),
        "pools": [
            [rounded(each.start), rounded(each.end)] for each in design.course.stretches if isinstance(each.reach, Pool)
        ],
        "lips": [
            {"name": lip.name, "chainage": rounded(lip.chainage), "crest": rounded(lip.crest)} for lip in water.lips
        ],
        "pit": {
            **{name: rounded(getattr(pit, name)) for name in stand},
            "bottom": rounded(min(pit.floor, pit.sump_floor)),
            "top": rounded(float(top)),
            "fill": design.job.reservoir.fill,
            "over": "crate floor" if design.job.reservoir.fill == "crates" else "pit's floor",
            "marks": {
                name: f"{number_in((getattr(pit, name) - pit.floor) * 1000, 'mm'):.0f}"
                for name in ("overflow", "pump_minimum", "rested")
            },
        },
        "units": {"seconds": "s", "level": "m", "chainage": "m", "pumped": "m3/s", "outside": "m3"},
    }


def _ends(design: Design, story: Story, flow: str) -> tuple[Film, Film]:
    from beckwright.film import film

    return film(design, story, flow, end=LOW), film(design, story, flow, end=HIGH)


def _span(band: Sequence[Film]) -> Duration:
    """Long enough for what matters at every end of the band, and never longer than the film."""
    times = [time for each in band for time in (each.steady, each.back_half, *each.cut_outs[:1]) if 0.0 < time < NEVER]
    longest = max(float(each.seconds[-1]) for each in band)
    return max(min(1.2 * max(times, default=longest), longest), _LEAST_SPAN)


def _moments(band: Sequence[Film], span: Duration) -> FloatArray:
    """Moments to be told: even ones, and those at which a level is lowest or highest or the pump cuts out."""
    longest = max(float(each.seconds[-1]) for each in band)
    named = [float(each.seconds[pick(each.level)]) for each in band for pick in (np.argmin, np.argmax)]
    named += [time for each in band for time in each.cut_outs]
    even = np.concatenate([np.linspace(0.0, span, MOMENTS), np.linspace(span, max(longest, span), AFTER + 1)[1:]])
    return np.unique(np.concatenate([even, named]))


def _each(band: Sequence[Film], tell: Callable[[Film], Any]) -> list[Any]:
    return [tell(each) for each in band]


def _levels(band: Sequence[Film], moments: FloatArray) -> FloatArray:
    return np.column_stack([np.interp(moments, each.seconds, each.level) for each in band])


def _water(film: Film, name: str, moments: FloatArray) -> list[float]:
    return _list(np.interp(moments, film.seconds, getattr(film, name)), 7)


def _outside(band: Sequence[Film], moment: float) -> list[str]:
    """Litres by place, as a band, in the order of ``OUTSIDE``; then what has gone over."""
    told = []
    for name, words in (*OUTSIDE, ("spilt", "over the overflow")):
        volumes = tuple(float(np.interp(moment, each.seconds, getattr(each, name))) for each in band)
        if name != "spilt" or max(volumes) >= _SPILT:
            told.append(f"{litres_band(volumes)} {words}")
    return told


def _section(section: Section, span: Duration) -> Told:
    """Long sections at even moments; a pool is told once, at its middle."""
    moments = np.linspace(0.0, span, SECTIONS)
    levels = np.column_stack([np.interp(moments, section.seconds, each) for each in section.level.T])
    return {
        "seconds": _list(moments, 2),
        "chainage": _list(section.chainage, 3),
        "pool": section.pools.tolist(),
        "floor": _list(section.floor, 4),
        "top": _list(section.top, 4),
        "level": [_list(row, 4) for row in levels],
    }


def _lip(band: Sequence[Film], number: int) -> Told:
    lip, stop = band[MIDDLE].lips[number], band[MIDDLE].story == "stop"
    times = [_passed(each, number) for each in band]
    never = min(times) == NEVER
    words = f"never {'dry at' if stop else 'over'} {lip.name}" if never else clock_band(min(times), max(times))
    return {
        "name": lip.name,
        "chainage": rounded(lip.chainage),
        "seconds": [_time(time) for time in times],
        "words": words if never else f"{'dry at' if stop else 'over'} {lip.name}, {words}",
    }


def _passed(film: Film, number: int) -> Duration:
    """When half of the water is there at a lip; at a stop, when it is all but gone."""
    lip = film.lips[number]
    if film.story != "stop":
        return lip.half
    return float(film.reached[min(int(np.searchsorted(film.chainage, lip.chainage)), len(film.reached) - 1)])


def _happens(design: Design, band: Sequence[Film]) -> Iterator[Told]:
    """What happens, with when, as a band; in words a person beside the stream would use."""
    first = band[0]
    stop = first.story == "stop"
    yield _event([0.0], f"The pump is switched {'off' if stop else 'on'}")
    for number, lip in enumerate(first.lips):
        name = "the source" if number == 0 else lip.name
        yield _event([_passed(each, number) for each in band], f"{'Dry at' if stop else 'Water over'} {name}")
    if not stop:
        yield _event([each.back_half for each in band], "Half of it is back at the reservoir")
        yield _event([each.lowest_at for each in band], f"Lowest, {_heights(design, [each.lowest for each in band])}")
        yield _event([each.steady for each in band], "Steady: what is pumped comes back")
    else:
        yield _event([each.steady for each in band], "Nine tenths are back")
        yield _event(
            [each.highest_at for each in band], f"Highest, {_heights(design, [each.highest for each in band])}"
        )
    out = [each.cut_outs[0] for each in band if each.runs_dry]
    if out:
        yield _event(out, "The pump sucks air and cuts out")
    if any(each.ended == "stalls" for each in band):
        yield _event(
            [float(each.seconds[-1]) for each in band if each.ended == "stalls"], "The pump lifts nothing more"
        )
    over = [float(each.seconds[each.spilt >= _SPILT][0]) for each in band if each.spilt[-1] >= _SPILT]
    if over:
        yield _event(over, "Water goes over the overflow")


def _event(times: Sequence[Duration], words: str) -> Told:
    came = [time for time in times if time < NEVER]
    if not came:
        return {"seconds": NEVER_LAST, "low": None, "high": None, "says": f"{words}: not in this film", "never": True}
    when = "" if max(came) == 0 else f", {clock_band(min(came), max(came))}"
    not_all = "" if len(came) == len(times) else ", by some laws only"
    return {
        "seconds": round(float(np.median(came)), 1),
        "low": round(min(came), 1),
        "high": round(max(came), 1),
        "says": f"{words}{when}{not_all}",
        "never": False,
    }


NEVER_LAST = 1e9
"""Sorts what never happens behind all that does; a page shows it apart."""


def _captions(design: Design, band: Sequence[Film], topped: Sequence[Film]) -> Iterator[str]:
    """What a person with a stick and a stopwatch is to find: one short line, one level, one limit."""
    pit = design.reservoir.pit
    if band[0].story == "stop":
        times = [each.steady for each in band]
        kept = max(float(each.pools[-1]) for each in band)
        over = tuple(float(each.spilt[-1]) for each in topped)
        keeps = f"; pools keep {litres(kept)}" if kept >= _SPILT else ""
        yield f"nine tenths back after {clock_band(min(times), max(times))}{keeps}"
        yield f"highest {_heights(design, [each.highest for each in band])}"
        goes = f"topped up while running, {litres_band(over)} go over" if max(over, default=0.0) >= _SPILT else ""
        yield goes or f"the overflow is at {(pit.overflow - pit.floor) * 1000:.0f} mm; nothing goes over"
        return
    lowest = _heights(design, [each.lowest for each in band])
    out = [each.cut_outs[0] for each in band if each.runs_dry]
    backs = [each.back_half for each in band]
    if out:
        when = f"after {clock_band(min(out), max(out))}" if max(out) > 0 else "at once"
        yield f"the pump sucks air {when}"
    elif any(each.ended == "stalls" for each in band):
        yield "the pump stalls"
    else:
        yield f"back in the reservoir {clock_band(min(backs), max(backs))}"
    yield f"lowest {lowest}"
    left = min(each.lowest for each in band) - pit.pump_minimum
    if left >= 0:
        # Down to a round 5 mm: what is told is never more than there is.
        yield f"at least {with_unit(np.floor(left * 200 + 1e-6) * 5, 'mm'):.0f} above the pump's least"
    else:
        yield "below the pump's least"


def _heights(design: Design, levels: Sequence[Level]) -> str:
    """A band of levels as a dip stick reads it, rounded outward to 5 mm."""
    floor: Length = design.reservoir.pit.floor
    return rounded_band(round(min(levels) - floor, 6), round(max(levels) - floor, 6), 5, "mm", scale=1000)


def _time(seconds: Duration) -> float | None:
    return None if seconds == NEVER else round(seconds, 2)


def _list(amounts: FloatArray, decimals: int) -> list[float]:
    told: list[float] = np.round(amounts, decimals).tolist()
    return told
