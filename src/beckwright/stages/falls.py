"""Every lip and the fall below it: how water shares itself across, where its sheet lands, what the pool must take."""

from functools import cache
from typing import Literal

import numpy as np

from beckwright.base.quantities import BoolArray, FloatArray, Flow, Flows, Length, Ratio
from beckwright.base.values import value
from beckwright.equations.drops import (
    basin_length,
    drop_number,
    energy_over_floor,
    free_fall_distance,
    full_jump_limit,
    jump_length,
    mean_velocity,
    nappe_length,
    nappe_limit,
    relative_critical_depth,
    share_lost,
    skimming_limit,
    tailwater_depth,
    toe_depth,
)
from beckwright.equations.lips import HEAD_ADDITION, lip_flow, lip_head, lip_width
from beckwright.equations.open_channel import critical_depth, specific_energy
from beckwright.equations.pump import hydraulic_power
from beckwright.equations.sound import louder_by
from beckwright.job.model import Pool, Reach, Run, Step
from beckwright.stages.course import SetOutCourse
from beckwright.stages.water import LipWater, Water
from beckwright.stages.water.beds import LOW, MIDDLE
from beckwright.tables.falls import DROP_LAW, LIP_TILTS, SPLASH
from beckwright.tables.lips import LIP_COEFFICIENTS
from beckwright.tables.practice import SHEET_CLINGS

Below = Literal["pool", "stones", "boulders", "bare stone", "reservoir"]
Regime = Literal["nappe", "between", "skimming"]

TILTS = np.array([row.amount for row in LIP_TILTS.values()])
DRY_FROM: Ratio = 2.5 ** (2 / 3)
"""Tilt over the head of the level lip from which its higher end runs dry: 2/5 r**1.5 is 1."""

_STRUCK = {
    "pool": "still water, which alone drones",
    "stones": "stones",
    "boulders": "boulders, which listeners like best",
    "bare stone": "bare stone",
    "reservoir": "the reservoir's cover",
}

_CLOSE = 1e-13
_TURNS = 20


@value
class Tilt:
    """A lip out of level across: m tilts, k flows. Bands go with the free head over the lip: low, middle, high.

    Heads count from the law's own zero, 1 mm below the crest, so that flows are whole.
    A part is dry where the law gives no flow.

    tilts     (m,) one end over the other
    middle    (3, m, k) water over the middle of the crest
    low_half  (3, m, k) share of the flow over the lower half of the lip
    dry       (3, m, k) share of its width, at the higher end, without water
    twice     (3, k) tilt at which the lower half carries twice what the higher one does
    """

    tilts: FloatArray
    middle: FloatArray
    low_half: FloatArray
    dry: FloatArray
    twice: FloatArray


@value
class Landed:
    """Where a sheet lands, from the foot of its lip; k flows.

    by_fall    (3, k) where the lower side of a sheet that falls freely from the brink meets the water below
    by_drop    (k,) where the drop law says the sheet has turned along the floor
    near, far  (k,) ends of both
    """

    by_fall: FloatArray
    by_drop: FloatArray
    near: FloatArray
    far: FloatArray


@value
class Basin:
    """What a fall asks of the pool below it, and the pool there is; k flows.

    toe             (k,) depth where the sheet has turned along the floor
    tailwater       (k,) depth over the floor that holds the jump at the toe
    tailwater_high  (k,) its high end
    jump            (k,) length of that jump
    length          (k,) of a pool that takes far landing and jump
    pool_length     of the pool there is; 0 where there is none
    pool_depth      (k,) of its water over the floor, low end; 0 where there is none
    """

    toe: FloatArray
    tailwater: FloatArray
    tailwater_high: FloatArray
    jump: FloatArray
    length: FloatArray
    pool_length: Length
    pool_depth: FloatArray


