"""The marks of the lining on its flat sheet: strip, edges, lips, laps, pleats, pieces. Metres, in a frame of choice."""

from collections.abc import Iterator

import numpy as np

from beckwright.base.quantities import Angle, FloatArray, Length, Points
from beckwright.base.values import value
from beckwright.base.words import number_in, short_height
from beckwright.papers import pens
from beckwright.papers.drawing import BLACK, RED, WHITE, Mark, Millimetres, Pen, Point, Polyline, Stamp, Text, Window
from beckwright.papers.labels import Box, Label
from beckwright.stages.lining import Fold, Lap, Lining, Piece, Slack, Strip
from beckwright.stages.lining.flat import trace

STRIP_FILL = "#F1F1EC"
LAP_PEN = Pen(width=0.5, colour=RED)
PLEAT_PEN = Pen(width=0.35, dash=(1.6, 0.9))
GORE_PEN = Pen(width=0.5)
SLACK_HATCH = pens.slanted(2.4, BLACK)
LAP_HATCH = pens.slanted(1.8, RED, width=0.25)
BOX_EVERY: Length = 0.1
"""Bits of the strip that words keep off, m at a scale of 1:50."""
EDGE_EVERY: Millimetres = 2.0
PLEAT_LONG = 0.35
"""Length of a pleat up the bank as drawn, share of the half width."""


@value
class FlatFrame:
    """A frame on the flat sheet: its corner and the way its x runs."""

    corner: tuple[Length, Length]
    turn: Angle

    def seen(self, points: Points) -> Points:
        """Points of the flat sheet in this frame."""
        cosine, sine = np.cos(self.turn), np.sin(self.turn)
        moved = np.asarray(points, dtype=float).reshape(-1, 2) - self.corner
        seen: Points = moved @ np.array([[cosine, -sine], [sine, cosine]])
        return seen


def whole_frame(strip: Strip) -> FlatFrame:
    """The strip with its ends level, water running right."""
    east, north = strip.middle[-1] - strip.middle[0]
    return FlatFrame(corner=(0.0, 0.0), turn=float(np.arctan2(north, east)))


def piece_frame(piece: Piece) -> FlatFrame:
    """A piece square on the paper, water running right."""
    return FlatFrame(corner=piece.corner, turn=piece.turn)


def outline(strip: Strip, frame: FlatFrame, start: Length, end: Length, *, fill: str | None = STRIP_FILL) -> Mark:
    """The strip between two distances."""
    part = trace(strip, np.array([start, end])).part(start, end)
    return Polyline(points=frame.seen(part), layer="strip", pen=pens.MEDIUM, closed=True, fill=fill)


def middle_line(strip: Strip, frame: FlatFrame, start: Length, end: Length) -> Mark:
    """The middle of the bed, dash and dot."""
    inside = strip.along[(strip.along > start) & (strip.along < end)]
    return Polyline(points=frame.seen(strip.at(np.array([start, *inside, end]))), layer="centre line", pen=pens.CENTRE)


def across(strip: Strip, frame: FlatFrame, place: Length) -> Points:
    """Left and right end of the strip at a distance along it, (2, 2)."""
    ends = [
        [float(np.interp(place, strip.along, side[:, axis])) for axis in (0, 1)] for side in (strip.left, strip.right)
    ]
    return frame.seen(np.array(ends))


def band_of(strip: Strip, frame: FlatFrame, start: Length, end: Length) -> Points:
    """Outline of a short bit of the strip."""
    part = trace(strip, np.array([start, end])).part(start, end)
    return frame.seen(part)


def lap_marks(strip: Strip, frame: FlatFrame, lap: Lap) -> tuple[Mark, ...]:
    """A lap, hatched red."""
    band = band_of(strip, frame, lap.start, lap.end)
    return (Polyline(points=band, layer="laps", pen=LAP_PEN, closed=True, hatch=LAP_HATCH),)


def slack_marks(strip: Strip, frame: FlatFrame, slack: Slack) -> tuple[Mark, ...]:
    """An upright face with its loose sheet, hatched black."""
    start = slack.along - slack.face - slack.slack
    band = band_of(strip, frame, max(start, 0.0), slack.along)
    return (Polyline(points=band, layer="faces", pen=pens.THIN, closed=True, hatch=SLACK_HATCH),)


def pleat_places(lining: Lining, fold: Fold) -> FloatArray:
    """Where the pleats of one fold stand along the strip."""
    strip = lining.strip
    on_course = strip.reach >= 0
    places: FloatArray = np.interp(np.array(fold.at), strip.chainage[on_course], strip.along[on_course])
    return places


def pleat_marks(lining: Lining, frame: FlatFrame, start: Length, end: Length) -> Iterator[Mark]:
    """Wedges on the bank, apex towards the bed: dashed to be folded, whole to be cut out."""
    strip = lining.strip
    for fold in lining.folds:
        for place in pleat_places(lining, fold).tolist():
            if not start + 0.05 <= place <= end - 0.05:
                continue
            ends = across(strip, frame, place)
            outer, inner = (ends[0], ends[1]) if fold.side == "left" else (ends[1], ends[0])
            apex = outer + (inner - outer) * PLEAT_LONG / 2
            way = across(strip, frame, min(place + 0.05, end)).mean(axis=0) - ends.mean(axis=0)
            way = way / max(float(np.hypot(*way)), 1e-9) * max(fold.flap, 0.04)
            wedge = np.array([outer - way, apex, outer + way])
            yield Polyline(points=wedge, layer="pleats", pen=GORE_PEN if fold.gores else PLEAT_PEN)


