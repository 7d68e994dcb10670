"""Whether stones stay where they are laid: on each run and where each fall lands; and what plants do to the water."""

from typing import Literal

import numpy as np

from beckwright.base.quantities import Density, FloatArray, Flow, Length, Mass, Ratio, UnitFlow, Velocity
from beckwright.base.values import value
from beckwright.equations.drops import energy_over_floor, impact_velocity
from beckwright.equations.lining import edge_over_water
from beckwright.equations.open_channel import hydraulic_radius, unit_flow, wetted_area, wetted_perimeter
from beckwright.equations.stability import (
    ball_mass,
    critical_shields,
    gentle_chute_size,
    isbash_size,
    relative_density,
    safe_size,
    shields_size,
    steep_chute_size,
)
from beckwright.job.model import BedMakeUp, Job, Run
from beckwright.stages.course import SetOutCourse
from beckwright.stages.falls import Below, Fall
from beckwright.stages.water import Water
from beckwright.stages.water.beds import BANDS, HIGH, grain_sizes
from beckwright.stages.water.depth import Channel, discharge_at, normal_depth
from beckwright.stages.water.runs import RunWater
from beckwright.tables.gravels import FINE_BELOW, GRAVELS, MEDIUM_BELOW, SINGLE_SIZE_SPREAD, WASHED_FROM, Gravel
from beckwright.tables.stones import BLOCKED, ISBASH, SIZE_SAFETY

Law = Literal["shields_size", "gentle_chute_size", "steep_chute_size"]

SHARES = np.array([row.amount for row in BLOCKED.values()])

_TESTED = {
    "shields_size": critical_shields,
    "gentle_chute_size": gentle_chute_size,
    "steep_chute_size": steep_chute_size,
}

_HALVINGS = 14
"""Turns that find the share of the bed at which an edge goes under, to less than a ten-thousandth."""


@value
class RunStones:
    """Stones of one run, judged at its head: there all of the flow is in view.

    radius  (3,) hydraulic radius at the head
    law     equation behind ``stays``: by the slope
    stays   (3,) median size that just stays, for the low, middle and high depth; one size where depth plays no part
    wanted  the largest of them with its factor of safety
    mass    of one stone of that size
    have    median size of the bed
    tested  whether the slope lies where the law was tested
    """

    run: RunWater
    unit_flow: UnitFlow
    radius: FloatArray
    law: Law
    stays: FloatArray
    wanted: Length
    mass: Mass
    have: Length
    tested: bool

    @property
    def washed(self) -> bool:
        """Whether the bed is smaller than what just stays."""
        return self.have < float(self.stays.max())

    @property
    def short(self) -> bool:
        """Whether the bed is smaller than wanted."""
        return self.have < self.wanted


@value
class Foot:
    """Where one fall lands.

    velocity  with which the water strikes the bed or the pool
    wanted    (2,) size that stays there: in calm water and in rough
    mass      (2,) of one such stone
    taken     whether a pool deep enough for the jump takes the jet: then only its landing zone is struck
    zone      chainages from the nearest to the farthest landing
    have      median size of the bed it lands on; None where the job does not tell it
    """

    name: str
    below: Below
    velocity: Velocity
    wanted: FloatArray
    mass: FloatArray
    taken: bool
    zone: tuple[Length, Length]
    have: Length | None

    @property
    def moves(self) -> bool:
        """Whether stones that the job lays there are smaller than rough water wants."""
        return self.have is not None and self.have < float(self.wanted[-1])


@value
class Fix:
    """A place where stones must be fixed, or be of the wanted size: from low to high where that is a band.

    have  median size there now; None where the job does not tell it
    """

    place: str
    span: tuple[Length, Length]
    wanted: tuple[Length, Length]
    mass: tuple[Mass, Mass]
    have: Length | None


@value
class Stability:
    """All stones at the largest flow there is, the pump flat out included.

    runs  those with stones in them, in order downstream
    feet  of every fall, in order downstream
    """

    flow: str
    amount: Flow
    runs: tuple[RunStones, ...]
    feet: tuple[Foot, ...]
    fixes: tuple[Fix, ...]


@value
class Blocked:
    """What plants that close a share of the bed's width do to one run at the largest flow, at the high end.

    Uniform flow in what is left of the bed, or the level that stands there if that is higher; where the water is drawn
    down to a lip it is not counted lower. Bare narrowing: roots and leaves also slow the water that is left.

    shares    (m,) of the width closed
    rise      (m,) of the water, where it is most
    left      (m,) least freeboard of either settled edge; below 0 it is under water
    under     share at which the first edge goes under; 1 where the sides alone carry the flow
    chainage  where that is
    """

    run: RunWater
    flow: str
    shares: FloatArray
    rise: FloatArray
    left: FloatArray
    under: Ratio
    chainage: Length