@value
class Spent:
    """Energy that a fall loses on the spot; k flows.

    A lip drowned in the middle of its band throws no sheet and makes no jump: there both shares, and the power, are
    what is left of the head when the water below stands over the crest.

    energy   (k,) of the water at the lip over the floor, as a height
    at_toe   (k,) share of it gone when the sheet has landed
    in_all   (k,) share gone with the jump
    heating  (k,) power gone with the jump
    """

    energy: FloatArray
    at_toe: FloatArray
    in_all: FloatArray
    heating: FloatArray


@value
class Steps:
    """Whether sheets fall from step to step or skim over them; k flows.

    slope      drop over length to the next lip; 0 for the last fall, which no step follows
    relative   (k,) critical depth over drop
    regimes    for each flow; ``between`` where the two publications differ
    full_jump  (k,) whether the step is long enough for a whole jump
    """

    slope: Ratio
    relative: FloatArray
    regimes: tuple[Regime, ...]
    full_jump: BoolArray


@value
class Sheet:
    """The water from one lip to what lies below; k flows. Water below comes as a band: low, middle, high.

    The drop laws know no drowned lip: landing, toe and jump are those of the sheet as it would fall freely.

    below       what it lands on, and the ``width`` of that
    floor_drop  crest to the floor of the pool or bed below: what the drop laws count
    fall        (3, k) crest to the water below: what falls freely; 0 where that water stands over the crest
    drowned     (k,) whether it may stand so high
    number      (k,) drop number
    splash      (2,) lining wanted each side: at the least, and to windward
    """

    below: Below
    width: Length
    floor_drop: Length
    fall: FloatArray
    drowned: BoolArray
    number: FloatArray
    splash: FloatArray
    landed: Landed
    basin: Basin
    spent: Spent
    steps: Steps


@value
class Fall:
    """One lip at k flows. Head a little upstream and depth at the very brink are those of ``lip``.

    critical     (k,) critical depth: of the water on the lip, between the two
    clings       (k,) whether the sheet may cling to the lip
    free_flow    (2,) flow at which it just breaks free: low and high
    free_width   (2, k) widest lip at which it does: low and high
    sheet        None for the source's lip, which lies level with the bed below it
    """

    lip: LipWater
    flows: Flows
    critical: FloatArray
    clings: BoolArray
    free_flow: FloatArray
    free_width: FloatArray
    tilt: Tilt
    sheet: Sheet | None

    def louder(self, than: Flow) -> FloatArray:
        """How much louder this fall is at each flow than at one to compare with, dB, (k,). Never how loud it is."""
        return louder_by.over(self.flows, than)

    @property
    def voice(self) -> str:
        """What is heard, in words: how the water leaves the lip, and what it strikes."""
        water = "broken water" if self.lip.kind == "boulders" else "an even sheet"
        return water if self.sheet is None else f"{water} on {_STRUCK[self.sheet.below]}"


def fall_water(course: SetOutCourse, water: Water) -> tuple[Fall, ...]:
    """The source's lip and every step's, in order downstream."""
    steps = [number for number, stretch in enumerate(course.stretches) if isinstance(stretch.reach, Step)]
    tilts = _tilts(water.lips)
    limit = np.array([SHEET_CLINGS.low, SHEET_CLINGS.high])
    return tuple(
        Fall(
            lip=lip,
            flows=water.flows,
            critical=critical_depth.over(lip.unit_flow),
            clings=lip.unit_flow < SHEET_CLINGS.high,
            free_flow=lip_flow.over(limit, lip.width),
            free_width=lip_width.over(water.flows, limit[::-1, None]),
            tilt=tilt,
            sheet=None if number is None else _sheet(course, water, lip, number),
        )
        for lip, tilt, number in zip(water.lips, tilts, (None, *steps), strict=True)
    )


def share_left(level_head: FloatArray, tilt: FloatArray) -> FloatArray:
    """Share of the flow over the left half of a lip whose right end stands ``tilt`` over its left (negative: under).

    level_head  head over the same lip when level, with the 1 mm that the lip law adds
    """
    relative = np.abs(tilt) / level_head
    low = _low_half(relative, _middle(relative))
    shares: FloatArray = np.where(tilt >= 0, low, 1 - low)
    return shares


