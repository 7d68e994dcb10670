"""Electrics, from as written to SI."""

from math import radians

from beckwright.job.model.electrics import ElectricsWork, Light, ViewPoint
from beckwright.job.units import MILLIMETRE, PERCENT
from beckwright.job.written import Written
from beckwright.job.written.electrics import LightWritten, ViewWritten


def electrics_from(written: Written) -> ElectricsWork | None:
    """The supply and the lights; None where the job says nothing about them."""
    given = written.electrics
    if given is None:
        return None
    return ElectricsWork(
        board=given.board,
        line=tuple(given.line_m or ()),
        length=given.length_m,
        laid=given.laid,
        phases=given.phases,
        voltage=given.voltage_v,
        insulation=given.insulation,
        cable=given.cable_mm2,
        power_factor=given.power_factor,
        other=given.other_w,
        cover=given.cover_mm * MILLIMETRE,
        connection=given.connection_m,
        transformer=given.transformer_m,
        light_cable=given.light_cable_mm2,
        light_drop=given.light_drop_percent * PERCENT,
        transformers=tuple(sorted(given.transformers_va)),
        lights=tuple(_light(light, given.light_v) for light in written.lights),
        views=tuple(map(_view, written.views)),
    )


def _light(light: LightWritten, voltage: float) -> Light:
    at = None if light.x_m is None or light.y_m is None else (light.x_m, light.y_m)
    return Light(
        name=light.name,
        power=light.watts,
        voltage=voltage if light.volts is None else light.volts,
        at=at,
        lip=light.lip,
        across=light.across_mm * MILLIMETRE,
        height=light.height_mm * MILLIMETRE,
        aims=light.aims_m,
        aims_height=light.aims_height_mm * MILLIMETRE,
        beam=radians(light.beam_deg),
        hood=radians(light.hood_deg),
        cable=light.cable_m,
    )


def _view(view: ViewWritten) -> ViewPoint:
    return ViewPoint(name=view.name, at=(view.x_m, view.y_m), eye=view.eye_mm * MILLIMETRE, ground=view.ground_level_m)
