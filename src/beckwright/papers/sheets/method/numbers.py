"""Numbers the method sheet picks out of the design: the deepest dig, the heaviest sheet, where water stands deepest."""

from beckwright.base.quantities import Length, Mass
from beckwright.base.values import value
from beckwright.compose import Design, Works
from beckwright.job.model import Pool
from beckwright.stages.water.beds import HIGH


@value
class Standing:
    """Standing water: its greatest depth, and whether that is only reached while it runs."""

    where: str
    depth: Length
    running: bool


@value
class Waters:
    """Open water, the deepest first, and what stands under the cover."""

    open: tuple[Standing, ...]
    covered: Standing


def standing_waters(design: Design) -> Waters:
    """Depth of water over the floor of each pool, of the outlet box, and of the reservoir, at the most it ever holds.

    Pools and box at the strongest flow there is, high end of the laws' band; the reservoir up to its overflow. One with
    nothing in it but water is told among the open ones: only its cover keeps a child out.
    """
    runs = [water for water in (design.water, design.flat_out) if len(water.flows)]
    found = []
    for row, pool in enumerate(design.water.pools):
        rise = max(float(water.pools[row].level[HIGH].max()) for water in runs) - pool.rim
        depth = next(each.reach.depth for each in design.course.of_kind(Pool) if each.reach.name == pool.name)  # type: ignore[union-attr]
        found.append(Standing(where=pool.name, depth=depth + max(rise, 0.0), running=True))
    head = max(float(water.lips[0].head[HIGH].max()) for water in runs)
    found.append(Standing(where="outlet box", depth=design.job.source.box_depth + head, running=True))
    pit = design.reservoir.pit
    covered = Standing(where="reservoir", depth=max(pit.rested, pit.overflow) - pit.sump_floor, running=False)
    if design.job.reservoir.fill == "open":
        found.append(covered)
    return Waters(open=tuple(sorted(found, key=lambda each: -each.depth)), covered=covered)


def deepest_dig(works: Works) -> tuple[Length, Length]:
    """The deepest cut of the stream below the ground at its pegs, and its chainage."""
    rows = [(dug.lift, peg.chainage) for peg in works.setting_out.pegs for dug in peg.dug]
    deep, where = max(rows)
    return max(deep, 0.0), where


def heaviest_sheet(works: Works) -> tuple[str, Mass, int | None]:
    """The heaviest piece of lining, and how many people the filter for strong carriers asks for; None beyond three."""
    pit = works.lining.pit
    rows = [("the pit's", pit.mass, pit.people[0])]
    rows += [(f"piece {piece.letter}", piece.mass, piece.people[0]) for piece in works.lining.pieces]
    return max(rows, key=lambda row: row[1])
