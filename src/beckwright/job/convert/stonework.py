"""How stone is set, and the pump's chamber, from as written to SI."""

from beckwright.base.quantities import Length
from beckwright.job.convert.shared import length_or_none, pair
from beckwright.job.model import Chamber, StoneWork
from beckwright.job.units import MILLIMETRE, PERCENT, SQUARE_CENTIMETRE, TONNE
from beckwright.job.written import Written
from beckwright.tables.stonework import JOINT_FILLS, MIDDLE_AXIS, SHORT_AXIS

Sizes = tuple[Length, Length, Length]


def stonework_from(written: Written) -> StoneWork:
    """How stone is set, lifted and brought; what nobody told is read off the edge stones."""
    given, (small, large) = written.stonework, pair(written.materials.edge_stone_mm)
    boulder = (large, MIDDLE_AXIS.amount * large, SHORT_AXIS.amount * large)
    height, depth = length_or_none(given.course_height_mm), length_or_none(given.course_depth_mm)
    courses = given.courses if given.courses is not None else int(written.materials.edge_stone_kg_m > 0)
    fills = given.joint_m_per_container
    return StoneWork(
        courses=courses,
        height=small if height is None else height,
        depth=(small + large) / 2 if depth is None else depth,
        voids=given.edge_voids,
        shape=given.shape,
        lip=_sizes((given.lip_bearing_mm, given.lip_depth_mm, given.lip_thickness_mm)),
        cheek=_sizes(given.cheek_mm) if given.cheek_mm is not None else boulder if courses else None,
        pools_bed=given.pools_bed,
        on_cover=None if given.on_cover_mm is None else _sizes(given.on_cover_mm),
        waste=given.waste_percent * PERCENT,
        lorry=None if given.lorry_t is None else given.lorry_t * TONNE,
        bag=given.bulk_bag_kg,
        joint=given.joint,
        joint_fills=JOINT_FILLS[given.joint].amount if fills is None else fills,
        chart=tuple(given.lift_chart),
        chart_of=given.lift_chart_of,
        gear=given.lift_gear_kg,
    )


def chamber_from(written: Written) -> Chamber:
    """The pump's chamber. In an open reservoir it is the reservoir itself where nobody told another size."""
    given, pit = written.chamber, written.reservoir
    inside = None if given.inside_mm is None else pair(given.inside_mm)
    if inside is None and pit.fill == "open":
        inside = (pit.length_m, pit.width_m)
    return Chamber(
        inside=inside,
        wall=given.wall_mm * MILLIMETRE,
        pump=None if given.pump_mm is None else _sizes(given.pump_mm),
        slots=None if given.slots_cm2 is None else given.slots_cm2 * SQUARE_CENTIMETRE,
        lid=given.lid_kg,
        lid_pieces=given.lid_pieces,
        lid_bears=given.lid_bears_kg,
        locked=given.lid_locks,
        grille=given.grille,
        lifts_out=given.lifts_out,
    )


def _sizes(given: Sizes) -> Sizes:
    return (given[0] * MILLIMETRE, given[1] * MILLIMETRE, given[2] * MILLIMETRE)
