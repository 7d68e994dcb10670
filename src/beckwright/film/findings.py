"""What the films show that someone should look at: a dry pump, a wet lawn, a slow morning, a pump that stalls."""

from collections.abc import Iterator
from math import ceil, floor

from beckwright.base.findings import Finding, Severity
from beckwright.base.quantities import Length, Level, Volume
from beckwright.base.words import litres, metres, millimetres, with_unit
from beckwright.compose import Design
from beckwright.film.nodes import Loop
from beckwright.film.pump import stays_full
from beckwright.film.reel import CUT_OUTS_AT_MOST
from beckwright.film.tell import clock_band, litres_band
from beckwright.film.together import Work, do
from beckwright.film.values import NEVER, Film, in_bands
from beckwright.film.works import Sizes, Works
from beckwright.stages.water.beds import HIGH
from beckwright.tables.practice import CLOSE_TO_DRY, INERTIA_MATTERS, SLOW_START, STALL_MARGIN

_STEP: Length = 0.005
"""Levels of the reservoir are told to 5 mm."""

_SPILT: Volume = 1e-3
"""Less than a litre over the overflow is nothing."""

_PLACES = {
    "first fill": "First fill",
    "restart": "Morning restart",
    "stop": "Stop",
    "change": "Change of flow",
}


def film_findings(design: Design, films: tuple[Film, ...], sizes: Sizes | None = None) -> tuple[Finding, ...]:
    """Findings of any films of one design, the heaviest first; a band of three counts as one film.

    sizes  of reservoirs that just work, where somebody has asked for some of them already, or will
    """
    sizes = sizes or Sizes(Loop(design))
    found = [finding for band in in_bands(films) for finding in _of_band(design, band, sizes)]
    found += _stalls(design, films)
    found += _siphons(design)
    found += _inertia(films)
    return tuple(sorted(found, key=lambda finding: -finding.severity))


def _of_band(design: Design, band: tuple[Film, ...], sizes: Sizes) -> Iterator[Finding]:
    if band[0].story == "stop":
        yield from _goes_over(design, band)
    elif any(each.runs_dry for each in band):
        yield _runs_dry(design, band, sizes)
    elif band[0].story == "restart":
        yield from _close(design, band)
        yield from _slow(design, band)


def _place(film: Film) -> str:
    then = f" to {film.then}" if film.then else ""
    note = f", {film.note}" if film.note else ""
    return f"{_PLACES[film.story]} at {film.flow}{then}{note}"


def _runs_dry(design: Design, band: tuple[Film, ...], sizes: Sizes) -> Finding:
    first, out = band[0], [each for each in band if each.runs_dry]
    firsts, often = [each.cut_outs[0] for each in out], max(len(each.cut_outs) for each in out)
    when = f"runs out of water after {clock_band(min(firsts), max(firsts))}" if max(firsts) > 0 else "does not start"
    again = f", {often} times in all" if often > 1 else ""
    if often >= CUT_OUTS_AT_MOST:
        again = ", again and again"
    works = do(size_for(band, sizes))
    shorts = tuple(max(each - design.reservoir.useful, 0.0) for each in works.ends)
    daily = first.story == "restart" and not first.missing
    return Finding(
        severity=Severity.FAIL if daily else Severity.CAUTION,
        code="film-runs-dry",
        place=_place(first),
        says=f"The pump {when}{again}; {litres_band(shorts)} short.",
        cure=_more_water(design, first, max(shorts)),
        source="the film",
        figure="reservoir.useful",
    )


def size_for(band: tuple[Film, ...], sizes: Sizes) -> Work[Works]:
    """The work of finding the reservoir with which the story of a band just works."""
    first = band[0]
    return sizes.finding(
        first.story,
        first.flow,
        cell=first.cell,
        pools_filled=first.pools_filled,
        missing=first.missing,
        then=first.then,
    )


