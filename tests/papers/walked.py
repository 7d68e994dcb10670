"""A sheet read as a drawing, off the marks alone: its north points, its bars, its rule, what is in scale on it."""

import math
import re
from collections.abc import Iterator
from dataclasses import replace
from typing import NamedTuple

import numpy as np

from beckwright.papers.drawing import A3_FLAT, BLACK, Polyline, Sheet, Text, View, plain, seen
from beckwright.papers.labels import text_box
from beckwright.papers.sheets.shared.frame import HIGH, LEFT, LOW, WIDE

UNITS = {"m": 1000.0, "mm": 1.0}
NEAR = 0.02
"""Millimetres on the paper that a drawing may be out, the width of no line."""


class Bar(NamedTuple):
    """A black and white bar: where it lies, its length on the paper, and what its words say that is, both in mm."""

    at: tuple[float, float]
    drawn: float
    told: float


def texts_of(sheet: Sheet) -> Iterator[Text]:
    """Every line of words, in views too."""
    for mark in sheet.marks:
        yield from (part for part in plain(mark) if isinstance(part, Text))
    for view in sheet.views:
        yield from (part for part in seen(view) if isinstance(part, Text))


def said_on(sheet: Sheet) -> str:
    """All its words in one line."""
    return " ".join(text.words for text in texts_of(sheet))


def _boxes(sheet: Sheet) -> Iterator[tuple[float, float, float, float, str | None]]:
    """Upright rectangles drawn on the sheet: left, low, width, height and fill."""
    for mark in sheet.marks:
        for part in plain(mark):
            if isinstance(part, Polyline) and part.closed and part.points.shape == (4, 2):
                low, high = part.points.min(axis=0), part.points.max(axis=0)
                if len(np.unique(part.points.round(6), axis=0)) == 4 and _upright(part.points, low, high):
                    yield (*low.tolist(), *(high - low).tolist(), part.fill)


def _upright(points: np.ndarray, low: np.ndarray, high: np.ndarray) -> bool:
    return bool(np.all((np.abs(points - low) < 1e-9) | (np.abs(points - high) < 1e-9)))


def bars(sheet: Sheet) -> list[Bar]:
    """Bars of fields 1.4 mm high that lie end to end, black and white in turn, with their words."""
    fields = sorted((low, left, wide, fill) for left, low, wide, high, fill in _boxes(sheet) if abs(high - 1.4) < 1e-9)
    rows: list[list[tuple[float, float, float, str | None]]] = []
    for field in fields:
        last = rows[-1][-1] if rows else None
        if last and abs(last[0] - field[0]) < 1e-9 and abs(last[1] + last[2] - field[1]) < 1e-6:
            rows[-1].append(field)
        else:
            rows.append([field])
    found = []
    for row in rows:
        fills = [fill for *_, fill in row]
        if len(row) < 2 or fills != [BLACK if place % 2 == 0 else "#FFFFFF" for place in range(len(row))]:
            continue
        low, left = row[0][:2]
        end = row[-1][1] + row[-1][2]
        told = [
            float(match[1]) * UNITS[match[2]]
            for text in texts_of(sheet)
            if (match := re.fullmatch(r"(\d+) (m|mm)", text.words.replace("\u2009", "")))
            and left - 6.0 <= text.at[0] <= end + 1.0
            and -1.0 <= text.at[1] - low <= 3.0
        ]
        found.append(Bar(at=(left, low), drawn=end - left, told=told[0] if len(told) == 1 else math.nan))
    return found


def rules(sheet: Sheet) -> list[float]:
    """Lengths on the paper of rules 0.7 mm high, of which a line of words says that it is 100 mm."""
    told = [text.at for text in texts_of(sheet) if text.words == "100 mm"]
    return [
        wide
        for left, low, wide, high, fill in _boxes(sheet)
        if abs(high - 0.7) < 1e-9 and fill == "#FFFFFF" and any(abs(at[1] - low) < 2.6 and at[0] > left for at in told)
    ]


def norths(sheet: Sheet) -> list[float]:
    """Bearings on the paper, radians anticlockwise from its right-hand way, of needles that point to an N."""
    letters = [text.at for text in texts_of(sheet) if text.words == "N"]
    found = []
    for mark in sheet.marks:
        for part in plain(mark):
            if isinstance(part, Polyline) and part.closed and part.fill == BLACK and len(part.points) == 4:
                tip, _, notch, _ = part.points
                if any(abs(float(np.hypot(*(at - tip))) - 3.0) < 0.5 for at in map(np.array, letters)):
                    found.append(float(np.arctan2(*(tip - notch)[::-1])))
    return found


def north_of(view: View) -> float:
    """Bearing on the paper of the way north through a view of the site: from where two places lie on it."""
    here, there = view.window.on_paper(np.array([(0.0, 0.0), (0.0, 100.0)]))
    return float(np.arctan2(*(there - here)[::-1]))


def apart(one: float, other: float) -> float:
    """Angle between two bearings."""
    return abs((one - other + math.pi) % (2 * math.pi) - math.pi)


def drawn_length(view: View, layer: str) -> float:
    """Length on the paper of the longest line on a layer, mm, as it lies there."""
    lines = [
        part.points for part in seen(view) if isinstance(part, Polyline) and part.layer == layer and not part.closed
    ]
    return max((float(np.hypot(*np.diff(points, axis=0).T).sum()) for points in lines), default=0.0)


def printed(sheet: Sheet) -> list[Text]:
    """Words set on the paper itself, without their halo; those in views are placed so that they keep apart."""
    parts = (part for mark in sheet.marks for part in plain(mark) if isinstance(part, Text) and part.words.strip())
    return [replace(part, halo=0.0) for part in parts]


def boxes_of(texts: list[Text]) -> np.ndarray:
    """Left, low, right and high of the room each takes, (n, 4)."""
    corners = [text_box(text) for text in texts]
    return np.array([(*box.min(axis=0), *box.max(axis=0)) for box in corners]).reshape(-1, 4)


def over_each_other(sheet: Sheet) -> list[tuple[str, str]]:
    """Words that lie on each other; 0.6 mm is a touch: boxes hold letters that reach high and low, few words do."""
    texts = printed(sheet)
    boxes = boxes_of(texts)
    wide, high = (
        np.minimum(boxes[:, None, side + 2], boxes[None, :, side + 2])
        - np.maximum(boxes[:, None, side], boxes[:, side])
        for side in (0, 1)
    )
    return [(texts[i].words, texts[j].words) for i, j in np.argwhere(np.triu((wide > 0.3) & (high > 0.6), 1))]


def off_the_frame(sheet: Sheet) -> list[str]:
    """Words that reach out of the frame of an A3 sheet, or nearer than 5 mm to the rim of a smaller page."""
    texts = printed(sheet)
    left, low, right, high = (LEFT, LOW, LEFT + WIDE, LOW + HIGH)
    if sheet.paper != A3_FLAT:
        left, low, right, high = 5.0, 5.0, sheet.paper[0] - 5.0, sheet.paper[1] - 5.0
    boxes = boxes_of(texts)
    out = (boxes < np.array([left, low, 0.0, 0.0]) - 0.3) | (boxes > np.array([9e9, 9e9, right + 0.3, high + 0.3]))
    return [text.words for text, row in zip(texts, out, strict=True) if row.any()]
