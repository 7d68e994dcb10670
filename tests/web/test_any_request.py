"""Whatever anybody sends to any address, there is an answer: never a fault of the program, never a trace of it."""

import shutil
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest
import schemathesis
from hypothesis import HealthCheck, settings

from beckwright.web.app import make_app
from tests.web.conftest import EXAMPLES, Page

HOST = "testserver"
FOLDER = Path(tempfile.mkdtemp(prefix="beckwright-any-")) / "larkspur_court"
shutil.copytree(EXAMPLES / "larkspur_court", FOLDER)
APP = make_app(FOLDER, hosts=(HOST,))
SCHEMA = schemathesis.openapi.from_dict(APP.openapi()).include(path_regex="^/(api|papers|photographs)")
SCHEMA = SCHEMA.exclude(path_regex=r"^/papers/papers\.")
SCHEMA.app = APP
WHOLE_SETS = ("/papers/papers.pdf", "/papers/papers.zip")
"""No word of a request changes them and each takes seconds: asked once, and left out above."""


@pytest.fixture(scope="module", autouse=True)
def _put_away() -> Iterator[None]:
    yield
    shutil.rmtree(FOLDER.parent, ignore_errors=True)


@SCHEMA.parametrize()
@settings(max_examples=12, suppress_health_check=list(HealthCheck))
def test_every_request_has_an_answer(case: schemathesis.Case) -> None:
    response = case.call(headers={"Origin": f"http://{HOST}"})
    assert response.status_code < 500, response.text[:400]
    assert b"Traceback" not in response.content
    if response.status_code >= 400 and response.status_code not in (404, 405):
        assert response.json()["problems"]


@pytest.mark.parametrize("path", WHOLE_SETS)
def test_the_whole_set_has_an_answer(path: str) -> None:
    page = Page(APP, {"Host": HOST})
    assert page.get(path).status_code == 200