def stone_stability(
    job: Job, course: SetOutCourse, waters: tuple[Water, ...], falls: tuple[tuple[Fall, ...], ...]
) -> Stability:
    """Judge all stones. ``waters`` and ``falls`` go together: at the named flows, and with the pump flat out."""
    which, number = _largest(waters)
    water, density = waters[which], job.materials.stone
    runs = tuple(_run(course, water, number, run, density) for run in water.runs if has_stones(run.run.bed))
    feet = tuple(_foot(course, fall, number, density) for fall in falls[which] if fall.sheet is not None)
    return Stability(
        flow=water.names[number],
        amount=float(water.flows[number]),
        runs=runs,
        feet=feet,
        fixes=(*map(_fix_run, (run for run in runs if run.short)), *map(_fix_foot, filter(_wants_fixing, feet))),
    )


def has_stones(bed: BedMakeUp) -> bool:
    """Whether a bed has stones that can move: a bare face and dressed stone in mortar have none."""
    return bed.depth > 0 and bed.laid != "smooth"


def make_up_of(bed: BedMakeUp) -> Gravel:
    """What kind of layer the sizes of a bed make: washed stone of one size, mixed gravel, or gravel with its fines."""
    smallest, largest = bed.size
    if smallest >= WASHED_FROM.amount:
        return GRAVELS["washed" if largest <= SINGLE_SIZE_SPREAD.amount * smallest else "mixed"]
    _, median, _ = grain_sizes(bed)
    return GRAVELS["fine" if median < FINE_BELOW.amount else "medium" if median < MEDIUM_BELOW.amount else "coarse"]


def blocked(course: SetOutCourse, water: Water, shares: FloatArray = SHARES) -> tuple[Blocked, ...]:
    """Close shares of the bed's width in every run, and find at which share the first edge goes under."""
    if not water.runs:
        return ()
    at, number = course.stations, int(np.argmax(water.flows))
    counts = [run.stations.stop - run.stations.start for run in water.runs]
    here = np.concatenate([np.arange(len(at.reach))[run.stations] for run in water.runs])
    stony = _Stony(
        width=at.width[here],
        side_slope=course.side_slope,
        gradient=np.repeat([run.gradient for run in water.runs], counts),
        manning=np.repeat([run.law.manning[HIGH] for run in water.runs], counts),
        grain84=np.repeat([run.law.grain84 for run in water.runs], counts),
        deeper=np.repeat([run.law.factor[HIGH] * np.hypot(1.0, run.stretch.slope) for run in water.runs], counts),
        visible=water.flows[number] - water.hidden[HIGH, number, here],
    )
    bed = at.bed[here]
    uniform = bed + stony.height(np.array([0.0, *shares])[:, None])
    before = np.maximum(water.level[HIGH, number, here], uniform[0])
    edge = np.minimum(at.settled_left[here], at.settled_right[here])
    level = np.maximum(before, uniform[1:])
    left = edge_over_water.over(edge, level)
    under = np.where(before >= edge, 0.0, stony.share_for(edge - bed))
    found: list[Blocked] = []
    for run, mine in zip(water.runs, np.split(np.arange(len(here)), np.cumsum(counts)[:-1]), strict=True):
        first = mine[np.argmin(under[mine])]
        found.append(
            Blocked(
                run=run,
                flow=water.names[number],
                shares=shares,
                rise=(level - before)[:, mine].max(axis=1),
                left=left[:, mine].min(axis=1),
                under=float(under[first]),
                chainage=float(at.chainage[here[first]]),
            )
        )
    return tuple(found)


def _largest(waters: tuple[Water, ...]) -> tuple[int, int]:
    """The water with the largest flow, and that flow's number."""
    which = max(range(len(waters)), key=lambda place: waters[place].flows.max(initial=0.0))
    return which, int(np.argmax(waters[which].flows))


def _run(course: SetOutCourse, water: Water, number: int, run: RunWater, density: Density) -> RunStones:
    across, slope = unit_flow(float(water.flows[number]), run.run.width), run.stretch.slope
    depth = water.uniform[:, number, run.stations.start]
    area = wetted_area.over(run.run.width, depth, course.side_slope)
    radius = hydraulic_radius.over(area, wetted_perimeter.over(run.run.width, depth, course.side_slope))
    law = law_for(slope)
    stays = np.broadcast_to(_stays(law, across, slope, radius, density), BANDS)
    wanted = safe_size(float(stays.max()), SIZE_SAFETY.amount)
    return RunStones(
        run=run,
        unit_flow=across,
        radius=radius,
        law=law,
        stays=stays,
        wanted=wanted,
        mass=ball_mass(density, wanted),
        have=run.law.grain50,
        tested=not _TESTED[law].outside(slope=slope),
    )


