"""Electrics: drops over a limit, dim lights, lamps that dazzle, boxes near water, cables among roots. Advice only."""

from collections.abc import Iterator
from itertools import groupby
from math import ceil, degrees, floor, radians

from beckwright.base.figures import dotted
from beckwright.base.findings import Finding, Severity
from beckwright.base.words import grouped, metres, millimetres, opening, watts
from beckwright.job.model import ElectricsWork, Job
from beckwright.stages.electrics import CrossedRoots, Electrics, Feeder, LightString, Sight
from beckwright.stages.supply import Supply
from beckwright.tables.electrics import (
    LIGHTING_DROP,
    LIGHTS_DROP,
    OTHER_DROP,
    SCREEN_AT,
    SOCKET_FROM_WATER,
    TRANSFORMER_LOADING,
    TURN_MARGIN,
    ZONE_1_OUT,
    ZONE_2_OUT,
)

DROPS = "BS 7671 Appendix 4 (UK), mV/A/m"
PRACTICE = "common practice"


def electrics_findings(job: Job, supply: Supply, electrics: Electrics | None) -> Iterator[Finding]:
    """Findings for the electrician and for whoever places the lights. None of them fails: the licensed decide."""
    work = job.electrics
    if work is None or electrics is None:
        yield _nothing_told(job, supply)
        return
    yield _advisory(work, electrics.feeder)
    yield from _supply_drop(work, electrics.feeder)
    for string in electrics.strings:
        yield from _dim(work, string)
        yield from _transformer(string)
    yield from _near_water(electrics)
    yield from _crossings(electrics)
    yield from _dazzle(electrics.sights)
    yield from _mirrors(electrics.sights)
    yield from _drops(electrics)


def percent(ratio: float) -> str:
    """A drop to a tenth of a per cent."""
    return f"{grouped(100 * ratio, 1)} %"


def _nothing_told(job: Job, supply: Supply) -> Finding:
    flat = supply.chosen.flat_out
    most = job.pumps.together * float(job.pumps.chosen.watts.max()) if flat is None else flat.watts
    return Finding(
        severity=Severity.NOTE,
        code="electrics-not-told",
        place="Electrics",
        says=f"The job names no supply. An electrician will ask: how many watts ({watts(most)} here, flat out), how "
        "far from the board and which way, what lights at what voltage, and where the boxes stand.",
        cure="Walk the route with a licensed electrician and write [electrics], [[lights]] and [[views]].",
        source=PRACTICE,
    )


def _advisory(work: ElectricsWork, feeder: Feeder) -> Finding:
    phases = (
        f" The board has three phases: the sums are of one pump of {feeder.each} on one phase, and sharing them out is "
        "not done."
        if work.phases > 1
        else ""
    )
    return Finding(
        severity=Severity.NOTE,
        code="electrics-advisory",
        place="Electrics",
        says="Cables are held against drop alone. Current they may carry, earth-fault loop, protective devices and "
        f"zones are not worked out here.{phases}",
        cure="Hand the supply sheet with its questions to a licensed electrician, who decides.",
        source="licensed practice",
    )


def _supply_drop(work: ElectricsWork, feeder: Feeder) -> Iterator[Finding]:
    row = feeder.chosen
    if row.within:
        return
    base = LIGHTING_DROP if feeder.lights else OTHER_DROP
    uses = "lighting" if feeder.lights else "uses other than lighting"
    better = next((each for each in feeder.sizes if each.within), None)
    cure = (
        "No size in the table keeps it: split the load, or bring the supply nearer."
        if better is None
        else f"Ask the electrician for {better.size:g} mm² ({percent(better.share)}) or more."
    )
    yield Finding(
        severity=Severity.CAUTION,
        code="supply-drop",
        place=f"Supply cable, {metres(feeder.length)} of {row.size:g} mm² {work.insulation}",
        says=f"{grouped(row.drop, 1)} V lost at {grouped(feeder.current, 1)} A, {percent(row.share)}; "
        f"{percent(feeder.limit)} is the limit for {uses}.",
        cure=cure,
        source=f"{DROPS}; {base.place}",
        figure="electrics.supply.share",
    )


