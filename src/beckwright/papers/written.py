"""A set put into a folder, from sheets that have been drawn."""

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from datetime import UTC, datetime
from pathlib import Path
from typing import NamedTuple

from beckwright.care import care_tasks, drops
from beckwright.compose import Works
from beckwright.papers.beside import Asked
from beckwright.papers.drawing import Sheet
from beckwright.papers.forms import USUAL_FORMS, Form
from beckwright.papers.kept import keep
from beckwright.papers.parts import names_of
from beckwright.papers.readers import WHOLE, Reader

SetPdf = Callable[..., bytes]


class Told(NamedTuple):
    """A sheet in the forms a set is made of; nothing in those that were not asked for."""

    svg: str
    dxf: bytes


def told(sheet: Sheet, forms: frozenset[Form]) -> Told:
    """Tell a sheet in the forms that are asked for; its PDF is set from its SVG."""
    svg, dxf = "", b""
    if {Form.PDF, Form.SVG} & forms:
        from beckwright.papers.formats.svg import write_svg

        svg = write_svg(sheet)
    if Form.DXF in forms and sheet.views:
        from beckwright.papers.formats.dxf import write_dxf

        dxf = write_dxf(sheet)
    return Told(svg, dxf)


def write_set(
    works: Works,
    sheets: Sequence[Sheet],
    folder: Path,
    *,
    readers: Collection[Reader] = (),
    forms: Collection[Form] = USUAL_FORMS,
    early: Mapping[str, Asked[Told]] | None = None,
    set_pdf: SetPdf | None = None,
    progress: Callable[[str], None] | None = None,
) -> tuple[Path, ...]:
    """Write what ``write_papers`` writes, from sheets that have been drawn already.

    early    what is being told of sheets elsewhere, by the name of the sheet
    set_pdf  what sets the PDF, as ``write_pdf`` does, where that is done elsewhere
    """
    tell, written = progress or (lambda _: None), list[Path]()
    for name, make in _files(works, sheets, readers, forms, early or {}, set_pdf):
        tell(f"writing {name}")
        written.append(keep(folder / name, make()))
    if Form.OTHER in forms and "setting out" in names_of(readers):
        from beckwright.papers.handed_over import write_exchange

        tell("writing files for other programs")
        written += write_exchange(works.design, works.groundwork, works.setting_out, folder)
    return tuple(written)


Made = Iterator[tuple[str, Callable[[], bytes]]]
"""Names of files, and what makes each."""


def _files(
    works: Works,
    sheets: Sequence[Sheet],
    readers: Collection[Reader],
    forms: Collection[Form],
    early: Mapping[str, Asked[Told]],
    set_pdf: SetPdf | None,
) -> Made:
    formed = frozenset(forms)
    every = [early[sheet.name].result() if sheet.name in early else told(sheet, formed) for sheet in sheets]
    if Form.PDF in forms:
        yield from _pdfs(works, sheets, [each.svg for each in every], readers, set_pdf)
    for sheet, each in zip(sheets, every, strict=True):
        if Form.SVG in forms:
            yield f"{sheet.name}.svg", each.svg.encode
        if each.dxf:
            yield f"{sheet.name}.dxf", lambda made=each.dxf: made  # type: ignore[misc]
        if Form.PNG in forms:
            yield f"{sheet.name}.png", _png(sheet)
    yield from _tables(works, names_of(readers), forms)


def _pdfs(
    works: Works,
    sheets: Sequence[Sheet],
    drawn: Sequence[str],
    readers: Collection[Reader],
    set_pdf: SetPdf | None,
) -> Made:
    """One PDF for each reader asked for; the whole set where none is named."""
    from beckwright.papers.formats.pdf import write_pdf

    title = works.design.job.title
    moment = datetime.fromisoformat(title.date).replace(tzinfo=UTC)

    def pdf(reader: Reader) -> Callable[[], bytes]:
        rows = [row for row, sheet in enumerate(sheets) if reader is WHOLE or reader.key in sheet.readers]
        name = "papers" if reader is WHOLE else f"papers for the {reader.name}"
        return lambda: (set_pdf or write_pdf)(
            [sheets[row] for row in rows],
            title=f"{title.name}: {name}",
            author=title.drawn_by,
            written=moment,
            drawn=[drawn[row] for row in rows],
        )

    for reader in readers or (WHOLE,):
        yield pdf_name(reader), pdf(reader)


def pdf_name(reader: Reader) -> str:
    """What a reader's PDF is called."""
    return "papers.pdf" if reader is WHOLE else f"papers_{reader.key}.pdf"


def _png(sheet: Sheet) -> Callable[[], bytes]:
    from beckwright.papers.formats.pdf import sharpest, write_png

    return lambda: write_png(sheet, dots_per_inch=sharpest(sheet))


def _tables(works: Works, parts: Collection[str], forms: Collection[Form]) -> Made:
    """Calendars go with the programme and with the owner's pages, the workbook with the estimate."""
    from beckwright.papers.formats.ics import write_calendar, write_care_calendar
    from beckwright.papers.formats.xlsx import write_workbook

    title, programme = works.design.job.title, works.programme if "programme" in parts else None
    day = datetime.fromisoformat(title.date).date()
    if Form.ICS in forms and programme is not None:
        yield "programme.ics", lambda: write_calendar(programme, title.name, day)
    if Form.ICS in forms and "owner's pages" in parts:
        design = works.design
        tasks = care_tasks(design, works, drops(design, works))
        yield "care.ics", lambda: write_care_calendar(tasks, title.name, day)
    if Form.XLSX in forms and "estimate" in parts:
        yield "estimate.xlsx", lambda: write_workbook(title, works.estimate, works.variations)