def metre_ticks(strip: Strip, frame: FlatFrame, start: Length, end: Length, every: int) -> Iterator[Mark]:
    """A stroke across the middle line at whole metres of chainage, with its number."""
    for metre, place in metre_places(strip, start, end, every):
        ends = across(strip, frame, place)
        way = ends[0] - ends[1]
        stroke = Polyline(points=np.array([(0.0, -0.9), (0.0, 0.9)]), layer="centre line", pen=pens.MEDIUM)
        number = Text(at=(0.0, 1.6), words=str(metre), height=1.8, layer="text", across="middle", halo=0.3, weight=600)
        turn = float(np.arctan2(way[1], way[0]) - np.pi / 2)
        yield Stamp(at=_point(strip_middle(strip, frame, place)), marks=(stroke, number), turn=turn)


def metre_places(strip: Strip, start: Length, end: Length, every: int) -> Iterator[tuple[int, Length]]:
    """Whole metres of the course between two distances along the strip."""
    course = (strip.reach >= 0) & (strip.reach < strip.reach[-1])
    chainage, along = strip.chainage[course], strip.along[course]
    for metre in range(0, int(chainage[-1]) + 1, every):
        # Above a step's face, not below it: the first of two rows at the same chainage.
        place = (
            float(along[np.searchsorted(chainage, metre)])
            if metre in chainage
            else float(np.interp(metre, chainage, along))
        )
        if start <= place <= end:
            yield metre, place


def strip_middle(strip: Strip, frame: FlatFrame, place: Length) -> Points:
    """The middle of the bed at a distance along, (1, 2)."""
    return frame.seen(strip.at(np.array([place])))


def piece_outline(piece: Piece, frame: FlatFrame) -> Mark:
    """A piece's rectangle, the heaviest line."""
    return Polyline(points=frame.seen(piece.corners()), layer="pieces", pen=pens.LINER, closed=True)


def letter_stamp(at: Point, letter: str, height: float) -> Stamp:
    """The letter to spray, in a box, and an arrow that points upstream."""
    wide = height * (1.3 + 0.75 * len(letter))
    box = np.array([(-wide / 2, -height), (wide / 2, -height), (wide / 2, height), (-wide / 2, height)])
    tail, tip = -wide / 2, -wide / 2 - 1.6 * height
    head = np.array([(tip, 0.0), (tip + 0.7 * height, 0.4 * height), (tip + 0.7 * height, -0.4 * height)])
    return Stamp(
        at=at,
        marks=(
            Polyline(points=np.array([(tail, 0.0), (tip, 0.0)]), layer="letters", pen=Pen(width=max(0.35, height / 8))),
            Polyline(points=head, layer="letters", pen=pens.THIN, closed=True, fill=BLACK),
            Polyline(points=box, layer="letters", pen=pens.MEDIUM, closed=True, fill=WHITE),
            Text(at=(0.0, 0.0), words=letter, height=height, weight=700, across="middle", up="middle", layer="letters"),
        ),
    )


def _mm(length: Length) -> str:
    return short_height(length)


def face_words(slack: Slack) -> str:
    """What is told at an upright face."""
    return f"{slack.place}: {_mm(slack.face)} + {_mm(slack.slack)} loose"


def lap_words(number: int, lap: Lap) -> str:
    """What is told at a lap: its length, how it is made, and how it stands to the water."""
    stands = f"{_mm(abs(lap.height))} {'under' if lap.height < 0 else 'over'} water"
    return f"lap {number}: {_mm(lap.end - lap.start)}, {'bond' if lap.bonded else 'loose'}; {stands}"


def label_at(points: Points, words: str, *, colour: str = BLACK, height: float = 2.0, priority: int = 0) -> Label:
    """Words that want to stand at the first of some points."""
    return Label(at=_point(points), words=words, height=height, colour=colour, priority=priority, gap=1.2)


def _point(points: Points) -> Point:
    return float(points[0][0]), float(points[0][1])


def strip_boxes(strip: Strip, frame: FlatFrame, window: Window, start: Length, end: Length) -> list[Box]:
    """Boxes on the paper over the strip, for words to keep off: it winds, so one for every short bit."""
    places = np.arange(start, end, BOX_EVERY * window.scale / 50.0)
    boxes = []
    for place in [*places.tolist(), end]:
        seen = window.on_paper(across(strip, frame, place))
        (left, low), (right, high) = seen.min(axis=0).tolist(), seen.max(axis=0).tolist()
        boxes.append((left - 0.4, low - 0.4, right + 0.4, high + 0.4))
    return boxes


def shown_chainages(piece: Piece) -> str:
    """From where to where a piece lies, as the crew reads it."""
    start, end = piece.chainage
    return f"{'box' if start < 0 else format(number_in(start, 'm'), '.1f')} to {number_in(end, 'm'):.1f}"


def edge_boxes(piece: Piece, frame: FlatFrame, window: Window) -> list[Box]:
    """Boxes on the paper along the sides of a piece, for words to keep off."""
    corners = window.on_paper(frame.seen(piece.corners()))
    boxes = []
    for start, end in zip(corners, np.roll(corners, -1, axis=0), strict=True):
        count = int(np.hypot(*(end - start)) / EDGE_EVERY) + 1
        for east, north in start + (end - start) * (np.arange(count) / count)[:, None]:
            boxes.append((float(east) - 0.6, float(north) - 0.6, float(east) + 0.6, float(north) + 0.6))
    return boxes
