"""The papers: the only room that writes anything for people to hold."""

from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from beckwright.papers.sheets.calculation import calculation_sheets
from beckwright.papers.sheets.order import order_sheet
from beckwright.papers.sheets.plan import plan_sheets, plan_windows
from beckwright.papers.sheets.story import story_sheet

if TYPE_CHECKING:
    from beckwright.compose import Design
    from beckwright.papers.drawing import Sheet


def draw_sheets(design: "Design") -> "tuple[Sheet, ...]":
    """Every sheet of a job in the order of the set: plan, level story, order list, calculation."""
    plans = len(plan_windows(design))
    calculation = calculation_sheets(design, plans + 3, 0)
    of = plans + 2 + len(calculation)
    return (
        *plan_sheets(design, 1, of),
        story_sheet(design, plans + 1, of),
        order_sheet(design, plans + 2, of),
        *calculation_sheets(design, plans + 3, of),
    )


def write_papers(design: "Design", folder: Path, *, progress: Callable[[str], None] | None = None) -> tuple[Path, ...]:
    """Write all sheets as one PDF, each as SVG, and the drawings as DXF; gives back the files written.

    folder    made if it is not there; files of an earlier set are written over
    progress  told in words what is being written
    Raises OSError where the folder cannot be written.
    """
    from beckwright.papers.formats.dxf import write_dxf
    from beckwright.papers.formats.pdf import write_pdf
    from beckwright.papers.formats.svg import write_svg

    tell = progress or (lambda _: None)
    folder.mkdir(parents=True, exist_ok=True)
    tell("drawing the sheets")
    sheets = draw_sheets(design)
    written: list[Path] = []

    def keep(name: str, content: bytes) -> None:
        path = folder / name
        path.write_bytes(content)
        written.append(path)

    tell(f"writing papers.pdf, {len(sheets)} sheets")
    title = design.job.title
    moment = datetime.fromisoformat(title.date).replace(tzinfo=UTC)
    keep("papers.pdf", write_pdf(sheets, title=f"{title.name}: papers", author=title.drawn_by, written=moment))
    for sheet in sheets:
        tell(f"writing {sheet.name}")
        keep(f"{sheet.name}.svg", write_svg(sheet).encode())
        if sheet.views:
            keep(f"{sheet.name}.dxf", write_dxf(sheet))
    return tuple(written)
