"""The long section moment by moment: how high water stands in every node of the course, read off a film's frames."""

import numpy as np

from beckwright.base.quantities import BoolArray, FloatArray, Lengths, Levels
from beckwright.base.values import value
from beckwright.compose import Design
from beckwright.film.asked import Asked
from beckwright.film.nodes import Loop, Nodes
from beckwright.film.stories import filming
from beckwright.film.together import do
from beckwright.film.values import Film, Story
from beckwright.job.model import Pool
from beckwright.stages.water.beds import MIDDLE


@value
class Section:
    """Levels along the course, t frames and n places, source first.

    seconds   (t,) those of the film
    chainage  (n,) of the places; pools stand at their middle
    pools     (n,) which of them are pools
    floor     (n,) lining under the stones, or floor of box or pool
    top       (n,) bed, lip or rim
    level     (t, n) of the water; that of the floor where there is none
    """

    seconds: FloatArray
    chainage: Lengths
    pools: BoolArray
    floor: Levels
    top: Levels
    level: FloatArray


def film_section(
    design: Design, story: Story, flow: str, *, end: int = MIDDLE, topped_up: bool = False
) -> tuple[Film, Section]:
    """A film, and the long section at every frame of it; the words are those of ``film``.

    Box and pools are taken for upright-walled up to their rim, stones for evenly full: levels that hold the film's
    water exactly, not a surface that bends within a stone's width. Raises what ``film`` raises.
    """
    asked = Asked(story=story, end=end, topped_up=topped_up)
    film, nodes, held = do(filming(Loop(design), flow, asked))
    course = slice(1, nodes.foot + 1)
    floor = _floors(design, nodes)
    return film, Section(
        seconds=film.seconds,
        chainage=nodes.chainage[course],
        pools=np.array([kind == "pool" for kind in nodes.kinds])[course],
        floor=floor[course],
        top=nodes.top[course],
        level=_levels(nodes, floor, held)[:, course],
    )


def _floors(design: Design, nodes: Nodes) -> Levels:
    """The lining under every node (m,); under box and pools their own floor."""
    floor = nodes.lining.copy()
    pools = [stretch.reach for stretch in design.course.stretches if isinstance(stretch.reach, Pool)]
    floor[nodes.of("box")] -= design.job.source.box_depth
    for number, pool in zip(nodes.of("pool"), pools, strict=True):
        floor[number] -= pool.depth
    return floor


def _levels(nodes: Nodes, floor: Levels, held: FloatArray) -> FloatArray:
    """Level in every node for the water in it, (t, m)."""
    content = held / nodes.length
    holds = np.isfinite(nodes.below) & (nodes.below > 0)
    full = np.where(holds, nodes.below, 1.0)
    under = np.where(holds, np.clip(content / full, 0.0, 1.0), 1.0)
    over = np.maximum(content - np.where(np.isfinite(nodes.below), nodes.below, np.inf), 0.0)
    half = nodes.width / 2.0
    depth = over / (half + np.sqrt(half**2 + nodes.side_slope * over))
    levels: FloatArray = floor + (nodes.top - floor) * under + depth
    return levels
