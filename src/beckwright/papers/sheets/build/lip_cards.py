"""Lip cards: one A5 for one lip, held by whoever beds it. Wet hands turn no page, so nothing is on its back.

The number in the middle is what the staff or the tape must read below both nails; the shim table says what each
millimetre costs.
"""

from collections.abc import Iterator

import numpy as np

from beckwright.base.quantities import FloatArray
from beckwright.base.values import value
from beckwright.base.words import (
    band,
    ends_outward,
    flow,
    headed,
    metres,
    millimetres,
    opening,
    retold,
    sizes,
    unit_called,
    with_unit,
)
from beckwright.compose import Design, Works
from beckwright.job.model import Pool
from beckwright.papers import fonts, pens
from beckwright.papers.drawing import A5_FLAT, Across, Mark, Polyline, Sheet, Text, View
from beckwright.papers.sheets.build.lip_card_views import front_view, through_view
from beckwright.papers.sheets.ground.setting_out import told_level
from beckwright.papers.sheets.shared.card_frame import (
    FOOT_HIGH,
    HEAD_HIGH,
    LEFT,
    LOW,
    RIGHT,
    TOP,
    CardTitle,
    card_bar,
    card_frame,
)
from beckwright.papers.sheets.shared.fitted import fitted
from beckwright.papers.sheets.shared.frame import notes
from beckwright.papers.sheets.shared.table import table
from beckwright.stages.falls import Fall
from beckwright.stages.setting_out import LevelToSet, Peg
from beckwright.stages.stonework import FixedStones, LipStone, ToLift

NUMERAL = 20.0
"""Height of the digits of the level, mm."""
COLUMN = LEFT + 107.0
WIDE_LEFT, WIDE_RIGHT = COLUMN - LEFT - 10.0, RIGHT - COLUMN - 5.0
BODY = TOP - HEAD_HIGH
RULES = LOW + FOOT_HIGH + 19.0
"""Top of the rules at the foot of a card."""


@value
class LipCard:
    """All that one lip's card tells: None where the job has no such thing there."""

    fall: Fall
    level: LevelToSet
    peg: Peg
    pool: Pool | None
    stone: LipStone | None
    landing: FixedStones | None
    lifts: tuple[ToLift, ...]

    @property
    def name(self) -> str:
        """As the levels are listed."""
        return self.level.what


def lip_cards(design: Design, works: Works) -> tuple[LipCard, ...]:
    """Give a card for each lip, in order downstream."""
    so, stonework = works.setting_out, works.stonework
    levels = {row.what: row for row in so.levels if row.where == "middle"}
    pegs = {peg.number: peg for peg in so.pegs}
    cards = []
    for fall in design.falls:
        lip = fall.lip.name
        level = levels.get(lip) or levels[f"{lip} lip"]
        told = (lip, f"cheeks of {lip}", f"stones at landing of {lip}")
        cards.append(
            LipCard(
                fall=fall,
                level=level,
                peg=pegs[level.peg or 0],
                pool=_pool_below(design, lip),
                stone=next((stone for stone in stonework.lips if stone.name == lip), None),
                landing=next((each for each in stonework.fixed if each.place == f"landing of {lip}"), None),
                lifts=tuple(lift for what in told for lift in stonework.lifts if lift.what == what),
            )
        )
    return tuple(cards)


def lip_card_count(design: Design) -> int:
    """One card a lip."""
    return len(design.falls)


def lip_card_sheets(design: Design, works: Works, first: int, of: int) -> tuple[Sheet, ...]:
    """All lip cards, numbered from ``first``."""
    cards = lip_cards(design, works)
    return tuple(_sheet(design, card, (place + 1, len(cards)), first + place, of) for place, card in enumerate(cards))


def _pool_below(design: Design, lip: str) -> Pool | None:
    stretches = design.course.stretches
    at = next((place for place, stretch in enumerate(stretches) if stretch.reach.name == lip), None)
    below = stretches[at + 1].reach if at is not None and at + 1 < len(stretches) else None
    return below if isinstance(below, Pool) else None


