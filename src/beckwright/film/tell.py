"""A film in words, as a plain dictionary for files, and as rows of a table."""

import math
from typing import Any

from beckwright.base.quantities import Duration
from beckwright.base.words import outward
from beckwright.film.values import NEVER, Film

_SIGNIFICANT = 9
COLUMNS = (
    "seconds",
    "reservoir_level_m",
    "pumped_l_h",
    "back_l_h",
    "film_l",
    "pools_l",
    "pores_l",
    "box_l",
    "hose_l",
    "spilt_l",
)


def clock(seconds: Duration, *, up: bool) -> str:
    """``"55 s"`` below a minute, else ``"4:30"``: minutes and seconds to 10 s, rounded up or down."""
    if seconds == NEVER:
        return "never"
    turn = math.ceil if up else math.floor
    if seconds < 60:
        return f"{turn(round(seconds, 6))} s"
    tens = turn(round(seconds / 10, 6))
    return f"{tens // 6}:{tens % 6}0"


def clock_band(low: Duration, high: Duration) -> str:
    """``"4:30 to 6:10"``, rounded outward; one time where both are told alike."""
    first, last = clock(min(low, high), up=False), clock(max(low, high), up=True)
    return first if first == last else f"{first} to {last}"


def litres_band(volumes: tuple[float, ...]) -> str:
    """``"380 to 420 L"``, rounded outward to 10 L from 100 L up, else to 1 L."""
    step = 10 if max(volumes) >= 0.1 else 1
    return outward(min(volumes) * 1000, max(volumes) * 1000, step, "L")


def film_dict(film: Film) -> dict[str, Any]:
    """A film as plain numbers, words, lists and dictionaries, in SI; what never happens is None."""
    return {
        "story": film.story,
        "flow": film.flow,
        "then": film.then,
        "end": ("low", "middle", "high")[film.end],
        "note": film.note,
        "cell_m": film.cell,
        "ended": film.ended,
        "lips": [
            {
                "name": lip.name,
                "chainage_m": lip.chainage,
                "first_water_s": _time(lip.first),
                "half_flow_s": _time(lip.half),
            }
            for lip in film.lips
        ],
        "back_first_s": _time(film.back_first),
        "back_half_s": _time(film.back_half),
        "steady_s": _time(film.steady),
        "lowest_m": film.lowest,
        "lowest_s": film.lowest_at,
        "highest_m": film.highest,
        "highest_s": film.highest_at,
        "end_level_m": float(film.level[-1]),
        "borrowed_m3": film.borrowed,
        "returned_m3": film.returned,
        "spilt_m3": float(film.spilt[-1]),
        "added_m3": film.added,
        "missing_m3": film.missing,
        "cut_outs_s": list(film.cut_outs),
        "stall_level_m": film.stall,
        "pumped_m3": film.turnover,
        "unaccounted_m3": film.lost,
        "kinematic_wave_numbers": {wave.name: _time(wave.number) for wave in film.waves},
        "reached": [[float(at), _time(float(when))] for at, when in zip(film.chainage, film.reached, strict=True)],
        "columns": list(COLUMNS),
        "rows": film_rows(film),
    }


def film_rows(film: Film) -> list[list[float]]:
    """Frames of a film as rows under ``COLUMNS``: seconds, metres, litres an hour and litres."""
    columns = (
        film.seconds,
        film.level,
        film.pumped * 3.6e6,
        film.back * 3.6e6,
        *(water * 1e3 for water in (film.film, film.pools, film.pores, film.box, film.hose, film.spilt)),
    )
    return [[float(f"{number:.{_SIGNIFICANT}g}") for number in row] for row in zip(*columns, strict=True)]


def _time(seconds: Duration) -> float | None:
    return None if seconds == NEVER else seconds
