"""What only the electrician can answer: protective devices and ratings stand here as questions and nowhere else."""

from collections.abc import Iterable, Iterator

from beckwright.base.words import grouped, metres, millimetres
from beckwright.job.model import ElectricsWork
from beckwright.stages.electrics.values import Electrics
from beckwright.tables.electrics import IN_WATER_MOST, TAPE_OVER, ZONE_1_OUT, ZONE_1_UP, ZONE_2_OUT


def questions(work: ElectricsWork, electrics: Electrics) -> tuple[str, ...]:
    """Questions in the order of the cable, each a sentence."""
    return tuple(_ask(work, electrics))


def _ask(work: ElectricsWork, electrics: Electrics) -> Iterator[str]:
    feeder = electrics.feeder
    yield f"Is there a spare way at {work.board}, and is its earthing fit for a supply outdoors?"
    yield (
        f"Does {work.cable:g} mm² carry {grouped(feeder.current, 1)} A as it will lie, and does the earth-fault loop "
        "allow it? Here it is held against drop alone."
    )
    yield "What is lost between the meter and the board? The limits of drop count from the meter."
    yield (
        "Which overcurrent device, and does it ride out the pump's starting current? Which residual-current device, 30 "
        "mA, and one each for pump and lights, so that a fault in one leaves the other on?"
    )
    yield "Where is the isolator, can it be locked off, and can it be seen from the chamber?"
    yield (
        f"Do the zones of basins hold for a stream that nobody enters? That is disputed. Zone 0 the water, zone 1 to "
        f"{metres(ZONE_1_OUT.amount)} out and {metres(ZONE_1_UP.amount)} up, zone 2 {metres(ZONE_2_OUT.amount)} more."
    )
    yield "Is the pump of protection class IPX8, and does its lead reach its box without a joint in the wet?"
    yield (
        f"How is the cable covered? {millimetres(work.cover)} of cover, tape {millimetres(TAPE_OVER.amount)} over it, "
        "a drawing of where it lies, and a spare duct are the habit."
    )
    if work.phases > 1:
        yield "Three phases: how are the pumps shared among them? The sums here are of one pump on one phase."
    if electrics.strings:
        yield (
            f"Is each transformer ({_listed(string.voltage for string in electrics.strings)}) a safety one, its low "
            "side unearthed, its starting current within what the device rides out, and the drop at the last lamp "
            "within the lamp's tolerance?"
        )
    wet = [lamp.light.voltage for lamp in electrics.lamps if lamp.wet]
    if wet:
        yield (
            f"{len(wet)} lamps sit in the water at {_listed(dict.fromkeys(wet))}: separated extra-low voltage of at "
            f"most {IN_WATER_MOST.amount:g} V a.c. or 30 V d.c., the source outside the zones?"
        )
    yield "Must the work be notified here, and who signs the certificate?"


def _listed(voltages: Iterable[float]) -> str:
    return ", ".join(f"{voltage:g} V" for voltage in voltages)
