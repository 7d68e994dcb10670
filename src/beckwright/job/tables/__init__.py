"""The tables of a job folder: survey, pumps, hoses, climate, measured edges. Each gives values in SI, or problems."""

from itertools import pairwise
from pathlib import Path
from typing import get_args

import numpy as np

from beckwright.base.errors import Problem
from beckwright.base.quantities import FloatArray, IntArray
from beckwright.job.model import Climate, Hose, MeasuredEdges, Pump, Survey, WallKind
from beckwright.job.tables.columns import Column, Table, read_table
from beckwright.job.units import LITRE_PER_HOUR, MILLIMETRE, PERCENT
from beckwright.job.wording.sentences import near_miss, shown
from beckwright.job.written.fields import FURTHEST
from beckwright.tables.hoses import LOSS_FACTORS, ROUGHNESS_BIOFILM, ROUGHNESS_NEW

HIGHEST, DEEPEST = 9000.0, -1000.0
CLOSEST = 0.005
"""Two points nearer than this in plan, m, are one point shot twice: the ground between them has no slope."""
WIDEST = 5000.0
"""Widest survey, m: a wider one is in another unit or holds a stray point."""
TALLEST = 500.0
"""Largest difference of level in a survey, m."""
THINNEST = 0.01
"""Points within this of one line, m, make no surface."""
STATION = "climate.station"
"""Where a station of climate.csv is chosen; whoever has the text of the job knows its line."""
MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
ROUGHNESS = {"smooth": ROUGHNESS_NEW, "spiral": ROUGHNESS_BIOFILM, "corrugated": ROUGHNESS_BIOFILM}
"""What a wall is taken for where the table gives no roughness. A corrugated wall's loss has a law of its own."""

SURVEY = (
    Column(name="id"),
    Column(name="x_m", low=-FURTHEST, high=FURTHEST),
    Column(name="y_m", low=-FURTHEST, high=FURTHEST),
    Column(name="z_m", low=DEEPEST, high=HIGHEST),
    Column(name="code", other=""),
    Column(name="breakline", other=""),
)
PUMPS = (
    Column(name="pump"),
    Column(name="flow_l_h", low=0, high=1e6),
    Column(name="head_m", low=0, high=200),
    Column(name="power_w", low=0.1, high=1e5),
    Column(name="slowest_percent", low=1, high=100, other=100.0),
)
HOSES = (
    Column(name="hose"),
    Column(name="bore_mm", low=5, high=1000),
    Column(name="wall"),
    Column(name="roughness_mm", low=0, high=10, other=-1.0),
    Column(name="loss_factor", low=0.5, high=5, other=-1.0),
    Column(name="price_per_m", low=0, high=1e5, other=-1.0),
)
UNTOLD = -1.0
"""Stands for an empty cell of a column that may be left out."""
CLIMATE = (
    Column(name="station"),
    Column(name="month"),
    Column(name="rain_mm", low=0, high=5000),
    Column(name="open_water_evaporation_mm", low=-50, high=1000),
    Column(name="air_frost_days", low=0, high=31, other=UNTOLD),
)
EDGES = (
    Column(name="chainage_m", low=0, high=2000),
    Column(name="left_m", low=DEEPEST, high=HIGHEST),
    Column(name="right_m", low=DEEPEST, high=HIGHEST),
)


def read_survey(path: Path, problems: list[Problem]) -> Survey | None:
    """Read survey.csv; None after noting why not."""
    table = read_table(path, SURVEY, problems)
    if table is None:
        return None
    points = np.column_stack([table.numbers["x_m"], table.numbers["y_m"]])
    levels = np.array(table.numbers["z_m"])
    breaklines = _breaklines(table)
    found = [
        *_repeated_names(table),
        *_coincident(table, points),
        *_lonely(table, breaklines),
        *_size(table, points, levels),
    ]
    problems.extend(found[:20])
    if found:
        return None
    return Survey(points=points, levels=levels, codes=tuple(table.texts["code"]), breaklines=tuple(breaklines.values()))


def read_pumps(path: Path, problems: list[Problem]) -> tuple[Pump, ...] | None:
    """Read pumps.csv: the rows of one pump are its maker's table, flow rising."""
    table = read_table(path, PUMPS, problems)
    if table is None:
        return None
    before = len(problems)
    rows = _grouped(table.texts["pump"])
    for name, places in rows.items():
        problems.extend(_curve(table, name, places))
    if len(problems) > before:
        return None
    return tuple(_pump(table, name, places) for name, places in rows.items())


def read_hoses(path: Path, problems: list[Problem]) -> tuple[Hose, ...] | None:
    """Read hoses.csv: one row a hose."""
    table = read_table(path, HOSES, problems)
    if table is None:
        return None
    before = len(problems)
    walls = get_args(WallKind)
    for line, wall in zip(table.lines, table.texts["wall"], strict=True):
        if wall not in walls:
            problems.append(
                _row(
                    table, line, f"wall is {shown(wall)}", f"It must be one of {', '.join(walls)}", _meant(wall, walls)
                )
            )
    problems.extend(_twice(table, "hose"))
    return None if len(problems) > before else tuple(_hose(table, place) for place in range(len(table.lines)))