def _dim(work: ElectricsWork, string: LightString) -> Iterator[Finding]:
    row = string.chosen
    if row.within:
        return
    better = next((each for each in string.sizes if each.within), None)
    thicker = "" if better is None else f"take {better.size:g} mm² ({percent(better.share)}), "
    yield Finding(
        severity=Severity.CAUTION,
        code="lights-dim",
        place=f"Lights at {string.voltage:g} V, {metres(string.length)} of {row.size:g} mm²",
        says=f"{grouped(row.drop, 2)} V lost to the last lamp, {percent(row.share)}; "
        f"{percent(work.light_drop)} is wished.",
        cure=opening(
            f"{thicker}move the transformer to the middle of the string, or take lamps of {2 * string.voltage:g} V: "
            f"the same cable then loses {percent(row.share / 4)}."
        ),
        source=f"{DROPS}; {LIGHTS_DROP.place}",
        figure=dotted("electrics", "lights", f"{string.voltage:g} V", "share"),
    )


def _transformer(string: LightString) -> Iterator[Finding]:
    if string.transformer.taken is None:
        yield Finding(
            severity=Severity.CAUTION,
            code="transformer-too-small",
            place=f"Lights at {string.voltage:g} V",
            says=f"{watts(string.power)} of lamps want {string.transformer.rating:.0f} VA; none on offer is as large.",
            cure="Split the lamps between two transformers, or ask for a larger one.",
            source=f"{PRACTICE}: {TRANSFORMER_LOADING.place}",
            figure=dotted("electrics", "lights", f"{string.voltage:g} V", "rating"),
        )


def _near_water(electrics: Electrics) -> Iterator[Finding]:
    route = electrics.route
    zones = ZONE_1_OUT.amount + ZONE_2_OUT.amount
    rows = (
        ("Box the pump is connected at", route.connection_water, SOCKET_FROM_WATER.amount, "for sockets and boxes"),
        ("Transformer", route.transformer_water, zones, "clears the zones, if they hold here"),
    )
    for name, away, wanted, why in rows:
        if away is not None and away < wanted:
            yield Finding(
                severity=Severity.CAUTION,
                code="box-near-water",
                place=f"{name}, {metres(away)} from open water",
                says=f"{metres(wanted)} {why}.",
                cure=(
                    f"Move it {metres(ceil(100 * (wanted - away) - 1e-6) / 100, up=True)} farther "
                    "off, or ask the electrician."
                ),
                source=f"{PRACTICE}: {SOCKET_FROM_WATER.place}; IEC 60364-7-702, whether it holds is disputed",
            )
    if electrics.strings and route.transformer is None:
        yield Finding(
            severity=Severity.NOTE,
            code="transformer-unplaced",
            place="Transformer of the lights",
            says="Nobody told where it stands: the light cable is counted from the first lamp.",
            cure="Write electrics.transformer_m.",
            source="job.toml electrics",
        )


def _crossings(electrics: Electrics) -> Iterator[Finding]:
    for crossed in electrics.route.services:
        left = "its depth is unknown" if crossed.left is None else f"{millimetres(abs(crossed.left))} of ground between"
        under = " with the cable below it" if crossed.left is not None and crossed.left < 0 else ""
        yield Finding(
            severity=Severity.CAUTION,
            code="cable-crosses-service",
            place=f"Supply cable crosses {crossed.name}, {metres(crossed.along)} from the board",
            says=f"{opening(left)}{under}.",
            cure="Have it traced, open it by hand, and let the electrician set the separation.",
            source=PRACTICE,
        )
    for line, group in groupby(sorted(electrics.route.roots, key=lambda root: root.line), key=lambda root: root.line):
        yield _roots(line, tuple(group))


