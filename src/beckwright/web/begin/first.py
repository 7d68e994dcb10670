"""The app of a folder that holds no job yet: the first visit, and from the moment it makes a job, the desk."""

from collections.abc import Sequence
from pathlib import Path

from fastapi import FastAPI
from fastapi.responses import JSONResponse
from starlette.middleware.trustedhost import TrustedHostMiddleware
from starlette.types import ASGIApp, Receive, Scope, Send

from beckwright.beside import Beside
from beckwright.job.example import NAME, write_example
from beckwright.web.app import THIS_MACHINE, make_app
from beckwright.web.begin.routes import begin_routes
from beckwright.web.begin.routes_visit import Makes, first_routes, plain_name
from beckwright.web.bodies import Copied
from beckwright.web.language import language_routes
from beckwright.web.problems import tell_problems
from beckwright.web.routes_pages import font_routes
from beckwright.web.scripts import serve_scripts
from beckwright.web.security import Guard
from beckwright.web.typed import typed_routes
from beckwright.web.units import ToldIn, units_routes
from beckwright.web.warm import warm


class First:
    """Answers as the visit alone until job.toml is there, then as the app of that job.

    Nothing else is opened before: no keeper, no file in a folder that may stay empty.
    """

    def __init__(
        self,
        folder: Path,
        *,
        token: str | None = None,
        hosts: Sequence[str] = THIS_MACHINE,
        beside: Beside | None = None,
    ) -> None:
        self.folder, self.token, self.hosts, self.beside = folder, token, hosts, beside
        self.makes = Makes(folder)
        self.example: Path | None = None
        self.before = _visit_app(self, token=token, hosts=hosts)
        self.job: ASGIApp | None = None

    def look_round(self, name: str) -> Path:
        """Copy the example beside the job that is to be made, and open it; where it was copied before, open that.

        Raises ``JobError`` where something else is there.
        """
        folder = self.folder.resolve().parent / plain_name(name or NAME)
        if not (folder / "job.toml").is_file():
            write_example(folder)
        self.example = folder
        return folder

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Hand a request to whichever it is."""
        if self.job is None and (self.example is not None or self.makes.is_job):
            makes = None if self.example else self.makes
            folder = self.example or self.folder
            self.job = make_app(folder, token=self.token, hosts=self.hosts, makes=makes, beside=self.beside)
            await warm(self.job, self.token)
        await (self.before if self.job is None else self.job)(scope, receive, send)


def _visit_app(first: First, *, token: str | None, hosts: Sequence[str]) -> FastAPI:
    app = FastAPI(title="beckwright", docs_url=None, redoc_url=None, openapi_url=None)
    serve_scripts(app)
    begins = (first_routes(first.makes), begin_routes(first.makes))
    for routes in (*begins, font_routes(), language_routes(), units_routes(), typed_routes()):
        app.include_router(routes)

    @app.post("/api/example")
    def example(body: Copied) -> JSONResponse:
        """Copy the example, and open it for a look round."""
        return JSONResponse({"folder": first.look_round(body.name).name})

    tell_problems(app)
    app.add_middleware(ToldIn)
    app.add_middleware(TrustedHostMiddleware, allowed_hosts=list(hosts), www_redirect=False)
    app.add_middleware(Guard, token=token)
    return app
