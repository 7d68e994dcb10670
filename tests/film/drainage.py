"""A stream without stones for the US EPA drainage-routing engine (public domain, run through ``pyswmm``).

Every run becomes trapezoidal conduits of one cell, every lip a transverse weir with its crest where the lip is, every
pool a storage node of its own plan. The weir's law has no 1 mm of surface tension: a difference of a few per cent in
the head on a lip, none in the flow.
"""

import os
import sys
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path

import numpy as np

from beckwright.compose import Design, design
from beckwright.job.model import Job, Pool, Run, Step
from beckwright.tables.lips import LIP_COEFFICIENTS

OPTIONS = {
    "FLOW_UNITS": "LPS",
    "FLOW_ROUTING": "DYNWAVE",
    "LINK_OFFSETS": "DEPTH",
    "START_DATE": "01/01/2026",
    "END_DATE": "01/01/2026",
    "START_TIME": "00:00:00",
    "REPORT_START_TIME": "00:00:00",
    "REPORT_STEP": "00:00:05",
    "VARIABLE_STEP": "0",
    "MIN_SURFAREA": "0.001",
    "INERTIAL_DAMPING": "NONE",
    "NORMAL_FLOW_LIMITED": "BOTH",
    "MAX_TRIALS": "8",
    "HEAD_TOLERANCE": "0.0001",
    "THREADS": "1",
}


def without_stones(job: Job, manning: float) -> Job:
    """The same course with bare beds of one roughness."""
    reaches = tuple(
        replace(reach, bed=replace(reach.bed, depth=0.0, manning=manning)) if isinstance(reach, Run) else reach
        for reach in job.course.reaches
    )
    return replace(job, course=replace(job.course, reaches=reaches))


def network(bare: Design, flow: float, cell: float, seconds: int, step: float) -> str:
    """Write the engine's input. ``flow`` in m3/s enters the head of the first run from the first second."""
    parts: dict[str, list[str]] = {
        key: [] for key in ("JUNCTIONS", "STORAGE", "OUTFALLS", "CONDUITS", "WEIRS", "XSECTIONS", "INFLOWS", "CURVES")
    }
    at, number, course = "N0", 0, bare.course
    lip: Step | None = None

    def node(level: float) -> str:
        nonlocal number
        number += 1
        parts["JUNCTIONS"].append(f"N{number} {level} 1 0 0 0")
        return f"N{number}"

    def fall_into(name: str) -> None:
        """The lip waiting above, as a weir into ``name``."""
        nonlocal lip
        if lip is not None:
            coefficient = LIP_COEFFICIENTS[lip.lip].amount
            parts["WEIRS"].append(f"W{number} {at} {name} TRANSVERSE 0 {coefficient} NO 0 0 YES")
            parts["XSECTIONS"].append(f"W{number} RECT_OPEN 0.5 {lip.lip_width} 0 0")
            lip = None

    parts["JUNCTIONS"].append(f"N0 {course.stretches[0].bed_start} 1 0 0 0")
    for stretch in course.stretches:
        reach = stretch.reach
        if isinstance(reach, Step):
            lip = reach
        elif isinstance(reach, Pool):
            number += 1
            name, plan = f"P{number}", reach.length * reach.width
            depth = next(each.full for each in bare.water.pools if each.chainage == stretch.start) / plan
            parts["STORAGE"].append(f"{name} {stretch.bed_start - depth} 2 0 FUNCTIONAL 0 0 {plan} 0 0")
            fall_into(name)
            head = node(stretch.bed_end)
            parts["WEIRS"].append(
                f"W{number} {name} {head} TRANSVERSE {depth} {LIP_COEFFICIENTS['boulders'].amount} NO 0 0 YES"
            )
            parts["XSECTIONS"].append(f"W{number} RECT_OPEN 0.5 {_next_width(bare, stretch.end)} 0 0")
            at = head
        else:
            count = int(np.ceil((stretch.end - stretch.start) / cell - 1e-9))
            for level in np.linspace(stretch.bed_start, stretch.bed_end, count + 1)[1:]:
                below = node(float(level))
                length = (stretch.end - stretch.start) / count
                parts["CONDUITS"].append(f"C{number} {at} {below} {length} {reach.bed.manning} 0 0 0 0")
                side = course.side_slope
                parts["XSECTIONS"].append(f"C{number} TRAPEZOIDAL 1 {reach.width} {side} {side}")
                at = below
    parts["OUTFALLS"].append(f"END {course.stretches[-1].bed_end - 0.05} FREE NO")
    last = bare.water.runs[-1].run
    parts["CONDUITS"].append(f"CEND {at} END 1.0 {last.bed.manning} 0 0 0 0")
    parts["XSECTIONS"].append(f"CEND TRAPEZOIDAL 1 {last.width} {course.side_slope} {course.side_slope}")
    parts["INFLOWS"].append(f'N0 FLOW "" FLOW 1.0 1.0 {flow * 1000}')
    clock = f"{seconds // 3600:02d}:{seconds // 60 % 60:02d}:{seconds % 60:02d}"
    options = OPTIONS | {"ROUTING_STEP": str(step), "END_TIME": clock}
    parts = {"OPTIONS": [f"{key} {held}" for key, held in options.items()]} | {k: v for k, v in parts.items() if v}
    return "\n\n".join("\n".join([f"[{name}]", *rows]) for name, rows in parts.items()) + "\n"


def _next_width(bare: Design, chainage: float) -> float:
    return next(run.run.width for run in bare.water.runs if run.stretch.start == chainage)


def conduit(text: str, from_foot: int) -> str:
    """Name of the conduit so many above the last one of the course."""
    rows = [row for row in text.split("[CONDUITS]")[1].split("[", maxsplit=1)[0].splitlines() if row.startswith("C")]
    return rows[-2 - from_foot].split()[0]


@contextmanager
def _quietly() -> Iterator[None]:
    """The engine writes its progress past Python, to the file behind it."""
    sys.stdout.flush()
    kept, nothing = os.dup(1), os.open(os.devnull, os.O_WRONLY)
    try:
        os.dup2(nothing, 1)
        yield
    finally:
        os.dup2(kept, 1)
        os.close(kept)
        os.close(nothing)


def route(text: str, folder: Path) -> float:
    """Run the engine without looking at it; gives back its flow routing error, %."""
    with warnings.catch_warnings(), _quietly():
        warnings.simplefilter("ignore")
        from pyswmm import Simulation

        (folder / "bare.inp").write_text(text)
        with Simulation(str(folder / "bare.inp")) as run:
            run.execute()
            return float(run.flow_routing_error)


def watch(text: str, folder: Path, link: str, every: int) -> tuple[list[float], list[float], list[float]]:
    """Run the engine and read seconds, flow (m3/s) and depth (m) of one link every so many seconds."""
    with warnings.catch_warnings(), _quietly():
        warnings.simplefilter("ignore")
        from pyswmm import Links, Simulation

        (folder / "bare.inp").write_text(text)
        seconds, flows, depths = [], [], []
        with Simulation(str(folder / "bare.inp")) as run:
            watched = Links(run)[link]
            run.step_advance(every)
            for number, _ in enumerate(run, 1):
                seconds.append(float(number * every))
                flows.append(watched.flow / 1000)
                depths.append(watched.depth)
        return seconds, flows, depths


__all__ = ["conduit", "design", "network", "route", "watch", "without_stones"]