def _tilts(lips: tuple[LipWater, ...]) -> tuple[Tilt, ...]:
    """All lips at once: (lips, 3, m, k)."""
    rows = [LIP_COEFFICIENTS[lip.kind] for lip in lips]
    coefficients = np.array([[[row.high], [row.amount], [row.low]] for row in rows])
    unit_flow = np.array([lip.unit_flow for lip in lips])[:, None, :]
    level = (lip_head.over(unit_flow, coefficients) + HEAD_ADDITION)[:, :, None, :]
    relative = TILTS[:, None] / level
    middle = _middle(relative)
    low_half, dry = _low_half(relative, middle), np.maximum(0.5 - middle / relative, 0.0)
    over_crest, twice = middle * level - HEAD_ADDITION, _tilt_for_twice() * level[:, :, 0]
    return tuple(
        Tilt(tilts=TILTS, middle=over_crest[n], low_half=low_half[n], dry=dry[n], twice=twice[n])
        for n in range(len(lips))
    )


def _middle(relative: FloatArray) -> FloatArray:
    """Head at the middle of a tilted lip that carries the same flow, all in heads of the level lip.

    The flow is 2/5 ((v + r/2)**2.5 - (v - r/2)**2.5) / r, which rises ever faster with v and is 1 or more at v = 1:
    Newton's method comes down on its root from there. Where the higher end is dry its term is gone, and v is plain.
    """
    dry, level = relative > DRY_FROM, relative == 0.0
    tilt = np.where(dry | level, 1.0, relative)
    head = np.ones_like(tilt)
    for _ in range(_TURNS):
        deep, shallow = head + tilt / 2, np.maximum(head - tilt / 2, 0.0)
        over = 0.4 * (deep**2.5 - shallow**2.5) - tilt
        head = head - over / (deep**1.5 - shallow**1.5)
        if np.all(np.abs(over) <= _CLOSE):
            break
    else:
        message = "the head over a tilted lip was not found"
        raise ArithmeticError(message)
    return np.where(level, 1.0, np.where(dry, (2.5 * relative) ** 0.4 - relative / 2, head))


def _low_half(relative: FloatArray, middle: FloatArray) -> FloatArray:
    """Share of the flow over the lower half: the deep end's term less the middle's."""
    tilt = np.where(relative == 0.0, 1.0, relative)
    deep, halfway, shallow = (np.maximum(middle + part * tilt, 0.0) ** 2.5 for part in (0.5, 0.0, -0.5))
    return np.where(relative == 0.0, 0.5, (deep - halfway) / (deep - shallow))


@cache
def _tilt_for_twice() -> Ratio:
    """Tilt, in heads of the level lip, at which the lower half carries two thirds: halved in until it stands still."""
    low, high = 0.0, DRY_FROM
    for _ in range(60):
        trial = np.array((low + high) / 2)
        low, high = (float(trial), high) if _low_half(trial, _middle(trial)) < 2 / 3 else (low, float(trial))
    return low


def _sheet(course: SetOutCourse, water: Water, lip: LipWater, number: int) -> Sheet:
    """What falls from a lip; ``number`` is its step's. Everything below it is read off the stretch that follows."""
    below = course.stretches[number + 1].reach if number + 1 < len(course.stretches) else None
    pool = below if isinstance(below, Pool) else None
    floor_drop = lip.drop + (pool.depth if pool else 0.0)
    drop_numbers = drop_number.over(lip.unit_flow, floor_drop)
    drowned = lip.tailwater >= 0
    fall = np.where(drowned, 0.0, -lip.tailwater)
    landed = _landed(lip, floor_drop, drop_numbers, fall)
    basin = _basin(floor_drop, drop_numbers, landed, pool, floor_drop + lip.tailwater[LOW])
    return Sheet(
        below=_below(below),
        width=lip.width if below is None or isinstance(below, Step) else below.width,
        floor_drop=floor_drop,
        fall=fall,
        drowned=np.any(drowned, axis=0),
        number=drop_numbers,
        splash=np.array([SPLASH.low, SPLASH.high]) * lip.drop,
        landed=landed,
        basin=basin,
        spent=_spent(lip, water.flows, floor_drop, basin),
        steps=_steps(lip, _step_slope(course, lip, number)),
    )