def _sheet(design: Design, card: LipCard, part: tuple[int, int], number: int, of: int) -> Sheet:
    job, lip = design.job, card.fall.lip
    front = front_view(job, card.fall, card.stone, (LEFT + 5.0, RULES + 19.0), (WIDE_LEFT, 26.0))
    through = through_view(job, card.fall, card.stone, (COLUMN, RULES + 47.5), (WIDE_RIGHT, BODY - RULES - 55.5))
    title = CardTitle(
        name=opening(card.name),
        beside=(lip.kind, f"at {metres(lip.chainage)}, peg {card.peg.number}"),
        part=f"lip card {part[0]} of {part[1]}",
        number=number,
        of=of,
    )
    return Sheet(
        name=f"lip-card-{part[0]}",
        title=f"{job.title.name}: lip card, {card.name}",
        paper=A5_FLAT,
        views=(front, through),
        marks=(
            *card_frame(job, title),
            *_level(card),
            *_captions(front, through),
            *_stones(card),
            *_water_table(design, card),
            *_rules(design, card),
        ),
        description=f"Card for bedding {card.name} of {job.title.name}: its level, width, stone, where its water lands "
        "and how the water shares itself if the lip is out of level.",
    )


def _level(card: LipCard) -> Iterator[Mark]:
    """What is read below the nails, as large as it can be; the level itself and how far off it may be beside it."""
    level, below = told_level(card.level)
    left, base = LEFT + 5.0, BODY - 28.5
    caption = f"Top of the lip, below both nails of peg {card.peg.number}" if below else "Top of the lip: level"
    yield fitted((left, BODY - 6.5), caption, WIDE_LEFT, 3.0, weight=600)
    number = below or level
    room = WIDE_LEFT - 23.0
    wide = fonts.width(number, NUMERAL, weight=700, narrow=True)
    high = NUMERAL * min(1.0, room / wide)
    yield Text(at=(left, base), words=number, height=high, weight=700, narrow=True)
    beside = left + min(wide, room) + 2.0
    unit = unit_called("m")
    yield fitted((beside, base + 12.5), f"{unit} down" if below else unit, 21.0, 5.0, weight=700)
    if below:
        yield fitted((beside, base + 6.0), "level", 25.0, 2.5)
        yield fitted((beside, base), level, 25.0, 4.0, weight=600)
    out = millimetres(card.level.tolerance)
    yield fitted((left, base - 9.9), f"± {out}: left end, middle, right end", WIDE_LEFT, 4.0, weight=700)


def _captions(front: View, through: View) -> Iterator[Mark]:
    for view, words in ((front, "Seen from downstream"), (through, "Through the lip")):
        (left, low), (wide, high) = view.window.corner, view.window.size
        up = low + high + 1.8
        yield fitted((left, up), f"{words}, 1:{view.window.scale:g}", wide - 40.0, 2.5, weight=600)
        yield from card_bar((left + wide, up), view.window.scale)
    (left, low), (wide, _) = front.window.corner, front.window.size
    yield fitted((left, low), "right bank", 20.0, 1.8)
    yield fitted((left + wide, low), "left bank", 20.0, 1.8, across="right")


def _stones(card: LipCard) -> Iterator[Mark]:
    """What is set here, how heavy, and who lifts it."""
    down = RULES + 14.6
    for words in _stone_words(card):
        yield fitted((LEFT + 5.0, down), words, WIDE_LEFT, 2.4, weight=600)
        down -= 4.2


def _stone_words(card: LipCard) -> Iterator[str]:
    lifts = {lift.what: lift for lift in card.lifts}
    name = card.fall.lip.name
    if card.stone is None:
        yield "The lip of the outlet box: adjustable, level both ways, sealed."
    else:
        yield f"Lip stone {sizes(card.stone.size)}"
        if name in lifts:
            yield f"It is {lifted(lifts[name])}"
    cheek, landing = lifts.get(f"cheeks of {name}"), lifts.get(f"stones at landing of {name}")
    if cheek is not None:
        yield f"Cheeks, {cheek.count}: {lifted(cheek)}"
    if landing is not None and card.landing is not None:
        size = band(*card.landing.size, 5.0, "mm", scale=1000.0)
        yield f"At the landing {landing.count} of {size}: {lifted(landing)}"


def lifted(lift: ToLift) -> str:
    """How heavy a stone is and who lifts it, in words."""
    mass = f"{with_unit(lift.mass, 'kg'):,.0f}"
    if lift.people is not None:
        return f"{mass}, by {'one person' if lift.people == 1 else f'{lift.people} people'}"
    if lift.machine is None:
        return f"{mass}, more than the team lifts; no lift chart is told"
    at = "" if lift.reach is None else f" at {metres(lift.reach)}"
    return f"{mass}, by machine: it lifts {with_unit(lift.machine, 'kg'):,.0f}{at}"


