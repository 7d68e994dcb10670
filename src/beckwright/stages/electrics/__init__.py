"""Electrics, advisory: loads, drops, strings of lights, who sees which lamp, route and zones. The licensed decide."""

from beckwright.job.model import Job
from beckwright.stages.course import SetOutCourse
from beckwright.stages.electrics.items import electrics_items
from beckwright.stages.electrics.loads import MOST, feed
from beckwright.stages.electrics.questions import questions
from beckwright.stages.electrics.route import connection_of, lay_route, open_water, zones_round
from beckwright.stages.electrics.sight import lamps_at_drops, sight_of
from beckwright.stages.electrics.strings import string_lights
from beckwright.stages.electrics.surface import Surface, place_lamp
from beckwright.stages.electrics.values import (
    AtDrop,
    CableDrop,
    CrossedRoots,
    CrossedService,
    Duct,
    Electrics,
    Feeder,
    LightString,
    Load,
    Placed,
    Route,
    Seen,
    Sight,
    Span,
    Transformer,
    Zones,
)
from beckwright.stages.ground import Ground
from beckwright.stages.supply import Supply


def wire(job: Job, course: SetOutCourse, ground: Ground, supply: Supply) -> Electrics | None:
    """Work out what an electrician will ask about; None where the job says nothing about electrics.

    Nothing here sizes a cable for current or for fault, or chooses a protective device.
    """
    work = job.electrics
    if work is None:
        return None
    surface = Surface(ground=ground, course=course, bank_top=job.earthworks.bank_top)
    lamps = tuple(place_lamp(light, surface) for light in work.lights)
    start = work.transformer or connection_of(work)
    strings = string_lights(work, lamps, start)
    water = open_water(job, course)
    return Electrics(
        feeder=feed(job, work, supply, strings),
        strings=strings,
        sights=tuple(sight_of(lamp, view, surface) for view in work.views for lamp in lamps),
        drops=lamps_at_drops(lamps, surface) if lamps else (),
        route=lay_route(job, work, strings, start, water),
        zones=zones_round(water),
    )


__all__ = [
    "MOST",
    "AtDrop",
    "CableDrop",
    "CrossedRoots",
    "CrossedService",
    "Duct",
    "Electrics",
    "Feeder",
    "LightString",
    "Load",
    "Placed",
    "Route",
    "Seen",
    "Sight",
    "Span",
    "Transformer",
    "Zones",
    "electrics_items",
    "questions",
    "wire",
]
