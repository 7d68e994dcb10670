"""How long a design takes, how that grows with the job, and how long a person waits for help and for papers."""

import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from statistics import median

from beckwright.compose import Design, design
from beckwright.job.model import Job
from beckwright.job.read import read_job
from beckwright.papers import write_papers
from beckwright.stages.water import run_water
from benchmarks.grown import longer, with_flows, with_trees
from benchmarks.peer import uniform_depths

EXAMPLE = Path(__file__).resolve().parents[1] / "examples" / "hazel_bank"
PATIENCE = 1.5
"""Seconds given to one measurement."""
LENGTHS = (100.0, 500.0, 2000.0)
FLOWS = (2, 4, 8)
TREES = (3, 30, 300)


def main() -> None:
    """Print the table."""
    job = read_job(EXAMPLE)
    designed = design(job)
    print(f"{'Hazel Bank':34}{'median':>12}")
    seconds = warm(designed)
    row("design, survey unchanged", f"{seconds * 1e3:.1f} ms", "target 25 ms")
    profiles = spent(lambda: run_water(designed.course, job.source, job.flows, job.water_temperature))
    row("steady profiles of all flows", f"{profiles * 1e3:.1f} ms", "target 10 ms")
    flows = [flow.flow for flow in job.flows]
    plain = spent(lambda: uniform_depths(designed.course, flows))
    row("plain uniform depths alone", f"{plain * 1e3:.1f} ms", f"design / plain: {seconds / plain:.2f}")
    row("design, survey changed", f"{spent(lambda: design(job)) * 1e3:.1f} ms")
    row("read the folder", f"{spent(lambda: read_job(EXAMPLE)) * 1e3:.1f} ms")
    row("all papers", f"{papers(designed):.2f} s", "target 3 s")
    row("help", f"{spent(ask_for_help):.2f} s", "target 0.25 s")
    grow(job)


def grow(job: Job) -> None:
    """Print how a design grows with the course, the flows and the trees, one at a time."""
    print(f"\n{'growth':34}{'median':>12}  a station")
    once = design(job).course.length
    for length in LENGTHS:
        sized(f"course of {length:.0f} m", longer(job, round(length / once)))
    middle = longer(job, round(LENGTHS[0] / once))
    for count in FLOWS:
        sized(f"{LENGTHS[0]:.0f} m, {count} flows", with_flows(middle, count))
    for count in TREES:
        sized(f"{LENGTHS[0]:.0f} m, {count} trees", with_trees(middle, count))


def sized(name: str, job: Job) -> None:
    """Measure one size of job."""
    designed = design(job)
    seconds, stations = warm(designed), len(designed.course.stations.chainage)
    row(name, f"{seconds * 1e3:.1f} ms", f"{seconds / stations * 1e6:.0f} us, {stations} stations")


def warm(designed: Design) -> float:
    """Seconds of a design whose ground is known."""
    return spent(lambda: design(designed.job, designed.ground))


def papers(designed: Design) -> float:
    """Seconds of a full set of papers."""
    with tempfile.TemporaryDirectory() as folder:
        return spent(lambda: write_papers(designed, Path(folder)))


def ask_for_help() -> None:
    """What a person types first."""
    subprocess.run([sys.executable, "-m", "beckwright", "--help"], stdout=subprocess.DEVNULL, check=True)


def spent(work: Callable[[], object]) -> float:
    """Median seconds of ``work`` over three turns or more, as ``PATIENCE`` allows, after one that is not measured."""
    work()
    turns: list[float] = []
    while len(turns) < 3 or (sum(turns) < PATIENCE and len(turns) < 300):
        start = time.perf_counter()
        work()
        turns.append(time.perf_counter() - start)
    return median(turns)


def row(name: str, figure: str, beside: str = "") -> None:
    """Print one line of the table."""
    print(f"  {name:32}{figure:>12}  {beside}".rstrip())
