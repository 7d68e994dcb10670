"""The papers: the only room that writes anything for people to hold."""

from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from beckwright.compose import Works
from beckwright.papers.parts import parts_of

if TYPE_CHECKING:
    from beckwright.compose import Design
    from beckwright.papers.drawing import Sheet


def draw_sheets(design: "Design", works: "Works | None" = None) -> "tuple[Sheet, ...]":
    """Every sheet of a job in the order of the set.

    works  where they have been worked out already
    """
    parts = parts_of(design, Works(design) if works is None else works)
    of = sum(count for count, _ in parts)
    sheets: list[Sheet] = []
    for _, draw in parts:
        sheets += draw(len(sheets) + 1, of)
    return tuple(sheets)


def write_papers(design: "Design", folder: Path, *, progress: Callable[[str], None] | None = None) -> tuple[Path, ...]:
    """Write all sheets as one PDF, each as SVG, drawings as DXF; workbook, calendar, and files for other programs.

    Gives back the files written.

    folder    made if it is not there; files of an earlier set are written over
    progress  told in words what is being written
    Raises OSError where the folder cannot be written.
    """
    from beckwright.papers.formats.dxf import write_dxf
    from beckwright.papers.formats.ics import write_calendar
    from beckwright.papers.formats.pdf import write_pdf
    from beckwright.papers.formats.svg import write_svg
    from beckwright.papers.formats.xlsx import write_workbook
    from beckwright.papers.handed_over import write_exchange

    tell = progress or (lambda _: None)
    folder.mkdir(parents=True, exist_ok=True)
    tell("working out the ground")
    works = Works(design)
    tell("drawing the sheets")
    sheets = draw_sheets(design, works)
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
    if works.programme is not None:
        keep("programme.ics", write_calendar(works.programme, title.name, moment.date()))
    keep("estimate.xlsx", write_workbook(title, works.estimate, works.variations))
    tell("writing files for other programs")
    written += write_exchange(design, works.groundwork, works.setting_out, folder)
    return tuple(written)
