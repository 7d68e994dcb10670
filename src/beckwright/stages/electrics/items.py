"""What the electrician is asked to bring."""

from collections import Counter
from math import degrees

from beckwright.base.items import Item
from beckwright.base.words import with_unit
from beckwright.job.model import ElectricsWork
from beckwright.stages.electrics.values import Electrics, LightString
from beckwright.tables.electrics import LIGHT_LINE_SLACK, LIGHT_TAIL, RISES

_SHEET = "supply sheet"
_PLAN = "supply sheet, route plan"


def electrics_items(work: ElectricsWork | None, electrics: Electrics | None) -> tuple[Item, ...]:
    """Cable, duct, transformers, lamps and light cable, before anybody licensed has looked."""
    if work is None or electrics is None:
        return ()
    supply = () if work.laid else _supply(work, electrics)
    return (*supply, *(item for string in electrics.strings for item in _string(work, string)))


def _supply(work: ElectricsWork, electrics: Electrics) -> tuple[Item, ...]:
    feeder, duct = electrics.feeder, electrics.route.duct
    length, buried = feeder.length, feeder.length - RISES.amount
    bore = duct.bore if duct.taken is None else duct.taken
    return (
        Item(
            key="electrics.supply.cable",
            name=f"{work.insulation} supply cable, {work.cable:g} mm²",
            amount=length,
            low=buried + RISES.low,
            high=(buried + RISES.high) * feeder.each,
            unit="m",
            supplier="electrician",
            drawing=_PLAN,
            note="size held against drop alone: the electrician settles it, cores and armour"
            + "; high end: one for each pump" * (feeder.each > 1),
        ),
        Item(
            key="electrics.supply.duct",
            name=f"cable duct, bore {with_unit(bore * 1000, 'mm'):.0f} or more, with draw cord",
            amount=buried,
            low=buried,
            high=2 * buried,
            unit="m",
            supplier="electrician",
            drawing=_PLAN,
            note="high end: a spare duct beside it; warning tape over it",
        ),
    )


def _string(work: ElectricsWork, string: LightString) -> tuple[Item, ...]:
    stem, volts = f"electrics.lights.{string.voltage:g}_V", f"{string.voltage:g} V"
    taken = string.transformer.taken
    size = f"{taken:g} VA" if taken is not None else f"{string.transformer.rating:.0f} VA or more, asked for"
    slack = [
        (row[1] - LIGHT_LINE_SLACK.amount, row[0] - LIGHT_TAIL.amount)
        for row in ((LIGHT_TAIL.low, LIGHT_LINE_SLACK.low), (LIGHT_TAIL.high, LIGHT_LINE_SLACK.high))
    ]
    straight = (string.length - len(string.lamps) * LIGHT_TAIL.amount) / (1 + LIGHT_LINE_SLACK.amount)
    low, high = (string.length + straight * more + len(string.lamps) * tail for more, tail in slack)
    kinds = Counter(lamp.light.power for lamp in string.lamps)
    return (
        Item(
            key=f"{stem}.transformer",
            name=f"transformer {volts}, {size}",
            amount=1,
            low=1,
            high=1,
            unit="each",
            supplier="electrician",
            drawing=_SHEET,
            note="for lights in or near water; outside the zones",
        ),
        Item(
            key=f"{stem}.cable",
            name=f"light cable, two-core, {work.light_cable:g} mm²",
            amount=string.length,
            low=low,
            high=high,
            unit="m",
            supplier="electrician",
            drawing=_PLAN,
        ),
        *(
            Item(
                key=f"{stem}.lamp_{power:g}_W",
                name=f"lamp {power:g} W, {volts}",
                amount=count,
                low=count,
                high=count,
                unit="each",
                supplier="electrician",
                drawing=_PLAN,
                note=_beams(string, power),
            )
            for power, count in kinds.items()
        ),
    )


def _beams(string: LightString, power: float) -> str:
    lamps = [lamp for lamp in string.lamps if lamp.light.power == power]
    beams = sorted({round(degrees(lamp.light.beam)) for lamp in lamps})
    wet = sum(lamp.wet for lamp in lamps)
    said = f"beams of {', '.join(f'{beam}°' for beam in beams)}"
    return f"{said}; {wet} under water" if wet else said
