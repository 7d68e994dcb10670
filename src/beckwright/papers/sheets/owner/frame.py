"""The frame of an owner's page, A4 upright: a black head read across a kitchen, a foot that lets it stand alone."""

from typing import TYPE_CHECKING

from beckwright.base.words import metres
from beckwright.papers import fonts, pens
from beckwright.papers.drawing import (
    A4_UPRIGHT,
    BLACK,
    WHITE,
    Colour,
    Mark,
    Millimetres,
    Point,
    Polyline,
    Text,
    Weight,
    rectangle,
)
from beckwright.papers.labels import paragraph
from beckwright.papers.sheets.shared.fitted import fitted, ruled
from beckwright.papers.sheets.shared.frame import print_rule

if TYPE_CHECKING:
    from beckwright.job.model import Job

LEFT, LOW = 20.0, 10.0
RIGHT, TOP = A4_UPRIGHT[0] - 10.0, A4_UPRIGHT[1] - 10.0
WIDE = RIGHT - LEFT
HEAD, FOOT = 19.0, 9.0
BODY_TOP, BODY_LOW = TOP - HEAD, LOW + FOOT


def owner_frame(job: "Job", title: str, reader: str, number: int, of: int) -> tuple[Mark, ...]:
    """Rim, head and foot."""
    invented = " Invented demonstration job." if job.title.invented else ""
    foot = f"Revision {job.title.revision}. Levels: {job.datum.name} = {metres(job.datum.level)}.{invented}"
    at = LOW + 3.2
    return (
        Polyline(points=rectangle((LEFT, BODY_TOP), (WIDE, HEAD)), layer="frame", closed=True, fill=BLACK),
        Polyline(points=rectangle((LEFT, LOW), (WIDE, TOP - LOW)), layer="frame", pen=pens.FRAME, closed=True),
        ruled((LEFT, BODY_LOW), (RIGHT, BODY_LOW), pens.MEDIUM),
        fitted((LEFT + 4, TOP - 12.5), title, 108.0, 6.5, weight=700, colour=WHITE),
        fitted((RIGHT - 4, TOP - 8.0), job.title.name, 62.0, 3.0, weight=600, across="right", colour=WHITE),
        fitted((RIGHT - 4, TOP - 14.5), reader, 62.0, 2.2, across="right", colour=WHITE),
        fitted((LEFT + 3, at), foot, 122.0, 1.9),
        Text(at=(RIGHT - 22, at), words=job.title.date, height=2.0, weight=600, across="right"),
        fitted((RIGHT - 3, at), f"{number}/{of}", 17.0, 2.6, weight=700, across="right"),
        *print_rule((LEFT + 3, LOW + 0.9), (LEFT + 114, LOW + 0.7)),
    )


def block(
    at: Point, words: str, room: Millimetres, height: Millimetres, *, weight: Weight = 400, colour: Colour = BLACK
) -> tuple[tuple[Mark, ...], float]:
    """A paragraph whose upper rim is ``at``; gives back the height of its lower rim."""
    below, above = fonts.reach(height)
    rows = paragraph((at[0], at[1] - above), words, room, height, weight=weight, colour=colour)
    return rows, rows[-1].at[1] - below


def headed(at: Point, words: str, room: Millimetres) -> tuple[tuple[Mark, ...], float]:
    """A heading over a rule; gives back where what follows begins."""
    text = fitted((at[0], at[1] - 4.0), words, room, 3.2, weight=700)
    return (text, ruled((at[0], at[1] - 6.0), (at[0] + room, at[1] - 6.0), pens.MEDIUM)), at[1] - 8.0
