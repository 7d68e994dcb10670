"""How long a set of papers takes, beside a plain peer in the same run: the same marks through a plain SVG writer.

Run ``python benchmarks/papers.py``. Process seconds are of this process; the second one works beside it meanwhile. The
peer writes no DXF, no workbook, and works nothing out.
"""

import tempfile
import time
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from typing import TypeVar

from beckwright import design, read_job
from beckwright.papers import draw_sheets, readers_named, write_papers
from beckwright.papers.drawing import Circle, Plain, Polyline, Sheet, Text, plain, seen
from beckwright.papers.formats.pdf import write_pdf
from beckwright.papers.formats.svg import write_svg
from beckwright.papers.formats.words import taken_out

ROOT = Path(__file__).parents[1]
TARGETS = {"hazel_bank": 3.0, "fennymoor_park": 8.0}
Result = TypeVar("Result")


def main() -> None:
    """Print wall and process seconds of the set, of one reader's sheets, and of the peer."""
    for name, target in TARGETS.items():
        designed = design(read_job(ROOT / "examples" / name))
        with tempfile.TemporaryDirectory() as folder:
            row(f"{name}, everything", lambda d=designed, f=folder: write_papers(d, Path(f)), f"target {target:g} s")  # type: ignore[misc]
        driver = readers_named(["driver"])
        row("  the driver's sheets, drawn", lambda d=designed, r=driver: draw_sheets(d, readers=r))  # type: ignore[misc]
        sheets = row("  every sheet, drawn", lambda d=designed: draw_sheets(d))  # type: ignore[misc]
        drawn = row("  as SVG", lambda s=sheets: [write_svg(each) for each in s])  # type: ignore[misc]
        row("  as SVG by a plain writer", lambda s=sheets: [plainly(each) for each in s])  # type: ignore[misc]
        row("  as PDF", lambda s=sheets, d=drawn: pdf(s, d))  # type: ignore[misc]
        words = sum(len(taken_out(each)[1]) for each in drawn)
        print(f"  {len(sheets)} sheets; {words} lines of words set outside the pictures")


def row(name: str, work: Callable[[], Result], more: str = "") -> Result:
    """Do it, print how long it took, and give what it made."""
    wall, process = time.perf_counter(), time.process_time()
    made = work()
    told = f"{time.perf_counter() - wall:6.2f} s wall {time.process_time() - process:6.2f} s process"
    print(f"{name:34s} {told}  {more}")
    return made


def pdf(sheets: tuple[Sheet, ...], drawn: list[str]) -> bytes:
    """All pages, as the set has them."""
    return write_pdf(sheets, title="a set", author="nobody", written=datetime(2026, 1, 1, tzinfo=UTC), drawn=drawn)


def plainly(sheet: Sheet) -> str:
    """Each mark as one element, as anyone would first write it: no hatch, no clipping, nothing left out, no layers."""
    marks = [part for view in sheet.views for part in seen(view)]
    marks += [part for mark in sheet.marks for part in plain(mark)]
    return "\n".join(element(mark) for mark in marks)


def element(mark: Plain) -> str:
    """One mark as SVG."""
    match mark:
        case Polyline():
            return '<polyline points="' + " ".join(f"{x:.3f},{y:.3f}" for x, y in mark.points.tolist()) + '"/>'
        case Circle():
            return f'<circle cx="{mark.at[0]:.3f}" cy="{mark.at[1]:.3f}" r="{mark.radius:.3f}"/>'
        case Text():
            return f'<text x="{mark.at[0]:.3f}" y="{mark.at[1]:.3f}" font-size="{mark.height:.3f}">{mark.words}</text>'


if __name__ == "__main__":
    main()
