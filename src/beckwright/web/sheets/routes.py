"""The sheets of the job as it stands: looked at, and given singly or as the whole set."""

from collections.abc import Callable, Mapping
from datetime import UTC, datetime
from typing import Annotated, Any

from fastapi import APIRouter, Query
from fastapi.responses import FileResponse, JSONResponse, Response
from starlette.background import BackgroundTask

from beckwright.base.errors import Problem
from beckwright.base.words import opening
from beckwright.papers.drawing import Sheet
from beckwright.papers.formats.dxf import write_dxf
from beckwright.papers.formats.face import with_face
from beckwright.papers.formats.svg import write_svg
from beckwright.papers.readers import READERS, WHOLE, Reader
from beckwright.papers.written import pdf_name
from beckwright.web.desk.opened import Desk, Laid
from beckwright.web.problems import missing, refusal
from beckwright.web.sheets.bundle import write_bundle
from beckwright.web.sheets.drawer import Drawer, Look
from beckwright.web.sheets.own_process import set_pdf, set_png

PATIENCE = 100.0
"""Seconds an answer waits for the sheets at most: less than a page waits for an answer."""
Wait = Annotated[float, Query(ge=0, le=PATIENCE)]


def papers_routes(desk: Desk) -> APIRouter:
    """Routes of the papers of one job. Sheets are drawn when first asked for, and once for each revision."""
    router = APIRouter()
    drawer = Drawer(desk)

    @router.get("/api/papers")
    def names(wait: Wait = PATIENCE, begin: bool = True) -> JSONResponse:  # noqa: FBT001, FBT002  # A word of the address.
        """The sheets, or how many are drawn by now. ``begin=false`` only looks."""
        look = drawer.look(begin=begin, wait=wait)
        return JSONResponse(_told(look) if look.drawn else _under_way(look))

    @router.post("/api/papers/stop")
    def stop() -> JSONResponse:
        drawer.stop()
        return JSONResponse({"stopped": True})

    @router.get("/papers/papers.pdf")
    def pdf() -> Response:
        laid = _laid(desk)
        title = laid.design.job.title
        made = set_pdf(tuple(laid.sheets().values()), title=f"{title.name}: papers", **_of_file(laid))
        return Response(made, media_type="application/pdf")

    _readers_route(router, desk)

    @router.get("/papers/papers.zip")
    def whole() -> Response:
        path = write_bundle(_laid(desk))
        away = BackgroundTask(path.unlink, missing_ok=True)
        return FileResponse(path, media_type="application/zip", filename="papers.zip", background=away)

    @router.get("/papers/{name}.{ending}")
    def one(name: str, ending: str, face: bool = False) -> Response:  # noqa: FBT001, FBT002  # A word of the address.
        """One sheet as a file. ``face`` brings the typeface, for a page that shows it."""
        if ending not in FORMS:
            return missing("file", f"{name}.{ending}", ())
        laid = _laid(desk)
        sheet = laid.sheets().get(name)
        if sheet is None:
            return missing("sheet", name, laid.sheets())
        if ending == "dxf" and not sheet.views:
            return _no_drawing(name)
        if ending == "svg" and face:
            return Response(with_face(write_svg(sheet)), media_type=FORMS["svg"][0])
        kind, write = FORMS[ending]
        return Response(write(laid, sheet), media_type=kind)

    return router


def _readers_route(router: APIRouter, desk: Desk) -> None:
    @router.get("/papers/for/{key}.pdf")
    def of_reader(key: str) -> Response:
        """What one reader needs, as a PDF of its own. The sheets keep the numbers of the whole set."""
        reader = next((each for each in READERS if each.key == key and each is not WHOLE), None)
        if reader is None:
            return missing("reader", key, tuple(each.key for each in READERS))
        laid = _laid(desk)
        held = tuple(_read_by(reader, laid.sheets()))
        name = f"{laid.design.job.title.name}: papers for the {reader.name}"
        made = set_pdf(held, title=name, **_of_file(laid))
        named = {"Content-Disposition": f'inline; filename="{pdf_name(reader)}"'}
        return Response(made, media_type="application/pdf", headers=named)


def _laid(desk: Desk) -> Laid:
    """The job as it stands with its sheets drawn."""
    with desk.slowly() as (laid, _):
        laid.sheets()
    return laid


def _told(look: Look) -> dict[str, Any]:
    sheets = look.laid.sheets()
    title = look.laid.design.job.title
    return {
        "drawn": True,
        "revision": look.revision,
        "title": title.name,
        "sheets": [{"name": name, "title": sheet.title} for name, sheet in sheets.items()],
        "groups": [_group_told(reader, held, title.name) for reader in READERS if (held := _read_by(reader, sheets))],
    }


def _read_by(reader: Reader, sheets: Mapping[str, Sheet]) -> list[Sheet]:
    """A reader's sheets in the order of the set. The whole set's own, which nobody else has, are its index."""
    return [sheet for sheet in sheets.values() if reader.key in sheet.readers]


def _group_told(reader: Reader, held: list[Sheet], job: str) -> dict[str, Any]:
    pdf = "/papers/papers.pdf" if reader is WHOLE else f"/papers/for/{reader.key}.pdf"
    sheets = [_sheet_told(sheet, job) for sheet in held]
    return {"key": reader.key, "name": opening(reader.name), "says": reader.says, "pdf": pdf, "sheets": sheets}


def _sheet_told(sheet: Sheet, job: str) -> dict[str, Any]:
    wide, high = sheet.paper
    title = sheet.title.removeprefix(f"{job}: ")
    return {
        "name": sheet.name,
        "title": title[:1].upper() + title[1:],
        "says": sheet.description,
        "wide": wide,
        "high": high,
        "paper": f"{wide:.0f} × {high:.0f} mm",
        "forms": [form for form in FORMS if form != "dxf" or sheet.views],
    }


def _under_way(look: Look) -> dict[str, Any]:
    if look.stopped:
        words = "stopped"
    elif look.of:
        words = f"being drawn, {look.done} of {look.of}"
    else:
        words = "ground, levels and cost being worked out"
    return {
        "drawn": False,
        "revision": look.revision,
        "done": look.done,
        "of": look.of,
        "stopped": look.stopped,
        "words": words,
    }


def _of_file(laid: Laid) -> dict[str, Any]:
    title = laid.design.job.title
    return {"author": title.drawn_by, "written": datetime.fromisoformat(title.date).replace(tzinfo=UTC)}


def _svg(_: Laid, sheet: Sheet) -> bytes:
    return write_svg(sheet).encode()


def _pdf(laid: Laid, sheet: Sheet) -> bytes:
    return set_pdf((sheet,), title=sheet.title, **_of_file(laid))


def _dxf(_: Laid, sheet: Sheet) -> bytes:
    return write_dxf(sheet)


def _png(_: Laid, sheet: Sheet) -> bytes:
    return set_png(sheet)


FORMS: dict[str, tuple[str, Callable[[Laid, Sheet], bytes]]] = {
    "svg": ("image/svg+xml", _svg),
    "pdf": ("application/pdf", _pdf),
    "dxf": ("image/vnd.dxf", _dxf),
    "png": ("image/png", _png),
}
"""What one sheet can be had as, by the ending of its address."""


def _no_drawing(name: str) -> JSONResponse:
    found, rule = "it has no view in scale", "DXF is for what is drawn in scale"
    return refusal(404, [Problem(place=name[:80], found=found, rule=rule, remedy="Take it as PDF, SVG or PNG")])
