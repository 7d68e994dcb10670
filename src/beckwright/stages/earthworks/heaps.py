"""Heaps of loose soil: how large they are, and where they lie clear of everything they must keep off."""

import math
from collections.abc import Iterator
from functools import reduce
from typing import TYPE_CHECKING

import numpy as np

from beckwright.base.quantities import IntArray, Length, Lengths, Points, Ratio, Volume
from beckwright.base.values import value
from beckwright.equations.earthworks import cone_radius, flat_heap_radius, loose_volume
from beckwright.job.model import Holds, Job, WishedHeap
from beckwright.stages.earthworks.trench import Outlines, line_of
from beckwright.stages.earthworks.values import Heap, SoilBalance
from beckwright.stages.ground import Ground
from beckwright.stages.surroundings import Surroundings
from beckwright.tables.practice import SPOIL_CLEARANCE
from beckwright.tables.soils import BULKING, REPOSE

if TYPE_CHECKING:
    from shapely.geometry.base import BaseGeometry

PLACES_ALONG = 20
"""Places tried along the longer side of the survey."""

MOST_HEAPS = 4
"""Soil is parted into no more heaps than this to find it room."""


@value
class KeepOff:
    """One thing a heap's foot stays ``clearance`` away from."""

    name: str
    shape: "BaseGeometry"
    clearance: Length


@value
class Size:
    """A round heap."""

    radius: Length
    height: Length


def heap_size(volume: Volume, tallest: Length, slope: Ratio) -> Size:
    """A cone at its angle of repose, its top taken off where it would be taller than wanted."""
    radius = float(cone_radius(volume, slope))
    if radius <= slope * tallest:
        return Size(radius=radius, height=radius / slope)
    return Size(radius=float(flat_heap_radius(volume, tallest, slope)), height=tallest)


def lay_heaps(
    job: Job, ground: Ground, around: Surroundings, works: Outlines, balances: tuple[SoilBalance, ...]
) -> tuple[Heap, ...]:
    """Heaps where they are wished, else where there is room, sized as if all was dug before any is put back."""
    keep_off = list(_keep_off(job, around, works))
    places = _this_side(job, _places(job, ground))
    room = _room(ground, places, keep_off)
    heaps: tuple[Heap, ...] = ()
    for balance in balances:
        loose = loose_volume(balance.dug, BULKING[balance.soil].amount)
        if loose <= 0:
            continue
        wished = [heap for heap in job.earthworks.heaps if heap.holds == balance.holds]
        if wished:
            size = _size(job, balance, loose / len(wished))
            laid = tuple(_checked(ground, heap, size, loose / len(wished), keep_off, heaps) for heap in wished)
        else:
            laid = _placed(job, balance, loose, places, room)
        room = reduce(lambda left, heap: _beside(left, places, heap), laid, room)
        heaps += laid
    return heaps


def _size(job: Job, balance: SoilBalance, volume: Volume) -> Size:
    return heap_size(volume, job.earthworks.heap_height, REPOSE[balance.soil].amount)


def _keep_off(job: Job, around: Surroundings, works: Outlines) -> Iterator[KeepOff]:
    import shapely

    yield KeepOff(name="the edge of the pit", shape=works.pit, clearance=SPOIL_CLEARANCE.amount)
    yield KeepOff(name="the stream and its banks", shape=works.course, clearance=0.0)
    if not works.trench.is_empty:
        yield KeepOff(name="the hose trench", shape=works.trench, clearance=0.0)
    for circle in around.circles:
        name = f"the root circle of {circle.tree.name}, {circle.tree.species}"
        yield KeepOff(name=name, shape=shapely.Point(circle.tree.at), clearance=circle.radius)
    for service in job.site.services:
        yield KeepOff(name=service.name, shape=line_of(np.array(service.line)), clearance=service.clearance)
    for boundary in job.site.boundaries:
        yield KeepOff(name=boundary.name, shape=line_of(np.array(boundary.line)), clearance=boundary.clearance)


@value
class Room:
    """How far n places are from the nearest thing, its clearance taken off, and which of ``names`` that is: (n,)."""

    clear: Lengths
    of: IntArray
    names: tuple[str, ...]


def _room(ground: Ground, places: Points, keep_off: list[KeepOff]) -> Room:
    import shapely

    points = shapely.points(places)
    shapely.prepare([thing.shape for thing in keep_off])
    distances = [shapely.distance(points, thing.shape) - thing.clearance for thing in keep_off]
    stacked = np.array([_inside_survey(ground, places), *distances])
    names = ("the edge of the survey", *(thing.name for thing in keep_off))
    return Room(clear=stacked.min(axis=0), of=stacked.argmin(axis=0), names=names)