def read_climate(path: Path, station: str, problems: list[Problem]) -> Climate | None:
    """Read one station's twelve months of climate.csv. A station it has not is a problem placed at ``STATION``."""
    table = read_table(path, CLIMATE, problems)
    if table is None:
        return None
    stations = _grouped(table.texts["station"])
    if station not in stations:
        rule, remedy = f"climate.csv has {', '.join(stations)}", _meant(station, stations)
        problems.append(Problem(place=STATION, found=f"station is {shown(station)}", rule=rule, remedy=remedy))
        return None
    months = {_month(table.texts["month"][row]): row for row in stations[station]}
    if sorted(months) != list(range(12)) or len(stations[station]) != 12:
        found = f"station {shown(station)} has {len(stations[station])} rows"
        rule = "A station has twelve months, each once, as Jan to Dec or 1 to 12"
        problems.append(Problem(place=path.name, found=found, rule=rule, remedy="Fill in or mend the months"))
        return None
    order = [months[month] for month in range(12)]
    rain, evaporation = (
        np.array(table.numbers[name])[order] * MILLIMETRE for name in ("rain_mm", "open_water_evaporation_mm")
    )
    frost = np.array(table.numbers["air_frost_days"])[order]
    told = None if (frost == UNTOLD).any() else frost
    return Climate(station=station, rain=rain, evaporation=evaporation, frost_days=told)


def read_edges(path: Path, problems: list[Problem]) -> MeasuredEdges | None:
    """Read edges.csv: levels of the lining's edges shot on site, by chainage."""
    table = read_table(path, EDGES, problems)
    if table is None:
        return None
    chainages = np.array(table.numbers["chainage_m"])
    back = np.flatnonzero(np.diff(chainages) <= 0)
    for row in back[:20]:
        here, before = (shown(chainages[place].item(), "chainage_m") for place in (row + 1, row))
        found = f"chainage_m is {here} after {before}"
        rule, remedy = "Chainages rise from row to row", "Put the rows in order downstream"
        problems.append(_row(table, table.lines[row + 1], found, rule, remedy))
    if len(back):
        return None
    return MeasuredEdges(
        chainages=chainages, left=np.array(table.numbers["left_m"]), right=np.array(table.numbers["right_m"])
    )


def _row(table: Table, line: int, found: str, rule: str, remedy: str) -> Problem:
    return Problem(place=f"{table.file} line {line}", found=found, rule=rule, remedy=remedy)


def _meant(wrong: str, known: "tuple[str, ...] | dict[str, list[int]]") -> str:
    nearest = near_miss(wrong, known)
    return f'Did you mean "{nearest}"' if nearest else "Write one of these"


def _grouped(names: list[str]) -> dict[str, list[int]]:
    rows: dict[str, list[int]] = {}
    for row, name in enumerate(names):
        rows.setdefault(name, []).append(row)
    return rows


def _twice(table: Table, column: str) -> list[Problem]:
    rule, remedy = f"Each {column} stands once", "Give one of the two another name, or take it out"
    return [
        _row(
            table, table.lines[row], f"{column} {shown(name)} stood on line {table.lines[rows[0]]} before", rule, remedy
        )
        for name, rows in _grouped(table.texts[column]).items()
        for row in rows[1:]
    ]


def _repeated_names(table: Table) -> list[Problem]:
    return _twice(table, "id") if len(set(table.texts["id"])) < len(table.lines) else []


def _coincident(table: Table, points: FloatArray) -> list[Problem]:
    rule, remedy = f"Points lie at least {CLOSEST * 1000:g} mm apart in plan", "Keep one of the two"
    return [
        _row(
            table,
            table.lines[later],
            f"point {shown(table.texts['id'][later])} lies on point {shown(table.texts['id'][earlier])}",
            rule,
            remedy,
        )
        for earlier, later in sorted(_pairs(points), key=lambda pair: pair[1])
    ]


def _pairs(points: FloatArray) -> set[tuple[int, int]]:
    """Pairs of rows closer than allowed; exact repeats first, since a tree of equal points cannot be searched."""
    from scipy.spatial import cKDTree

    order = np.lexsort((points[:, 1], points[:, 0]))
    same = (np.diff(points[order], axis=0) == 0).all(axis=1)
    pairs = {_in_order(order[row], order[row + 1]) for row in np.flatnonzero(same)}
    kept: IntArray = order[np.concatenate(([True], ~same))]
    if len(kept) < 2:
        return pairs
    found = cKDTree(points[kept]).query(points[kept], k=2, distance_upper_bound=CLOSEST)
    gaps, nearest = np.asarray(found[0]), np.asarray(found[1])
    close = np.flatnonzero(np.isfinite(gaps[:, 1]))
    return pairs | {_in_order(kept[row], kept[nearest[row, 1]]) for row in close}