def law_for(slope: Ratio) -> Law:
    """The law that holds on a slope: shear on gentle ones, where no chute was tested; else the chutes' two branches."""
    if slope < gentle_chute_size.limits["slope"][0]:
        return "shields_size"
    return "gentle_chute_size" if slope < steep_chute_size.limits["slope"][0] else "steep_chute_size"


def _stays(law: Law, across: UnitFlow, slope: Ratio, radius: FloatArray, density: Density) -> FloatArray:
    if law == "shields_size":
        return shields_size.over(radius, slope, relative_density(density), critical_shields(slope))
    chute = gentle_chute_size if law == "gentle_chute_size" else steep_chute_size
    return np.array(chute(across, slope))


def _foot(course: SetOutCourse, fall: Fall, number: int, density: Density) -> Foot:
    sheet, lip = fall.sheet, fall.lip
    if sheet is None:
        message = f"{lip.name} has no fall"
        raise ValueError(message)
    velocity = float(impact_velocity(energy_over_floor(lip.drop, float(fall.critical[number]))))
    wanted = isbash_size.over(velocity, relative_density(density), np.array([ISBASH.high, ISBASH.low]))
    near, far = (lip.chainage + float(landing[number]) for landing in (sheet.landed.near, sheet.landed.far))
    return Foot(
        name=lip.name,
        below=sheet.below,
        velocity=velocity,
        wanted=wanted,
        mass=ball_mass.over(density, wanted),
        taken=bool(sheet.basin.pool_depth[number] >= sheet.basin.tailwater_high[number]),
        zone=(near, far),
        have=_median_below(course, lip.chainage) if sheet.below in ("stones", "boulders") else None,
    )


def _median_below(course: SetOutCourse, chainage: Length) -> Length:
    """Median size of the run that begins at a lip."""
    reach = next(s.reach for s in course.stretches if s.start == chainage and isinstance(s.reach, Run))
    return grain_sizes(reach.bed)[1]


def _wants_fixing(foot: Foot) -> bool:
    """Bare stone cannot move, and a bed as large as rough water wants will not."""
    return foot.moves if foot.have is not None else foot.below != "bare stone"


def _fix_run(run: RunStones) -> Fix:
    stretch = run.run.stretch
    return Fix(
        place=run.run.run.name,
        span=(stretch.start, stretch.end),
        wanted=(run.wanted, run.wanted),
        mass=(run.mass, run.mass),
        have=run.have,
    )


def _fix_foot(foot: Foot) -> Fix:
    (low, high), (light, heavy) = foot.wanted, foot.mass
    where = "landing of" if foot.taken or foot.below != "pool" else "pool under"
    return Fix(
        place=f"{where} {foot.name}",
        span=foot.zone,
        wanted=(float(low), float(high)),
        mass=(float(light), float(heavy)),
        have=foot.have,
    )


@value
class _Stony:
    """Every station with stones, side by side; ``deeper`` turns a uniform depth into a height over the bed."""

    width: FloatArray
    side_slope: Ratio
    gradient: FloatArray
    manning: FloatArray
    grain84: FloatArray
    deeper: FloatArray
    visible: FloatArray

    def narrowed(self, closed: FloatArray) -> Channel:
        """The channels with a share of their bed closed."""
        return Channel(
            width=(1 - closed) * self.width,
            side_slope=self.side_slope,
            gradient=self.gradient,
            manning=self.manning,
            grain84=self.grain84,
        )

    def height(self, closed: FloatArray) -> FloatArray:
        """Height of the visible water over the bed; minus infinity where none shows."""
        depth = normal_depth(self.narrowed(closed), self.visible)
        return np.where(depth > 0, self.deeper * depth, -np.inf)

    def share_for(self, height: FloatArray) -> FloatArray:
        """Share closed at which the water stands so high; 1 where the sides alone carry it.

        Halved in, for a wider bed carries more at one depth.
        """
        depth = np.maximum(height / self.deeper, np.finfo(float).tiny)
        free, closed = np.zeros_like(depth), np.ones_like(depth)
        for _ in range(_HALVINGS):
            trial = (free + closed) / 2
            carries = discharge_at(self.narrowed(trial), depth) >= self.visible
            free, closed = np.where(carries, trial, free), np.where(carries, closed, trial)
        return np.where(closed == 1.0, 1.0, free)