def _more_water(design: Design, film: Film, short: Volume) -> str:
    """The cure of a short reservoir: fill it higher, fill the pools first, or make it larger."""
    pit = design.reservoir.pit
    higher = pit.level_of(pit.held(pit.rested) + short)
    first = ""
    if higher <= pit.overflow and short > 0:
        first = f"Fill to {_over_floor(design, ceil(_up(design, higher) / _STEP) * _STEP)} first, or "
    elif film.story == "first fill" and not film.pools_filled:
        first = "Fill the pools and wet the stones from a hose first, or "
    more = _larger(design, short)
    return first + more if first else more[0].upper() + more[1:]


def _larger(design: Design, short: Volume) -> str:
    reservoir = design.job.reservoir
    if reservoir.fill == "crates" and reservoir.crate is not None:
        row = design.reservoir.useful * reservoir.crate[0] / reservoir.length
        rows = max(ceil(short / row - 1e-9), 1)
        return f"add {rows} row{'s' if rows > 1 else ''} of crates ({litres(rows * row)})."
    longer = ceil(reservoir.length * short / design.reservoir.useful / 0.05) * 0.05
    return f"add {litres(short)} of usable water: a pit {metres(longer, up=True)} longer."


def _close(design: Design, band: tuple[Film, ...]) -> Iterator[Finding]:
    pit, lowest = design.reservoir.pit, min(each.lowest for each in band)
    left = lowest - pit.pump_minimum
    if left >= CLOSE_TO_DRY.amount:
        return
    short = pit.held(pit.pump_minimum + CLOSE_TO_DRY.amount) - pit.held(lowest)
    yield Finding(
        severity=Severity.CAUTION,
        code="film-close-to-dry",
        place=_place(band[0]),
        says=f"It draws the level to {_over_floor(design, floor(_up(design, lowest) / _STEP) * _STEP)}; the pump needs "
        f"{_over_floor(design, _up(design, pit.pump_minimum))}.",
        cure=_more_water(design, band[0], short),
        source=f"assumed: {CLOSE_TO_DRY.place}",
        figure="reservoir.level.lowest",
    )


def _goes_over(design: Design, band: tuple[Film, ...]) -> Iterator[Finding]:
    spilt = tuple(float(each.spilt[-1]) for each in band)
    if max(spilt) < _SPILT:
        return
    first = band[0]
    if first.topped_up:
        yield _float(design, band, spilt)
        return
    added = max(each.added for each in band)
    why = f" {litres(added)} had to come from a tap to run at all." if added > _SPILT else ""
    yield Finding(
        severity=Severity.FAIL,
        code="film-overflows-at-stop",
        place=_place(first),
        says=f"{litres_band(spilt)} go over though nothing was topped up.{why}",
        cure=_room(design, max(spilt), added),
        source="the film",
        figure="reservoir.level.rested",
    )


def _room(design: Design, spilt: Volume, added: Volume) -> str:
    if added > _SPILT:
        more = _larger(design, added)
        return more[0].upper() + more[1:]
    pit = design.reservoir.pit
    lower = pit.rested - pit.level_of(pit.held(pit.rested) - spilt)
    return f"Let it rest {millimetres(ceil(lower / _STEP) * _STEP, up=True)} lower."


def _float(design: Design, band: tuple[Film, ...], spilt: tuple[float, ...]) -> Finding:
    pit = design.reservoir.pit
    returned = max(each.returned for each in band)
    shuts = _up(design, pit.level_of(pit.held(pit.overflow) - returned))
    level = floor(shuts / _STEP) * _STEP
    below = _up(design, pit.rested) - level
    if level < _up(design, pit.pump_minimum):
        cure = f"Top up by hand with the pump off: no float level suits both. Or {_larger(design, returned)}"
    else:
        cure = f"Set the float to shut at {_over_floor(design, level)}, {millimetres(below)} below the rest level."
    return Finding(
        severity=Severity.NOTE,
        code="float-level",
        place=f"Top-up, at {band[0].flow}",
        says=f"Topped up while running, {litres_band(spilt)} go over at stop.",
        cure=cure,
        source="the film",
        figure="reservoir.level.lowest",
    )


