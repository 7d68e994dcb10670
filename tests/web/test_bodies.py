"""Whatever is sent, the answer is a problem in words: never a fault, never a traceback."""

from pathlib import Path
from typing import Any
from uuid import uuid4

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from beckwright.job.edit.kinds import KINDS as KNOWN
from tests.web.conftest import Page, moved

WRITES = ("/api/try", "/api/edit", "/api/undo", "/api/redo", "/api/revisions/1/name", "/api/revisions/1/stand")
MARK = str(uuid4())

BROKEN = [
    b"",
    b"{",
    b"[]",
    b"null",
    b"\xff\xfe",
    b'"text"',
    b"NaN",
    b"{}",
    b"[" * 100_000,
    b"9" * 10_000,
    b'{"edits": []}',
    b'{"edits": [null]}',
    b'{"edits": [{}]}',
    b'{"edits": [{"do": "dance"}]}',
    b'{"edits": [{"do": "move point"}]}',
    b'{"edits": [{"do": "move point", "point": 1, "x_m": NaN, "y_m": 2}]}',
    b'{"edits": [{"do": "move point", "point": 1, "x_m": Infinity, "y_m": 2}]}',
    b'{"edits": [{"do": "move point", "point": 1, "x_m": 1e308, "y_m": -1e308}]}',
    b'{"edits": [{"do": "move point", "point": -1, "x_m": 1, "y_m": 2}]}',
    b'{"edits": [{"do": "move point", "point": 99, "x_m": 1, "y_m": 2}]}',
    b'{"edits": [{"do": "move point", "point": "one", "x_m": 1, "y_m": 2}]}',
    b'{"edits": [{"do": "set value", "key": "job.title", "value": "\\ud800"}]}',
    b'{"edits": [{"do": "set value", "key": "job.title", "value": "\\u0000"}]}',
    b'{"edits": [{"do": "set value", "key": "__class__", "value": 1}]}',
    b'{"edits": [{"do": "set value", "key": "job.title", "value": {"a": [1, {"b": null}]}}]}',
    b'{"mark": "short", "edits": []}',
]


def is_a_problem(answer: Any) -> bool:
    told = answer.json()
    return 400 <= answer.status_code < 500 and bool(told["problems"]) and "Traceback" not in answer.text


@pytest.mark.parametrize("path", WRITES)
@pytest.mark.parametrize("body", BROKEN, ids=range(len(BROKEN)))
def test_a_broken_body_is_a_problem_in_words(asking: Page, path: str, body: bytes) -> None:
    assert is_a_problem(asking.post(path, content=body, headers={"Content-Type": "application/json"}))


@pytest.mark.usefixtures("few_sheets")
@pytest.mark.parametrize("path", ["/nowhere", "/api/nowhere", "/api/explain/no.such.figure", "/papers/nothing.svg"])
def test_what_is_not_there_is_said(asking: Page, path: str) -> None:
    answer = asking.get(path)
    assert answer.status_code == 404
    assert is_a_problem(answer)


@pytest.mark.parametrize("path", WRITES)
def test_changes_cannot_be_got(asking: Page, path: str) -> None:
    assert asking.get(path).status_code in (404, 405)


SCALARS = (
    st.none()
    | st.booleans()
    | st.integers(-10, 10**6)
    | st.floats(allow_nan=False, allow_infinity=False)
    | st.text(max_size=12)
)
ANY = st.recursive(
    SCALARS,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=8), inner, max_size=3),
    max_leaves=8,
)
KINDS = st.sampled_from(sorted(KNOWN))
KEYS = st.sampled_from(
    ["point", "after", "x_m", "y_m", "reach", "by_m", "lip", "level_m", "key", "value", "row", "keys", "name", "l_h"]
)
EDITS = st.builds(lambda do, rest: {"do": do, **rest}, KINDS, st.dictionaries(KEYS, ANY, max_size=5))


@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(edits=st.lists(EDITS | st.dictionaries(st.text(max_size=8), ANY, max_size=3), max_size=3))
def test_no_edit_whatever_is_a_fault(asking: Page, edits: list[Any]) -> None:
    answer = asking.post("/api/try", json={"edits": edits})
    assert answer.status_code == 200 or is_a_problem(answer)


def test_a_try_writes_nothing(asking: Page, left_alone: Path) -> None:
    written = (left_alone / "job.toml").read_bytes()
    assert asking.post("/api/try", json={"edits": moved()}).status_code == 200
    assert (left_alone / "job.toml").read_bytes() == written