def _water_table(design: Design, card: LipCard) -> Iterator[Mark]:
    """Flows side by side: water over the lip, where it lands, and what the low end takes when it is out of level."""
    names = design.water.names
    each = (WIDE_RIGHT - 24.0) / len(names)
    right: Across = "right"
    across: tuple[Across, ...] = ("left", *[right] * len(names))
    top = RULES + 41.0
    drawn, down = table(
        (COLUMN, top),
        (24.0, *(each,) * len(names)),
        list(_water_rows(design, card)),
        height=1.8,
        step=3.55,
        across=across,
    )
    yield from drawn
    heavy = np.array([(COLUMN, top), (COLUMN + WIDE_RIGHT, top)])
    yield Polyline(points=heavy, layer="frame", pen=pens.MEDIUM)
    if card.pool is not None:
        deep, long, wide = millimetres(card.pool.depth), metres(card.pool.length), metres(card.pool.width)
        told = f"{opening(card.pool.name)}: {deep} deep, {long} long, {wide} wide"
        yield fitted((COLUMN, top + 1.8), told, WIDE_RIGHT, 2.4, weight=600)
    yield fitted(
        (COLUMN, down - 3.2),
        "Out of level: parts of 100 that run over the low end; the high end has the rest.",
        WIDE_RIGHT,
        2.1,
    )


def _water_rows(design: Design, card: LipCard) -> Iterator[tuple[str, ...]]:
    lip, sheet, tilt = card.fall.lip, card.fall.sheet, card.fall.tilt
    flows = range(len(design.water.names))
    yield ("", *design.water.names)
    yield (
        headed("runs", "L/h"),
        *(flow(float(rate)).removesuffix(f" {unit_called('L/h')}") for rate in design.water.flows),
    )
    heads = [ends_outward(*_span(lip.head[:, place] * 1000.0), 1.0, "mm") for place in flows]
    yield (headed("over it from", "mm"), *(least for least, _ in heads))
    yield (headed("to", "mm"), *(most for _, most in heads))
    if sheet is not None:
        lands = zip((1000.0 * sheet.landed.near).tolist(), (1000.0 * sheet.landed.far).tolist(), strict=True)
        ends = [ends_outward(near, far, 5.0, "mm") for near, far in lands]
        yield (headed("lands out from", "mm"), *(near for near, _ in ends))
        yield (headed("to", "mm"), *(far for _, far in ends))
    for row, out in enumerate(tilt.tilts):
        shares = (_of_a_hundred(tilt.low_half[:, row, place]) for place in flows)
        yield (f"{retold(f'[{out * 1000:g} mm]')} out of level", *shares)


def _of_a_hundred(shares: FloatArray) -> str:
    return " to ".join(_alike(ends_outward(*_span(shares * 100.0), 1.0, "")))


def _span(values: FloatArray) -> tuple[float, float]:
    return float(values.min()), float(values.max())


def _alike(ends: tuple[str, str]) -> tuple[str, ...]:
    return ends if ends[0] != ends[1] else ends[:1]


def _rules(design: Design, card: LipCard) -> Iterator[Mark]:
    rule = np.array([(LEFT, RULES), (RIGHT, RULES)])
    yield Polyline(points=rule, layer="frame", pen=pens.MEDIUM)
    said, _ = notes((LEFT + 5.0, RULES - 4.4), tuple(_ruled(design, card)), RIGHT - LEFT - 10.0, 2.1)
    yield from said


def _ruled(design: Design, card: LipCard) -> Iterator[str]:
    yield "Level across with water, not by eye: raise the low end with a shim of slate, never with foam."
    joint = design.job.stonework.joint
    if card.stone is None:
        yield "The lining comes up behind the box and is sealed to it; the box stands on rammed ground, not on fill."
    else:
        yield "The lining stands up behind the stone and at both cheeks: it holds the water, the joint does not."
    if joint == "foam":
        yield "Foam only steers water: stone damp, joint hidden, weighed down until set, cured before it is wetted."
    else:
        yield "Mortar only steers water: stone clean and damp, cured before it is wetted, kept off the lining's bonds."
    if any(lift.people is None for lift in card.lifts):
        yield (
            "Rated slings from the machine's lifting point, never its bucket's teeth. "
            "Nobody under or beside the load; one person gives signs."
        )
    elif card.lifts:
        yield "Lift close to the body, gloves on; fingers never under the stone: set it down on a batten."
    else:
        yield (
            "Two people hold the box while it is levelled. "
            "Cover every pool and pit overnight: children drown in little water."
        )
