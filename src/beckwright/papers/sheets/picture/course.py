"""The whole course cut along the water, a ribbon for each flow in one box: by day, and by night with its lamps."""

from beckwright.base.quantities import Ratio
from beckwright.base.values import value
from beckwright.compose import Design, Works
from beckwright.papers.drawing import Mark, Millimetres, Point, Polyline, View, Window, rectangle
from beckwright.papers.sheets.picture import ribbon as drawn
from beckwright.papers.sheets.picture.colours import DARK, DAY
from beckwright.papers.sheets.picture.flows import rounded_up
from beckwright.papers.sheets.picture.night import beams, lamp_marks, lit_lips, lit_stations
from beckwright.stages.water.beds import MIDDLE

CAPTIONS: Millimetres = 46.0
"""Room for words at the left of the ribbons."""
ABOVE, BESIDE = 8.0, 7.0
LEAST_PITCH, MOST_PITCH = 13.0, 24.0
TALLER = (3.0, 2.5, 2.0, 1.5, 1.0)
DEEPER = (10.0, 8.0, 6.0, 5.0, 4.0, 3.0, 2.5, 2.0, 1.5, 1.0)
"""How much taller heights may be drawn than lengths, and running water again than heights."""
DEEPEST: Millimetres = 4.0
FILLS: Ratio = 0.4
"""Running water drawn deeper takes no more than this of a drop: a free fall must not look drowned."""


@value
class Ribbons:
    """How the ribbons of one box lie.

    along   lengths 1 to so much; heights ``taller`` than that, running water ``deeper`` again
    pitch   of the ribbons on the paper
    top     level of the course's highest point
    """

    corner: Point
    size: Point
    along: Ratio
    taller: Ratio
    deeper: Ratio
    pitch: Millimetres
    top: float

    def window(self, place: int) -> Window:
        """The box seen so that the ribbon at a place, 0 the uppermost, lies where it belongs."""
        at = (self.corner[0] + CAPTIONS, self.start(place))
        up = self.along / self.taller
        return Window(
            corner=self.corner, size=self.size, scale=self.along, scale_up=up, origin=(0.0, self.top), origin_at=at
        )

    def start(self, place: int) -> Millimetres:
        """Height on the paper at which the course of a ribbon begins."""
        return self.corner[1] + self.size[1] - ABOVE - place * self.pitch


def ribbons_of(design: Design, flows: tuple[int, ...], corner: Point, size: Point) -> Ribbons:
    """Lay the ribbons out in a box: as long as there is room, then as tall, then the water as deep."""
    at = design.course.stations
    along = rounded_up(1000.0 * design.course.length / (size[0] - CAPTIONS - drawn.RESERVOIR - BESIDE))
    top = float(at.rim.max())
    down = top - min(float((at.bed - at.stone).min()), design.course.end_level)

    def apart(taller: Ratio) -> Millimetres:
        room = size[1] - ABOVE - drawn.EARTH_DEEP - 2.0 - 1000.0 * down * taller / along
        return room / max(len(flows) - 1, 1)

    taller = next((each for each in TALLER if apart(each) >= LEAST_PITCH), TALLER[-1])
    deeper = _deeper(design, flows, along / taller)
    pitch = min(apart(taller), MOST_PITCH)
    return Ribbons(corner=corner, size=size, along=along, taller=taller, deeper=deeper, pitch=pitch, top=top)


def _deeper(design: Design, flows: tuple[int, ...], up: Ratio) -> Ratio:
    at, water = design.course.stations, design.water
    over = (water.level[MIDDLE] - at.rim)[list(flows)]
    room = [DEEPEST * up / 1000.0 / max(float(over.max()), 1e-6)]
    for lip in water.lips:
        below = drawn.first_below(design, lip.name)
        if below is not None:
            room.append(FILLS * lip.drop / max(float(over[:, below].max()), 1e-6))
    return next((each for each in DEEPER if each <= min(room)), DEEPER[-1])


def day_views(design: Design, works: Works, lie: Ribbons, flows: tuple[int, ...]) -> tuple[View, ...]:
    """A view for each flow, each over the same box."""
    return tuple(
        View(name=f"course by day {flow + 1}", window=lie.window(place), marks=_day(design, works, lie, place, flow))
        for place, flow in enumerate(flows)
    )


def night_views(design: Design, works: Works, lie: Ribbons, flows: tuple[int, ...]) -> tuple[View, ...]:
    """The same on dark ground: the lamps of the job where they stand, water white where their light meets it."""
    return tuple(
        View(
            name=f"course by night {flow + 1}", window=lie.window(place), marks=_night(design, works, lie, place, flow)
        )
        for place, flow in enumerate(flows)
    )


def _day(design: Design, works: Works, lie: Ribbons, place: int, flow: int) -> tuple[Mark, ...]:
    window = lie.window(place)
    return (
        *drawn.earth(design, window, DAY),
        *drawn.water(design, flow, lie.deeper, DAY),
        *drawn.stones(design, works, window, DAY),
        *drawn.falls(design, flow, lie.deeper, DAY, frozenset()),
    )


def _night(design: Design, works: Works, lie: Ribbons, place: int, flow: int) -> tuple[Mark, ...]:
    window, lit = lie.window(place), lit_stations(design, works)
    box = rectangle(lie.corner, lie.size)
    sky = Polyline(points=window.on_site(box), layer="sky", closed=True, fill=DARK.sky)
    return (
        *((sky,) if place == 0 else ()),
        *beams(design, works),
        *drawn.earth(design, window, DARK),
        *drawn.water(design, flow, lie.deeper, DARK),
        *drawn.stones(design, works, window, DARK),
        *drawn.lit_water(design, flow, lie.deeper, window, lit),
        *drawn.falls(design, flow, lie.deeper, DARK, lit_lips(works)),
        *lamp_marks(design, works),
    )
