"""Cures of edges: raised along a stretch or all along, or less water under them."""

from collections.abc import Iterator

import numpy as np
from pydantic import JsonValue

from beckwright.base.findings import Finding
from beckwright.base.quantities import FloatArray, Length
from beckwright.base.words import chainages
from beckwright.cures.bench import Bench, least
from beckwright.cures.finding import flow_set, in_mm, mm, named_in, order, put, up
from beckwright.cures.values import Order
from beckwright.job.edit import AddRow
from beckwright.job.units import LITRE_PER_HOUR
from beckwright.stages.levels import raise_wanted
from beckwright.tables.practice import FREEBOARD_LEAST

_STEP = 5.0
"""Heights of edges are told to 5 mm."""
_HALF = 0.1
"""A place without length is mended this far to either side, m."""


def short(bench: Bench, finding: Finding) -> Iterator[Order]:
    """Raise the edge where it is low, or all along; or run less."""
    each = bench.base.design
    if each.job.course.measured_edges is None:
        side = "left" if finding.figure.endswith(".left") else "right"
        yield _stretch(bench, finding, side)
        settlement = each.course.settlement
        raised = max(raise_wanted(each.freeboard.wanted - float(worst.min()), settlement) for worst in _worst(bench))
        yield _all_along(bench, raised)
    name = named_in(finding, each.water.names)
    if name is not None:
        yield from _less(bench, finding, name)


def in_doubt(bench: Bench, finding: Finding) -> Iterator[Order]:
    """Raise the edge all along by what ordinary work may leave it short."""
    each = bench.base.design
    if each.job.course.measured_edges is not None:
        return
    left = min(
        float((worst - may).min())
        for worst, may in zip(_worst(bench), (each.budget.left, each.budget.right), strict=True)
    )
    yield _all_along(bench, raise_wanted(FREEBOARD_LEAST.amount - left, each.course.settlement))


def choked(bench: Bench, finding: Finding) -> Iterator[Order]:
    """Raise the edge until plants may close more of the bed."""
    if bench.base.design.job.course.measured_edges is not None:
        return

    def works(steps: int) -> bool:
        tried = bench.tried(_all_along(bench, steps * _STEP / 1000).edits)
        return tried is not None and _weight(tried.design.findings, finding) < finding.severity

    found = least(works, 4)
    if found is not None:
        yield _all_along(bench, found * _STEP / 1000)


def lower_over_roots(bench: Bench, finding: Finding) -> Iterator[Order]:
    """Lower the edges where the banks are raised over roots, as far as the water allows."""
    each = bench.base.design
    if each.job.course.measured_edges is not None:
        return
    start, end = finding.chainage[0], finding.chainage[-1]
    here = (each.course.stations.chainage >= start) & (each.course.stations.chainage <= end)
    spare = min(float(worst[here].min()) for worst in _worst(bench)) - each.freeboard.wanted
    lower = np.floor(spare * 1000 / _STEP) * _STEP
    if lower < _STEP:
        return
    height = _heights(bench)["left"][here].min() * 1000 - lower
    row: dict[str, JsonValue] = {
        "from_m": round(start, 2),
        "to_m": round(end, 2),
        "side": "both",
        "above_bed_mm": in_mm(height / 1000),
    }
    yield order(
        f"Lower both edges {mm(lower)}, {chainages(start, end)}: that much stands over the freeboard wanted.",
        AddRow(key="course.edges", row=row),
    )


def settle(bench: Bench, finding: Finding) -> Iterator[Order]:
    """Allow for what such fill loses."""
    from beckwright.tables.practice import SETTLEMENT_RAMMED, SETTLEMENT_TIPPED

    fill = SETTLEMENT_TIPPED if bench.base.design.job.earthworks.fill == "tipped" else SETTLEMENT_RAMMED
    percent = round(fill.amount * 100, 2)
    yield order(
        f"Allow {percent:g} % for settling, and build the banks that much higher.",
        put("course.settlement_percent", percent),
    )


def _weight(findings: tuple[Finding, ...], like: Finding) -> int:
    return sum(finding.severity for finding in findings if finding.code == like.code)


def _worst(bench: Bench) -> tuple[FloatArray, FloatArray]:
    """Least settled freeboard of any flow at every station: left, right."""
    boards = (bench.base.design.freeboard, bench.base.design.flat_out_freeboard)
    left = np.vstack([board.settled_left for board in boards]).min(axis=0)
    right = np.vstack([board.settled_right for board in boards]).min(axis=0)
    return left, right


def _heights(bench: Bench) -> dict[str, FloatArray]:
    at = bench.base.design.course.stations
    return {"left": at.edge_left - at.rim, "right": at.edge_right - at.rim}


def _stretch(bench: Bench, finding: Finding, side: str) -> Order:
    each = bench.base.design
    at, (start, end) = each.course.stations, (finding.chainage[0], finding.chainage[-1])
    here = (at.chainage >= start - 1e-9) & (at.chainage <= end + 1e-9)
    worst = _worst(bench)[0 if side == "left" else 1][here]
    heights = _heights(bench)[side][here]
    raises = np.array([raise_wanted(each.freeboard.wanted - left, each.course.settlement) for left in worst])
    height = up(float((heights + raises).max()) * 1000, _STEP)
    begins, ends = float(np.floor(start * 100) / 100), up(end, 0.01)
    if ends - begins < _HALF:
        begins, ends = max(begins - _HALF, 0.0), min(ends + _HALF, each.course.length)
    row: dict[str, JsonValue] = {
        "from_m": round(begins, 2),
        "to_m": round(ends, 2),
        "side": side,
        "above_bed_mm": in_mm(height / 1000),
    }
    return order(
        f"Raise the {side} edge {mm(float(raises.max()) * 1000)}, {chainages(start, end)}: "
        f"to {mm(height)} above the bed.",
        AddRow(key="course.edges", row=row),
    )


def _all_along(bench: Bench, raised: Length) -> Order:
    height = in_mm(bench.base.design.job.course.edge_above_bed + raised)
    others = " Stretches with a height of their own keep it." if bench.base.design.job.course.edges else ""
    return order(
        f"Raise both edges {mm(raised * 1000)} all along, to {mm(height)} above the bed.{others}",
        put("course.edge_above_bed_mm", height),
    )


def _less(bench: Bench, finding: Finding, name: str) -> Iterator[Order]:
    each, step = bench.base.design, 200 * LITRE_PER_HOUR
    was = next(flow.flow for flow in each.job.flows if flow.name == name)

    def works(steps: int) -> bool:
        if was - steps * step < step:
            return False
        tried = bench.tried(flow_set(each, name, was - steps * step).edits)
        return tried is not None and not any(
            other.code == finding.code and other.figure == finding.figure for other in tried.design.findings
        )

    found = least(works, 4)
    if found is not None:
        yield flow_set(each, name, was - found * step)
