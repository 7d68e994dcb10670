"""What lies in sight of a window: nothing else needs drawing through it."""

from beckwright.base.quantities import FloatArray
from beckwright.papers.drawing import Circle, Millimetres, Plain, Polyline, Text
from beckwright.papers.labels import text_extent

Extent = tuple[Millimetres, Millimetres, Millimetres, Millimetres]
"""Left, low, right, high."""


def meets(part: Plain, sight: Extent) -> bool:
    """Tell whether a mark may show inside a rim: their upright boxes touch."""
    left, low, right, high = _extent(part)
    return left <= sight[2] and sight[0] <= right and low <= sight[3] and sight[1] <= high


def about(points: FloatArray, spare: Millimetres = 0.0) -> Extent:
    """The upright box about points (n, 2), so much wider on every side."""
    xs, ys = points.T.tolist()
    return min(xs) - spare, min(ys) - spare, max(xs) + spare, max(ys) + spare


def _extent(part: Plain) -> Extent:
    """The upright box about a mark. Plain numbers: most marks have few points, and there are tens of thousands."""
    match part:
        case Circle():
            (x, y), spare = part.at, part.radius + (part.pen.width / 2 if part.pen else 0.0)
            return x - spare, y - spare, x + spare, y + spare
        case Polyline():
            return about(part.points, part.pen.width / 2 if part.pen else 0.0)
        case Text():
            return text_extent(part)
