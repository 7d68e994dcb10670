"""Figures of the supply, the lights and the lines of sight."""

from collections.abc import Iterator

from beckwright.base.figures import Figure, dotted
from beckwright.base.published import Grade
from beckwright.base.words import with_unit
from beckwright.equations.electrics import (
    angle_between,
    cable_section,
    drop_rate_allowed,
    drop_share,
    duct_bore,
    even_string_factor,
    load_centre,
    long_run_share,
    supply_current,
    transformer_rating,
    voltage_drop,
    wall_power,
)
from beckwright.figures.make import by, told, worked
from beckwright.job.model import ElectricsWork, Job
from beckwright.stages.electrics import Electrics, Feeder, LightString, Load, Sight
from beckwright.tables.electrics import (
    DRAWN_LINE_SLACK,
    DUCT_FILL,
    LIGHT_LINE_SLACK,
    LIGHT_TAIL,
    LIGHTING_DROP,
    LIGHTS_POWER_FACTOR,
    LONG_RUN_FROM,
    LONG_RUN_MORE,
    LONG_RUN_MOST,
    OTHER_DROP,
    RISES,
    TRANSFORMER_EFFICIENCY,
    TRANSFORMER_LOADING,
)


def electrics_figures(job: Job, electrics: Electrics | None) -> Iterator[Figure]:
    """Loads, supply cable, each string of lights, duct, and who sees which lamp; none where the job says nothing."""
    work = job.electrics
    if work is None or electrics is None:
        return
    yield from _loads(job, work, electrics)
    yield from _supply(job, work, electrics.feeder)
    for string in electrics.strings:
        yield from _string(job, work, string)
    yield from _duct(job, electrics)
    for sight in electrics.sights:
        yield _sight(job, sight)


def _stem(load: Load) -> str:
    return dotted("electrics", "load", load.name)


def _loads(job: Job, work: ElectricsWork, electrics: Electrics) -> Iterator[Figure]:
    feeder = electrics.feeder
    share = f", divided by {feeder.each}: one pump" if feeder.each > 1 else ""
    for load in feeder.pumps:
        yield told(
            f"{_stem(load)}.power",
            f"Watts of the pump: {load.name}",
            load.power,
            "W",
            source="pumps.csv at that duty",
            note=f"the supply stage's watts{share}",
            grade=Grade.PUBLISHED,
        )
        yield _current(job, work, load, (work.power_factor, "job: electrics.power_factor"))
    strings = {f"lights at {string.voltage:g} V": string for string in electrics.strings}
    for load in feeder.others:
        string = strings.get(load.name)
        if string is None:
            yield told(f"{_stem(load)}.power", "Watts of other loads", load.power, "W", source="job: electrics.other_w")
            yield _current(job, work, load, (1.0, "taken as 1"))
            continue
        yield worked(
            job,
            f"{_stem(load)}.power",
            f"Watts of {load.name}, transformer and all",
            load.power,
            by(
                wall_power,
                power=(string.power, f"{_of(string)}.power"),
                efficiency=(TRANSFORMER_EFFICIENCY.amount, "table: TRANSFORMER_EFFICIENCY"),
            ),
            ends=(string.power / TRANSFORMER_EFFICIENCY.high, string.power / TRANSFORMER_EFFICIENCY.low),
            grade=TRANSFORMER_EFFICIENCY.grade,
        )
        yield _current(job, work, load, (LIGHTS_POWER_FACTOR.amount, "table: LIGHTS_POWER_FACTOR"))


def _current(job: Job, work: ElectricsWork, load: Load, factor: tuple[float, str]) -> Figure:
    return worked(
        job,
        f"{_stem(load)}.current",
        f"Current: {load.name}",
        load.current,
        by(
            supply_current,
            power=(load.power, f"{_stem(load)}.power"),
            voltage=(work.voltage, "job: electrics.voltage_v"),
            power_factor=factor,
        ),
        grade=Grade.PRACTICE,
    )


