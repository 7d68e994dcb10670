"""A small plan of points with their levels, in the pixels of a drawing: north is up, nothing is left to the page."""

from collections.abc import Callable
from typing import Any

import numpy as np

from beckwright.base.quantities import FloatArray, Levels, Points
from beckwright.job.model import Survey
from beckwright.stages.ground import build_ground
from beckwright.web.desk.state import ground_told

WIDE, HIGH, MARGIN = 720, 460, 44
MOST_POINTS, MOST_LINES, MOST_LEVELS = 1500, 4000, 24
"""Points, corners of breaklines, and levels that are drawn."""
MOST_FOR_GROUND = 5000
"""Points of which a surface is built to draw contours: the answer should not wait for more."""
APART = (64.0, 24.0)
"""Between two levels written out, across and down."""
GOLDEN = 0.6180339887
"""Rows taken by this share of a turn are spread over the file, wherever one stops."""
BARS = (0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500, 1000)


def plan_told(
    points: Points, levels: Levels, breaklines: tuple[str, ...], survey: Survey | None = None
) -> dict[str, Any]:
    """Draw points (n, 2) with levels (n,), m, and the breakline each is on; n is one or more.

    survey  what a job would read of them, where it could: the contours are drawn through it
    ``middle`` is the place drawn in the middle, ``scale`` pixels to the metre: what is pressed can be told in metres.
    """
    low, high = points.min(axis=0), points.max(axis=0)
    span = np.maximum(high - low, 1e-6)
    scale = float(min((WIDE - 2 * MARGIN) / span[0], (HIGH - 2 * MARGIN) / span[1]))

    def drawn(places: FloatArray) -> FloatArray:
        centred = (places - (low + high) / 2) * (scale, -scale) + (WIDE / 2, HIGH / 2)
        return np.asarray(np.round(centred, 1))

    shown = drawn(points)
    few = shown[:: len(shown) // MOST_POINTS + 1]
    bar = max((each for each in BARS if each * scale <= WIDE / 3), default=BARS[0])
    return {
        "wide": WIDE,
        "high": HIGH,
        "points": few.tolist(),
        "of": len(points),
        "levels": [[*shown[row].tolist(), f"{levels[row]:.2f}"] for row in _written_out(shown, levels)],
        "lines": _lines(shown, breaklines),
        **_ground(survey, drawn),
        "middle": ((low + high) / 2).tolist(),
        "scale": scale,
        "bar": {"metres": f"{bar:g} m", "pixels": round(bar * scale, 1)},
    }


def _written_out(shown: FloatArray, levels: Levels) -> list[int]:
    """Rows whose levels are written out: the highest, the lowest, and others that do not crowd them."""
    spread = np.argsort(np.arange(len(shown)) * GOLDEN % 1.0, kind="stable")[:400].tolist()
    kept: list[int] = []
    for row in (int(levels.argmax()), int(levels.argmin()), *spread):
        away = np.abs(shown[kept] - shown[row]) >= APART
        if away.any(axis=1).all():
            kept.append(row)
        if len(kept) == MOST_LEVELS:
            break
    return kept


def _lines(shown: FloatArray, breaklines: tuple[str, ...]) -> list[Any]:
    rows: dict[str, list[int]] = {}
    for row, name in enumerate(breaklines):
        if name:
            rows.setdefault(name, []).append(row)
    step = sum(map(len, rows.values())) // MOST_LINES + 1
    return [shown[[*several[:-1:step], several[-1]]].tolist() for several in rows.values()]


def _ground(survey: Survey | None, drawn: Callable[[FloatArray], FloatArray]) -> dict[str, Any]:
    """Contours and outline, where there are few points and they make a surface."""
    nothing: dict[str, Any] = {"contours": [], "hull": [], "interval": 0}
    if survey is None or len(survey.points) > MOST_FOR_GROUND:
        return nothing
    try:
        told = ground_told(build_ground(survey))
    except ValueError:  # Breaklines that cross: the plan shows them, and taking it tells them.
        return nothing
    contours = [drawn(np.array(each["line"])).tolist() for each in told["contours"] if len(each["line"]) > 1]
    return {"contours": contours, "hull": drawn(np.array(told["hull"])).tolist(), "interval": told["interval"]}
