"""The job as a request found it: looked at once, for its language, for its units and for what is tried on it."""

from collections.abc import Callable
from contextvars import ContextVar

from starlette.concurrency import run_in_threadpool
from starlette.types import ASGIApp, Receive, Scope, Send

from beckwright.base.errors import JobError
from beckwright.site import Version

NO_JOB = ("/static/", "/fonts/")
"""What starts so is the same for every job."""

_found: ContextVar[Version | None] = ContextVar("the job as a request found it", default=None)


class LooksOnce:
    """Looks at the job before a request is answered; in a thread, for files are read.

    stands  the job as it stands
    """

    def __init__(self, app: ASGIApp, *, stands: Callable[[], Version]) -> None:
        self.app, self.stands = app, stands

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Let a request through, the job looked at."""
        if scope["type"] != "http" or scope["path"].startswith(NO_JOB):
            await self.app(scope, receive, send)
            return
        found = _found.set(await run_in_threadpool(self._look))
        try:
            await self.app(scope, receive, send)
        finally:
            _found.reset(found)

    def _look(self) -> Version | None:
        try:
            return self.stands()
        except JobError:
            # Whoever needs the job is told why it cannot be read.
            return None


def stood() -> Version | None:
    """The job as the request found it that is being answered; None where it could not be read."""
    return _found.get()
