"""Design and build a recirculating garden stream with a covered reservoir.

Example::

    from pathlib import Path
    from beckwright import design, read_job, write_papers

    designed = design(read_job(Path("examples/hazel_bank")))
    write_papers(designed, Path("out/hazel_bank"))
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from beckwright.base.errors import JobError, Problem
    from beckwright.base.figures import Figure
    from beckwright.base.findings import Finding, Severity
    from beckwright.compose import Design, design
    from beckwright.figures import figures_of
    from beckwright.job.read import read_job
    from beckwright.papers import write_papers

_ROOMS = {
    "Design": "compose",
    "Figure": "base.figures",
    "Finding": "base.findings",
    "JobError": "base.errors",
    "Problem": "base.errors",
    "Severity": "base.findings",
    "design": "compose",
    "figures_of": "figures",
    "read_job": "job.read",
    "write_papers": "papers",
}

__all__ = [
    "Design",
    "Figure",
    "Finding",
    "JobError",
    "Problem",
    "Severity",
    "design",
    "figures_of",
    "read_job",
    "write_papers",
]


def __getattr__(name: str) -> Any:
    """Fetch a public name from its room when it is first asked for, so that the command line starts at once."""
    if name not in _ROOMS:
        message = f"module {__name__!r} has no attribute {name!r}"
        raise AttributeError(message)
    return getattr(import_module(f"{__name__}.{_ROOMS[name]}"), name)