def _roots(line: str, roots: tuple[CrossedRoots, ...]) -> Finding:
    trees = ", ".join(f"{root.species or 'tree'} {root.tree} ({metres(root.length)})" for root in roots)
    kept = any(root.protected for root in roots)
    ask = "Ask the tree officer first. " if kept else ""
    cure = (
        "Lay it on the ground under leaf mould there and dig nothing."
        if line == "light cable"
        else "Lead it round, or dig by hand as an arboriculturist says."
    )
    return Finding(
        severity=Severity.CAUTION if kept or line == "supply cable" else Severity.NOTE,
        code="cable-among-roots",
        place=f"{opening(line)} inside root circles: {trees}",
        says="A trench there cuts roots." + (" One of the trees is protected." if kept else ""),
        cure=ask + cure,
        source="BS 5837:2012 4.6.1 (UK); local rules come first",
    )


def _dazzle(sights: tuple[Sight, ...]) -> Iterator[Finding]:
    """One finding for each view and kind, its worst lamp told."""
    for kind, severity in (("in the beam", Severity.CAUTION), ("beside it", Severity.NOTE)):
        hit = [sight for sight in sights if sight.seen == kind]
        for view in dict.fromkeys(sight.view.name for sight in hit):
            yield _glare([sight for sight in hit if sight.view.name == view], severity)


def _glare(sights: list[Sight], severity: Severity) -> Finding:
    worst = min(sights, key=lambda sight: sight.off)
    names = ", ".join(sight.light.light.name for sight in sights)
    light, beam = worst.light.light, worst.seen == "in the beam"
    where = "inside its beam of" if beam else "outside its beam of"
    off = f"{degrees(worst.off):.0f}° off its axis, {where} {degrees(light.beam):.0f}°"
    far = f" {100 * (1 - worst.surveyed):.0f} % of the line is off the survey." if worst.surveyed < 1 else ""
    return Finding(
        severity=severity,
        code="lamp-dazzles" if beam else "lamp-seen",
        place=f"{opening(worst.view.name)} sees {names}",
        says=f"{light.name}: {metres(worst.distance)} away, {off}; nothing on the ground hides it.{far}",
        cure=_shade(worst),
        source="sight line over ground, bed and banks; plants, fences and walls not counted",
        figure=dotted("electrics", "sights", light.name, worst.view.name, "off"),
    )


def _shade(sight: Sight) -> str:
    """Turn it, hood it, or screen it: each with its number."""
    cut = max(floor((degrees(sight.off) - degrees(TURN_MARGIN.amount)) / 5 + 1e-9) * 5, 0)
    hooded = f"fit a hood that cuts off at {cut}°" if radians(cut) > sight.light.light.beam / 2 else ""
    high = ceil(sight.screen * 100 - 1e-9) * 10
    stone = (
        f"set a stone {millimetres(high / 1000, up=True)} high {millimetres(SCREEN_AT.amount)} in front of it"
        if high > 0
        else ""
    )
    turned = f"turn it {ceil(degrees(sight.turn) / 5 - 1e-9) * 5}° away" if sight.turn > 0 else ""
    ways = [way for way in (turned, hooded, stone) if way]
    return f"{opening(', or '.join(ways) or 'hide it under a lip')}."


def _mirrors(sights: tuple[Sight, ...]) -> Iterator[Finding]:
    for sight in sights:
        if sight.mirrored:
            yield Finding(
                severity=Severity.CAUTION,
                code="lamp-mirrored",
                place=f"{opening(sight.mirrored)} mirrors {sight.light.light.name} to {sight.view.name}",
                says="Its beam lies flat on still water there; while the water runs the mirror breaks up.",
                cure="Turn the beam across the fall or onto the bank, or move the lamp so that the fall lies between.",
                source="mirror image in level water at the pool's rim",
            )


def _drops(electrics: Electrics) -> Iterator[Finding]:
    odd = [drop for drop in electrics.drops if len(drop.lamps) != 1]
    if odd:
        told = "; ".join(f"{drop.lip}: {len(drop.lamps) or 'no'} lamp{'s' * (len(drop.lamps) != 1)}" for drop in odd)
        yield Finding(
            severity=Severity.NOTE,
            code="lamps-at-drops",
            place="Lamps at the drops",
            says=f"{opening(told)}; one for each drop is the habit.",
            cure="Try them at night with a torch before any is bought.",
            source=PRACTICE,
        )
