"""Whether the digger can get in, and whether its bucket can reach across what it digs."""

import numpy as np

from beckwright.base.quantities import Length
from beckwright.base.values import value
from beckwright.equations.site import reach_needed, way_needed
from beckwright.job.model import Job
from beckwright.stages.surroundings.works import Footprint
from beckwright.tables.site import DIGGER_STANDOFF, WAY_CLEARANCE


@value
class Reach:
    """What a bucket wants to get across one part of the works.

    across    the dig, from edge to edge
    one_side  reach from the machine's middle to the far edge
    both      reach to the middle of the dig, worked from both sides
    """

    part: str
    across: Length
    one_side: Length
    both: Length


@value
class Access:
    """The way in and the reach of the machine. Turns, steps and slopes of the way are not modelled.

    needed  clear width the digger wants; None where nobody said how wide it is
    reach   how far its bucket reaches from its middle; None where nobody said, and no ``reaches`` without a width
    """

    width: Length
    needed: Length | None
    machine: Length | None
    reach: Length | None
    reaches: tuple[Reach, ...]


def way_in(job: Job, works: Footprint) -> Access:
    """Compare the digger with the narrowest way and with the widest digs."""
    machine = job.earthworks.digger_width
    if machine is None:
        return Access(
            width=job.site.access_width, needed=None, machine=None, reach=job.earthworks.digger_reach, reaches=()
        )
    pit = min(job.reservoir.length, job.reservoir.width) + 2 * job.earthworks.working_space
    widest = float(np.max(works.edge.sum(axis=0)))
    return Access(
        width=job.site.access_width,
        needed=way_needed(machine, WAY_CLEARANCE.amount),
        machine=machine,
        reach=job.earthworks.digger_reach,
        reaches=tuple(_reach(part, machine, across) for part, across in (("reservoir pit", pit), ("stream", widest))),
    )


def _reach(part: str, machine: Length, across: Length) -> Reach:
    one, both = (reach_needed(machine, DIGGER_STANDOFF.amount, width) for width in (across, across / 2))
    return Reach(part=part, across=across, one_side=one, both=both)