def _slow(design: Design, band: tuple[Film, ...]) -> Iterator[Finding]:
    times = [each.back_half for each in band]
    if not SLOW_START.amount < max(times) < NEVER:
        return
    valve = "" if stays_full(design) else "Fit a check valve so that the hose stays full, start"
    yield Finding(
        severity=Severity.NOTE,
        code="film-slow-start",
        place=_place(band[0]),
        says=f"The water is back after {clock_band(min(times), max(times))}.",
        cure=f"{valve or 'Start'} at the largest flow and turn down, or set more sills: what they hold stays full.",
        source=f"assumed: {SLOW_START.place}",
    )


def _stalls(design: Design, films: tuple[Film, ...]) -> Iterator[Finding]:
    """Each flow once: stalled in a film, or near it at the pump's least level."""
    told: set[str] = set()
    for film in sorted(films, key=lambda each: each.ended != "stalls"):
        flow = film.then or film.flow
        if flow in told:
            continue
        if film.ended == "stalls":
            told.add(flow)
            yield _stalled(design, film, flow)
        elif film.stall > design.reservoir.pit.pump_minimum - STALL_MARGIN.amount:
            told.add(flow)
            yield _may_stall(design, film, flow)


def _stalled(design: Design, film: Film, flow: str) -> Finding:
    never = film.stall >= design.reservoir.pit.rested
    level = _over_floor(design, _up(design, film.stall))
    return Finding(
        severity=Severity.FAIL if never or film.story == "restart" else Severity.CAUTION,
        code="film-stalls",
        place=_place(film),
        says="The pump cannot lift the water to the source at all."
        if never
        else f"The pump turned down to {flow} lifts nothing once the reservoir sinks to {level}; it comes to that.",
        cure="Take a pump with more head." if never else "Start at the largest flow and turn down when it runs.",
        source="pump table and affinity laws",
        figure=f"supply.{flow}.speed",
    )


def _may_stall(design: Design, film: Film, flow: str) -> Finding:
    pit = design.reservoir.pit
    level = _over_floor(design, _up(design, film.stall))
    least = _over_floor(design, _up(design, pit.pump_minimum))
    return Finding(
        severity=Severity.NOTE,
        code="film-near-stall",
        place=f"Pump turned down to {flow}",
        says=f"It lifts nothing below {level}; the reservoir may sink to {least}.",
        cure="Start at the largest flow and turn down when it runs.",
        source="pump table and affinity laws",
        figure=f"supply.{flow}.speed",
    )


def _siphons(design: Design) -> Iterator[Finding]:
    source, box = design.job.source, design.water.lips[0]
    water = box.crest + float(box.head[HIGH].max(initial=0.0))
    if source.hose_outlet >= water or stays_full(design):
        return
    drawn = source.box_length * source.lip_width * (min(water, box.crest) - min(source.hose_outlet, box.crest))
    lost = f"; {litres(drawn)} of the box go with it" if drawn > _SPILT else ""
    yield Finding(
        severity=Severity.CAUTION,
        code="siphons-back",
        place="Hose outlet in the outlet box",
        says=f"It lies {millimetres(water - source.hose_outlet)} under the running water: "
        f"at a stop the hose draws the box down{lost}.",
        cure="Raise it over the water, drill an air hole at its top, or fit a check valve.",
        source="common practice",
    )


def _inertia(films: tuple[Film, ...]) -> Iterator[Finding]:
    low = {
        wave.name: min(other.number for film in films for other in film.waves if other.name == wave.name)
        for film in films
        for wave in film.waves
        if wave.number < INERTIA_MATTERS.amount
    }
    if low:
        yield Finding(
            severity=Severity.NOTE,
            code="film-inertia",
            place=f"Wave on {', '.join(low)}",
            says=f"Kinematic wave number {min(low.values()):.1f}, {INERTIA_MATTERS.amount:g} wanted: "
            "the water has some swing that the film leaves out.",
            cure="Take its times there for rough ones; the volumes stand.",
            source="Woolhiser and Liggett 1967",
        )


def _up(design: Design, level: Level) -> Length:
    """Height over the pit's floor, as a dip stick reads it."""
    return level - design.reservoir.pit.floor


def _over_floor(design: Design, height: Length) -> str:
    fill = "crate floor" if design.job.reservoir.fill == "crates" else "pit's floor"
    return f"{with_unit(height * 1000, 'mm'):,.0f} over the {fill}"
