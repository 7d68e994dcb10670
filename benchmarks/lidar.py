"""How long a laser scan of five million points takes to become a survey, and what memory, beside plain reading of it.

Each is measured in a process of its own: peak memory is that of the process, imports included.
"""

import subprocess
import sys
import tempfile
import time
from pathlib import Path

import numpy as np

COUNT = 5_000_000
SIZE = 300.0
"""Side of the square scanned, m."""
ENDINGS = ("las", "laz")
TARGET = 3.0
"""Times the plain reading that is aimed at."""
MEASURED = """
import resource, sys, time
from pathlib import Path
{imports}
started = time.perf_counter()
{work}
print(time.perf_counter() - started, resource.getrusage(resource.RUSAGE_SELF).ru_maxrss)
"""
OURS = MEASURED.format(
    imports="import laspy, shapely, scipy.spatial\nfrom beckwright.survey.understood import understand",
    work="understand(Path(sys.argv[1]))",
)
PLAIN = MEASURED.format(
    imports="import laspy, numpy", work="scan = laspy.read(sys.argv[1])\nnumpy.column_stack([scan.x, scan.y, scan.z])"
)


def main() -> None:
    """Print time and peak memory of both, and their ratios."""
    with tempfile.TemporaryDirectory() as folder:
        for ending in ENDINGS:
            path = Path(folder) / f"scan.{ending}"
            started = time.perf_counter()
            # In a process of its own: a child begins with the peak its parent had.
            subprocess.run([sys.executable, __file__, str(path)], check=True)
            made = time.perf_counter() - started
            print(
                f"{COUNT / 1e6:g} million points, {ending}, {path.stat().st_size / 1e6:.0f} MB (made in {made:.1f} s)"
            )
            (ours, our_memory), (plain, plain_memory) = best(OURS, path), best(PLAIN, path)
            print(f"  {'thinned to a survey':24}{ours:8.2f} s{our_memory:8.0f} MB at its peak")
            print(f"  {'plain reading':24}{plain:8.2f} s{plain_memory:8.0f} MB at its peak")
            print(
                f"  ratio {ours / plain:.2f} of the time, {our_memory / plain_memory:.2f} of the memory  aim {TARGET:g}"
            )


def write(path: Path) -> None:
    """Write a scan of a slope with a bank across it, two points in three called ground, the others plants above it."""
    import laspy

    random = np.random.default_rng(11)
    header = laspy.LasHeader(point_format=6, version="1.4")
    header.scales = np.full(3, 0.001)
    scan = laspy.LasData(header)
    x, y = random.uniform(0.0, SIZE, (2, COUNT))
    plants = random.uniform(size=COUNT) < 1 / 3
    bank = np.clip((y - SIZE / 2) / 3.0, 0.0, 1.0) * 1.2
    scan.x, scan.y = x, y
    scan.z = 100.0 + x / 20.0 + bank + random.normal(0.0, 0.02, COUNT) + plants * random.uniform(0.1, 3.0, COUNT)
    scan.classification = np.where(plants, 4, 2).astype(np.uint8)
    scan.write(path)


def best(script: str, path: Path, times: int = 3) -> tuple[float, float]:
    """Least seconds, and the peak memory, MB, of a few runs."""
    runs = []
    for _ in range(times):
        words = [sys.executable, "-c", script, str(path)]
        printed = subprocess.run(words, capture_output=True, text=True, check=True).stdout.split()
        runs.append((float(printed[0]), int(printed[1]) / 1000))
    return min(seconds for seconds, _ in runs), max(memory for _, memory in runs)


if __name__ == "__main__":
    if len(sys.argv) > 1:
        write(Path(sys.argv[1]))
    else:
        main()
