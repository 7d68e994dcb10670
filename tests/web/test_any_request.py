"""Whatever anybody sends to any address, there is an answer: never a fault of the program, never a trace of it."""

import re
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import schemathesis
from fastapi import FastAPI
from hypothesis import HealthCheck, settings

from beckwright.web.app import make_app
from tests.web.conftest import EXAMPLES, Page

HOST = "testserver"
WHOLE_SETS = ("/papers/papers.pdf", "/papers/papers.zip")
"""No word of a request changes them and each takes seconds: asked once, and left out of the schema."""
ASKED: set[str] = set()


@pytest.fixture(scope="module")
def app(tmp_path_factory: pytest.TempPathFactory) -> FastAPI:
    """Larkspur Court, to which anything may be done."""
    folder = tmp_path_factory.mktemp("any") / "larkspur_court"
    return make_app(Path(shutil.copytree(EXAMPLES / "larkspur_court", folder)), hosts=(HOST,))


@pytest.fixture(scope="module")
def addresses(app: FastAPI) -> Iterator[Any]:
    """The schema of all addresses; that each of them was asked is looked at in the end."""
    schema = schemathesis.openapi.from_dict(app.openapi())
    schema.app = app
    yield schema
    left_out = r"GET /(?!api/|papers/|photographs/)|GET /papers/papers\."
    every = {each.ok().label for each in schema.get_all_operations()}
    assert {label for label in every if not re.match(left_out, label)} == ASKED
    assert len(ASKED) > 70


@pytest.fixture(autouse=True)
def _called(request: pytest.FixtureRequest) -> None:
    """Schemathesis 4 calls a test by each address in turn, by an attribute that pytest 9 has no more."""
    request.node._nodeid = request.node.nodeid


FUZZED = schemathesis.pytest.from_fixture("addresses").include(path_regex="^/(api|papers|photographs)/")


@FUZZED.exclude(path_regex=r"^/papers/papers\.").parametrize()
@settings(max_examples=12, suppress_health_check=list(HealthCheck))
def test_every_request_has_an_answer(case: schemathesis.Case) -> None:
    ASKED.add(case.operation.label)
    response = case.call(headers={"Origin": f"http://{HOST}"})
    assert response.status_code < 500, response.text[:400]
    assert b"Traceback" not in response.content
    if response.status_code >= 400 and response.status_code not in (404, 405):
        assert response.json()["problems"]


@pytest.mark.parametrize("path", WHOLE_SETS)
def test_the_whole_set_has_an_answer(app: FastAPI, path: str) -> None:
    assert Page(app, {"Host": HOST}).get(path).status_code == 200
