"""The papers: the only room that writes anything for people to hold."""

from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from beckwright.film import all_findings, film_findings, film_set
from beckwright.papers.sheets.calculation import calculation_pages, calculation_sheets
from beckwright.papers.sheets.film import film_sheet
from beckwright.papers.sheets.order import order_sheet
from beckwright.papers.sheets.plan import plan_sheets, plan_windows
from beckwright.papers.sheets.story import story_sheet

if TYPE_CHECKING:
    from beckwright.compose import Design
    from beckwright.papers.drawing import Sheet


def draw_sheets(design: "Design") -> "tuple[Sheet, ...]":
    """Every sheet of a job in the order of the set: plan, level story, start and stop, order list, calculation."""
    plans, films = len(plan_windows(design)), film_set(design)
    told = film_findings(design, films)
    calculation = calculation_pages(design)
    of = plans + 3 + len(calculation)
    return (
        *plan_sheets(design, all_findings(design, told), 1, of),
        story_sheet(design, plans + 1, of),
        film_sheet(design, films, plans + 2, of, told),
        order_sheet(design, plans + 3, of),
        *calculation_sheets(design, calculation, plans + 4, of),
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
    drawn = [write_svg(sheet) for sheet in sheets]
    written: list[Path] = []

    def keep(name: str, content: bytes) -> None:
        path = folder / name
        path.write_bytes(content)
        written.append(path)

    tell(f"writing papers.pdf, {len(sheets)} sheets")
    title = design.job.title
    moment = datetime.fromisoformat(title.date).replace(tzinfo=UTC)
    keep(
        "papers.pdf",
        write_pdf(sheets, title=f"{title.name}: papers", author=title.drawn_by, written=moment, drawn=drawn),
    )
    for sheet, svg in zip(sheets, drawn, strict=True):
        tell(f"writing {sheet.name}")
        keep(f"{sheet.name}.svg", svg.encode())
        if sheet.views:
            keep(f"{sheet.name}.dxf", write_dxf(sheet))
    return tuple(written)