def _supply(job: Job, work: ElectricsWork, feeder: Feeder) -> Iterator[Figure]:
    row, current, length = feeder.chosen, (feeder.current, "electrics.supply.current"), feeder.length
    yield told(
        "electrics.supply.current",
        "Current of the supply cable",
        feeder.current,
        "A",
        source=", ".join(f"{_stem(load)}.current" for load in (feeder.largest, *feeder.others)),
        note="added as if all were in step: on the high side",
        grade=Grade.PRACTICE,
    )
    slack = "" if work.length is not None else f" {100 * DRAWN_LINE_SLACK.amount:.0f} % more than drawn, and"
    yield told(
        "electrics.supply.length",
        "Length of the supply cable",
        length,
        "m",
        source="job: electrics.length_m" if work.length is not None else "job: electrics.line_m",
        note=f"with{slack} {with_unit(RISES.amount, 'm'):g} for both ends",
        ends=(length + RISES.low - RISES.amount, length + RISES.high - RISES.amount),
        grade=RISES.grade,
    )
    rate = (row.rate, f"table: DROP_RATES, {work.insulation} {row.size:g} mm2")
    yield worked(
        job,
        "electrics.supply.drop",
        "Voltage lost along the supply cable",
        row.drop,
        by(voltage_drop, drop_rate=rate, current=current, length=(length, "electrics.supply.length")),
        grade=Grade.ASSUMED,
    )
    yield worked(
        job,
        "electrics.supply.share",
        "Share lost along the supply cable",
        row.share,
        by(
            drop_share,
            drop=(row.drop, "electrics.supply.drop"),
            voltage=(work.voltage, "job: electrics.voltage_v"),
        ),
        grade=Grade.ASSUMED,
    )
    yield from _limit(job, feeder)
    yield worked(
        job,
        "electrics.supply.rate_most",
        "Largest drop rate that keeps the limit",
        feeder.rate_most,
        by(
            drop_rate_allowed,
            drop=(feeder.limit * work.voltage, "electrics.supply.limit times job: electrics.voltage_v"),
            current=current,
            length=(length, "electrics.supply.length"),
        ),
        grade=Grade.ASSUMED,
    )


def _limit(job: Job, feeder: Feeder) -> Iterator[Figure]:
    base, name = (LIGHTING_DROP, "LIGHTING_DROP") if feeder.lights else (OTHER_DROP, "OTHER_DROP")
    label = "Share that may be lost"
    if feeder.long_run and feeder.limit < base.amount + LONG_RUN_MOST.amount:
        yield worked(
            job,
            "electrics.supply.limit",
            label,
            feeder.limit,
            by(
                long_run_share,
                share=(base.amount, f"table: {name}"),
                more=(LONG_RUN_MORE.amount, "table: LONG_RUN_MORE"),
                length=(feeder.length, "electrics.supply.length"),
                free=(LONG_RUN_FROM.amount, "table: LONG_RUN_FROM"),
            ),
        )
        return
    note = "and the most that a long run adds" if feeder.long_run else ""
    yield told("electrics.supply.limit", label, feeder.limit, "1", source=f"table: {name}", note=note, grade=base.grade)


def _of(string: LightString) -> str:
    return dotted("electrics", "lights", f"{string.voltage:g} V")