def _in_order(one: int, other: int) -> tuple[int, int]:
    return (min(int(one), int(other)), max(int(one), int(other)))


def _breaklines(table: Table) -> dict[str, tuple[int, ...]]:
    return {name: tuple(rows) for name, rows in _grouped(table.texts["breakline"]).items() if name}


def _lonely(table: Table, breaklines: dict[str, tuple[int, ...]]) -> list[Problem]:
    rule, remedy = "A breakline has at least two points", "Name it on its other points too, or leave the cell empty"
    return [
        _row(table, table.lines[rows[0]], f"breakline {shown(name)} has one point", rule, remedy)
        for name, rows in breaklines.items()
        if len(rows) < 2
    ]


def _size(table: Table, points: FloatArray, levels: FloatArray) -> list[Problem]:
    widest, tallest = float(np.ptp(points, axis=0).max()), float(np.ptp(levels))
    rule = "A survey has at least three points that do not lie in one line"
    if len(points) < 3:
        found = f"it has {len(points)} point{'' if len(points) == 1 else 's'}"
        return [Problem(place=table.file, found=found, rule=rule, remedy="Survey more of the ground")]
    if widest > WIDEST:
        rule, remedy = (
            f"It may be {WIDEST:g} m wide",
            "Check that x_m and y_m are in metres, and look for a stray point",
        )
        return [Problem(place=table.file, found=f"the survey is {widest:.0f} m wide", rule=rule, remedy=remedy)]
    if tallest > TALLEST:
        remedy = "Check that z_m is in metres, and look for a stray point"
        found = f"the levels differ by {tallest:.0f} m"
        return [Problem(place=table.file, found=found, rule=f"They may differ by {TALLEST:g} m", remedy=remedy)]
    if _spread(points) < THINNEST:
        remedy = "Shoot points to both sides of the course"
        return [Problem(place=table.file, found="all points lie in one line", rule=rule, remedy=remedy)]
    return []


def _spread(points: FloatArray) -> float:
    """Largest distance of a point from the line that fits them best, m."""
    centred = points - points.mean(axis=0)
    across = np.linalg.eigh(centred.T @ centred)[1][:, 0]
    return float(np.abs(centred @ across).max())


def _curve(table: Table, name: str, rows: list[int]) -> list[Problem]:
    line = table.lines[rows[0]]
    if len(rows) < 2:
        rule, remedy = "A pump's table has at least two rows", "Copy more of its maker's curve"
        return [_row(table, line, f"pump {shown(name)} has one row", rule, remedy)]
    pairs = list(pairwise(rows))
    found = [_unsteady(table, pair, "flow_l_h", "rise") for pair in pairs if _step(table, pair, "flow_l_h") <= 0]
    found += [_unsteady(table, pair, "head_m", "fall") for pair in pairs if _step(table, pair, "head_m") >= 0]
    slowest = {table.numbers["slowest_percent"][row] for row in rows}
    if len(slowest) > 1:
        remedy = "Write the same in each of its rows"
        found.append(_row(table, line, f"pump {shown(name)} has several slowest_percent", "A pump has one", remedy))
    return found


def _step(table: Table, pair: tuple[int, int], column: str) -> float:
    return table.numbers[column][pair[1]] - table.numbers[column][pair[0]]


def _unsteady(table: Table, pair: tuple[int, int], column: str, way: str) -> Problem:
    before, here = (shown(table.numbers[column][row], column) for row in pair)
    name = table.texts["pump"][pair[1]]
    found = f"{column} of {shown(name)} is {here} after {before}"
    return _row(
        table, table.lines[pair[1]], found, f"{column} must {way} from row to row", "Put the rows in order or mend it"
    )


def _pump(table: Table, name: str, rows: list[int]) -> Pump:
    flows, heads, watts = (np.array(table.numbers[column])[rows] for column in ("flow_l_h", "head_m", "power_w"))
    slowest = table.numbers["slowest_percent"][rows[0]] * PERCENT
    return Pump(name=name, flows=flows * LITRE_PER_HOUR, heads=heads, watts=watts, slowest=slowest)


def _hose(table: Table, row: int) -> Hose:
    given = {column: cells[row] for column, cells in table.numbers.items()}
    wall: WallKind = table.texts["wall"][row]  # type: ignore[assignment]
    roughness, factor, price = given["roughness_mm"], given["loss_factor"], given["price_per_m"]
    return Hose(
        name=table.texts["hose"][row],
        bore=given["bore_mm"] * MILLIMETRE,
        roughness=roughness * MILLIMETRE if roughness >= 0 else ROUGHNESS[wall].amount,
        wall=wall,
        loss_factor=factor if factor >= 0 else LOSS_FACTORS[wall].amount if wall in LOSS_FACTORS else 1.0,
        price_per_length=price if price >= 0 else None,
    )


def _month(written: str) -> int:
    """Position of a month written as a name or a number; -1 for neither."""
    short = written.strip().lower()[:3]
    if short in MONTHS:
        return MONTHS.index(short)
    return int(short) - 1 if short.isascii() and short.isdigit() else -1
