"""The app of one job folder."""

from collections.abc import Sequence
from pathlib import Path

from fastapi import Depends, FastAPI
from starlette.middleware.trustedhost import TrustedHostMiddleware

from beckwright.beside import Beside
from beckwright.web.begin.routes import begin_routes
from beckwright.web.begin.routes_visit import Makes, visit_routes
from beckwright.web.bring.routes import bring_routes
from beckwright.web.care.routes import care_routes
from beckwright.web.desk.opened import Desk
from beckwright.web.desk.routes import job_routes
from beckwright.web.desk.routes_cures import cure_routes
from beckwright.web.desk.routes_puts import puts_routes
from beckwright.web.film.routes import film_routes
from beckwright.web.language import SpokenIn, language_routes
from beckwright.web.problems import tell_problems
from beckwright.web.relief.routes import relief_routes
from beckwright.web.routes_pages import font_routes, page_routes
from beckwright.web.scripts import serve_scripts
from beckwright.web.security import Guard
from beckwright.web.sheets.routes import papers_routes
from beckwright.web.slope.routes import site_routes
from beckwright.web.slope.routes_sums import slope_routes
from beckwright.web.stood import LooksOnce
from beckwright.web.typed import typed_routes
from beckwright.web.units import ToldIn, units_routes
from beckwright.web.versions.routes import revision_routes
from beckwright.web.versions.routes_variants import variant_routes
from beckwright.web.whose import own_pages
from beckwright.web.why.routes import why_routes

OF_THE_JOB = (
    job_routes,
    care_routes,
    cure_routes,
    puts_routes,
    revision_routes,
    variant_routes,
    relief_routes,
    papers_routes,
    bring_routes,
    site_routes,
    slope_routes,
    film_routes,
    why_routes,
    page_routes,
)
"""Routes that hang on the job, in the order an address is looked for."""
THIS_MACHINE = ("127.0.0.1", "localhost")


def make_app(
    folder: Path,
    *,
    token: str | None = None,
    hosts: Sequence[str] = THIS_MACHINE,
    makes: Makes | None = None,
    address: str | None = None,
    beside: Beside | None = None,
) -> FastAPI:
    """Open a job folder for browsers.

    token    what a browser must have brought once, where the network can reach the app; None for this machine alone
    hosts    names and addresses the app answers to
    makes    what has been made of first visits so far, where this folder's job is one of them
    address  other machines reach the app at, for the papers; without the pass, which is no matter for paper
    beside   who takes the films
    """
    desk = Desk(folder, address, beside)
    # Its own pages of documentation would load scripts from elsewhere.
    app = FastAPI(title="beckwright", docs_url=None, redoc_url=None, openapi_url=None)
    serve_scripts(app)
    for routes in OF_THE_JOB:
        app.include_router(routes(desk), dependencies=[Depends(own_pages(desk.keeper))])
    makes = makes or Makes(folder)
    visits = (visit_routes(makes), begin_routes(makes))
    for alone in (*visits, font_routes(), language_routes(), units_routes(), typed_routes()):
        app.include_router(alone)
    tell_problems(app)
    app.add_middleware(SpokenIn)
    app.add_middleware(ToldIn)
    app.add_middleware(LooksOnce, stands=desk.stands)
    app.add_middleware(TrustedHostMiddleware, allowed_hosts=list(hosts), www_redirect=False)
    app.add_middleware(Guard, token=token)
    return app
