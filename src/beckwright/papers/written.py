"""A set put into a folder, from sheets that have been drawn."""

from collections.abc import Callable, Collection, Iterator, Sequence
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from beckwright.beside import Asked, Beside
from beckwright.care import care_tasks, drops
from beckwright.compose import Works
from beckwright.papers.drawing import Sheet
from beckwright.papers.forms import USUAL_FORMS, Form
from beckwright.papers.handed_over import exchange_files, hand_over, write_exchange
from beckwright.papers.kept import keep
from beckwright.papers.parts import names_of
from beckwright.papers.readers import WHOLE, Reader

if TYPE_CHECKING:
    from beckwright.papers.formats.pdf import Page

SetPdf = Callable[..., bytes]


class Told(NamedTuple):
    """A sheet as SVG, and as the page that is set from it where a PDF is asked for."""

    svg: str
    page: "Page | None"


def told_of(sheet: Sheet, *, paged: bool) -> Told:
    """A sheet as SVG; as a page too where it is to be ``paged``."""
    from beckwright.papers.formats.pdf import page_of
    from beckwright.papers.formats.svg import write_svg

    svg = write_svg(sheet)
    return Told(svg, page_of(sheet, svg) if paged else None)


def dxf_of(sheet: Sheet) -> bytes:
    """A sheet as DXF."""
    from beckwright.papers.formats.dxf import write_dxf

    return write_dxf(sheet)


class Early:
    """Sheets told elsewhere while others are drawn: SVG and page of each at once, for the PDF waits for them all."""

    def __init__(self, beside: Beside, forms: Collection[Form]) -> None:
        self.beside, self.forms = beside, frozenset(forms)
        self.told, self.dxfs = dict[str, Asked[Told]](), dict[str, Asked[bytes]]()
        self.others: Asked[dict[str, bytes]] | None = None

    def drawn(self, sheet: Sheet) -> None:
        """A sheet is there."""
        if {Form.PDF, Form.SVG} & self.forms:
            self.told[sheet.name] = self.beside.ask(told_of, sheet, paged=Form.PDF in self.forms)

    def rest(self, works: Works, sheets: Sequence[Sheet], parts: Collection[str]) -> None:
        """The pages are there: now those forms nothing waits for, while the PDF is set."""
        if Form.OTHER in self.forms and "setting out" in parts:
            self.others = self.beside.ask(exchange_files, hand_over(works.design, works.groundwork, works.setting_out))
        if Form.DXF in self.forms:
            self.dxfs = {sheet.name: self.beside.ask(dxf_of, sheet) for sheet in sheets if sheet.views}


def write_set(
    works: Works,
    sheets: Sequence[Sheet],
    folder: Path,
    *,
    readers: Collection[Reader] = (),
    forms: Collection[Form] = USUAL_FORMS,
    early: Early | None = None,
    set_pdf: SetPdf | None = None,
    progress: Callable[[str], None] | None = None,
) -> tuple[Path, ...]:
    """Write what ``write_papers`` writes, from sheets that have been drawn already.

    early    what is being told of sheets elsewhere
    set_pdf  what sets the PDF, as ``write_pdf`` does, where that is done elsewhere
    """
    tell, written, early = progress or (lambda _: None), list[Path](), early or Early(Beside(hands=0), forms)
    for name, make in _files(works, sheets, readers, forms, early, set_pdf):
        tell(f"writing {name}")
        written.append(keep(folder / name, make()))
    if early.others:
        tell("writing files for other programs")
        written += write_exchange(early.others.result(), folder)
    return tuple(written)


Made = Iterator[tuple[str, Callable[[], bytes]]]
"""Names of files, and what makes each."""


def _files(
    works: Works,
    sheets: Sequence[Sheet],
    readers: Collection[Reader],
    forms: Collection[Form],
    early: Early,
    set_pdf: SetPdf | None,
) -> Made:
    told = _told(sheets, forms, early)
    early.rest(works, sheets, names_of(readers))
    if Form.PDF in forms:
        yield from _pdfs(works, sheets, told, readers, set_pdf)
    for row, sheet in enumerate(sheets):
        if Form.SVG in forms:
            yield f"{sheet.name}.svg", told[row].svg.encode
        if sheet.name in early.dxfs:
            yield f"{sheet.name}.dxf", early.dxfs[sheet.name].result
        if Form.PNG in forms:
            yield f"{sheet.name}.png", _png(sheet)
    yield from _tables(works, names_of(readers), forms)


def _told(sheets: Sequence[Sheet], forms: Collection[Form], early: Early) -> list[Told]:
    """Each sheet as it was told elsewhere, or is told here; none where no form needs it."""
    if not {Form.PDF, Form.SVG} & frozenset(forms):
        return []
    elsewhere, paged = early.told, Form.PDF in forms
    return [elsewhere[each.name].result() if each.name in elsewhere else told_of(each, paged=paged) for each in sheets]


def _pdfs(
    works: Works,
    sheets: Sequence[Sheet],
    told: Sequence[Told],
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
            drawn=[told[row].page or told[row].svg for row in rows],
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
