"""What is kept on site: readings, photographs, the diary. Each comes with a mark and is taken once."""

import re
from typing import Annotated

from fastapi import APIRouter, Query, Request
from fastapi.concurrency import run_in_threadpool
from fastapi.responses import JSONResponse, Response

from beckwright.base.errors import JobError, Problem
from beckwright.site import Entry, Photograph, Reading
from beckwright.site.photographs import LARGEST
from beckwright.web.bodies import Mark
from beckwright.web.desk.opened import Desk
from beckwright.web.desk.state import Told, rounded
from beckwright.web.problems import missing, refusal
from beckwright.web.security import LARGEST_BODY
from beckwright.web.slope.bodies import EntryBody, PlaceTyped, ReadingBody, Seen, Word
from beckwright.web.slope.bodies import Note as Words
from beckwright.web.slope.client_page import client_page

FORMS = ("image/jpeg", "image/png", "image/webp", "image/heic", "image/heif", "image/avif")
UNSAID = ("", "application/octet-stream")
"""What a telephone says that does not know what it took. The bytes are looked at in any case."""
DIGEST = re.compile(r"[0-9a-f]{64}", re.ASCII)
LARGEST_PHOTOGRAPH = min(LARGEST, LARGEST_BODY)


def site_routes(desk: Desk) -> APIRouter:
    """Routes of what is kept of one job beside its text."""
    router = APIRouter()
    _add_readings(router, desk)
    _add_photographs(router, desk)
    _add_diary(router, desk)
    return router


def _add_readings(router: APIRouter, desk: Desk) -> None:
    @router.post("/api/readings")
    def keep(body: ReadingBody) -> JSONResponse:
        return JSONResponse(_reading(desk.keeper.add_reading(body.kind, body.content, when=body.seen, mark=body.mark)))

    @router.get("/api/readings")
    def listed(kind: Word | None = None) -> JSONResponse:
        return JSONResponse({"readings": [_reading(each) for each in desk.keeper.readings(kind)]})


def _add_photographs(router: APIRouter, desk: Desk) -> None:
    @router.post("/api/photographs")
    async def keep(
        request: Request,
        mark: Annotated[Mark, Query()],
        seen: Annotated[Seen, Query()],
        chainage: Annotated[PlaceTyped, Query()] = None,
        note: Annotated[Words, Query()] = "",
    ) -> Response:
        """Keep a photograph. When and where it was taken is what the sender says: what its bytes say is not read."""
        refused = _said(request.headers.get("content-type", ""))
        if refused is not None:
            return refused
        raw = await _body(request)
        if raw is None:
            return _too_large()

        def kept() -> Photograph:
            return desk.keeper.add_photograph(raw, when=seen, mark=mark, chainage=chainage, note=note)

        return JSONResponse(photograph_told(await run_in_threadpool(kept)))

    @router.get("/api/photographs")
    def listed() -> JSONResponse:
        """All photographs as they lie along the tape; those tied to no place last."""
        every = sorted(desk.keeper.photographs(), key=lambda each: (each.chainage is None, each.chainage or 0.0))
        return JSONResponse({"photographs": [photograph_told(each) for each in every]})

    @router.get("/photographs/{digest}")
    def one(digest: str) -> Response:
        found = next((each for each in desk.keeper.photographs() if each.digest == digest), None)
        if not DIGEST.fullmatch(digest) or found is None:
            return missing("photograph", digest[:12], ())
        raw = desk.keeper.photograph(found.digest)
        return Response(raw, media_type=found.form, headers={"Content-Disposition": "inline"})


def _add_diary(router: APIRouter, desk: Desk) -> None:
    @router.post("/api/diary")
    def keep(body: EntryBody) -> JSONResponse:
        return JSONResponse(_entry(desk.keeper.write_diary(body.text, when=body.seen, mark=body.mark)))

    @router.get("/api/diary")
    def listed() -> JSONResponse:
        told = [photograph_told(each) for each in desk.keeper.photographs()]
        return JSONResponse({"entries": [_entry(each) for each in desk.keeper.diary()], "photographs": told})

    @router.get("/diary.html")
    def page() -> Response:
        """Give the diary as one file that needs nothing else: to be saved and sent, not looked at here."""
        name = re.sub(r"[^A-Za-z0-9_-]+", "_", desk.folder.resolve().name) or "job"
        told = {"Content-Disposition": f'attachment; filename="{name}_diary.html"'}
        return Response(client_page(_title(desk), desk.keeper), media_type="text/html; charset=utf-8", headers=told)


def _title(desk: Desk) -> str:
    """The job's title; while its text cannot be designed, the folder's name, for the diary has no part in that."""
    try:
        return desk.laid(desk.stands()).design.job.title.name
    except JobError:
        return desk.folder.resolve().name


def _said(form: str) -> Response | None:
    kind = form.split(";", maxsplit=1)[0].strip().lower()
    if kind in FORMS or kind in UNSAID:
        return None
    rule = "A photograph is a JPEG, PNG, WebP, HEIC or AVIF"
    problem = Problem(place="photograph", found=f"it is sent as {kind[:40]}", rule=rule, remedy="Send one of these")
    return refusal(415, [problem])


async def _body(request: Request) -> bytes | None:
    """The bytes sent; None where there are more of them than was said."""
    raw = bytearray()
    async for piece in request.stream():
        raw += piece
        if len(raw) > LARGEST_PHOTOGRAPH:
            return None
    return bytes(raw)


def _too_large() -> Response:
    rule = f"A photograph may hold {LARGEST_PHOTOGRAPH // 1_000_000} MB"
    return refusal(
        413, [Problem(place="photograph", found="it is too large", rule=rule, remedy="Take it with fewer pixels")]
    )


def _reading(reading: Reading) -> Told:
    return {
        "number": reading.number,
        "kind": reading.kind,
        "seen": reading.seen.isoformat(),
        "kept": reading.kept.isoformat(),
        "content": dict(reading.content),
    }


def photograph_told(photograph: Photograph) -> Told:
    """What is known of a photograph, without its bytes."""
    return {
        "number": photograph.number,
        "digest": photograph.digest,
        "form": photograph.form,
        "size": photograph.size,
        "chainage": None if photograph.chainage is None else rounded(photograph.chainage),
        "seen": photograph.seen.isoformat(),
        "kept": photograph.kept.isoformat(),
        "note": photograph.note,
    }


def _entry(entry: Entry) -> Told:
    return {
        "number": entry.number,
        "seen": entry.seen.isoformat(),
        "kept": entry.kept.isoformat(),
        "text": entry.text,
    }