def _string(job: Job, work: ElectricsWork, string: LightString) -> Iterator[Figure]:
    stem, volts = _of(string), f"at {string.voltage:g} V"
    voltage = (string.voltage, "job: lights")
    yield told(f"{stem}.power", f"Watts of the lamps {volts}", string.power, "W", source="job: lights")
    yield worked(
        job,
        f"{stem}.current",
        f"Current of all lamps {volts}",
        string.current,
        by(
            supply_current,
            power=(string.power, f"{stem}.power"),
            voltage=voltage,
            power_factor=(1.0, "taken as 1 on the low side"),
        ),
    )
    yield from _spans(job, work, string)
    yield worked(
        job,
        f"{stem}.centre",
        f"Length over which the whole current {volts} would lose as much",
        string.centre,
        by(
            load_centre,
            moment=(string.centre * string.current, "current of each span times its length, added up"),
            current=(string.current, f"{stem}.current"),
        ),
        grade=Grade.ASSUMED,
    )
    yield worked(
        job,
        f"{stem}.even",
        f"Factor of an even string of as many lamps {volts}",
        string.even,
        by(even_string_factor, count=(float(len(string.lamps)), "job: lights")),
        note=f"here {string.centre / string.length:.2f}: the string's centre over its length" if string.length else "",
    )
    yield worked(
        job,
        f"{stem}.share",
        f"Share lost to the last lamp {volts}",
        string.chosen.share,
        by(drop_share, drop=(string.chosen.drop, f"sum of {stem}.drop of every lamp"), voltage=voltage),
        grade=Grade.ASSUMED,
    )
    yield worked(
        job,
        f"{stem}.rate_most",
        f"Largest drop rate {volts} that keeps the drop wished for",
        string.rate_most,
        by(
            drop_rate_allowed,
            drop=(work.light_drop * string.voltage, "job: electrics.light_drop_percent"),
            current=(string.current, f"{stem}.current"),
            length=(string.centre, f"{stem}.centre"),
        ),
        grade=Grade.ASSUMED,
    )
    yield worked(
        job,
        f"{stem}.rating",
        f"Least rating of the transformer {volts}",
        string.transformer.rating,
        by(
            transformer_rating,
            power=(string.power, f"{stem}.power"),
            power_factor=(LIGHTS_POWER_FACTOR.amount, "table: LIGHTS_POWER_FACTOR"),
            loading=(TRANSFORMER_LOADING.amount, "table: TRANSFORMER_LOADING"),
        ),
        ends=tuple(
            transformer_rating(string.power, factor, TRANSFORMER_LOADING.amount)
            for factor in (LIGHTS_POWER_FACTOR.high, LIGHTS_POWER_FACTOR.low)
        ),  # type: ignore[arg-type]
        grade=Grade.PRACTICE,
    )


def _spans(job: Job, work: ElectricsWork, string: LightString) -> Iterator[Figure]:
    row = string.chosen
    note = (
        f"straight line and {100 * LIGHT_LINE_SLACK.amount:.0f} %, and "
        f"{with_unit(LIGHT_TAIL.amount, 'm'):g}; currents of this lamp "
        "and all beyond; a dimmed driver draws more"
    )
    for span in string.spans:
        name = dotted(_of(string).removeprefix("electrics.lights."), "drop", span.light)
        yield worked(
            job,
            f"electrics.lights.{name}",
            f"Voltage lost on the cable up to {span.light}, from the lamp before it",
            span.drop,
            by(
                voltage_drop,
                drop_rate=(row.rate, f"table: DROP_RATES, PVC {work.light_cable:g} mm2"),
                current=(span.current, "watts of this lamp and all beyond, over the voltage"),
                length=(span.length, "job: lights"),
            ),
            grade=Grade.ASSUMED,
            note=note,
        )


def _duct(job: Job, electrics: Electrics) -> Iterator[Figure]:
    duct = electrics.route.duct
    section = cable_section(duct.cable)
    yield worked(
        job,
        "electrics.duct.section",
        "Room the supply cable takes in its duct",
        section,
        by(cable_section, diameter=(duct.cable, "table: CABLE_DIAMETERS")),
    )
    yield worked(
        job,
        "electrics.duct.bore",
        "Least bore of its duct",
        duct.bore,
        by(
            duct_bore,
            cables=(section, "electrics.duct.section"),
            fill=(DUCT_FILL.amount, "table: DUCT_FILL"),
        ),
        ends=(duct_bore(section, DUCT_FILL.high), duct_bore(section, DUCT_FILL.low)),
        grade=DUCT_FILL.grade,
    )


def _sight(job: Job, sight: Sight) -> Figure:
    lamp, view = sight.light.light.name, sight.view.name
    return worked(
        job,
        dotted("electrics", "sights", lamp, view, "off"),
        f"Angle of {view} off the axis of {lamp}",
        sight.off,
        by(
            angle_between,
            along=(sight.along, "axis and line of sight as unit vectors, their dot product"),
            across=(sight.across, "length of their cross product"),
        ),
        note=f"{sight.seen}; the line passes {with_unit(sight.clear, 'm'):.2f} over the ground at least",
    )
