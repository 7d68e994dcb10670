"""Run every benchmark, or those named: ``python -m benchmarks design``."""

import sys

from benchmarks import design, desk, earthworks, film, ground, lidar, lining, papers

_EVERY = {
    "design": design.main,
    "desk": desk.main,
    "earthworks": earthworks.main,
    "film": film.main,
    "ground": ground.main,
    "lidar": lidar.main,
    "lining": lining.main,
    "papers": papers.main,
}


def main() -> int:
    """Run the benchmarks named, all where none is."""
    names = [word for word in sys.argv[1:] if not word.startswith("-")] or list(_EVERY)
    unknown = [name for name in names if name not in _EVERY]
    if unknown:
        print(f"There is no benchmark {unknown[0]}; there are {', '.join(_EVERY)}.")
        return 2
    sys.argv[1:] = [word for word in sys.argv[1:] if word.startswith("-")]
    for name in names:
        print(f"-- {name}")
        _EVERY[name]()
    return 0


sys.exit(main())
