"""Soil dug against soil wanted, each soil by itself, counted as it lay in the ground; and where it moves."""

import math

import numpy as np

from beckwright.base.quantities import Volume
from beckwright.base.tabled import Tabled
from beckwright.equations.earthworks import bank_volume, loose_volume, soil_mass
from beckwright.job.model import Holds, Job
from beckwright.stages.course import SetOutCourse
from beckwright.stages.earthworks.values import Haul, Part, SoilBalance
from beckwright.stages.earthworks.volumes import Worked
from beckwright.tables.soils import BULKING, DENSITY, RAMMED, TOPSOIL_SPREAD

Band = tuple[Volume, Volume, Volume]
"""Low, middle, high."""


def placed_factor(job: Job) -> Tabled:
    """Volume of subsoil in a fill over its volume in the bank: rammed, or tipped and as loose as it was dug."""
    if job.earthworks.fill == "rammed":
        return RAMMED[job.site.soil]
    grows = BULKING[job.site.soil]
    return Tabled(
        amount=1 + grows.amount,
        low=1 + grows.low,
        high=1 + grows.high,
        unit=grows.unit,
        grade=grows.grade,
        source=grows.source,
        place=f"{grows.place}; tipped fill stands as loose as it was dug",
    )


def balances(job: Job, parts: tuple[Part, ...]) -> tuple[SoilBalance, ...]:
    """Topsoil, where there is any, and subsoil."""
    subsoil = [part for part in parts if part.kind != "strip"]
    dug, placed = sum(part.cut for part in subsoil), sum(part.fill for part in subsoil)
    (strip,) = (part for part in parts if part.kind == "strip")
    found = [_balance(job, "topsoil", "topsoil", strip.cut, strip.fill, TOPSOIL_SPREAD)] * (job.site.topsoil > 0)
    return (*found, _balance(job, job.site.soil, "subsoil", dug, placed, placed_factor(job)))


def _balance(job: Job, soil: str, holds: Holds, dug: Volume, placed: Volume, factor: Tabled) -> SoilBalance:
    wanted = bank_volume(placed, factor.amount)
    # A fill that shrinks more wants more soil: the low factor goes with the least left.
    lefts = (dug - bank_volume(placed, factor.low), dug - wanted, dug - bank_volume(placed, factor.high))
    mass = soil_mass(lefts[1], DENSITY[soil].amount)
    load, price = job.earthworks.load, job.earthworks.load_price
    loads = None if load is None else math.ceil(abs(mass) / load - 1e-9)
    return SoilBalance(
        soil=soil,
        holds=holds,
        dug=dug,
        placed=placed,
        wanted=wanted,
        left=lefts[1],
        lefts=lefts,
        loose=_loose(lefts, BULKING[soil]),
        mass=mass,
        masses=_spread(lefts, DENSITY[soil]),
        loads=loads,
        price=None if loads is None or price is None or lefts[1] < 0 else loads * price,
    )


def _loose(lefts: Band, grows: Tabled) -> Band:
    ends = [loose_volume(left, share) for left in lefts[::2] for share in (grows.low, grows.high)]
    return min(ends), loose_volume(lefts[1], grows.amount), max(ends)


def _spread(lefts: Band, density: Tabled) -> Band:
    ends = [soil_mass(left, amount) for left in lefts[::2] for amount in (density.low, density.high)]
    return min(ends), soil_mass(lefts[1], density.amount), max(ends)


def haul(job: Job, course: SetOutCourse, worked: Worked) -> Haul:
    """Subsoil of the course carried past each station, pit and trench left out: all upstream of it, dug less wanted."""
    net = worked.course.cut - bank_volume.over(worked.course.fill, placed_factor(job).amount)
    past = np.bincount(worked.net.interval + 1, net, minlength=len(course.stations.chainage))
    return Haul(chainage=course.stations.chainage, moved=np.cumsum(past))