def _below(reach: Reach | None) -> Below:
    if reach is None:
        return "reservoir"
    if not isinstance(reach, Run):
        return "pool"
    if reach.bed.laid == "smooth" or reach.bed.depth == 0.0:
        return "bare stone"
    return "boulders" if reach.bed.laid == "with boulders" else "stones"


def _landed(lip: LipWater, floor_drop: Length, drop_numbers: FloatArray, fall: FloatArray) -> Landed:
    by_fall = free_fall_distance.over(mean_velocity.over(lip.unit_flow, lip.brink), fall)
    by_drop = nappe_length.over(floor_drop, drop_numbers)
    return Landed(
        by_fall=by_fall,
        by_drop=by_drop,
        near=np.minimum(by_fall.min(axis=0), DROP_LAW.low * by_drop),
        far=np.maximum(by_fall.max(axis=0), DROP_LAW.high * by_drop),
    )


def _basin(
    floor_drop: Length, drop_numbers: FloatArray, landed: Landed, pool: Pool | None, over_floor: FloatArray
) -> Basin:
    toe, tailwater = toe_depth.over(floor_drop, drop_numbers), tailwater_depth.over(floor_drop, drop_numbers)
    jump = jump_length.over(tailwater, toe)
    return Basin(
        toe=toe,
        tailwater=tailwater,
        tailwater_high=DROP_LAW.high * tailwater,
        jump=jump,
        length=basin_length.over(landed.far, jump),
        pool_length=pool.length if pool else 0.0,
        pool_depth=over_floor if pool else np.zeros_like(over_floor),
    )


def _spent(lip: LipWater, flows: Flows, floor_drop: Length, basin: Basin) -> Spent:
    drowned, below = lip.tailwater[MIDDLE] >= 0, floor_drop + lip.tailwater[MIDDLE]
    falling = energy_over_floor.over(floor_drop, critical_depth.over(lip.unit_flow))
    energy = np.where(drowned, floor_drop + lip.head[MIDDLE], falling)
    landed, after = (
        np.where(drowned, below, specific_energy.over(depth, mean_velocity.over(lip.unit_flow, depth)))
        for depth in (basin.toe, basin.tailwater)
    )
    return Spent(
        energy=energy,
        at_toe=share_lost.over(energy, landed),
        in_all=share_lost.over(energy, after),
        heating=hydraulic_power.over(flows, energy - after),
    )


def _steps(lip: LipWater, slope: Ratio) -> Steps:
    relative = relative_critical_depth.over(critical_depth.over(lip.unit_flow), lip.drop)
    return Steps(
        slope=slope,
        relative=relative,
        regimes=tuple(_regime(float(each), slope) for each in relative),
        full_jump=relative <= (full_jump_limit(slope) if slope > 0 else np.inf),
    )


def _step_slope(course: SetOutCourse, lip: LipWater, number: int) -> Ratio:
    """Drop over length to the next lip; 0 where no step follows."""
    later = (stretch.start for stretch in course.stretches[number + 1 :] if isinstance(stretch.reach, Step))
    following = next(later, None)
    return 0.0 if following is None else lip.drop / (following - lip.chainage)


def _regime(relative: Ratio, slope: Ratio) -> Regime:
    """Two publications set the limit; between theirs nobody knows."""
    limits = (nappe_limit(slope), skimming_limit(slope))
    if relative <= min(limits):
        return "nappe"
    return "skimming" if relative > max(limits) else "between"
