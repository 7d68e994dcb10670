"""How long a film takes, beside the US EPA drainage-routing engine on the same stream without stones.

Run ``python benchmarks/film.py``. Both cut the runs of Hazel Bank into cells of 0.25 m and let the same flow into a dry
course; the engine is timed at several routing steps, the longest being about the largest it runs stably at. Process
time is printed beside wall time, since another job on the machine stretches the wall time alone.
"""

import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from beckwright import Design, design, read_job
from beckwright.film import film
from beckwright.film.nodes import cut
from beckwright.film.values import Story

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT / "tests"))
from film.drainage import network, route, without_stones  # noqa: E402

MANNING = 0.06
SECONDS = 720
STEPS = (0.2, 0.1, 0.05, 0.02)
TARGETS: dict[Story, float] = {"first fill": 0.4, "restart": 0.2}
REPEATS = 5


def main() -> None:
    """Print the seconds of each story, the ratio to the engine, and how time grows with the number of cells."""
    stony = design(read_job(ROOT / "examples" / "hazel_bank"))
    bare = design(without_stones(read_job(ROOT / "examples" / "hazel_bank"), MANNING))
    film(stony, "restart", "full")  # Imports are not what is measured.
    print("Hazel Bank at full, cells of 0.25 m")
    for story in ("first fill", "restart", "stop"):
        wall, work = timed(lambda story=story: film(stony, story, "full"))  # type: ignore[misc]
        target = f"target {TARGETS[story]} s" if story in TARGETS else ""
        print(f"  {story:<12}{wall:7.3f} s wall {work:7.3f} s process  {target}")
    beside_the_engine(bare)
    print("Cells, first fill at full")
    for cell in (0.5, 0.25, 0.125, 0.0625):
        wall, work = timed(lambda cell=cell: film(stony, "first fill", "full", cell=cell))  # type: ignore[misc]
        count = cut(stony, 1, cell).count
        told = f"{wall:7.3f} s wall {work:7.3f} s process"
        print(f"  {cell:6.4f} m, {count:4} nodes {told} {work / count * 1e3:6.3f} ms a node")


def beside_the_engine(bare: Design) -> None:
    """The same stream without stones: a first fill here, a rise from dry there."""
    wall, work = timed(lambda: film(bare, "first fill", "full", endless=True))
    print(f"The same stream without stones, n {MANNING}: the film {wall:.3f} s wall {work:.3f} s process")
    with tempfile.TemporaryDirectory() as folder:
        for step in STEPS:
            text = network(bare, 2.5e-3, 0.25, SECONDS, step)
            engine_wall, engine_work = timed(lambda text=text: route(text, Path(folder)))  # type: ignore[misc]
            ratio = engine_work / work
            told = f"{engine_wall:6.3f} s wall {engine_work:6.3f} s process"
            print(f"  engine, {step:4.2f} s steps, {SECONDS} s: {told}; {ratio:.1f} times the film")


def timed(work: Callable[[], object]) -> tuple[float, float]:
    """Least wall and process seconds of a few runs."""
    pairs = []
    for _ in range(REPEATS):
        wall, process = time.perf_counter(), time.process_time()
        work()
        pairs.append((time.perf_counter() - wall, time.process_time() - process))
    walls, processes = zip(*pairs, strict=True)
    return min(walls), min(processes)


if __name__ == "__main__":
    main()
