"""The app of one job folder."""

from collections.abc import Sequence
from pathlib import Path

from fastapi import FastAPI
from fastapi.staticfiles import StaticFiles
from starlette.middleware.trustedhost import TrustedHostMiddleware

from beckwright.web.desk import Desk
from beckwright.web.problems import tell_problems
from beckwright.web.routes_job import job_routes
from beckwright.web.routes_pages import page_routes
from beckwright.web.routes_papers import papers_routes
from beckwright.web.routes_revisions import revision_routes
from beckwright.web.security import Guard

STATIC = Path(__file__).parent / "static"
THIS_MACHINE = ("127.0.0.1", "localhost")


def make_app(folder: Path, *, token: str | None = None, hosts: Sequence[str] = THIS_MACHINE) -> FastAPI:
    """Open a job folder for browsers.

    token  what a browser must have brought once, where the network can reach the app; None for this machine alone
    hosts  names and addresses the app answers to
    """
    desk = Desk(folder)
    # Its own pages of documentation would load scripts from elsewhere.
    app = FastAPI(title="beckwright", docs_url=None, redoc_url=None, openapi_url=None)
    app.mount("/static", StaticFiles(directory=STATIC), name="static")
    for routes in (job_routes, revision_routes, papers_routes, page_routes):
        app.include_router(routes(desk))
    tell_problems(app)
    app.add_middleware(TrustedHostMiddleware, allowed_hosts=list(hosts), www_redirect=False)
    app.add_middleware(Guard, token=token)
    return app
