"""Who may ask, and what a page may load: known hosts, own origin on every change, a pass where the network listens."""

from secrets import compare_digest
from urllib.parse import parse_qs

from fastapi.responses import RedirectResponse
from starlette.datastructures import Headers, MutableHeaders
from starlette.requests import cookie_parser
from starlette.responses import Response
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from beckwright.base.errors import Problem
from beckwright.web.problems import fault, refusal
from beckwright.web.scripts import scripts_at

PASS = "beckwright_pass"  # noqa: S105  # The cookie's name.
ENTRANCE = "/enter"
LARGEST_BODY = 12_000_000
"""Bytes of one request: a photograph of a telephone. Edits are a thousandth of it."""
LARGER_BODIES = {"/api/bring": 600_000_000}
"""Bytes of one request to an address that takes whole survey files and writes them to disk as they come."""
READS = {"GET", "HEAD"}
HEADERS = {
    "Content-Security-Policy": (
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; font-src 'self'; "
        "connect-src 'self'; manifest-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
    ),
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
}


class Guard:
    """The outer wall: refuses what the pages would not ask, adds the headers, and turns a fault into one sentence.

    token  what the pass must be; None where only this machine can reach the program
    """

    def __init__(self, app: ASGIApp, *, token: str | None) -> None:
        self.app, self.token = app, token

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Let a request through, or answer it here."""
        if scope["type"] == "lifespan":
            await self.app(scope, receive, send)
        elif scope["type"] == "http":
            await self._answer(scope, receive, _Guarded(scope, send))

    async def _answer(self, scope: Scope, receive: Receive, send: "_Guarded") -> None:
        refused = self._stranger(scope) or _refused(scope)
        if refused is not None:
            await refused(scope, receive, send)
            return
        try:
            await self.app(scope, receive, send)
        except Exception as trouble:  # The edge of the house: told in one sentence, nothing lost.
            if not send.begun:
                await fault(trouble)(scope, receive, send)

    def _stranger(self, scope: Scope) -> Response | None:
        """What somebody without the pass is told, or the pass for who brings the right word."""
        if self.token is None:
            return None
        headers = Headers(scope=scope)
        if scope["path"] == ENTRANCE:
            word = parse_qs(scope["query_string"].decode("latin-1")).get("word", [""])[0]
            if _same(word, self.token):
                entered = RedirectResponse("/", status_code=303)
                entered.set_cookie(PASS, self.token, httponly=True, samesite="lax", max_age=30 * 86400)
                return entered
        elif _same(cookie_parser(headers.get("cookie", "")).get(PASS, ""), self.token):
            return None
        return _no(403, "the pass is missing or another", "Only who has scanned the code may enter", "Scan it again")


class _Guarded:
    """Sends an answer with the headers, and remembers whether it has begun."""

    def __init__(self, scope: Scope, send: Send) -> None:
        self.send, self.begun = send, False
        path = scope["path"]
        # A page of yesterday's program must not talk to today's; the typeface is the same for years, and a script at
        # its own address for ever.
        at_own_address = f"{scripts_at()}/"
        lasting = {at_own_address: "max-age=31536000, immutable", "/fonts/": "max-age=604800", "/static/": "no-cache"}
        self.cache = next((how for start, how in lasting.items() if path.startswith(start)), "no-store")

    async def __call__(self, message: Message) -> None:
        if message["type"] == "http.response.start":
            self.begun = True
            headers = MutableHeaders(scope=message)
            headers.update(HEADERS)
            headers["Cache-Control"] = self.cache
        await self.send(message)


def _refused(scope: Scope) -> Response | None:
    """What is refused whoever asks: changes asked for by another page, and bodies without measure."""
    if scope["method"] in READS:
        return None
    headers = Headers(scope=scope)
    if headers.get("origin") != f"{scope['scheme']}://{headers.get('host')}":
        return _no(403, "another page asked for it", "Only the pages of this program change a job", "Open the desk")
    length = headers.get("content-length", "")
    if not (length.isascii() and length.isdigit()):
        return _no(411, "its length is not said", "What is sent says how long it is", "Load the page again")
    largest = LARGER_BODIES.get(scope["path"], LARGEST_BODY)
    if int(length[:20]) > largest:
        return _no(413, "it is too large", f"It may hold {largest // 1_000_000} MB", "Send less at once")
    return None


def _no(status: int, found: str, rule: str, remedy: str) -> Response:
    return refusal(status, [Problem(place="this request", found=found, rule=rule, remedy=remedy)])


def _same(one: str, other: str) -> bool:
    return compare_digest(one.encode(), other.encode())
