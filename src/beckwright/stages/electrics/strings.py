"""Strings of low-voltage lights: what each lamp still gets, and the transformer that feeds them."""

import numpy as np

from beckwright.base.quantities import FloatArray, Length
from beckwright.equations.electrics import (
    ApparentPower,
    drop_rate_allowed,
    drop_share,
    even_string_factor,
    load_centre,
    supply_current,
    transformer_rating,
    voltage_drop,
    wall_power,
)
from beckwright.job.model import ElectricsWork
from beckwright.stages.electrics.loads import cable_drops
from beckwright.stages.electrics.values import LightString, Placed, Span, Transformer
from beckwright.tables.electrics import (
    DROP_RATES,
    LIGHT_LINE_SLACK,
    LIGHT_TAIL,
    LIGHTS_POWER_FACTOR,
    TRANSFORMER_EFFICIENCY,
    TRANSFORMER_LOADING,
    TRANSFORMERS,
)

LIGHT_CABLE = "PVC"


def string_lights(
    work: ElectricsWork, lamps: tuple[Placed, ...], start: tuple[Length, Length] | None
) -> tuple[LightString, ...]:
    """One string for each voltage, lamps in the order told. ``start`` is the transformer's place where it is known."""
    voltages = dict.fromkeys(lamp.light.voltage for lamp in lamps)
    return tuple(
        _string(work, voltage, tuple(lamp for lamp in lamps if lamp.light.voltage == voltage), start)
        for voltage in voltages
    )


def _string(
    work: ElectricsWork, voltage: float, lamps: tuple[Placed, ...], start: tuple[Length, Length] | None
) -> LightString:
    powers = np.array([lamp.light.power for lamp in lamps])
    beyond = np.cumsum(powers[::-1])[::-1] / voltage
    line = np.array([start or lamps[0].at, *(lamp.at for lamp in lamps)])
    lengths = _lengths(lamps, line)
    rate = DROP_RATES[LIGHT_CABLE, work.light_cable].amount
    drops = voltage_drop.over(rate, beyond, lengths)
    power = float(powers.sum())
    current = supply_current(power, voltage, 1.0)
    centre = load_centre(float(beyond @ lengths), current)
    sizes = cable_drops(LIGHT_CABLE, voltage, current, centre, work.light_drop)
    return LightString(
        voltage=voltage,
        power=power,
        current=current,
        lamps=lamps,
        spans=tuple(
            Span(
                light=lamp.light.name,
                length=float(lengths[place]),
                current=float(beyond[place]),
                drop=float(drops[place]),
                lost=drop_share(float(drops[: place + 1].sum()), voltage),
            )
            for place, lamp in enumerate(lamps)
        ),
        line=line,
        length=float(lengths.sum()),
        centre=centre,
        even=even_string_factor(len(lamps)),
        rate_most=drop_rate_allowed(work.light_drop * voltage, current, centre),
        sizes=sizes,
        chosen=next(row for row in sizes if row.size == work.light_cable),
        smallest=next((row.size for row in sizes if row.within), None),
        transformer=_transformer(work, power),
    )


def _lengths(lamps: tuple[Placed, ...], line: FloatArray) -> FloatArray:
    straight = np.hypot(*np.diff(line, axis=0).T) * (1 + LIGHT_LINE_SLACK.amount) + LIGHT_TAIL.amount
    told = [lamp.light.cable for lamp in lamps]
    return np.array([length if given is None else given for given, length in zip(told, straight, strict=True)])


def _transformer(work: ElectricsWork, power: float) -> Transformer:
    rating = transformer_rating(power, LIGHTS_POWER_FACTOR.amount, TRANSFORMER_LOADING.amount)
    offered: tuple[ApparentPower, ...] = work.transformers or tuple(row.amount for row in TRANSFORMERS.values())
    return Transformer(
        rating=rating,
        taken=next((size for size in offered if size >= rating), None),
        drawn=wall_power(power, TRANSFORMER_EFFICIENCY.amount),
    )