def _inside_survey(ground: Ground, places: Points) -> Lengths:
    """How far places lie inside the outline of the survey, which is convex; below 0 outside."""
    side = np.roll(ground.hull, -1, axis=0) - ground.hull
    away = places[:, None] - ground.hull
    distances = (side[:, 0] * away[..., 1] - side[:, 1] * away[..., 0]) / np.hypot(*side.T)
    least: Lengths = distances.min(axis=1)
    return least


def _beside(room: Room, places: Points, heap: Heap) -> Room:
    """The room that a heap leaves."""
    away = np.hypot(*(places - np.array(heap.at)).T) - heap.radius
    return Room(
        clear=np.minimum(room.clear, away),
        of=np.where(away < room.clear, len(room.names), room.of),
        names=(*room.names, heap.name),
    )


def _checked(
    ground: Ground, wished: WishedHeap, size: Size, loose: Volume, keep_off: list[KeepOff], heaps: tuple[Heap, ...]
) -> Heap:
    at = np.array([wished.at])
    room = reduce(lambda left, heap: _beside(left, at, heap), heaps, _room(ground, at, keep_off))
    return _heap(wished.name, wished.holds, at[0], size, loose, room, 0, wished=True)


def _placed(job: Job, balance: SoilBalance, loose: Volume, places: Points, room: Room) -> tuple[Heap, ...]:
    """As few heaps as find room, near the pit for subsoil and near the outlet box for topsoil."""
    start = np.array(job.reservoir.centre) if balance.holds == "subsoil" else job.course.line[0]
    nearest = np.hypot(*(places - start).T)
    best_yet: tuple[Heap, ...] = ()
    for count in range(1, MOST_HEAPS + 1):
        size = _size(job, balance, loose / count)
        laid: tuple[Heap, ...] = ()
        left = room
        for number in range(1, count + 1):
            clear = left.clear >= size.radius
            best = int(np.argmin(np.where(clear, nearest, np.inf))) if clear.any() else int(np.argmax(left.clear))
            name = f"{balance.holds} heap" if count == 1 else f"{balance.holds} heap {number}"
            heap = _heap(name, balance.holds, places[best], size, loose / count, left, best, wished=False)
            laid, left = (*laid, heap), _beside(left, places, heap)
        if not best_yet or _least(laid) > _least(best_yet):
            best_yet = laid
        if _least(laid) >= 0:
            break
    return best_yet


def _least(heaps: tuple[Heap, ...]) -> Length:
    return min(heap.clear for heap in heaps)


def _heap(
    name: str, holds: Holds, at: Points, size: Size, loose: Volume, room: Room, place: int, *, wished: bool
) -> Heap:
    return Heap(
        name=name,
        holds=holds,
        at=(float(at[0]), float(at[1])),
        radius=size.radius,
        height=size.height,
        loose=loose,
        wished=wished,
        clear=float(room.clear[place]) - size.radius,
        of=room.names[room.of[place]],
    )


def _places(job: Job, ground: Ground) -> Points:
    """A square grid of places on the survey, turned as the pit is so that it turns with the job."""
    cosine, sine = math.cos(job.reservoir.turned), math.sin(job.reservoir.turned)
    axes = np.array([[cosine, sine], [-sine, cosine]])
    outline = ground.hull @ axes.T
    low, size = outline.min(axis=0), np.ptp(outline, axis=0)
    cells = np.ceil(size / size.max() * PLACES_ALONG)
    along, across = (low[axis] + size[axis] * (0.5 + np.arange(cells[axis])) / cells[axis] for axis in (0, 1))
    grid: Points = np.stack(np.meshgrid(along, across), axis=-1).reshape(-1, 2) @ axes
    inside = _inside_survey(ground, grid) > 0
    return grid[inside] if inside.any() else ground.hull.mean(axis=0)[None]


def _this_side(job: Job, places: Points) -> Points:
    """Places that are not beyond a boundary, looked at from the pit; all of them where none is left."""
    import shapely

    if not job.site.boundaries:
        return places
    from_pit = np.stack([np.broadcast_to(job.reservoir.centre, places.shape), places], axis=1)
    walls = shapely.union_all([line_of(np.array(boundary.line)) for boundary in job.site.boundaries])
    hidden = shapely.intersects(shapely.linestrings(from_pit), walls)
    return places if hidden.all() else places[~hidden]
