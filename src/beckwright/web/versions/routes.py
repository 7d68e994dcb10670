"""Every revision the job has had: listed, looked at, named, taken up again."""

from fastapi import APIRouter
from fastapi.responses import JSONResponse

from beckwright.job.edit import Change, changes
from beckwright.site import Revision
from beckwright.web.bodies import Named, Number
from beckwright.web.desk.opened import Desk
from beckwright.web.desk.state import Told
from beckwright.web.versions.tables import tables_changed
from beckwright.web.versions.tree import beside, lanes, parted, ways


def revision_routes(desk: Desk) -> APIRouter:
    """Routes of the revisions of one job."""
    router = APIRouter(prefix="/api/revisions")

    @router.get("")
    def listed() -> JSONResponse:
        """Give every revision, oldest first, with where it lies; and two of them worth holding side by side."""
        stands, revisions = desk.stands().revision.number, desk.keeper.revisions()
        way, lane = ways(revisions, stands), lanes(revisions, stands)
        told = [_told(each) | {"way": way[each.number], "lane": lane[each.number]} for each in revisions]
        more = {"beside": beside(revisions, stands), "parted": parted(revisions)}
        return JSONResponse({"stands": stands, **more, "revisions": told})

    @router.get("/{number}")
    def one(number: Number) -> JSONResponse:
        """The text of a revision, and what has changed since, in it and in the tables."""
        held, stands = desk.keeper.version(number), desk.stands()
        since = [_change(each) for each in changes(held.text, stands.text)]
        tables = [str(each) for each in tables_changed(desk.keeper, held, stands)]
        return JSONResponse({"number": number, "text": held.text, "since": since, "tables_since": tables})

    @router.post("/{number}/name")
    def name(number: Number, body: Named) -> JSONResponse:
        return JSONResponse(_told(desk.keeper.name(number, body.name)))

    return router


def _told(revision: Revision) -> Told:
    return {
        "number": revision.number,
        "parent": revision.parent,
        "onward": revision.onward,
        "kept": revision.kept.isoformat(),
        "why": revision.why,
        "name": revision.name,
        "origin": revision.origin,
    }


def _change(change: Change) -> Told:
    return {
        "key": change.key,
        "what": change.what,
        "before": change.before,
        "after": change.after,
        "words": str(change),
    }
